"""What the window needs around it: threads, drivers, files and the way from one screen to the next."""
