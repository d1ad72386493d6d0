"""Settings come back as they were kept, and a spoilt file never keeps the program from starting."""

from __future__ import annotations

import os

import pytest

from companion.present.preferences import Preferences
from companion.workshop.preference_file import load_preferences, save_preferences


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
    path.write_text('{"theme": "light", "text_scale": "huge"}', encoding="utf-8")
    assert load_preferences(path) == Preferences(theme="light")


def test_a_file_that_holds_what_buttons_said_keeps_its_meaning(tmp_path):
    path = tmp_path / "settings.json"
    path.write_text('{"double_tap": "Note", "trade": "North American"}', encoding="utf-8")
    assert load_preferences(path) == Preferences(double_tap="note", trade="north_american")


def test_settings_are_synced_and_nothing_else_lies_beside_them(tmp_path, monkeypatch):
    synced = []
    monkeypatch.setattr(os, "fsync", synced.append)
    save_preferences(tmp_path / "settings.json", Preferences())
    assert len(synced) >= 2
    assert [path.name for path in tmp_path.iterdir()] == ["settings.json"]
