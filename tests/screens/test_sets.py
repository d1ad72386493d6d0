"""A set by touch in a real window: made, filled, seen side by side, its sheets and its bundle written."""

from __future__ import annotations

import zipfile

from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import choose, opened
from tests.screens.stage import Stage


def test_a_set_is_made_of_a_draft_and_a_warp_and_handed_on(home):
    from companion.workshop import app
    from tests.journal.warps import small_warp

    app.shelf().create("Scarf", small_warp(), at_ms=0).close()
    folder = home / "Documents" / "Fellside" / "Sets" / "Mats"
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Sets", "Make a set"):
            choose(stage, words)
        for letter in "Mats":
            stage.app.place.write.hear_text(letter)
        stage.touch(stage.app.place.write.foot.button("Done"))
        for words in ("Add a draft", "towel", "Add a warp", "Scarf"):
            choose(stage, words)
        stage.until(lambda: len(stage.app.place.asking.answers) == 2)
        for size in SIZES:
            stage.resize(*size)
            stage.pump(3)
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))
        assert all(answer.picture is not None for answer in stage.app.place.asking.answers)
        choose(stage, "4 shafts: Scarf")
        choose(stage, "Put it first")
        stage.until(lambda: stage.app.place.asking.answers[0].words == "4 shafts: Scarf")
        for words in ("All sheets", "Bundle"):
            choose(stage, words)
            stage.until(lambda: stage.app.place.ask.ids.detail.text.startswith("Written: "))
        stage.until(folder.with_suffix(".zip").exists)
        choose(stage, "Back")
        # The list of sets shows how much is in each, and its cloth, once that has been read.
        stage.until(lambda: [answer.detail for answer in stage.app.place.asking.answers] == ["2 in it"])
        assert stage.app.place.asking.answers[0].picture is not None
        choose(stage, "Mats")
        stage.until(lambda: len(stage.app.place.asking.answers) == 2)
        # Another name, into the bin, and back from there: what is in it stays.
        for words in ("This set", "Another name"):
            choose(stage, words)
        stage.app.place.write.hear_text("s")
        stage.touch(stage.app.place.write.foot.button("Done"))
        stage.until(lambda: stage.app.place.asking.words == "Matss")
        for words in ("This set", "Into the bin"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.asking.words == "Sets" and not stage.app.place.asking.answers)
        for words in ("Back", "Tidy up", "The bin: 1", "Matss"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.ask.ids.detail.text == "Matss is back")
    folder = folder.with_name("Matss")
    assert {path.name for path in (folder / "sheets").iterdir()} == {"Scarf sheet.pdf", "Towel sheet.pdf"}
    with zipfile.ZipFile(folder.with_name("Mats.zip")) as bundle:
        assert set(bundle.namelist()) == {
            "set.html",
            "set.txt",
            "towel.wif",
            "warps/Scarf 1.wif",
            "warps/Scarf 2.wif",
            "sheets/Scarf sheet.pdf",
            "sheets/Towel sheet.pdf",
        }
