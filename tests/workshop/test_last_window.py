"""The size that the window was closed with is found at the next start, and nothing else is."""

from __future__ import annotations

import pytest

from companion.journal.shelf import data_folder
from companion.workshop.last_window import last_window_size, remember_window_size


def test_the_size_is_found_again():
    assert last_window_size() is None
    remember_window_size(1100, 640)
    remember_window_size(900, 620)
    assert last_window_size() == (900, 620)


@pytest.mark.parametrize("kept", [b"", b"900", b"0 620", b"-900 620", b"900 620 1", b"999999 620", b"\xff 620"])
def test_a_file_that_says_no_size_is_no_size(kept):
    remember_window_size(900, 620)
    (data_folder() / "last-window").write_bytes(kept)
    assert last_window_size() is None


def test_a_folder_that_cannot_be_made_refuses_quietly(monkeypatch, tmp_path):
    (tmp_path / "a file").write_text("")
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "a file" / "below"))
    remember_window_size(900, 620)
    assert last_window_size() is None
