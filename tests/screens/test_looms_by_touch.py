"""The weaver's looms wherever they are asked for, and the ways to a draft on one of several sticks."""

from __future__ import annotations

import pytest

from companion.draft.wif_write import write_wif
from companion.present.draft_words import WEAVE
from companion.remap.loom import Action, Loom
from companion.remap.tieup_text import parse_tieup
from companion.weaving.warp import LoomProfile
from tests.screens.stage import Stage
from tests.screens.test_start import choose, choose_draft, opened
from tests.screens.warps import twill_draft


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    (tmp_path / "Documents").mkdir()
    (tmp_path / "Documents" / "towel.wif").write_bytes(write_wif(twill_draft()))
    return tmp_path


def keep(*looms):
    from companion import app
    from companion.looms import save_looms

    save_looms(app.looms_file(), looms)


def test_a_draft_that_was_looked_at_goes_on_the_weavers_own_loom(home):
    keep(LoomProfile("Floor loom", Loom(4, 4), parse_tieup("1 2, 2 3, 3 4, 1 4", Action.RISING)))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "towel", "Look at the draft"):
            choose(stage, words)
        stage.touch(stage.app.place.button(WEAVE))
        assert stage.app.place.ask.ids.words.text == "On which loom?"
        choose(stage, "Floor loom")
        stage.until(lambda: stage.app.place.signs.accept)
        assert not any(line.text.startswith("treadle ") for line in stage.app.place.ids.lines.children)


def test_the_name_of_a_loom_is_written_on_the_keyboard_that_the_weaver_chose(home):
    from companion import app
    from companion.present.letters import Layout
    from companion.present.preferences import Preferences
    from companion.wiring.preference_file import save_preferences

    save_preferences(app.preference_file(), Preferences(letters=Layout.AZERTY.value))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Your looms", "Add a loom", "Another name", "Write a name"):
            choose(stage, words)
        assert "".join(key.words for key in stage.app.place.write.rows[0][:6]).casefold() == Layout.AZERTY.value


def test_a_draft_is_found_on_the_second_of_two_sticks(home, monkeypatch):
    from companion.wiring import warps_at_window

    sticks = (home / "BLUE", home / "RED")
    for stick in sticks:
        stick.mkdir()
    (sticks[1] / "scarf.wif").write_bytes(write_wif(twill_draft()))
    monkeypatch.setattr(warps_at_window, "sticks", lambda: sticks)
    program = opened()
    with program, Stage(program.window) as stage:
        ask = stage.app.place.ask
        for words in ("A new warp", "Any folder"):
            choose(stage, words)
        stage.until(lambda: ask.ids.words.text == home.name)
        choose(stage, "Sticks")
        stage.until(lambda: ask.ids.words.text == "Sticks")
        choose(stage, "RED")
        stage.until(lambda: ask.ids.words.text == "RED")
        choose_draft(stage, "scarf")
        assert ask.ids.words.text == "How many treadles has your loom?"
