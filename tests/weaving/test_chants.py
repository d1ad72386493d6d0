"""Where a pick stands in the repeats of its section."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.model import Section
from companion.draft.repeats import RepeatStep
from companion.weaving.chants import chants_of, repeat_at, steps_at
from companion.weaving.warp import Piece
from tests.weaving.world import TWILL, lever_draft


def test_a_long_listing_is_told_as_section_repeat_and_pick():
    body = [0, 0, 1, 1, 0, 2, 0, 2]
    weft = [0, 0, *body * 12, 1]
    sheds = tuple(TWILL[pick % 4] for pick in range(len(weft)))
    piece = Piece("p", lever_draft(weft, [Section("hem", 2), Section("body", 96), Section("end", 1)], sheds=sheds))
    chants = chants_of(piece)
    fourth_repeat_fifth_pick = 2 + 3 * 8 + 4
    assert repeat_at(chants, piece, fourth_repeat_fifth_pick) == RepeatStep(repeat=3, times=12, pick=4, picks=8)
    assert repeat_at(chants, piece, 0) is None
    assert repeat_at(chants, piece, len(weft)) is None


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(0, 1), min_size=1, max_size=24), st.integers(0, 23))
def test_picks_at_the_same_place_of_two_repeats_are_woven_alike(weft, at):
    piece = Piece("p", lever_draft(weft, sheds=TWILL[:2]))
    pick = at % len(weft)
    for step in steps_at(chants_of(piece), piece, pick)[:1]:
        if isinstance(step, RepeatStep):
            for repeat in range(step.times):
                other = pick + (repeat - step.repeat) * step.picks
                assert piece.draft.weft[other] == piece.draft.weft[pick]
                assert piece.sheds[other] == piece.sheds[pick]
