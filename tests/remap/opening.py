"""Tells whether an answer opens what it says, from cords and feet alone; shares no code with the search."""

from companion.draft.masks import shafts_of
from companion.remap.loom.loom import Action


def shed_opened(tieup, pressed, shafts, action):
    """Return the set of shafts that are up when these treadles go down together; None when the loom jams."""
    up, down = set(), set()
    for treadle in pressed:
        up |= set(shafts_of(tieup[treadle].up))
        down |= set(shafts_of(tieup[treadle].down))
    every = set(range(1, shafts + 1))
    if action is Action.RISING:
        assert not down
        return up
    if action is Action.SINKING:
        assert not up
        return every - down
    return up if not up & down and up | down == every else None


def assert_opens_every_shed(answer, shafts, action, reach):
    """Check every footing: runs within reach, left foot left of right, and exactly the shed comes up."""
    assert len(answer.sheds) == len(answer.footings)
    for shed, footing in zip(answer.sheds, answer.footings, strict=True):
        for foot in (footing.left, footing.right):
            assert len(foot) <= reach
            assert list(foot) == list(range(foot[0], foot[0] + len(foot))) if foot else True
            assert all(0 <= treadle < answer.treadles for treadle in foot)
        if footing.left and footing.right:
            assert max(footing.left) < min(footing.right)
        opened = shed_opened(answer.tieup, footing.left + footing.right, shafts, action)
        if not footing.left + footing.right:
            opened = set(range(1, shafts + 1)) if action is Action.SINKING else set()
            assert action is not Action.COUNTERMARCHE
        assert opened == set(shafts_of(shed))
