"""A walk over every place of the program, with the words of one trade: no label says a word of the other."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from companion.draft.wif_write import write_wif
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.workshop.places import asset
from tests.screens.newcomer import go_to_the_cords
from tests.screens.stage import Stage, worded
from tests.screens.warps import twill_draft

OWN = "Four shaft harness towel"
"""The weaver's own name for the draft stands in both words of the trade, and is left alone."""
NORTH_AMERICAN = Trade(american=True, harness=True)
SETTING = "Shafts: called harnesses", "Shafts: called shafts", "Faults: called mistakes", "Faults: called faults"
"""The setting names the words of the others."""


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    (tmp_path / "Documents").mkdir()
    (tmp_path / "Documents" / "towel.wif").write_bytes(write_wif(replace(twill_draft(), title=OWN)))
    (tmp_path / "Documents" / "spoilt.wif").write_bytes(b"[WIF]\nVersion=1.1\n[WEAVING]\nShafts=shaft\n")
    return tmp_path


@pytest.mark.parametrize(
    ("trade", "theirs", "ours"),
    [
        (Trade(american=True, harness=True, mistake=True), r"\bshafts?\b|colour|\bfaults?\b", "harness"),
        (AS_WRITTEN, r"\bharness(es)?\b|\bcolor", "shaft"),
    ],
)
def test_no_label_anywhere_says_a_word_of_the_other_trade(home, trade, theirs, ours):
    from companion.present.preferences import Preferences
    from companion.present.weave import WeaveButton
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(trade=trade, sounds=False))
    # The names of the drafts that come with the program are names, too.
    names = {path.stem.replace("-", " ") for path in asset("drafts").iterdir()}
    read, places = [], set()
    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:

        def labels():
            return list(worded(stage.app.place))

        def look():
            stage.pump(2)
            places.add(type(stage.app.place).__name__)
            texts = [label.text for label in labels() if label.text not in SETTING]
            texts = [text.replace(OWN, "") for text in texts if text not in names]
            read.extend(texts)
            assert [text for text in texts if re.search(theirs, text, re.IGNORECASE)] == []

        def choose(*answers):
            for words in answers:
                while words not in (shown := {label.text for label in labels()}) and "More" in shown:
                    stage.touch(stage.app.place.ask.button("More"))
                    look()
                assert words in shown, shown
                stage.touch(stage.app.place.ask.button(words))
                look()

        def press(*buttons):
            for words in buttons:
                stage.touch(stage.app.place.button(words))
                look()

        look()
        choose("Settings", "Double tap: nothing", "Nothing", "Pedal: none", "Go on", "One that acts as a keyboard")
        choose("Back", "Back", "Back", "Done")
        choose("Open a draft", "spoilt", "towel", "Look at the draft")
        press("Floats", "See back", "Edit")
        stage.app.place.say(in_british := "the shaft of colour")
        look()
        assert ("shaft" in stage.app.place.line) == (in_british == stage.app.place.line) == (trade == AS_WRITTEN)
        press("Done", "Weave it")
        choose("4 treadles", "Jack")
        stage.until(lambda: stage.app.place.signs.accept)
        look()
        press("Set up the loom")
        look()
        go_to_the_cords(stage)
        look()
        stage.touch(stage.app.place.cords.button("It is tied"))
        stage.touch(stage.app.place.cords.button("Yes, tied"))
        # A press before the tie is on disk leads back to the list of cords.
        stage.until(lambda: not stage.app.place._must_tie)
        look()
        for pick in (2, 3, 4):
            stage.key("space")
            stage.until(lambda pick=pick: f"pick {pick} of" in stage.app.place.weave.ids.count.text)
            look()
        for action, answers in (
            (WeaveButton.FAULT, ("Wrong shed", "Mend later")),
            (
                WeaveButton.NOTE,
                ("Colour changed on purpose" if trade == AS_WRITTEN else "Color changed on purpose",),
            ),
            (WeaveButton.MEASURE, ("2", "Under tension")),
            (WeaveButton.FIND, ("Not sure", "Not sure", "Not sure", "Cancel")),
        ):
            stage.touch(stage.app.place.weave.button(action))
            look()
            choose(*answers)
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        look()
        choose("See the record")
        record = stage.app.place
        stage.until(lambda: record.where)
        for _ in range(int(record.where.split()[2])):
            look()
            record.turn(1)
    assert len(places) >= 6
    assert any(ours in text for text in read)
