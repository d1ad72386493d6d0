"""A weft that is laid in, told of by touch for a new warp, and woven: no boat, no side, its length beside it."""

from __future__ import annotations

from companion.draft.laying_in import laid_in_at
from companion.draft.model import LaidIn
from companion.present.cords import TIED_ALREADY, TIED_TOO
from companion.present.draft_sheet import Quarter, Square
from tests.screens.looked_at import SIZES, texts_clipped
from tests.screens.newcomer import choose, choose_listed, go_to_the_cords, opened
from tests.screens.stage import Stage
from tests.screens.test_new_warp import home, the_warp, to_more_of_the_warp  # noqa: F401


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


def test_marked_picks_become_a_section_whose_weft_is_laid_in_and_undo_takes_it_back(home):  # noqa: F811
    program = opened()
    with program, Stage(program.window) as stage:
        stage.resize(800, 480)
        choose_listed(stage, "Open a draft")
        choose_listed(stage, "towel")
        choose(stage, "Look at the draft")
        desk = stage.app.place
        for words in ("Edit", "Treadling"):
            stage.touch(desk.button(words))
        for pick in (1, 2):
            box = desk.ids.picture.sheet.box_of(Square(Quarter.PICK_NUMBERS, 0, pick))
            stage.drag([(box.x + box.width / 2, box.y + box.height / 2)])
        before = desk.draft
        stage.touch(desk.button("Section"))
        weft = stage.app.place.ask.asked.answers[1].words
        choose(stage, weft)
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        for step in (*"35.5", "Done", "Done"):
            choose(stage, step)
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        choose(stage, "Done")
        assert stage.app.place is desk
        assert list(laid_in_at(desk.draft)) == [1]
        stage.touch(desk.button("Undo"))
        assert desk.draft == before


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
