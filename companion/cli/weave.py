"""`fellside weave`: step through the picks, on the screen or in the terminal."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from companion import app
from companion.cli.sizes import check_sizes
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.status import DONE, NO_SUCH_ANSWER, CommandError
from companion.cli.stepper import step_through
from companion.draft.model import Draft
from companion.dressing import NO_MEASURES, CannotDressError, Measures
from companion.journal.errors import JournalError
from companion.remap.errors import RemapError
from companion.remap.loom import Action, Loom
from companion.remap.tieup_text import parse_tieup
from companion.screens import environment
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile, Winding

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
    parser.add_argument("--pedal", metavar="PORT", help="listen to the pedal on this serial port")
    new = parser.add_argument_group("for a new warp")
    new.add_argument("--name", metavar="NAME", help="what to call it (default: the title of the first draft)")
    new.add_argument("--treadles", type=int, metavar="N", help="treadles of the loom")
    new.add_argument("--shafts", type=int, metavar="N", help="shafts of the loom")
    new.add_argument("--action", choices=[action.value for action in Action], default=Action.RISING.value)
    new.add_argument("--re-tie", action="store_true", help="accept stops to tie the treadles anew")
    new.add_argument("--reach", type=int, choices=(1, 2), default=1, help="treadles one foot presses at once")
    new.add_argument("--present", metavar='"1 3,2 4,…"', help="the tie-up now on the loom: change few cords")
    new.add_argument("--width", type=float, metavar="CM", help="width in the reed")
    new.add_argument("--length", type=float, metavar="CM", help="warp wound")
    new.add_argument("--waste", type=float, default=0.0, metavar="CM", help="loom waste")
    new.add_argument("--take-up", type=float, default=0.0, metavar="PERCENT", help="of the warp, by bending")
    new.add_argument("--shrinkage", type=float, default=0.0, metavar="PERCENT", help="off the loom and washed")
    new.add_argument("--fringe", type=float, default=0.0, metavar="CM", help="unwoven warp kept after each piece")
    new.add_argument("--picks-per-cm", type=float, metavar="N", help="picks per cm on the loom")


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
            from companion.wiring.screen_app import ScreenApp

            ScreenApp(name, arguments.pedal).run()
    except CannotDressError as error:
        raise CommandError(str(error), NO_SUCH_ANSWER) from error
    except (JournalError, WeavingError, RemapError, environment.NoDisplayError) as error:
        raise CommandError(str(error)) from error
    return DONE


def _warp_name(arguments: argparse.Namespace) -> str:
    shelf = app.shelf()
    what: list[str] = arguments.what
    if not what:
        return shelf.last_used() or demo_warp_name()
    if len(what) == 1 and names_a_warp(what[0], shelf):
        return what[0]
    drafts = [load_draft(name) for name in what]
    title = drafts[0].title or Path(what[0]).stem
    name = arguments.name or (title if len(what) == 1 else f"{title} and {len(what) - 1} more")
    return _known_or_new(name, drafts, _profile(arguments, drafts), arguments.re_tie, _measures(arguments))


def demo_warp_name() -> str:
    """Return the name of the demo warp, which is put on the shelf first where it is not there yet."""
    return _known_or_new(app.DEMO_NAME, [app.demo_draft()], app.DEMO_LOOM)


def _known_or_new(
    name: str,
    drafts: Sequence[Draft],
    profile: LoomProfile,
    re_tie: bool = False,
    measures: Measures = NO_MEASURES,
) -> str:
    shelf = app.shelf()
    if shelf.path(name).is_file():
        with shelf.open_to_read(name) as journal:
            if [piece.draft for piece in journal.warp.pieces] != list(drafts):
                raise CommandError(
                    f"a warp called {name!r} is on the shelf with another draft; call this one otherwise with --name"
                )
        return name
    app.put_on_shelf(name, drafts, profile, re_tie, measures)
    return name


def _profile(arguments: argparse.Namespace, drafts: Sequence[Draft]) -> LoomProfile:
    shafts = max(draft.shafts for draft in drafts) if arguments.shafts is None else arguments.shafts
    asked = max(draft.treadles for draft in drafts)
    treadles = (asked or shafts + 2) if arguments.treadles is None else arguments.treadles
    if shafts < 1 or treadles < 1:
        raise CommandError("a loom has at least one shaft and one treadle; give numbers from 1")
    action = Action(arguments.action)
    present = None if arguments.present is None else parse_tieup(arguments.present, action)
    check_sizes(arguments, "width", "waste")
    loom = Loom(shafts, treadles, action, arguments.reach)
    return LoomProfile("loom", loom, present, arguments.width or None, arguments.waste)


def _measures(arguments: argparse.Namespace) -> Measures:
    check_sizes(arguments, "length", "take_up", "shrinkage", "fringe", "picks_per_cm")
    winding = None
    if arguments.length is not None:
        winding = Winding(arguments.length, arguments.take_up / 100, arguments.shrinkage / 100)
    elif arguments.take_up or arguments.shrinkage:
        raise CommandError("--take-up and --shrinkage are of the warp wound; give its --length too")
    return Measures(winding, arguments.picks_per_cm, arguments.fringe)


def _say(line: str) -> None:
    print(line, flush=True)
