"""The text stepper: the same weaving without a window, in any terminal, or fed by a pipe."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from companion.cli.keys import HELP, command_of, key_lines, whole_picks
from companion.draft.treadling import PlaceInReading, TreadlingReading, read_treadling
from companion.journal.errors import JournalError
from companion.loomside import AtTheLoom
from companion.present import wording
from companion.present.last_time import last_time_lines
from companion.present.unweaving import take_out_words
from companion.weaving.decide import pause
from companion.weaving.errors import WeavingError
from companion.weaving.pick_view import PickView, next_pick, this_pick
from companion.weaving.taking_out import taking_out

Readings = dict[int, TreadlingReading]
"""The treadling of each piece (index), read as repeats."""
END_HELP = "e = that length is reached"


def step_through(loom: AtTheLoom, lines: Iterable[str], say: Callable[[str], None]) -> None:
    """Show each pick and act on each line until `q` or the end of the lines; the weaver is on a pause then.

    What is said of a pick as woven is on disk by then.
    """
    readings: Readings = {}
    say(f"{loom.warp.name}{wording.BETWEEN}{HELP}")
    if loom.notice:
        say(f"! {loom.notice}")
    for told in last_time_lines(loom.come_back()):
        say(f"  {told}")
    say(place(loom, readings))
    for line in lines:
        if line.strip().lower() == "q":
            break
        for told in _answer(loom, line):
            say(told)
        say(place(loom, readings))
    if not loom.progress.now.paused:
        loom.do(pause)
        if loom.notice:
            say(f"! {loom.notice}")
    say(f"paused; {loom.progress.now.cloth.picks} picks lie in the cloth")


def place(loom: AtTheLoom, readings: Readings) -> str:
    """Return the pick to weave now in one line, or what is to do at the end of the piece.

    The treadling of each piece is read as repeats once and kept in `readings`; a long one takes a moment.
    """
    view = this_pick(loom.warp, loom.progress)
    now = loom.progress.now
    if view is None:
        if now.finished and now.piece + 1 >= len(loom.warp.pieces):
            return wording.END_OF_WARP
        return wording.piece_words(loom.warp, now.piece) + wording.BETWEEN + "enter to go on"
    if view.piece not in readings:
        readings[view.piece] = read_treadling(loom.warp.pieces[view.piece].draft)
    line = pick_line(view, readings[view.piece].place(view.pick))
    if view.re_tie is not None:
        line += f"\n  first re-tie the treadles for stage {view.re_tie + 1}, then enter"
    if view.until_cm is not None and view.pick_in_section == 0:
        line += f"\n  until {view.until_cm:g} cm: {END_HELP}"
    if now.paused:
        line += f"\n  {wording.following_words(next_pick(loom.warp, loom.progress))}"
        line += "\n  does your cloth look as it should? then enter"
    return line


def pick_line(view: PickView, here: PlaceInReading) -> str:
    """Return a pick in one line: count, place, repeat, feet, shed, shuttle and side."""
    footing = "" if view.footing is None else wording.footing_words(view.footing)
    shuttle = f"{view.shuttle} {wording.side_words(view.comes_from)}"
    where = (wording.count_words(view), wording.place_words(view, here))
    parts = (*where, footing, wording.shed_words(view.shed), shuttle)
    return wording.BETWEEN.join(part for part in parts if part)


def _answer(loom: AtTheLoom, line: str) -> list[str]:
    """Do what a typed line asks for, and return what there is to say of it."""
    word, _, rest = line.strip().partition(" ")
    try:
        if word == "?":
            return key_lines()
        if word.lower() == "o":
            steps = taking_out(loom.warp, loom.progress, whole_picks(rest))
            return [f"  {take_out_words(step)}" for step in steps]
        entry = loom.do(command_of(line))
    except (WeavingError, JournalError) as error:
        return [f"! {error}"]
    return [f"  {wording.event_words(entry.event)}"]
