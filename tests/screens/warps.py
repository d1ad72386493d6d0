"""A small warp for the screen tests; invented."""

from __future__ import annotations

from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Section, Treadled, Yarn
from companion.remap.loom.loom import Loom
from companion.remap.remapping import remap
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress

TWILL = ([1, 2], [2, 3], [3, 4], [4, 1])


def twill_draft(rounds: int = 3) -> Draft:
    """A 2/2 twill of two shuttles, two picks each, in two sections."""
    picks = 4 * rounds
    return Draft(
        shafts=4,
        threading=tuple(end % 4 for end in range(24)),
        lifting=Treadled(
            tuple(shed_of(ties) for ties in TWILL), tuple(treadle_set([pick % 4 + 1]) for pick in range(picks))
        ),
        yarns=(Yarn("oat wool", Colour(230, 220, 190)), Yarn("indigo", Colour(60, 70, 120))),
        warp=(0,) * 24,
        weft=tuple(pick // 2 % 2 for pick in range(picks)),
        sections=(Section("Hem", 4), Section("Body", picks - 4)),
        title="Towel",
    )


def twill_warp(rounds: int = 3, treadles: int = 4, face_down: bool = False):
    profile = LoomProfile("table", Loom(4, treadles))
    draft = twill_draft(rounds)
    return dress("Towel", [draft], profile, [remap(draft, profile.loom, face_down=face_down)])
