"""State to view data, geometry and wording; imports no Kivy."""
