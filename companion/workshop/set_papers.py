"""The papers of a set: the page that shows all of it, a sheet of each, and one bundle to hand on."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from companion.draft.facing import Facing
from companion.draft.units import Units
from companion.draft.wif_write import write_wif
from companion.journal.shelf import file_stem, free_name, tidy_name
from companion.journal.words_beside import words_path
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.record.ink import InkPage, Paper
from companion.record.ink_pdf import pdf_of
from companion.record.ink_svg import html_of
from companion.record.project import project_sheet
from companion.record.project_pages import project_pages
from companion.record.set_pages import set_pages
from companion.workshop.project_sets import SET_FILE, ProjectSet, SetMember

_NOT_IN_NAMES = frozenset('<>:"/\\|?*')
"""What some disk or other takes in no name of a file."""
_LONGEST_FILE = 60
_EPOCH = (1980, 1, 1, 0, 0, 0)
"""The time of every file in a bundle, so that the same set makes the same bundle."""


def bundle_name(title: str) -> str:
    """Return the name of the file in which a set is handed on: `Mats: a/b` goes as `Mats- a-b.zip`, on any disk."""
    plain = "".join("-" if char in _NOT_IN_NAMES or not char.isprintable() else char for char in title)
    return f"{plain.strip(' .')[:_LONGEST_FILE] or 'set'}.zip"


def overview_of(found: ProjectSet, paper: Paper, facing: Facing) -> tuple[InkPage, ...]:
    """Return the pages that show all of a set side by side, of a warp each of its pieces."""
    drafts = [
        (f"{member.name}, piece {number}: {piece.name}" if len(member.warp.pieces) > 1 else member.name, piece.draft)
        for member in found.members
        for number, piece in enumerate(member.warp.pieces, 1)
    ]
    return set_pages(found.title, found.words, drafts, paper, facing)


def sheets_of(
    found: ProjectSet, paper: Paper, units: Units, facing: Facing, trade: Trade = AS_WRITTEN
) -> Iterator[tuple[str, bytes]]:
    """Yield the sheet of each draft and warp of a set: the name of a file, and a PDF."""
    taken: set[str] = set()
    for member in found.members:
        stem = free_name(file_stem(tidy_name(member.name)), lambda free: free.casefold() in taken)
        taken.add(stem.casefold())
        yield f"{stem} sheet.pdf", pdf_of(member.name, list(_pages(member, paper, units, facing, trade)))


def set_bundle(
    folder: Path, found: ProjectSet, paper: Paper, units: Units, facing: Facing, trade: Trade = AS_WRITTEN
) -> bytes:
    """Return drafts, list, page and sheets of the set in a folder as one zip file; raises OSError."""
    out = io.BytesIO()
    files: list[tuple[str, bytes]] = [("set.html", html_of(found.title, overview_of(found, paper, facing)).encode())]
    files += [(member.file.name, member.file.read_bytes()) for member in found.members if member.file is not None]
    for beside in (words_path(member.file) for member in found.members if member.file is not None):
        if beside.is_file():
            files.append((beside.name, beside.read_bytes()))
    files += [file for member in found.members if member.file is None for file in _drafts_of(member)]
    if (folder / SET_FILE).is_file():
        files.append((SET_FILE, (folder / SET_FILE).read_bytes()))
    files += [(f"sheets/{name}", data) for name, data in sheets_of(found, paper, units, facing, trade)]
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, data in dict(files).items():
            bundle.writestr(zipfile.ZipInfo(name, _EPOCH), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _drafts_of(member: SetMember) -> Iterator[tuple[str, bytes]]:
    """Yield the drafts of a warp's pieces as files: whoever gets the set has not the warp itself."""
    pieces, stem = member.warp.pieces, file_stem(tidy_name(member.name))
    for number, piece in enumerate(pieces, 1):
        which = f" {number}" if len(pieces) > 1 else ""
        yield f"warps/{stem}{which}.wif", write_wif(piece.draft)


def _pages(member: SetMember, paper: Paper, units: Units, facing: Facing, trade: Trade) -> Iterator[InkPage]:
    for piece in range(len(member.warp.pieces)):
        sheet = project_sheet(member.warp, piece, units, replace(member.handout, trade=trade))
        yield from project_pages(sheet, paper, facing)
