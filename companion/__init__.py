"""Fellside, a loom-side companion for handweavers."""
