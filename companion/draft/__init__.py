"""The draft and its cloth: threading, tie-up, treadling, and what they weave. Pure: no file, clock or print."""
