"""Small drafts for tests, written with numbers from 1 as on paper."""

from __future__ import annotations

from pathlib import Path

from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Lifted, Treadled, Yarn

KEPT = Path(__file__).resolve().parents[1] / "data" / "drafts"
"""Drafts that tests lean on, kept as they were when those that come along were changed."""
WHITE = Yarn("white", Colour(255, 255, 255))
INDIGO = Yarn("indigo", Colour(38, 50, 110))


def draft_of(
    *, threading, tieup=None, treadling=None, plan=None, shafts=None, weft=None, yarns=(WHITE, INDIGO), **more
):
    """A draft on white warp; `weft` gives a yarn number from 1 per pick, all indigo where it is left out.

    `treadling` is a list of treadle lists, or of single treadle numbers. `plan` is a lift plan instead.
    """
    if plan is None:
        pressed = [[pick] if isinstance(pick, int) else pick for pick in treadling]
        lifting = Treadled(tuple(map(shed_of, tieup)), tuple(map(treadle_set, pressed)))
        picks, named = len(pressed), [shaft for tie in tieup for shaft in tie]
    else:
        lifting = Lifted(tuple(map(shed_of, plan)))
        picks, named = len(plan), [shaft for lift in plan for shaft in lift]
    if shafts is None:
        shafts = max([shaft for shaft in threading if shaft] + named)
    return Draft(
        shafts=shafts,
        threading=tuple(None if shaft is None else shaft - 1 for shaft in threading),
        lifting=lifting,
        yarns=yarns,
        warp=(0,) * len(threading),
        weft=tuple(yarn - 1 for yarn in weft) if weft else (1,) * picks,
        **more,
    )
