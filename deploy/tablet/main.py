"""Starts Fellside on a tablet: python-for-android runs the file of this name, with no arguments and no home."""

import os
import sys

# What is saved to keep lies in the storage that the system gives this program alone, as its warps do.
os.environ.setdefault("HOME", os.environ.get("ANDROID_PRIVATE", "."))

from companion.__main__ import main

if __name__ == "__main__":
    sys.argv[1:] = []
    main()
