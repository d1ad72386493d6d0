"""`fellside weave`: step through the picks, on the screen or in the terminal."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from companion import app
from companion.cli.sources import load_draft
from companion.cli.status import DONE, NO_SUCH_ANSWER, CommandError
from companion.cli.stepper import step_through
from companion.draft.model import Draft
from companion.dressing import CannotDressError
from companion.journal.errors import JournalError
from companion.remap.errors import RemapError
from companion.remap.loom import Action, Loom
from companion.screens import environment
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile

SUMMARY = "step through the picks of a draft or of a warp begun before"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what to weave and, for a new warp, on which loom."""
    parser.add_argument("what", nargs="?", metavar="FILE or NAME", help="a draft, or the name of a warp")
    parser.add_argument("--text", action="store_true", help="in the terminal: enter = next pick, b = back, q = pause")
    parser.add_argument("--pedal", metavar="PORT", help="listen to the pedal on this serial port")
    parser.add_argument("--treadles", type=int, metavar="N", help="treadles of the loom, for a new warp")
    parser.add_argument("--shafts", type=int, metavar="N", help="shafts of the loom, for a new warp")
    parser.add_argument("--action", choices=[action.value for action in Action], default=Action.RISING.value)
    parser.add_argument("--re-tie", action="store_true", help="accept stops to tie the treadles anew")
    parser.add_argument("--reach", type=int, choices=(1, 2), default=1, help="treadles one foot presses at once")


def run(arguments: argparse.Namespace) -> int:
    """Open the warp and weave; a new draft becomes a new warp first."""
    try:
        name = _warp_name(arguments)
        if arguments.text or not environment.has_display():
            with app.sit_down(name) as loom:
                step_through(loom, sys.stdin, _say)
        else:
            environment.prepare()
            # Only now: importing the screens loads Kivy, which reads its settings while it is imported.
            from companion.screen_app import ScreenApp

            ScreenApp(name, arguments.pedal).run()
    except CannotDressError as error:
        raise CommandError(str(error), NO_SUCH_ANSWER) from error
    except (JournalError, WeavingError, RemapError, environment.NoDisplayError) as error:
        raise CommandError(str(error)) from error
    return DONE


def _warp_name(arguments: argparse.Namespace) -> str:
    shelf = app.shelf()
    what: str | None = arguments.what
    if what is None:
        return shelf.last_used() or demo_warp_name()
    if Path(what).is_file():
        draft = load_draft(what)
        name = draft.title or Path(what).stem
        return _known_or_new(name, draft, _profile(arguments, draft), arguments.re_tie)
    if shelf.path(what).is_file():
        return what
    there = ", ".join(shelf.names()) or "none yet"
    raise CommandError(f"{what}: neither a file nor a warp; the warps here are: {there}")


def demo_warp_name() -> str:
    """Return the name of the demo warp, which is put on the shelf first where it is not there yet."""
    return _known_or_new(app.DEMO_NAME, app.demo_draft(), app.DEMO_LOOM)


def _known_or_new(name: str, draft: Draft, profile: LoomProfile, re_tie: bool = False) -> str:
    shelf = app.shelf()
    if shelf.path(name).is_file():
        with shelf.open_to_read(name) as journal:
            if journal.warp.pieces[0].draft != draft:
                raise CommandError(
                    f"a warp called {name!r} is on the shelf with another draft; give this draft another title"
                )
        return name
    app.put_on_shelf(name, draft, profile, re_tie)
    return name


def _profile(arguments: argparse.Namespace, draft: Draft) -> LoomProfile:
    shafts = draft.shafts if arguments.shafts is None else arguments.shafts
    treadles = (draft.treadles or shafts + 2) if arguments.treadles is None else arguments.treadles
    if shafts < 1 or treadles < 1:
        raise CommandError("a loom has at least one shaft and one treadle; give numbers from 1")
    return LoomProfile("loom", Loom(shafts, treadles, Action(arguments.action), arguments.reach))


def _say(line: str) -> None:
    print(line, flush=True)
