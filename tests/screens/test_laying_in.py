"""A weft that is laid in, told of by touch for a new warp, and woven: no boat, no side, its length beside it."""

from __future__ import annotations

from companion.draft.model import LaidIn
from companion.present.cords import TIED_ALREADY, TIED_TOO
from tests.screens.newcomer import choose, choose_listed, go_to_the_cords, opened
from tests.screens.stage import Stage
from tests.screens.test_new_warp import home, the_warp, to_more_of_the_warp  # noqa: F401
from tests.screens.test_window import SIZES, texts_clipped


def test_a_weft_told_to_be_laid_in_shows_no_boat_at_the_loom(home):  # noqa: F811
    program = opened()
    with program, Stage(program.window) as stage:
        to_more_of_the_warp(stage)
        choose_listed(stage, "Laid in at each pick")
        weft, *others = stage.app.place.ask.asked.answers
        assert {one.detail for one in (weft, *others)} == {"thrown by a shuttle"}
        choose(stage, weft.words)
        for step in (*"35.5", "Done"):
            choose(stage, step)
        choose(stage, "Done")
        choose(stage, "Weave it")
        go_to_the_cords(stage)
        for words in (TIED_ALREADY, TIED_TOO):
            stage.touch(stage.app.place.cords.button(words))
            stage.pump(4)
        stage.until(lambda: stage.app.place.cords is None)
        warp, _ = the_warp("Towel")
        piece = warp.pieces[0]
        assert piece.sections[0].laid_in == (LaidIn(piece.shuttles[0], 35.5),)
        weave = stage.app.place.weave
        assert (weave.ids.boat_left.laid_in, weave.ids.boat_right.shown) == (True, False)
        signs = weave.signs
        assert (signs.from_left, signs.from_right, signs.side_asked) == (False, False, False)
        assert weave.ids.shuttle.text == f"lay in {weft.words}"
        assert weave.ids.bobbin.text == "35.5 cm each"
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []


def test_the_way_past_floating_selvedges_is_shown_once_it_is_switched_on(home):  # noqa: F811
    program = opened()
    with program, Stage(program.window) as stage:
        choose_listed(stage, "Settings")
        choose_listed(stage, "Over, under: off")
        choose_listed(stage, "Over, under: on")
        choose_listed(stage, "Over, under: off")
        choose(stage, "Done")
        choose_listed(stage, "Weave the demo")
        stage.until(lambda: getattr(stage.app.place, "weave", None) is not None)
        for size in SIZES:
            stage.resize(*size)
            words = stage.app.place.weave.ids.bobbin.text
            assert set(words.split()) & {"over", "under"} == {"over", "under"}
            assert texts_clipped(stage.app.place) == []
