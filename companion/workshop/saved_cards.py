"""Tie-up cards saved to print, with the draft and the sheet to weave from beside each."""

from __future__ import annotations

from pathlib import Path

from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.draft.units import Units
from companion.draft.wif_write import write_wif
from companion.journal.disk import write_whole
from companion.journal.shelf import file_stem, free_name, tidy_name
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.record.card import tieup_card
from companion.remap.remapped import Remapping
from companion.weaving.sheet_words import NOTHING_SAID, SheetWords
from companion.workshop.saved_sheets import SHEET, save_sheet_of_draft


def save_card(
    title: str,
    draft: Draft,
    answer: Remapping,
    facing: Facing,
    units: Units,
    folder: Path,
    words: SheetWords = NOTHING_SAID,
    trade: Trade = AS_WRITTEN,
) -> Path:
    """Write the card of an answer as a page to print, draft and sheet beside it, and return the page; raises OSError.

    What is there already stays: `Towel card.html`, `Towel card 2.html`.
    """

    def is_taken(stem: str) -> bool:
        return any((folder / f"{stem}{suffix}").exists() for suffix in (".html", ".wif", f" {SHEET}.pdf"))

    folder.mkdir(parents=True, exist_ok=True)
    page = folder / f"{free_name(f'{file_stem(tidy_name(title))} card', is_taken)}.html"
    write_whole(page.with_suffix(".wif"), write_wif(draft))
    write_whole(page, tieup_card(title, draft, answer, facing, units, trade).encode())
    save_sheet_of_draft(title, draft, answer, page.stem, folder, units, facing, words, trade)
    return page
