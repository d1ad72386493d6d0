"""What a warp and an event may hold: what lies beyond the bounds is refused before it is anywhere."""

from dataclasses import replace

import pytest

from companion.draft.errors import DraftError
from companion.draft.masks import Shed
from companion.draft.model import MOST_THREADS, MOST_TREADLES, Colour, Layout, Section, Treadled, Yarn
from companion.remap.loom.loom import Footing, Loom, Tie
from companion.weaving import one_event
from companion.weaving.bounds import LONGEST_NOTE, LONGEST_TEXT, MOST_OPEN_FAULTS, is_text
from companion.weaving.decide import write_note
from companion.weaving.errors import ContradictionError, WeavingError
from companion.weaving.events import (
    BobbinChanged,
    ClothTold,
    Entry,
    FaultKind,
    FaultNoted,
    Jumped,
    NearMiss,
    NoteWritten,
    PickWoven,
)
from companion.weaving.opened import unopened_words
from companion.weaving.progress import begin, fold
from companion.weaving.warp import LoomProfile, Stage, Winding, YarnSize
from tests.journal.warps import long_warp, pressed_first, straight_piece, twill


def entries(*events):
    return [Entry(number, number * 1_000, event) for number, event in enumerate(events, 1)]


@pytest.mark.parametrize(
    "change",
    [
        {"sections": (Section("a", 13), Section("b", -5))},
        {"yarns": (Yarn("Ground", Colour(-1, 0, 0)), Yarn("Blue", Colour(0, 0, 256)))},
        {"weft_layout": Layout(spacing_cm=(1e308,) * 8)},
        {"weft_layout": Layout(thickness_cm=(-0.1,) * 8)},
        {"weft_layout": Layout(spacing_cm=(float("nan"),) * 8)},
        {"lifting": Treadled((Shed(1),) * (MOST_TREADLES + 1), (1,) * 8)},
        {"lifting": Treadled((Shed(-1),), (1,) * 8)},
        {"threading": (0,) * (MOST_THREADS + 1), "warp": (0,) * (MOST_THREADS + 1)},
    ],
    ids=", ".join,
)
def test_a_draft_beyond_what_files_may_hold_cannot_be_made(change):
    with pytest.raises(DraftError):
        replace(twill(8), **change)


@pytest.mark.parametrize(
    "change",
    [
        {"picks_per_cm": 1e308},
        {"picks_per_cm": 1e-300},
        {"length_cm": 1e308},
        {"fringe_cm": 1e308},
        {"spacer_cm": -1.0},
    ],
    ids=", ".join,
)
def test_a_piece_beyond_measure_cannot_be_made(change):
    with pytest.raises(WeavingError):
        straight_piece(twill(8), **change)


@pytest.mark.parametrize(
    "loom",
    [
        LoomProfile("odd", Loom(10**9, 4)),
        LoomProfile("odd", Loom(4, 10**13)),
        LoomProfile("odd", Loom(4, 4, reach=3)),
        LoomProfile("odd", Loom(4, 4), present=(Tie(up=Shed(-1)),)),
        LoomProfile("odd", Loom(4, 4), present=(Tie(),) * 5),
        LoomProfile("odd", Loom(4, 4), weaving_width_cm=1e308),
        LoomProfile("odd", Loom(4, 4), loom_waste_cm=-1.0),
    ],
    ids=repr,
)
def test_no_warp_is_on_a_loom_that_cannot_be(loom):
    with pytest.raises(WeavingError):
        replace(long_warp(8), loom=loom)


@pytest.mark.parametrize("footing", [Footing((10**13,)), Footing((-1,)), Footing((0,), (0,))])
def test_no_foot_presses_a_treadle_that_is_not_there_or_one_twice(footing):
    with pytest.raises(WeavingError, match="beyond the 4 that are tied, or one twice"):
        pressed_first(footing)


@pytest.mark.parametrize("footing", [Footing((1,)), Footing()])
def test_a_pick_whose_shed_is_not_opened_is_named(footing):
    assert unopened_words(pressed_first(footing)) == "piece 'Shawl': what is pressed at pick 1 does not open its shed"
    assert unopened_words(long_warp(8)) == ""


def test_a_cord_to_a_shaft_that_the_loom_lacks_is_refused():
    piece = long_warp(8).pieces[0]
    tieup = (Tie(up=Shed(-1)), *piece.stages[0].tieup[1:])
    with pytest.raises(WeavingError, match="treadle 1 ties a shaft beyond the 4"):
        replace(long_warp(8), pieces=(replace(piece, stages=(Stage(0, 7, tieup),)),))


def test_a_winding_and_a_yarn_have_measures_that_can_be():
    with pytest.raises(WeavingError):
        Winding(1e308)
    with pytest.raises(WeavingError):
        YarnSize("Ground", 1e308)


@pytest.mark.parametrize(
    "event",
    [
        NearMiss(0, wrong=(10**13,)),
        NearMiss(9),
        NearMiss(0, missing=(1,) * 1_000),
        BobbinChanged(0, 1e308),
        BobbinChanged(0, 1e-300),
        NoteWritten("x" * (LONGEST_TEXT + 1)),
        Jumped(0, "x" * (LONGEST_TEXT + 1)),
        FaultNoted(FaultKind.OTHER, 0, note="x" * (LONGEST_TEXT + 1)),
    ],
    ids=lambda event: type(event).__name__,
)
def test_an_event_beyond_the_bounds_does_not_follow_anything(event):
    with pytest.raises(ContradictionError):
        fold(long_warp(8), entries(event))


def test_what_a_state_must_carry_for_ever_is_bounded(monkeypatch):
    warp = long_warp(4)
    monkeypatch.setattr(one_event, "MOST_RUNS", 1_000)
    fault = FaultNoted(FaultKind.OTHER, 0)
    assert len(fold(warp, entries(*[fault] * 20)).now.open_faults) == 20
    with pytest.raises(ContradictionError, match="faults that are open"):
        fold(warp, entries(*[fault] * (MOST_OPEN_FAULTS + 1)))
    told = ClothTold(0, (0, 2) * 500)
    assert fold(warp, entries(told)).now.cloth.below
    with pytest.raises(ContradictionError, match="went on elsewhere 1,000 times"):
        fold(warp, entries(told, told, PickWoven(3)))


def test_a_note_is_some_pages_at_the_most_and_text():
    warp = long_warp(4)
    assert write_note(warp, begin(warp), "x" * LONGEST_NOTE).text == "x" * LONGEST_NOTE
    with pytest.raises(WeavingError, match="write at most 10,000, or several notes"):
        write_note(warp, begin(warp), "x" * (LONGEST_NOTE + 1))
    with pytest.raises(WeavingError, match="letters that are none"):
        write_note(warp, begin(warp), "half \ud800")


@pytest.mark.parametrize(("text", "is_one"), [("", True), ("Größe \U0001f9f6", True), ("\udc80", False)])
def test_halves_of_letters_are_no_text(text, is_one):
    assert is_text(text) is is_one
