"""A gamp on the loom, in a real window: a square is marked while it is woven, and becomes a draft with the words."""

from __future__ import annotations

import io

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.gamp import gamp_of
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.present.square_table import square_picture, square_table
from companion.present.weave import WeaveButton
from companion.screens.theme import LIGHT, SMALLEST_TARGET_DP, sizes_for
from companion.weaving.events import PickWoven, SquareMarked
from companion.workshop.places import asset
from tests.screens.looked_at import SIZES, texts_clipped
from tests.screens.newcomer import choose, choose_listed, opened
from tests.screens.stage import Stage, worded


def test_a_square_is_marked_at_the_loom_and_its_draft_says_so(home, monkeypatch):
    from companion.cli.commands import run
    from companion.workshop import app
    from companion.workshop.places import asset

    monkeypatch.setattr("sys.stdin", io.StringIO("\nq\n"))
    gamp = str(asset("drafts/twill-gamp-four-shaft.txt"))
    assert run(["weave", gamp, "--text", "--treadles", "8", "--tied", "--name", "Gamp"]) == 0
    program = opened("Gamp")
    with program, Stage(program.window) as stage:
        stage.resize(800, 480)
        choose(stage, "Yes, weave on")
        stage.touch(stage.app.place.weave.button(WeaveButton.NOTE))
        choose(stage, "Mark a square")
        stage.touch(stage.app.place.square("Point on Broken"))
        choose(stage, "Words to it")
        for key in "soft":
            stage.app.place.write.hear_text(key)
        stage.touch(stage.app.place.write.foot.button("Done"))
        stage.until(lambda: stage.app.place.square("Point on Broken").square.text)
        stage.touch(stage.app.place.square("Point on Broken"))
        choose(stage, "Give it a star")
        stage.until(lambda: stage.app.place.ids.detail.text == "Starred: Point on Broken")
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.square("Point on Broken"))
        choose(stage, "Make a draft of it")
        choose(stage, "Make it")
        made = home / "Documents" / "Fellside"
        stage.until(lambda: list(made.glob("*.wif")))
    (file,) = made.glob("*.wif")
    assert read_draft(file.read_bytes()).notes[-1] == "Marked at the loom: soft"
    with app.shelf().open_to_read("Gamp") as journal:
        done = [entry.event for entry in journal.entries() if isinstance(entry.event, PickWoven | SquareMarked)]
    area = (0, 72, 96, 24, 48)
    assert done == [PickWoven(0), SquareMarked(*area, False, "soft"), SquareMarked(*area, True, "soft")]


def test_a_gamp_that_names_nothing_is_known_by_its_repeats_and_offered_when_it_is_opened_at_its_end(home, monkeypatch):
    from companion.cli.commands import run
    from companion.present.squares import SQUARES

    draft = home / "gamp.txt"
    draft.write_text(
        "threading: (1-4)x3 (1 2 3 4 3 2)x2\ntie-up: 1 2, 2 3, 3 4, 1 4\ntreadling: (1-4)x3 (1 2 3 4 3 2)x2\n"
    )
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * 24 + "q\n"))
    assert run(["weave", str(draft), "--text", "--treadles", "4", "--tied", "--name", "Plain gamp"]) == 0
    with (program := opened("Plain gamp")), Stage(program.window) as stage:
        # The question stands there at once; the way to the squares comes when the treadling has been read.
        choose(stage, SQUARES)
        stage.until(lambda: hasattr(stage.app.place, "table"))
        assert len(stage.app.place.table.rows) == 2


def test_back_from_the_squares_leads_to_the_question_for_a_loom_that_they_were_seen_from(home):
    program = opened()
    with program, Stage(program.window) as stage:
        place = stage.app.place
        choose(stage, "Open a draft")
        choose(stage, "By letter")
        choose_listed(stage, "T to W")
        choose_listed(stage, "twill gamp four shaft")
        asked = place.ask.ids.words.text
        assert asked == "How many treadles on your loom?"
        choose(stage, "Its squares")
        stage.until(lambda: stage.app.place is not place)
        stage.touch(stage.app.place.button("Back"))
        assert stage.app.place is place
        assert place.ask.ids.words.text == asked


@pytest.mark.parametrize("window", SIZES, ids=str)
def test_columns_and_rows_are_called_by_their_names_and_none_is_a_bare_number(display, window):
    from kivy.clock import Clock

    from companion.screens.look import look_of
    from companion.screens.squares import SquaresScreen
    from companion.screens.surroundings import Surroundings

    draft = read_draft(asset("drafts/eight-by-eight-gamp-four-shaft.txt").read_bytes())
    table = square_table(draft, gamp_of(draft), FROM_LEFT, (), None)
    around = Surroundings(look_of(LIGHT), sizes_for(*window, SMALLEST_TARGET_DP), Units.METRIC, FROM_LEFT)
    screen = SquaresScreen(
        around, table, lambda area: square_picture(draft, area, FROM_LEFT), lambda _square: None, size=window
    )
    for _ in range(4):
        Clock.tick()
    shown = [one.text for one in worded(screen.ids.body) if one.text and not one.text.startswith("?")]
    names = {block.name for block in draft.blocks if block.name}
    assert names <= set(shown)
    assert [text for text in shown if text.isdecimal()] == []
    assert not any(one.cut for one in worded(screen.ids.body))
