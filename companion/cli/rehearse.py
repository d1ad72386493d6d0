"""`fellside rehearse`: weave the demo's first picks, be cut off as by a power cut, and come back at the right pick.

For a machine with neither display nor terminal: it shows that set-up, journal and place-keeping work there.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile

from companion.cli.readings import Readings
from companion.cli.spoken import tell
from companion.cli.status import DONE, NO_SUCH_ANSWER, CommandError
from companion.cli.stepper import place
from companion.cli.weave import demo_warp_name
from companion.draft.units import Units, counted
from companion.weaving.decide import weave_pick
from companion.workshop import app

SUMMARY = "weave the demo's first picks, be cut off, and resume at the right pick"
PICKS = 12
_WEAVER = """import sys
from companion.cli.rehearse import weave_until_cut_off
from companion.draft.units import Units
weave_until_cut_off(sys.argv[1], Units(sys.argv[2]))
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare how many picks to weave before the cut."""
    parser.add_argument("--picks", type=int, default=PICKS, metavar="N", help=f"picks before the cut (default {PICKS})")


def run(arguments: argparse.Namespace) -> int:
    """Weave in a process of its own, kill it, and compare the picks it told of with the ones on disk."""
    most = app.demo_draft().picks
    if not 1 <= arguments.picks <= most:
        raise CommandError(f"--picks {arguments.picks}: give a number from 1 to {most}, the picks of the demo")
    with tempfile.TemporaryDirectory(prefix="fellside-rehearsal-") as folder:
        os.environ["FELLSIDE_HOME"] = folder
        name = demo_warp_name(arguments.facing)
        acknowledged = _weave_and_cut_off(name, arguments.picks, arguments.units)
        with app.sit_down(name) as loom:
            resumed = loom.progress.now.next_pick
            tell([f"resumed: {place(loom, Readings(), arguments.units)}"], arguments.trade)
    # The cut may fall after a pick was on disk and before it was told; a pick told and not on disk would be a loss.
    right = arguments.picks <= acknowledged <= resumed <= acknowledged + 1
    print(f"resumed at the right pick: {'yes' if right else 'NO'} ({acknowledged} told as woven, {resumed} on disk)")
    return DONE if right else NO_SUCH_ANSWER


def weave_until_cut_off(name: str, units: Units) -> None:
    """Weave the warp called `name`, telling each pick once it is on disk; after the last one wait to be cut off."""
    readings = Readings()
    with app.sit_down(name) as loom:
        for _ in range(loom.warp.pieces[0].draft.picks):
            shown = place(loom, readings, units)
            loom.do(weave_pick)
            print(f"woven: {shown}", flush=True)
        sys.stdin.read()


def _weave_and_cut_off(name: str, picks: int, units: Units) -> int:
    told = 0
    with subprocess.Popen(
        [sys.executable, "-c", _WEAVER, name, units.value],
        # Open as long as this process lives: the weaver that waits on it does not outlive its rehearsal.
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
        encoding="utf-8",
    ) as weaver:
        for line in weaver.stdout or ():
            told += 1
            if told <= picks:
                print(line, end="")
            if told == picks:
                weaver.kill()
    if told < picks:
        print(f"the process ended by itself after {told} of {picks} picks")
    else:
        print(f"cut off after {counted(picks, 'pick')} (the process was killed)")
    return told
