"""Weaves what feet on a tie-up lift, crossing by crossing, in plain lists and sets: nothing of the product.

Ties are given as (shafts up, shafts down), shafts and treadles from 1, as a person would write them on paper.
"""

from __future__ import annotations


def shafts_up(pressed, ties, shafts, action, threaded):
    """The shafts that stand up while these treadles are pressed; None where a countermarche has no clear way.

    There each shaft that is threaded must be driven, and none both ways; one without ends may hang as it likes.
    """
    up = {shaft for treadle in pressed for shaft in ties[treadle - 1][0]}
    down = {shaft for treadle in pressed for shaft in ties[treadle - 1][1]}
    every = set(range(1, shafts + 1))
    if action == "rising":
        return up
    if action == "sinking":
        return every - down
    return up if threaded <= up | down and not up & down else None


def cloth(threading, picks, ties, shafts, action):
    """Rows of True (warp up): `picks` are lists of treadles, `threading` the shaft of each end or None."""
    rows = []
    for pressed in picks:
        up = shafts_up(pressed, ties, shafts, action, {shaft for shaft in threading if shaft is not None})
        assert up is not None, f"treadles {pressed} leave a shaft undriven or drive it both ways"
        rows.append([shaft in up for shaft in threading])
    return rows


def can_stand(left, right, reach):
    """Whether two feet can press these treadles: neighbours under one foot, the left foot left of the right one."""
    for foot in (left, right):
        if len(foot) > reach or (foot and sorted(foot) != list(range(min(foot), max(foot) + 1))):
            return False
    return not left or not right or max(left) < min(right)
