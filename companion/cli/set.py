"""`fellside set`: drafts and warps that belong together, side by side, with sheets for all and one bundle."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path

from companion.cli.outputs import write_document
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.units import counted
from companion.record.ink import Paper, usual_paper
from companion.record.ink_pdf import pdf_of
from companion.record.ink_svg import html_of
from companion.weaving.errors import WeavingError, error_words
from companion.workshop import app
from companion.workshop.project_sets import SET_FILE, ProjectSet, ProjectSetError, read_set
from companion.workshop.set_papers import overview_of, set_bundle, sheets_of

SUMMARY = "drafts that belong together: side by side, sheets for all, a bundle"


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
        units, facing = arguments.units, arguments.facing
        overview = overview_of(found, paper, facing)
        own = [found.title, *(member.name for member in found.members)]
        tell(_lines(found), arguments.trade, own)
        if arguments.html is not None:
            _write(arguments.html, html_of(found.title, overview).encode())
        if arguments.pdf is not None:
            _write(arguments.pdf, pdf_of(found.title, overview))
        if arguments.sheets is not None:
            Path(arguments.sheets).mkdir(parents=True, exist_ok=True)
            for name, data in sheets_of(found, paper, units, facing, arguments.trade):
                _write(str(Path(arguments.sheets) / name), data)
        if arguments.bundle is not None:
            _write(arguments.bundle, set_bundle(Path(arguments.folder), found, paper, units, facing, arguments.trade))
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
    write_document(out, data)
    print(f"  written: {out}")
