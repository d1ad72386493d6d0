"""`fellside weave`: step through the picks, on the screen or in the terminal."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from companion.cli.loom_options import (
    Usual,
    add_aim,
    add_loom_arguments,
    add_plain_weave,
    aim_of,
    profile_of,
    tied_for_plain_weave,
)
from companion.cli.new_warp import add_measures, as_laid_in, measures_of, with_waste
from companion.cli.on_shelf import check_agrees
from companion.cli.seen import shuttles_seen
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.spoken import tell
from companion.cli.status import DONE, NO_SUCH_ANSWER, CommandError
from companion.cli.stepper import step_through
from companion.draft.facing import Facing, Side
from companion.draft.model import Draft
from companion.journal.errors import JournalError
from companion.journal.shelf import same_name
from companion.present.trade_words import own_words
from companion.remap.errors import RemapError
from companion.remap.remapped import Verdict
from companion.screens import environment
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.warp import Warp
from companion.workshop import app
from companion.workshop.demo import put_demo_on_shelf
from companion.workshop.draft_files import name_of_draft
from companion.workshop.dressing import CannotDressError, dress, name_of_warp, reckon_with
from companion.workshop.last_window import last_window_size

_TIED_BY = {"aim": "aim", "plain_weave": "plain-weave"}
"""What chooses a tie-up once, when a warp is made: it cannot be told of a warp that is there."""

SUMMARY = "step through the picks of a draft or of a warp begun before"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what to weave and, for a new warp, on which loom."""
    parser.add_argument(
        "what",
        nargs="*",
        metavar="FILE or NAME",
        help="a draft (several: pieces of one warp, in order), or a warp's name",
    )
    parser.add_argument("--text", action="store_true", help="in the terminal: enter = next pick, b = back, q = pause")
    parser.add_argument(
        "--pedal",
        metavar="PORT",
        help="listen to the pedal on this serial port, or play a file of fellside pedal --json",
    )
    parser.add_argument(
        "--over-under",
        action="store_true",
        help="in the terminal: say how the shuttle passes floating selvedges (default: as the settings say)",
    )
    new = parser.add_argument_group("for a new warp")
    new.add_argument("--name", metavar="NAME", help="what to call it (default: the title of the first draft)")
    add_loom_arguments(new)
    new.add_argument("--re-tie", action="store_true", help="accept stops to re-tie the treadles")
    tied = new.add_mutually_exclusive_group()
    tied.add_argument("--tied", action="store_true", default=None, help="the treadles are tied for it already")
    tied.add_argument("--untied", dest="tied", action="store_false", help="they are not tied for it yet")
    add_aim(new)
    add_plain_weave(new)
    new.add_argument("--same-feet", action="store_true", help="several pieces: one treadling for all, a tie-up each")
    new.add_argument("--face-down", action="store_true", help="weave it with its face below (a single draft)")
    new.add_argument(
        "--shuttles", metavar="SIDES", help='where shuttles begin: "sand left, sea right" (default: as check advises)'
    )
    add_measures(new)


def run(arguments: argparse.Namespace) -> int:
    """Open the warp and weave; a new draft becomes a new warp first."""
    try:
        if arguments.text or not environment.has_display():
            _weave_in_terminal(arguments)
        else:
            _weave_in_window(arguments)
    except CannotDressError as error:
        raise CommandError(str(error), NO_SUCH_ANSWER) from error
    except (JournalError, WeavingError, RemapError, environment.NoDisplayError) as error:
        raise CommandError(error_words(error, arguments.units)) from error
    return DONE


def _weave_in_terminal(arguments: argparse.Namespace) -> None:
    shelf = app.shelf()
    try:
        with app.sit_down(_warp_name(arguments)) as loom:

            def say(line: str) -> None:
                tell([line], arguments.trade, own_words(loom.warp, loom.progress))

            step_through(loom, sys.stdin, say, arguments.units, arguments.facing, arguments.trade, arguments.over_under)
    except JournalError as error:
        others = [name for name in shelf.names() if name != shelf.last_used()]
        if arguments.what or not others:
            raise
        raise CommandError(f"{error}; another warp: fellside weave NAME, of {', '.join(others)}") from error


def _weave_in_window(arguments: argparse.Namespace) -> None:
    trouble = ""
    try:
        name = None if _nothing_yet(arguments) else _warp_name(arguments)
    except (JournalError, CannotDressError) as error:
        if arguments.what:
            raise
        # The window has all the other warps still, and the copies of this one.
        name, trouble = app.shelf().last_used(), str(error)
    environment.prepare(last_window_size())
    # Only now: importing the screens loads Kivy, which reads its settings while it is imported.
    from companion.wiring.screen_app import ScreenApp

    ScreenApp(name, arguments.pedal, trouble="" if name else trouble).run()


