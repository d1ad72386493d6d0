"""What stands around the loom: the shelf, the looms and settings kept in files, the voice, watchers and searches."""
