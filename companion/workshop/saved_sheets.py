"""Project sheets saved to hand on, as a PDF to print and as a page that needs no other file."""

from __future__ import annotations

from pathlib import Path

from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.draft.units import Units
from companion.journal.disk import write_whole
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.record.ink import usual_paper
from companion.record.ink_pdf import pdf_of
from companion.record.ink_svg import html_of
from companion.record.project import Handout, project_sheet
from companion.record.project_pages import project_pages
from companion.remap.remapped import Remapping
from companion.weaving.sheet_words import NOTHING_SAID, SheetWords
from companion.weaving.warp import NO_NAME, LoomProfile, Warp
from companion.workshop.dressing import dress

SHEET = "sheet"
"""What stands in the file's name behind that of the warp or of its draft."""


def handout_of(words: SheetWords, warp: Warp, on_loom: bool, trade: Trade = AS_WRITTEN) -> Handout:
    """Return what the sheet of a warp says beside it; `on_loom`: in the treadles of its loom."""
    return Handout(on_loom, on_loom and warp.winding is not None, words.words, words.finishing, trade)


def save_sheet(
    warp: Warp,
    stem: str,
    folder: Path,
    units: Units,
    facing: Facing,
    words: SheetWords = NOTHING_SAID,
    on_loom: bool = True,
    trade: Trade = AS_WRITTEN,
) -> Path:
    """Write the sheet of a warp, all its pieces, as `STEM sheet.pdf` and `.html`, with the teacher's words.

    `on_loom`: the treadling is told in the treadles of its loom. Returns the PDF; raises OSError where the folder
    cannot be written.
    """
    handout = handout_of(words, warp, on_loom, trade)
    sheets = [project_sheet(warp, piece, units, handout) for piece in range(len(warp.pieces))]
    pages = [page for one in sheets for page in project_pages(one, usual_paper(units), facing)]
    title = sheets[0].title if len(sheets) == 1 else warp.name
    folder.mkdir(parents=True, exist_ok=True)
    pdf = folder / f"{stem} {SHEET}.pdf"
    write_whole(pdf.with_suffix(".html"), html_of(title, pages).encode())
    write_whole(pdf, pdf_of(title, pages))
    return pdf


def save_sheet_of_draft(
    title: str,
    draft: Draft,
    answer: Remapping,
    stem: str,
    folder: Path,
    units: Units,
    facing: Facing,
    words: SheetWords = NOTHING_SAID,
    trade: Trade = AS_WRITTEN,
) -> Path | None:
    """Write the sheet of a draft in the treadles and feet of an answer; None where the answer weaves nothing.

    Raises OSError where the folder cannot be written.
    """
    if not answer.proven_cloth:
        return None
    warp = dress(title, [draft], LoomProfile(NO_NAME, answer.loom), [answer], re_tie=True)
    return save_sheet(warp, stem, folder, units, facing, words, trade=trade)
