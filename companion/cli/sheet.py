"""`fellside sheet`: the sheet that somebody else weaves from, as a page of HTML or as a PDF to print."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from companion.cli.loom_options import Usual, add_loom_arguments, profile_of
from companion.cli.new_warp import add_measures, as_laid_in, measures_of, with_waste
from companion.cli.outputs import write_document
from companion.cli.sizes import option_of
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.status import DONE, CommandError
from companion.cli.told_otherwise import options_given
from companion.draft.model import Draft
from companion.draft.units import Units, counted
from companion.journal.errors import JournalError
from companion.journal.snapshots import warp_to_hand_on
from companion.journal.words_beside import keep_words, read_words, words_path
from companion.record.ink import InkPage, Paper, usual_paper
from companion.record.ink_pdf import letters_missing, pdf_of
from companion.record.ink_svg import html_of
from companion.record.project import Handout, project_sheet
from companion.record.project_pages import project_pages
from companion.remap.errors import RemapError
from companion.remap.remapping import remap
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.sheet_words import SheetWords
from companion.weaving.warp import Warp
from companion.workshop import app
from companion.workshop.draft_files import name_of_draft
from companion.workshop.dressing import CannotDressError, dress, reckon_with
from companion.workshop.looms import UNNAMED_LOOM
from companion.workshop.saved_sheets import handout_of

SUMMARY = "the sheet that a student weaves from, to print"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what is woven, on which loom, the words of the teacher, and where the sheet is written."""
    parser.add_argument("what", metavar="FILE or NAME", help="a draft, or the name of a warp")
    parser.add_argument("--html", metavar="OUT", help="write a page of HTML that needs no other file")
    parser.add_argument("--pdf", metavar="OUT", help="write a PDF document")
    parser.add_argument("--paper", choices=[paper.value for paper in Paper], help="paper (default: by your units)")
    parser.add_argument("--words", action="append", metavar="TEXT", help="words of your own; once for each paragraph")
    parser.add_argument("--finishing", action="append", metavar="TEXT", help="how the cloth is finished")
    parser.add_argument("--keep", action="store_true", default=None, help="keep these words for the sheets to come")
    loom = parser.add_argument_group("for a draft: the loom, in whose treadles and feet the treadling is told")
    add_loom_arguments(loom)
    add_measures(parser.add_argument_group("for a draft: what is put on the loom"))


def run(arguments: argparse.Namespace) -> int:
    """Write the sheet; without --html or --pdf nothing is written, and that is said."""
    if arguments.html is None and arguments.pdf is None:
        raise CommandError("say what to write: --html OUT, --pdf OUT, or both")
    units: Units = arguments.units
    try:
        warp, handout = _warp(arguments)
        paper = _paper(arguments.paper, units)
        sheets = [project_sheet(warp, piece, units, handout) for piece in range(len(warp.pieces))]
    except (JournalError, WeavingError) as error:
        raise CommandError(error_words(error, units)) from error
    except (RemapError, CannotDressError) as error:
        raise CommandError(str(error)) from error
    pages = [page for sheet in sheets for page in project_pages(sheet, paper, arguments.facing)]
    _write(arguments, sheets[0].title if len(sheets) == 1 else warp.name, pages)
    return DONE


def _paper(asked: str | None, units: Units) -> Paper:
    return usual_paper(units) if asked is None else Paper(asked)


def _warp(arguments: argparse.Namespace) -> tuple[Warp, Handout]:
    shelf = app.shelf()
    if names_a_warp(arguments.what, shelf):
        _refuse_plans(arguments)
        with shelf.open_to_read(arguments.what) as journal:
            warp = warp_to_hand_on(journal)
        return warp, handout_of(
            _words(arguments, shelf.path(arguments.what)), warp, on_loom=True, trade=arguments.trade
        )
    (draft,) = as_laid_in(arguments, [load_draft(arguments.what)])
    name = name_of_draft(draft, arguments.what)
    on_loom = any(getattr(arguments, option) is not None for option in ("loom", "treadles", "action", "reach"))
    words = _words(arguments, Path(arguments.what))
    planned = _planned(arguments, name, draft, on_loom)
    return planned, Handout(on_loom, arguments.length is not None, words.words, words.finishing, arguments.trade)


def _words(arguments: argparse.Namespace, beside: Path) -> SheetWords:
    """Return what is to be said: the words given now, or else those that are kept beside the warp or the draft."""
    kept = read_words(beside)
    given = SheetWords(
        kept.words if arguments.words is None else tuple(arguments.words),
        kept.finishing if arguments.finishing is None else tuple(arguments.finishing),
    )
    if arguments.keep:
        if arguments.words is None and arguments.finishing is None:
            raise CommandError("--keep is for words given now; add --words or --finishing")
        try:
            keep_words(beside, given)
        except OSError as error:
            raise CommandError(f"{words_path(beside)}: {error.strerror or error}; no words were kept") from error
    return given


def _planned(arguments: argparse.Namespace, name: str, draft: Draft, on_loom: bool) -> Warp:
    measures = measures_of(arguments, [draft], only_planned=True)
    if not on_loom:
        return reckon_with(name, [draft], with_waste(UNNAMED_LOOM, arguments), measures)
    profile = with_waste(profile_of(arguments, Usual(draft.shafts, draft.treadles or None)), arguments)
    answer = remap(draft, profile.loom, present=profile.present)
    return dress(name, [draft], profile, [answer], re_tie=True, measures=measures)


def _refuse_plans(arguments: argparse.Namespace) -> None:
    for option in options_given(arguments, "what", "html", "pdf", "paper", "words", "finishing", "keep"):
        raise CommandError(
            f"{option_of(option)} is for drafts; {arguments.what!r} is on the shelf and stays as it was begun"
        )


def _write(arguments: argparse.Namespace, title: str, pages: Sequence[InkPage]) -> None:
    if arguments.html is not None:
        write_document(arguments.html, html_of(title, pages).encode())
        print(f"{arguments.html}: {counted(len(pages), 'page')}")
    if arguments.pdf is not None:
        write_document(arguments.pdf, pdf_of(title, pages))
        print(f"{arguments.pdf}: {counted(len(pages), 'page')}")
        if missing := letters_missing(pages):
            print(
                f"the PDF has no shape for {missing}, and shows their base letters or ?; the page of --html shows them",
                file=sys.stderr,
            )
