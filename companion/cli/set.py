"""`fellside set`: drafts and warps that belong together, side by side, with sheets for all and one bundle."""

from __future__ import annotations

import argparse
import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

from companion.cli.outputs import write_whole
from companion.cli.status import DONE, CommandError
from companion.draft.units import counted
from companion.journal.shelf import file_stem, free_name, tidy_name
from companion.record.ink import InkPage, Paper, usual_paper
from companion.record.ink_pdf import pdf_of
from companion.record.ink_svg import html_of
from companion.record.project import project_sheet
from companion.record.project_pages import project_pages
from companion.record.set_pages import set_pages
from companion.weaving.errors import WeavingError, error_words
from companion.workshop import app
from companion.workshop.project_sets import SET_FILE, ProjectSet, ProjectSetError, SetMember, read_set

SUMMARY = "drafts that belong together: side by side, sheets for all, a bundle"
_EPOCH = (1980, 1, 1, 0, 0, 0)
"""The time of every file in a bundle, so that the same set makes the same bundle."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the folder of the set, and what is made of it."""
    parser.add_argument("folder", metavar="FOLDER", help=f"a folder of drafts; {SET_FILE} in it may say which and how")
    parser.add_argument("--html", metavar="OUT", help="write a page that shows them side by side")
    parser.add_argument("--pdf", metavar="OUT", help="write the same as a PDF document")
    parser.add_argument("--sheets", metavar="FOLDER", help="write a project sheet of each as a PDF into this folder")
    parser.add_argument("--bundle", metavar="OUT.zip", help="write drafts, page and sheets in one file to hand on")
    parser.add_argument("--paper", choices=[paper.value for paper in Paper], help="paper (default: by your units)")


def run(arguments: argparse.Namespace) -> int:
    """Write what is asked for, and list the set."""
    try:
        found = read_set(Path(arguments.folder), app.shelf())
        paper = usual_paper(arguments.units) if arguments.paper is None else Paper(arguments.paper)
        drafts = [(member.name, member.warp.pieces[0].draft) for member in found.members]
        overview = set_pages(found.title, found.words, drafts, paper, arguments.facing)
        print("\n".join(_lines(found)))
        if arguments.html is not None:
            _write(arguments.html, html_of(found.title, overview).encode())
        if arguments.pdf is not None:
            _write(arguments.pdf, pdf_of(found.title, overview))
        if arguments.sheets is not None:
            Path(arguments.sheets).mkdir(parents=True, exist_ok=True)
            for name, data in _sheets(arguments, found, paper):
                _write(str(Path(arguments.sheets) / name), data)
        if arguments.bundle is not None:
            _write(arguments.bundle, _bundle(arguments, found, overview, paper))
    except ProjectSetError as error:
        raise CommandError(str(error)) from error
    except WeavingError as error:
        raise CommandError(error_words(error, arguments.units)) from error
    return DONE


def _lines(found: ProjectSet) -> Iterator[str]:
    yield f"{found.title}: {counted(len(found.members), 'project')}"
    for member in found.members:
        draft = member.warp.pieces[0].draft
        kind = "warp" if member.file is None else member.file.name
        yield f"  {member.name} ({kind}): {counted(draft.shafts, 'shaft')}, {counted(draft.ends, 'end')}"


def _write(out: str, data: bytes) -> None:
    write_whole(out, data)
    print(f"  written: {out}")


def _sheets(arguments: argparse.Namespace, found: ProjectSet, paper: Paper) -> Iterator[tuple[str, bytes]]:
    """Yield the sheet of each member with a name of its own."""
    taken: set[str] = set()
    for member in found.members:
        stem = free_name(file_stem(tidy_name(member.name)), lambda free: free.casefold() in taken)
        taken.add(stem.casefold())
        yield f"{stem} sheet.pdf", pdf_of(member.name, list(_sheet_pages(arguments, member, paper)))


def _sheet_pages(arguments: argparse.Namespace, member: SetMember, paper: Paper) -> Iterator[InkPage]:
    for piece in range(len(member.warp.pieces)):
        sheet = project_sheet(member.warp, piece, arguments.units, member.handout)
        yield from project_pages(sheet, paper, arguments.facing)


def _bundle(arguments: argparse.Namespace, found: ProjectSet, overview: tuple[InkPage, ...], paper: Paper) -> bytes:
    out = io.BytesIO()
    listed = Path(arguments.folder) / SET_FILE
    files: list[tuple[str, bytes]] = [("set.html", html_of(found.title, overview).encode())]
    files += [(member.file.name, member.file.read_bytes()) for member in found.members if member.file is not None]
    if listed.is_file():
        files.append((SET_FILE, listed.read_bytes()))
    files += [(f"sheets/{name}", data) for name, data in _sheets(arguments, found, paper)]
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, data in dict(files).items():
            bundle.writestr(zipfile.ZipInfo(name, _EPOCH), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()
