"""The loom that must weave the draft: ties, targets, which treadles open a shed, cords between tie-ups."""
