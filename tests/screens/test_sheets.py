"""The words of a teacher by touch, in a real window: beside a draft, with it onto the loom, and on the paper."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from companion.journal.words_beside import read_words
from companion.weaving.sheet_words import SheetWords
from tests.screens.looked_at import SIZES, texts_clipped
from tests.screens.newcomer import choose, opened
from tests.screens.stage import Stage


def write(stage, text):
    for letter in text:
        stage.app.place.write.hear_text(letter)
    stage.touch(stage.app.place.write.foot.button("Done"))
    stage.until(lambda: stage.app.place.ask.ids.detail.text.startswith("Kept"))


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler reads what was written")
def test_words_and_finishing_typed_by_touch_stand_on_every_sheet_of_the_draft_and_its_warp(home):
    from companion.workshop import app

    program = opened()
    papers = home / "Documents" / "Fellside"
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Its sheet", "Add words"):
            choose(stage, words)
        write(stage, "Slack edges")
        choose(stage, "Add finishing")
        write(stage, "Wash warm")
        for size in SIZES:
            stage.resize(*size)
            stage.pump(3)
            assert texts_clipped(stage.app.place) == []
        choose(stage, "Save the sheet")
        stage.until(lambda: stage.app.place.ask.ids.detail.text.startswith("Saved: towel sheet.pdf"))
        choose(stage, "Back")
        stage.touch(stage.app.place.button("Weave it"))
        for words in ("4 treadles", "Jack"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        stage.touch(stage.app.place.button("Tied: weave on"))
        stage.until(lambda: app.shelf().names() == ("Towel",))
    said = SheetWords(("Slack edges",), ("Wash warm",))
    assert read_words(home / "Documents" / "towel.wif") == read_words(app.shelf().path("Towel")) == said
    told = subprocess.run(["pdftotext", papers / "towel sheet.pdf", "-"], capture_output=True, text=True, check=True)
    assert "Slack edges" in told.stdout
    assert "Wash warm" in told.stdout
