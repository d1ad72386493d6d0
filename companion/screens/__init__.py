"""The touch screens: the only importer of Kivy."""
