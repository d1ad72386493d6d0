"""A changed draft is kept beside the weaver's own, and never over another."""

from __future__ import annotations

from companion.draft.reading import read_draft
from companion.wiring.changed_drafts import save_changed_draft
from tests.screens.warps import twill_draft


def test_changed_drafts_are_kept_beside_each_other_and_never_over_one_another(tmp_path):
    draft = twill_draft()
    names = [save_changed_draft(stem, draft, tmp_path).name for stem in ("towel", "towel", "towel changed 2")]
    assert names == ["towel changed.wif", "towel changed 2.wif", "towel changed 3.wif"]
    assert read_draft((tmp_path / names[0]).read_bytes()) == draft
