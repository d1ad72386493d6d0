"""Tie-up cards saved to print, with the draft beside each."""

from __future__ import annotations

from itertools import count
from pathlib import Path

from companion.draft.model import Draft
from companion.draft.wif_write import write_wif
from companion.journal.shelf import file_stem, tidy_name
from companion.record.card import tieup_card
from companion.remap.remapped import Remapping


def save_card(title: str, draft: Draft, answer: Remapping, folder: Path) -> Path:
    """Write the card of an answer as a page to print, the draft beside it, and return the page; raises OSError.

    What is there already stays: `Towel card.html`, `Towel card 2.html`.
    """
    folder.mkdir(parents=True, exist_ok=True)
    stem = file_stem(tidy_name(title))
    pages = (folder / f"{stem} card{'' if number == 1 else f' {number}'}.html" for number in count(1))
    page = next(page for page in pages if not page.exists() and not page.with_suffix(".wif").exists())
    page.with_suffix(".wif").write_bytes(write_wif(draft))
    page.write_text(tieup_card(title, answer), encoding="utf-8")
    return page
