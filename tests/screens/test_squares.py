"""A gamp on the loom, in a real window: a square is marked while it is woven, and becomes a draft with the words."""

from __future__ import annotations

import io

from companion.draft.reading import read_draft
from companion.present.weave import WeaveButton
from companion.weaving.events import PickWoven, SquareMarked
from tests.screens.newcomer import choose, opened
from tests.screens.stage import Stage
from tests.screens.test_window import texts_clipped


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
