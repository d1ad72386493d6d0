"""The one reader of draft files: every face has one cap and one line for what is no draft."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from companion.draft.wif_write import write_wif
from companion.workshop import draft_files
from companion.workshop.draft_files import DraftFileError, read_draft_file
from tests.screens.warps import twill_draft

COMPANION = Path(draft_files.__file__).parents[1]


def test_a_draft_comes_back_with_what_was_tolerated(tmp_path):
    path = tmp_path / "towel.wif"
    path.write_bytes(write_wif(twill_draft()))
    assert read_draft_file(path).draft == twill_draft()
    assert read_draft_file(path).deviations == ()


def test_a_file_is_read_as_long_as_no_draft_is_longer_and_no_further(tmp_path, monkeypatch):
    path = tmp_path / "towel.wif"
    path.write_bytes(write_wif(twill_draft()))
    size = path.stat().st_size
    monkeypatch.setattr(draft_files, "LARGEST_FILE_BYTES", size)
    assert read_draft_file(path).draft == twill_draft()
    monkeypatch.setattr(draft_files, "LARGEST_FILE_BYTES", size - 1)
    with pytest.raises(DraftFileError, match="too large for a draft; give a WIF or shorthand file"):
        read_draft_file(path)
    if Path("/dev/zero").exists():
        with pytest.raises(DraftFileError, match="too large"):
            read_draft_file(Path("/dev/zero"))


def test_what_is_no_draft_is_one_line_and_a_slip_in_shorthand_is_shown(tmp_path):
    with pytest.raises(DraftFileError, match="check the file's name and rights"):
        read_draft_file(tmp_path / "nowhere.wif")
    path = tmp_path / "letter.txt"
    path.write_text("Dear weaver", encoding="utf-8")
    with pytest.raises(DraftFileError, match="neither a WIF file nor shorthand"):
        read_draft_file(path)
    path.write_text("threading: 1 2 ? 4", encoding="utf-8")
    with pytest.raises(DraftFileError) as caught:
        read_draft_file(path)
    assert "\n" not in str(caught.value)
    assert "^" in caught.value.place


def test_no_other_module_reads_the_file_of_a_draft():
    """Whoever turns bytes into a draft is the reader, the front door, or reads what ships with the program."""
    readers = set()
    for path in COMPANION.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module == "companion.draft.reading":
                names = {alias.name for alias in node.names}
                if names & {"read_draft", "read_with_deviations"}:
                    readers.add(path.relative_to(COMPANION).as_posix())
    assert readers == {"__init__.py", "workshop/app.py", "workshop/draft_files.py"}
