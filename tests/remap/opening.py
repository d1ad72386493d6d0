"""Tells whether an answer opens what it says, from cords and feet alone; the check shares no code with it."""

from dataclasses import dataclass

from companion.draft.masks import Shed, shafts_of
from companion.remap.loom.loom import Action, Footing, TieUp
from companion.remap.loom.pressing import feet_for
from companion.remap.loom.targets import targets_of, tieup_of
from companion.remap.search.fewest import fewest_treadles


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


@dataclass(frozen=True)
class Opened:
    """What a search found, tied on a loom: a tie for each treadle and a footing for each shed."""

    tieup: TieUp
    sheds: tuple[Shed, ...]
    footings: tuple[Footing, ...]

    @property
    def treadles(self):
        """How many treadles are tied."""
        return len(self.tieup)


def tied(columns, sheds, shafts, action, reach):
    """Tie columns on a loom and put the feet on them for these sheds, each once."""
    sheds = tuple(dict.fromkeys(sheds))
    footings = (feet_for(target, columns, reach) for target in targets_of(sheds, shafts, action))
    return Opened(tieup_of(columns, shafts, action), sheds, tuple(footings))


def search_for(sheds, shafts, action, reach, **more):
    """Ask for the fewest treadles that open these sheds on this loom."""
    return fewest_treadles(targets_of(sheds, shafts, action), reach, **more)