def _nothing_yet(arguments: argparse.Namespace) -> bool:
    """Tell whether this is a first start: the window then offers the demo by its name, and drafts."""
    return not arguments.what and arguments.name is None and app.shelf().last_used() is None


def _warp_name(arguments: argparse.Namespace) -> str:
    shelf = app.shelf()
    what: list[str] = arguments.what
    if not what or (len(what) == 1 and names_a_warp(what[0], shelf)):
        name = what[0] if what else shelf.last_used() or demo_warp_name(arguments.facing)
        if arguments.name is not None and not same_name(arguments.name, name):
            raise CommandError(f"--name is for a new warp; {name!r} is on the shelf and keeps its name")
        with shelf.open_to_read(name) as journal:
            _check_agrees(name, journal.warp, arguments)
        return name
    if arguments.face_down and len(what) > 1:
        raise CommandError("--face-down is for a single draft; make a warp of each")
    if arguments.plain_weave and len(what) > 1:
        raise CommandError("--plain-weave is for a single draft")
    if arguments.same_feet and len(what) == 1:
        raise CommandError("--same-feet is for several drafts on one warp")
    if arguments.same_feet and arguments.aim is not None:
        raise CommandError("--same-feet has an aim of its own; leave --aim out")
    drafts = as_laid_in(arguments, [load_draft(name) for name in what])
    name = arguments.name or name_of_warp(name_of_draft(drafts[0], what[0]), len(what))
    if _on_shelf(name, drafts, arguments):
        return name
    shafts, treadles = max(draft.shafts for draft in drafts), max(draft.treadles for draft in drafts)
    profile = with_waste(profile_of(arguments, Usual(shafts, treadles or shafts + 2)), arguments)
    measures = replace(measures_of(arguments, drafts), starts=_starts(arguments, drafts))
    # What cannot be is told before the search, which may take its time.
    reckon_with(name, drafts, profile, measures)
    answers = app.answers_for(
        drafts, profile, face_down=arguments.face_down, aim=aim_of(arguments), same_feet=arguments.same_feet
    )
    if arguments.plain_weave and answers[0].verdict is Verdict.FITS:
        answers = (tied_for_plain_weave(drafts[0], answers[0], profile),)
    warp = dress(name, drafts, profile, answers, arguments.re_tie, measures, arguments.facing)
    # Whoever says nothing weaves at once, unless it is known what else hangs on the treadles.
    app.put_on_shelf(warp, tied=profile.present is None if arguments.tied is None else arguments.tied)
    if len(what) == 1:
        app.bring_words(Path(what[0]), name)
    return name


def _starts(arguments: argparse.Namespace, drafts: Sequence[Draft]) -> dict[str, Side]:
    """Return where the shuttles that were named begin, by the names of their yarns."""
    if arguments.shuttles is None:
        return {}
    draft = drafts[0]
    return {draft.yarns[yarn].name: side for yarn, side in shuttles_seen(arguments.shuttles, draft)}


def demo_warp_name(facing: Facing | None = None) -> str:
    """Return the name of the demo warp, which is put on the shelf first where it is not there yet.

    With `facing` its shuttles begin as its check advises.
    """
    _on_shelf(app.DEMO_NAME, [app.demo_draft()])
    return put_demo_on_shelf(facing)


def _on_shelf(name: str, drafts: Sequence[Draft], arguments: argparse.Namespace | None = None) -> bool:
    """Tell whether a warp of this name is there; raises CommandError where it is another than was asked for."""
    shelf = app.shelf()
    if not shelf.path(name).is_file():
        return False
    with shelf.open_to_read(name) as journal:
        warp = journal.warp
    if [_nameless(piece.draft) for piece in warp.pieces] != list(map(_nameless, drafts)):
        raise CommandError(
            f"a warp called {name!r} is on the shelf with another draft; give this one another name with --name"
        )
    if arguments is not None:
        _check_agrees(name, warp, arguments)
    return True


def _check_agrees(name: str, warp: Warp, arguments: argparse.Namespace) -> None:
    """Raise CommandError for what contradicts the warp; say what is not looked for anew on it."""
    check_agrees(name, warp, arguments)
    given = [words for option, words in _TIED_BY.items() if getattr(arguments, option)]
    if given:
        one = f"--{given[0]} {arguments.aim}" if given[0] == "aim" else f"--{given[0]}"
        print(
            f"fellside weave: {name!r} is on the shelf and keeps the tie-up that it has; {one} is for a new warp, "
            "made of the draft under another --name",
            file=sys.stderr,
        )


def _nameless(draft: Draft) -> Draft:
    """Return a draft without its yarns' names: those that no file says are words of ours, and may have changed."""
    return replace(draft, yarns=tuple(replace(yarn, name="") for yarn in draft.yarns))
