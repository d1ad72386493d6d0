"""A home of a weaver's own, for whoever starts the program in a window."""

from __future__ import annotations

import pytest

from companion.draft.wif_write import write_wif
from tests.screens.warps import twill_draft


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    documents = tmp_path / "Documents"
    documents.mkdir()
    (documents / "towel.wif").write_bytes(write_wif(twill_draft()))
    return tmp_path
