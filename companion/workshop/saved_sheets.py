"""Project sheets saved to hand on, as a PDF to print and as a page that needs no other file."""

from __future__ import annotations

from pathlib import Path

from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.draft.units import Units
from companion.journal.disk import write_whole
from companion.record.ink import usual_paper
from companion.record.ink_pdf import pdf_of
from companion.record.ink_svg import html_of
from companion.record.project import Handout, project_sheet
from companion.record.project_pages import project_pages
from companion.remap.remapped import Remapping
from companion.weaving.warp import LoomProfile, Warp
from companion.workshop.dressing import dress
from companion.workshop.looms import NO_NAME

SHEET = "sheet"
"""What stands in the file's name behind that of the warp or of its draft."""


def save_sheet(warp: Warp, stem: str, folder: Path, units: Units, facing: Facing) -> Path:
    """Write the sheet of a warp that is on a loom, all its pieces, as `STEM sheet.pdf` and `.html`; return the PDF.

    Raises OSError where the folder cannot be written.
    """
    handout = Handout(on_loom=True, wound=warp.winding is not None)
    sheets = [project_sheet(warp, piece, units, handout) for piece in range(len(warp.pieces))]
    pages = [page for one in sheets for page in project_pages(one, usual_paper(units), facing)]
    title = sheets[0].title if len(sheets) == 1 else warp.name
    folder.mkdir(parents=True, exist_ok=True)
    pdf = folder / f"{stem} {SHEET}.pdf"
    write_whole(pdf.with_suffix(".html"), html_of(title, pages).encode())
    write_whole(pdf, pdf_of(title, pages))
    return pdf


def save_sheet_of_draft(
    title: str, draft: Draft, answer: Remapping, stem: str, folder: Path, units: Units, facing: Facing
) -> Path | None:
    """Write the sheet of a draft in the treadles and feet of an answer; None where the answer weaves nothing.

    Raises OSError where the folder cannot be written.
    """
    if not answer.proven_cloth:
        return None
    warp = dress(title, [draft], LoomProfile(NO_NAME, answer.loom), [answer], re_tie=True)
    return save_sheet(warp, stem, folder, units, facing)
