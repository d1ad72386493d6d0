"""The tie-up card on disk: a page with the tie-up, the draft beside it, and nothing written over."""

from __future__ import annotations

from companion.draft.facing import FROM_LEFT
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.remap.loom.loom import Loom
from companion.remap.remapping import remap
from companion.workshop.saved_cards import save_card
from tests.screens.warps import twill_draft


def test_card_and_draft_lie_side_by_side_and_a_second_card_has_a_number(tmp_path):
    draft = twill_draft()
    answer = remap(draft, Loom(4, 4))
    pages = [save_card("Towel: blue/white", draft, answer, FROM_LEFT, Units.METRIC, tmp_path / "papers") for _ in "ab"]
    assert pages[0] != pages[1]
    for page in pages:
        assert "<svg" in page.read_text(encoding="utf-8")
        assert read_draft(page.with_suffix(".wif").read_bytes()).sheds() == draft.sheds()
    # Two cards with their drafts, and for each the sheet to weave from, as a page and as a PDF.
    assert len(list((tmp_path / "papers").iterdir())) == 8
    sheet = next((tmp_path / "papers").glob("*2 sheet.html")).read_text(encoding="utf-8")
    assert "L1" in sheet
