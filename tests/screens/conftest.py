"""A home of a weaver's own, for whoever starts the program in a window."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_RIGHT
from companion.draft.wif_write import write_wif
from companion.present.preferences import Preferences
from tests.draft.drafts import KEPT
from tests.screens.warps import twill_draft


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    documents = tmp_path / "Documents"
    documents.mkdir()
    (documents / "towel.wif").write_bytes(write_wif(twill_draft()))
    return tmp_path


@pytest.fixture
def cover_shelf(tmp_path, monkeypatch, display):
    """A shelf with an overshot on it, and a weaver who works from the right."""
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    from companion.draft.reading import read_draft
    from companion.remap.loom.loom import Loom
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.dressing import dress
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(sounds=False, facing=FROM_RIGHT))
    draft = read_draft((KEPT / "overshot-four-shaft.txt").read_bytes())
    profile = LoomProfile("floor loom", Loom(4, 6))
    app.put_on_shelf(dress("cover", [draft], profile, app.answers_for([draft], profile)), tied=True)
    return app.shelf()


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"
