"""A treadling on several tie-ups, one after another: where to stop, and which cords to change."""
