"""The draft screen in a real window: dragged along, turned over, changed by touch, and taken to a loom."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from dataclasses import replace
from itertools import combinations

import pytest

from companion.draft.cloth import Surface
from companion.draft.facing import FROM_RIGHT
from companion.draft.masks import shed_of
from companion.draft.model import Treadled
from companion.draft.reading import read_draft
from companion.present.draft_sheet import Quarter, Square
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import choose, opened
from tests.screens.stage import Stage
from tests.screens.warps import twill_draft


@contextmanager
def looking_at(draft, changed=lambda _draft: None, **looks):
    from companion.screens.draft import DraftScreen
    from companion.screens.window import FellsideWindow

    taken = []

    def screen(window):
        window.facing = FROM_RIGHT
        ways = [taken.append] * 2
        return DraftScreen("towel", draft, window.surroundings, *ways, changed, *ways)

    with Stage(FellsideWindow(screen, **looks)) as stage:
        stage.taken = taken
        yield stage


def button(stage, name):
    return stage.app.place.button(name)


def middle(stage, square):
    picture = stage.app.place.ids.picture
    box = picture.sheet.box_of(square)
    return box.x + box.width / 2, box.y + box.height / 2


def touch(stage, square):
    stage.drag([middle(stage, square)])


def cloth_shown(stage):
    """The cloth's texture as bytes, as it lies on the graphics card."""
    return stage.app.place.ids.picture.texture_of(Quarter.CLOTH).pixels


