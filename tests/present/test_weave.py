"""What the weave screen says, without a window."""

from __future__ import annotations

import re
from dataclasses import replace
from types import SimpleNamespace

import pytest

from companion import read_draft
from companion.draft.facing import Side
from companion.draft.repeats import RepeatStep
from companion.draft.treadling import read_treadling
from companion.draft.units import Units
from companion.present.bobbin import ask_bobbin
from companion.present.weave import weave_signs
from companion.present.weave_words import place_wordings
from companion.weaving.decide import change_bobbin, finish_piece, start_piece
from companion.weaving.onward import onward
from companion.weaving.pick_view import next_pick, this_pick
from companion.weaving.progress import begin
from companion.weaving.telling import tell_sides
from companion.workshop.places import asset
from tests.present.test_trade_words import lever_warp, woven
from tests.screens.warps import TWILL, twill_warp
from tests.weaving import world


def signs_at(warp, progress):
    return weave_signs(warp, progress, this_pick(warp, progress), Units.METRIC)


def test_a_loom_without_treadles_says_which_levers_to_set_at_every_pick():
    warp = lever_warp()
    for pick in range(12):
        signs = signs_at(warp, woven(warp, *[onward] * pick))
        assert signs.levers == " ".join(str(shaft) for shaft in sorted(TWILL[pick % 4]))


def test_a_loom_with_treadles_and_a_finished_piece_have_no_levers_to_set():
    warp = twill_warp()
    assert signs_at(warp, begin(warp)).levers == ""
    warp = lever_warp()
    assert signs_at(warp, woven(warp, *[onward] * 12)).levers == ""


def test_the_yarn_that_comes_next_is_shown_where_it_is_another_one():
    loom = world.AtLoom(world.lever_warp(world.lever_draft([0, 0, 1, 1, 2])))
    yarns = loom.warp.pieces[0].draft.yarns
    shown = []
    for _ in range(5):
        shown.append(signs_at(loom.warp, loom.progress).following_yarn)
        loom.weave(1)
    assert shown == [None, yarns[1].colour, None, yarns[2].colour, None]


def test_the_yarn_that_comes_next_lies_where_the_words_say_it_comes_from():
    loom = world.AtLoom(world.lever_warp(world.lever_draft([0, 1, 1, 0, 0, 2])))
    for _ in range(5):
        signs, following = signs_at(loom.warp, loom.progress), next_pick(loom.warp, loom.progress)
        assert signs.following_from_right is (following.comes_from is Side.RIGHT)
        # No wording says of a side that it is the other one of something that it does not name.
        assert all("other side" not in words or "from your last shuttle" in words for words in signs.following)
        loom.weave(1)
    loom.do(tell_sides, unknown=(0, 1, 2))
    assert signs_at(loom.warp, loom.progress).following_from_right is False


def test_a_bobbin_promises_what_its_length_can_tell():
    loom = world.AtLoom(world.lever_warp(world.lever_draft([0, 1] * 8)))
    assert "it tells what a pick takes" in ask_bobbin(loom.warp, loom.progress, 0, Units.METRIC).detail
    wide = replace(loom.warp, width_cm=50.0)
    assert "how many picks are left" in ask_bobbin(wide, loom.progress, 0, Units.METRIC).detail
    loom.do(change_bobbin, yarn=0, metres=5.0)
    loom.weave(4)
    loom.do(change_bobbin, yarn=0, metres=5.0)
    # The first one, woven up, has told it.
    assert "how many picks are left" in ask_bobbin(loom.warp, loom.progress, 0, Units.METRIC).detail


def test_two_pieces_that_are_alike_are_told_apart_and_one_alone_is_not_counted():
    draft = world.lever_draft([0, 1, 2] * 4)
    loom = world.AtLoom(world.lever_warp(draft, draft))
    first = signs_at(loom.warp, loom.progress).place
    loom.weave(12)
    loom.do(finish_piece)
    loom.do(start_piece)
    second = signs_at(loom.warp, loom.progress).place
    assert [words.partition(" · ")[0] for words in (*first, *second)] == ["piece 1/2"] * len(first) + [
        "piece 2/2"
    ] * len(second)
    alone = world.AtLoom(world.lever_warp(draft))
    assert [f"piece 1/2 · {words}" for words in signs_at(alone.warp, alone.progress).place] == list(first)


@pytest.mark.parametrize("path", sorted(asset("drafts").glob("*-shaft.*")), ids=lambda path: path.stem)
def test_a_place_is_counted_on_the_same_things_from_one_pick_of_a_repeat_to_the_next(path):
    draft = read_draft(path.read_bytes())
    reading, before, compared = read_treadling(draft), None, 0
    for pick in range(draft.picks):
        place = reading.place(pick)
        view = SimpleNamespace(pick_in_section=0, section_picks=1, until_cm=None, section_name="")
        words = place_wordings(view, Units.METRIC, place)[0]
        outermost = next((step for step in place.steps if isinstance(step, RepeatStep)), None)
        counted_on = re.sub(r"\d+/", "", words)
        if before is not None and outermost is not None and outermost.pick == before[0].pick + 1:
            assert counted_on == before[1], (pick, words)
            compared += 1
        before = (outermost, counted_on) if outermost is not None else None
    assert compared or all(not reading.place(pick).steps for pick in range(draft.picks))
