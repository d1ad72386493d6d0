"""Settings come back as they were kept, and a spoilt file never keeps the program from starting."""

from __future__ import annotations

import json
import os
from itertools import product

import pytest

from companion.draft.cloth import Surface
from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.units import Units
from companion.present.letters import KeyboardLayout
from companion.present.preferences import Preferences
from companion.present.trade_words import Trade
from companion.present.weave import WeaveButton
from companion.remap.loom.feet_wish import FirstFoot, TabbyPlace
from companion.workshop.preference_file import load_preferences, save_preferences

OLD_FILE = """{
 "theme": "light", "mirrored": true, "text_scale": 1.3, "pedal": "/dev/ttyUSB0", "bare_switch": false,
 "two_pedals": true, "inverted": false, "sounds": false, "advance_by_treadles": false, "voice": true,
 "double_tap": "Measure", "letters": "azerty", "cloth": "back", "trade": "North American",
 "next_keys": [98], "back_keys": [32]
}
"""
"""As the first version kept it: with the words of buttons."""
CHOICES = {
    "double_tap": [None, *WeaveButton],
    "letters": KeyboardLayout,
    "cloth": Surface,
    "trade": [Trade(a, h, m) for a, h, m in product((False, True), repeat=3)],
    "units": Units,
    "tabby": TabbyPlace,
    "first_foot": FirstFoot,
    "facing": [Facing(side, at) for at in FirstPick for side in Side],
}
WORDS = {
    "double_tap": ["", "back", "fault", "note", "measure", "find", "undo", "turn", "pause"],
    "letters": ["qwerty", "qwertz", "azerty"],
    "cloth": ["face", "back"],
    "trade": [
        "british",
        "british_mistake",
        "british_harness",
        "british_harness_mistake",
        "american",
        "american_mistake",
        "north_american",
        "american_harness_mistake",
    ],
    "units": ["metric", "inch"],
    "tabby": ["wherever", "left", "right", "outside"],
    "first_foot": ["either", "left", "right"],
    "facing": ["left", "right", "left_first_pick_at_bottom", "right_first_pick_at_bottom"],
}
"""What the file says for each choice, for ever."""


def test_settings_of_the_first_version_keep_their_meaning(tmp_path):
    path = tmp_path / "settings.json"
    path.write_text(OLD_FILE, encoding="utf-8")
    assert load_preferences(path) == Preferences(
        theme="light",
        mirrored=True,
        text_scale=1.3,
        pedal="/dev/ttyUSB0",
        two_pedals=True,
        sounds=False,
        voice=True,
        double_tap=WeaveButton.MEASURE,
        letters=KeyboardLayout.AZERTY,
        cloth=Surface.BACK,
        trade=Trade(american=True, harness=True),
        next_keys=(98,),
        back_keys=(32,),
    )


@pytest.mark.parametrize(("name", "choices"), CHOICES.items())
def test_each_choice_is_kept_under_a_word_of_its_own_that_no_button_changes(tmp_path, name, choices):
    path = tmp_path / "settings.json"
    kept = []
    for choice in choices:
        save_preferences(path, Preferences(**{name: choice}))
        kept.append(json.loads(path.read_text(encoding="utf-8"))[name])
        assert getattr(load_preferences(path), name) == choice
    assert kept == WORDS[name]


def test_settings_come_back_as_they_were_kept(tmp_path):
    kept = Preferences(
        theme="light", mirrored=True, text_scale=1.3, pedal="/dev/serial/by-id/footboard", next_keys=(98, 32)
    )
    save_preferences(tmp_path / "home" / "settings.json", kept)
    assert load_preferences(tmp_path / "home" / "settings.json") == kept


@pytest.mark.parametrize(
    "text", ["", "[]", "{", '{"theme": 3, "mirrored": "yes"}', '{"colour": "red"}', '{"next_keys": ["b"]}', "\x00\xff"]
)
def test_what_makes_no_sense_is_as_at_a_first_start(tmp_path, text):
    path = tmp_path / "settings.json"
    path.write_text(text, encoding="utf-8")
    assert load_preferences(path) == Preferences()


def test_one_spoilt_setting_does_not_spoil_the_others(tmp_path):
    path = tmp_path / "settings.json"
    path.write_text('{"theme": "light", "text_scale": "huge", "double_tap": "dance", "trade": 3}', encoding="utf-8")
    assert load_preferences(path) == Preferences(theme="light")


def test_settings_are_synced_and_nothing_else_lies_beside_them(tmp_path, monkeypatch):
    synced = []
    monkeypatch.setattr(os, "fsync", synced.append)
    save_preferences(tmp_path / "settings.json", Preferences())
    assert len(synced) >= 2
    assert [path.name for path in tmp_path.iterdir()] == ["settings.json"]