def long_draft(picks=2000):
    draft = twill_draft(picks // 4)
    return replace(draft, threading=draft.threading * 10, warp=draft.warp * 10)


def test_a_touched_tie_changes_the_draft_and_the_cloth_and_undo_takes_it_back(display):
    with looking_at(twill_draft()) as stage:
        before = cloth_shown(stage)
        stage.touch(button(stage, "Edit"))
        stage.touch(button(stage, "Done"))
        assert cloth_shown(stage) == before
        stage.touch(button(stage, "Edit"))
        edited_before = cloth_shown(stage)
        touch(stage, Square(Quarter.TIE_UP, 0, 3))
        assert stage.app.place.draft.lifting.tieup[0] == shed_of([1, 2, 4])
        assert cloth_shown(stage) != edited_before
        stage.touch(button(stage, "Undo"))
        assert stage.app.place.draft == twill_draft()
        assert cloth_shown(stage) == edited_before
        stage.touch(button(stage, "Redo"))
        assert stage.app.place.draft.lifting.tieup[0] == shed_of([1, 2, 4])


def test_a_touch_changes_nothing_while_editing_is_off(display):
    with looking_at(twill_draft()) as stage:
        for quarter in (Quarter.THREADING, Quarter.TIE_UP, Quarter.TREADLING):
            touch(stage, Square(quarter, 2, 2))
        assert stage.app.place.draft == twill_draft()
        assert button(stage, "Undo").disabled


def test_a_finger_slides_to_the_square_it_means_and_the_screen_names_it(display):
    with looking_at(twill_draft()) as stage:
        stage.touch(button(stage, "Edit"))
        assert stage.app.place.line == "Touch a square, slide, lift"
        stage.touch(button(stage, "Threading"))
        aimed = []
        stage.drag(
            [middle(stage, Square(Quarter.THREADING, end, 0)) for end in (4, 5, 6)],
            each=lambda: aimed.append(stage.app.place.line),
        )
        assert aimed == ["end 5 on shaft 1", "end 6 on shaft 1", "end 7 on shaft 1"]
        assert stage.app.place.line == "ends 1 to 15 of 24 · picks 1 to 3 of 12"
        assert stage.app.place.draft.threading == (0, 1, 2, 3, 0, 1, 0, 3, *twill_draft().threading[8:])


def test_a_finger_that_leaves_the_quarter_changes_nothing(display):
    with looking_at(twill_draft()) as stage:
        stage.touch(button(stage, "Edit"))
        stage.drag([middle(stage, Square(Quarter.TIE_UP, 0, 3)), middle(stage, Square(Quarter.CLOTH, 0, 1))])
        assert stage.app.place.draft == twill_draft()
        assert stage.app.place.ids.picture.aimed is None


@pytest.mark.parametrize("editing", [False, True])
def test_dragging_the_cloth_takes_the_draft_along(display, editing):
    with looking_at(long_draft()) as stage:
        picture = stage.app.place.ids.picture
        if editing:
            stage.touch(button(stage, "Edit"))
        assert picture.corner[:2] == (0, 0)
        x, y = middle(stage, Square(Quarter.CLOTH, 4, 0))
        cell = picture.sheet.cell
        steps = [(x + step * cell / 2, y + step * cell) for step in range(5)]
        # The finger rests before it is lifted, so nothing glides on.
        stage.drag([*steps, steps[-1]])
        assert picture.corner[:2] == (2, 4)
        assert stage.app.place.line.startswith("ends 3 to ")
        assert stage.app.place.draft == long_draft()
        stage.drag([(x, y), (x - 40 * cell, y - 40 * cell), (x - 40 * cell, y - 40 * cell)])
        assert picture.corner[:2] == (0, 0)


def test_a_flung_draft_glides_on_and_comes_to_rest(display):
    with looking_at(long_draft()) as stage:
        picture = stage.app.place.ids.picture
        x, y = middle(stage, Square(Quarter.CLOTH, 4, 9))
        cell = picture.sheet.cell
        for _ in range(10):
            # On a busy machine a finger may seem slow, and what is put down slowly does not glide.
            stage.drag([(x, y + step * cell) for step in range(5)])
            let_go_at = picture.corner.pick
            stage.until(lambda: not picture.gliding)
            if picture.corner.pick > let_go_at:
                break
        assert picture.corner.pick > let_go_at


def test_a_mouse_wheel_scrolls_and_never_edits(display):
    with looking_at(long_draft()) as stage:
        picture = stage.app.place.ids.picture
        stage.touch(button(stage, "Edit"))
        place = middle(stage, Square(Quarter.TREADLING, 2, 1))
        stage.wheel(*place, "scrollup")
        stage.wheel(*place, "scrollright")
        assert picture.corner[:2] == (3, 3)
        stage.wheel(*place, "scrolldown")
        stage.wheel(*place, "scrollleft")
        assert picture.corner[:2] == (0, 0)
        assert stage.app.place.draft == long_draft()


def test_the_last_pick_of_a_long_draft_can_be_reached_and_edited(display):
    draft = long_draft()
    with looking_at(draft) as stage:
        picture = stage.app.place.ids.picture
        picture.scroll_to((10_000, 10_000, 0, 0))
        stage.pump()
        assert stage.app.place.line.endswith("to 2000 of 2000")
        stage.touch(button(stage, "Edit"))
        picture.scroll_to((10_000, 10_000, 0, 0))
        stage.pump()
        touch(stage, Square(Quarter.TREADLING, 1, 1999))
        assert stage.app.place.draft.lifting.treadling[1999] == draft.lifting.treadling[1999] | 0b10


def test_the_back_and_the_floats_are_shown_when_asked_for(display):
    with looking_at(twill_draft()) as stage:
        screen = stage.app.place
        face = cloth_shown(stage)
        stage.touch(button(stage, "See back"))
        assert screen.view.surface is Surface.BACK
        assert cloth_shown(stage) != face
        assert button(stage, "See face")
        stage.touch(button(stage, "Floats"))
        # A 2/2 twill has floats of two on both sides (common practice, no source).
        assert screen.line == "longest floats: warp 2, weft 2"
        for words, after in (("Floats > 3", "Floats > 5"), ("Floats > 5", "Floats > 7"), ("Floats > 7", "Floats")):
            stage.touch(button(stage, words))
            assert button(stage, after)
        assert screen.view.floats_over is None
        assert screen.line.startswith("24 ends")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_all_words_are_whole_and_all_buttons_are_large_enough_and_apart(display, size):
    for scale in (1.0, 1.3):
        with looking_at(long_draft(40_000), text_scale=scale) as stage:
            stage.resize(*size)
            for name in ("Floats", "See back", "Edit", "Threading", "Tie-up", "Treadling"):
                stage.touch(button(stage, name))
                assert_whole_large_and_apart(stage, squares=stage.app.place.part is not None)
            touch(stage, Square(Quarter.PICK_NUMBERS, 0, 2))
            for name in ("Repeat", "Back", "Put in", "A copy", "Back", "Yarn", "Back"):
                assert_whole_large_and_apart(stage, squares=True)
                stage.touch(button(stage, name))


def assert_whole_large_and_apart(stage, squares):
    assert texts_clipped(stage.app.place) == []
    targets = touch_targets(stage.app.place)
    assert all(min(target.size) >= 48 for target in targets)
    for one, other in combinations([*targets, stage.app.place.ids.picture], 2):
        assert not one.collide_widget(other)
    assert not squares or stage.app.place.ids.picture.sheet.cell >= 48


def test_a_stretch_of_picks_is_marked_repeated_coloured_and_taken_back(display):
    edited = []
    with looking_at(twill_draft(), changed=edited.append) as stage:
        for words in ("Edit", "Treadling"):
            stage.touch(button(stage, words))
        for pick in (1, 2):
            touch(stage, Square(Quarter.PICK_NUMBERS, 0, pick))
        assert stage.app.place.line == "picks 2 to 3 marked"
        assert edited == []
        for words in ("Repeat", "3 times"):
            stage.touch(button(stage, words))
        assert stage.app.place.draft.weft == (0, *(0, 1) * 3, 1, *twill_draft().weft[4:])
        assert stage.app.place.draft.sections[0].picks == 8
        assert stage.app.place.line == "picks 2 to 7 marked"
        for words in ("Yarn", "indigo"):
            stage.touch(button(stage, words))
        assert stage.app.place.draft.weft[:8] == (0, *(1,) * 7)
        assert [draft.picks for draft in edited] == [16, 16]
        for words in ("Undo", "Undo"):
            stage.touch(button(stage, words))
        assert stage.app.place.draft == twill_draft()


def test_a_copy_that_goes_to_the_end_is_shown_there(display):
    with looking_at(long_draft(400)) as stage:
        for words in ("Edit", "Threading"):
            stage.touch(button(stage, words))
        for end in (3, 0):
            touch(stage, Square(Quarter.END_NUMBERS, end, 0))
        for words in ("Put in", "A copy", "At the end"):
            stage.touch(button(stage, words))
        assert stage.app.place.draft.threading == (*long_draft(400).threading, 0, 1, 2, 3)
        assert stage.app.place.line == "ends 241 to 244 marked"
        assert stage.app.place.ids.picture.sheet.box_of(Square(Quarter.THREADING, 243, 0)) is not None


def test_dragging_the_numbers_moves_on_and_marks_nothing(display):
    with looking_at(long_draft()) as stage:
        for words in ("Edit", "Treadling"):
            stage.touch(button(stage, words))
        picture = stage.app.place.ids.picture
        x, y = middle(stage, Square(Quarter.PICK_NUMBERS, 0, 4))
        steps = [(x, y + step * picture.sheet.cell) for step in range(4)]
        stage.drag([*steps, steps[-1]])
        assert picture.corner.pick == 3
        assert stage.app.place.stretch is None


@pytest.mark.parametrize(
    "draft",
    [
        replace(twill_draft(), threading=(), warp=()),
        replace(twill_draft(), lifting=Treadled(twill_draft().lifting.tieup, ()), weft=(), sections=()),
    ],
    ids=["no ends", "no picks"],
)
def test_a_draft_without_cloth_is_shown_as_far_as_it_goes(display, draft):
    with looking_at(draft) as stage:
        assert Quarter.CLOTH not in stage.app.place.ids.picture.sheet.grids
        stage.drag([stage.app.place.ids.picture.center])
        assert stage.app.place.draft == draft


def test_from_the_choice_of_a_draft_the_weaver_looks_changes_and_weaves_it(home):
    from companion.workshop import app

    own = home / "Documents" / "towel.wif"
    before = own.read_bytes()
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Look at the draft"):
            choose(stage, words)
        stage.touch(button(stage, "Edit"))
        touch(stage, Square(Quarter.TIE_UP, 0, 2))
        stage.touch(button(stage, "Done"))
        stage.touch(button(stage, "Weave it"))
        choose(stage, "Look at the draft")
        assert stage.app.place.draft.lifting.tieup[0] == shed_of([1, 2, 3])
        stage.touch(button(stage, "Weave it"))
        choose(stage, "4 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        stage.touch(stage.app.place.button("Set up the loom"))
        stage.until(lambda: stage.app.place.weave.ids.count.text == "pick 1 of 12")
    kept = home / "Documents" / "Fellside"
    assert [path.name for path in kept.iterdir()] == ["towel changed.wif"]
    assert read_draft((kept / "towel changed.wif").read_bytes()).lifting.tieup[0] == shed_of([1, 2, 3])
    assert own.read_bytes() == before
    with app.shelf().open_to_read("Towel") as journal:
        assert journal.warp.pieces[0].draft.lifting.tieup[0] == shed_of([1, 2, 3])


def test_a_draft_left_as_it_was_is_not_kept_twice(home):
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Look at the draft"):
            choose(stage, words)
        stage.touch(button(stage, "Edit"))
        touch(stage, Square(Quarter.TIE_UP, 0, 2))
        touch(stage, Square(Quarter.TIE_UP, 0, 2))
        stage.touch(button(stage, "Done"))
        stage.touch(button(stage, "Back"))
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text
    assert list((home / "Documents" / "Fellside").glob("*")) == []


def test_a_draft_that_was_changed_is_kept_though_the_window_is_closed_without_leaving_it(home):
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Look at the draft"):
            choose(stage, words)
        stage.touch(button(stage, "Edit"))
        touch(stage, Square(Quarter.TIE_UP, 0, 2))
        changed = stage.app.place.draft
    # The interpreter itself waits for such threads before it ends.
    for thread in threading.enumerate():
        if thread.name == "draft keeper":
            assert not thread.daemon
            thread.join(timeout=60)
    kept = (home / "Documents" / "Fellside" / "towel changed.wif").read_bytes()
    assert read_draft(kept).lifting == changed.lifting


def test_the_screen_tells_once_a_changed_draft_is_on_disk(home):
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Look at the draft"):
            choose(stage, words)
        stage.touch(button(stage, "Edit"))
        touch(stage, Square(Quarter.TIE_UP, 0, 2))
        stage.until(lambda: stage.app.place.title == "towel changed")
        kept = (home / "Documents" / "Fellside" / "towel changed.wif").read_bytes()
        assert read_draft(kept).lifting == stage.app.place.draft.lifting
