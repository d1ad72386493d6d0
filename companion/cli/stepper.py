"""The text stepper: the same weaving without a window, in any terminal, or fed by a pipe."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterable

from companion.cli.asked import LEAVE, ROWS, answer_typed, asked_lines
from companion.cli.keys import FAULT, HELP, LOST, MEASURED, SQUARE, UNDO, command_of, key_lines, whole_picks
from companion.cli.readings import Readings
from companion.cli.squares_typed import marked_lines
from companion.cli.typed import length_and_tension
from companion.draft.facing import Facing
from companion.draft.treadling import PlaceInReading
from companion.draft.units import Units, counted, length_words
from companion.journal.errors import JournalError
from companion.present import wording
from companion.present.asking import AndThen, Answer, Asked, AskedToWrite, AtLoom, Elsewhere, FlowStep
from companion.present.between_pieces import carry_words, leave_after, leave_at_start, short_of_plan
from companion.present.cloth_end import NOT_SURE, ask_by_number
from companion.present.deeds import NOTHING_TO_UNDO, answer_words, ask_undo, deed_words
from companion.present.dressing_words import to_mend_words
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.first_look import is_undressed
from companion.present.last_time import last_time_lines
from companion.present.measure import measured
from companion.present.plan_words import warp_warning
from companion.present.trade_words import AS_WRITTEN, Trade, in_trade_words, own_words
from companion.present.unweaving import take_out_words
from companion.present.weave_words import over_under_words
from companion.record.wording import event_kind, event_words
from companion.weaving.decide import Command, pause
from companion.weaving.dressing import TASKS, to_mend
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.events import (
    BobbinChanged,
    FaultNoted,
    FaultSettled,
    Jumped,
    LengthMeasured,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    Resumed,
    SidesTold,
    SquareMarked,
    Undone,
)
from companion.weaving.pick_view import PickView, next_pick, rows_at_fell, this_pick
from companion.weaving.state import State
from companion.weaving.taking_out import taking_out
from companion.workshop.loomside import AtTheLoom

AGAIN = "; j 1 = the treadling from its first pick again"
REACHED = "reached: e ends the section, enter weaves another repeat"
END_HELP = "e = that length is reached"


def step_through(
    loom: AtTheLoom,
    lines: Iterable[str],
    say: Callable[[str], None],
    units: Units,
    facing: Facing,
    trade: Trade = AS_WRITTEN,
    over_under: bool = False,
) -> None:
    """Show each pick and act on each line until `q` or the end of the lines; the weaver is on a pause then.

    What is said of a pick as woven is on disk by then. Questions are in the words of the `trade`, as their answers are
    typed. `over_under`: the way of the shuttle past floating selvedges is told.
    """
    readings = Readings()
    say(f"{loom.warp.name}{wording.BETWEEN}{HELP}")
    if loom.notice:
        say(f"! {loom.notice}")
    for told in last_time_lines(loom.come_back()):
        say(f"  {told}")
    if waiting := to_mend_words(to_mend(loom.progress.now.dressing)):
        say(f"  dressing: {waiting}")
    if is_undressed(loom.warp, loom.progress):
        say(f"  dressing: {TASKS[0].value} first; {shlex.join(('fellside', 'dress', loom.warp.name))} steps through it")
    warned = _warn(loom, "", say, units)
    say(place(loom, readings, units, over_under))
    question: Asked[AtLoom] | None = None
    for line in lines:
        if line.strip().lower() == "q":
            break
        woven = loom.progress.now.woven
        question, told_now = _answer(loom, line, question, units, facing)
        if question is not None:
            question = in_trade_words(question, trade, (*own_words(loom.warp, loom.progress), *question.own))
        for told in told_now:
            say(told)
        # What is planned does not change by a pick, and long treadlings take a moment to count.
        if loom.progress.now.woven == woven:
            warned = _warn(loom, warned, say, units)
        if question is None:
            say(place(loom, readings, units, over_under))
        else:
            for asked in asked_lines(question, loom.warp.pieces[loom.progress.now.piece], _lying(loom), facing):
                say(asked)
    if not loom.progress.now.paused:
        loom.do(pause)
        if loom.notice:
            say(f"! {loom.notice}")
    picks = loom.progress.now.cloth.picks
    say(f"paused; {counted(picks, 'pick')} {'lies' if picks == 1 else 'lie'} in the cloth")


def place(loom: AtTheLoom, readings: Readings, units: Units, over_under: bool = False) -> str:
    """Return the pick to weave now in one line, or what is to do at the end of the piece.

    The repeats are said as soon as the treadling of the piece has been read: weaving never waits long for that.
    """
    view = this_pick(loom.warp, loom.progress)
    now = loom.progress.now
    if view is None:
        if now.finished and now.piece + 1 >= len(loom.warp.pieces):
            return _with_line(wording.END_OF_WARP[0], leave_after(loom.warp, now.piece, units))
        end = wording.piece_words(loom.warp, now.piece) + wording.BETWEEN + "enter to go on"
        short = "" if now.finished else short_of_plan(loom.warp, loom.progress, units)
        end = _with_line(_with_line(end, short and short + AGAIN), leave_after(loom.warp, now.piece, units))
        return _with_line(end, carry_words(loom.warp, loom.progress))
    reading = readings.of(loom.warp, view.piece)
    line = pick_line(view, None if reading is None else reading.place(view.pick), units)
    if over_under and (passing := over_under_words(view)):
        line += f", {passing}"
    if now.piece == 0 and not now.cloth.picks:
        line = _with_line(line, leave_at_start(loom.warp, units))
    if view.re_tie is not None:
        alone = len(loom.warp.pieces[view.piece].stages) == 1
        change = "tie the treadles" if alone else f"change the tie-up for stage {view.re_tie + 1}"
        line += f"\n  first {change}, then enter"
    if view.until_cm is not None and view.pick_in_section == 0:
        reached = view.section_cm is not None and view.section_cm >= view.until_cm
        line += (
            f"\n  {length_words(view.until_cm, units)} are {REACHED}"
            if reached
            else f"\n  until {length_words(view.until_cm, units)}: {END_HELP}"
        )
    line = _with_line(line, wording.running_out_words(loom.warp, loom.progress, view))
    if now.paused:
        line += f"\n  {wording.following_words(next_pick(loom.warp, loom.progress))}"
        line += f"\n  {_is_it_so(now)}"
    return line


def _is_it_so(now: State) -> str:
    asked = "does your cloth look as it should? then enter" if now.cloth.picks else "no pick is woven yet: enter begins"
    return f"{asked}; if not, {LOST}"


def _warn(loom: AtTheLoom, warned: str, say: Callable[[str], None], units: Units) -> str:
    """Say that the warp will be short, unless that is what it `warned` of last; return what there is to warn of."""
    warning = warp_warning(loom.warp, loom.progress, units)
    if warning and warning != warned:
        say(f"! {warning}")
    return warning


def _with_line(line: str, more: str) -> str:
    return f"{line}\n  {more}" if more else line


def pick_line(view: PickView, here: PlaceInReading | None, units: Units) -> str:
    """Return a pick in one line: count, place, repeat, feet, shed, shuttle and side."""
    footing = "" if view.footing is None else wording.footing_words(view.footing)
    shuttle = wording.weft_words(view)
    where = (wording.count_words(view), wording.place_words(view, units, here))
    parts = (*where, footing, wording.shed_words(view.shed), shuttle)
    return wording.BETWEEN.join(part for part in parts if part)


def _answer(
    loom: AtTheLoom, line: str, question: Asked[AtLoom] | None, units: Units, facing: Facing
) -> tuple[Asked[AtLoom] | None, list[str]]:
    """Do what a typed line asks for; return the question that is open then, and what there is to say."""
    try:
        if question is not None and line.strip().lower() == LEAVE:
            return None, ["  left without an answer"]
        if question is not None:
            return _go_on(loom, answer_typed(question, line).leads_to(), units)
        word, _, rest = line.strip().partition(" ")
        if word == "?":
            return None, key_lines()
        if word.lower() == LOST:
            lost = ask_place(loom.warp, loom.progress, facing, units)
            if not rest:
                return lost, []
            number = ask_by_number(loom.warp, loom.progress, Answer(NOT_SURE, lambda: lost))
            return _go_on(loom, answer_typed(number, rest).leads_to(), units)
        if word.lower() == UNDO and not rest:
            return _what_to_undo(loom, units), []
        if word.lower() == FAULT and not rest:
            return ask_fault(loom.warp, loom.progress, facing), []
        if word.lower() == SQUARE and not rest:
            return None, [f"  {told}" for told in marked_lines(loom.warp, loom.progress.now)]
        if word.lower() == MEASURED:
            step = measured(loom.warp, loom.progress, units, *length_and_tension(rest, units))
            return _go_on(loom, step, units)
        if word.lower() == "o":
            steps = taking_out(loom.warp, loom.progress, whole_picks(rest))
            return None, [f"  {take_out_words(step)}" for step in steps]
        return None, [_done(loom, command_of(line, units), units)]
    except (WeavingError, JournalError) as error:
        return question, [f"! {error_words(error, units)}"]


def _what_to_undo(loom: AtTheLoom, units: Units) -> Asked[AtLoom]:
    asked = ask_undo(loom.warp, loom.progress, units)
    if asked is None:
        raise WeavingError(NOTHING_TO_UNDO)
    return asked


def _go_on(loom: AtTheLoom, outcome: FlowStep[AtLoom], units: Units) -> tuple[Asked[AtLoom] | None, list[str]]:
    """Follow an answer: to the next question, or to the commands that the flow ends in."""
    if isinstance(outcome, Asked):
        return outcome, []
    if isinstance(outcome, AskedToWrite) or isinstance(outcome.result, Elsewhere):
        return None, ["! that is asked on the screen only"]
    result = outcome.result
    commands = result.commands if isinstance(result, AndThen) else result
    told: list[str] = []
    try:
        for command in commands:
            told.append(_done(loom, command, units))
    except (WeavingError, JournalError) as error:
        return None, [*told, f"! {error_words(error, units)}"]
    if isinstance(result, AndThen):
        asked, more = _go_on(loom, result.asks(loom.warp, loom.progress), units)
        return asked, told + more
    return None, told


def _done(loom: AtTheLoom, command: Command, units: Units) -> str:
    piece, before = loom.warp.pieces[loom.progress.now.piece], loom.progress
    event = loom.do(command).event
    match event:
        case Jumped(pick):
            return f"  went to {f'pick {pick + 1}' if pick < piece.picks else 'the end of the piece'}"
        case PickWoven(pick):
            return f"  woven: pick {pick + 1}"
        case PickTakenOut(pick):
            return "\n".join([f"  taken out: pick {pick + 1}", *_faults_in(loom.progress.now, pick)])
        case (
            FaultNoted()
            | FaultSettled()
            | SidesTold()
            | SquareMarked()
            | LengthMeasured()
            | BobbinChanged()
            | NoteWritten()
        ):
            return f"  {event_kind(event)}: {event_words(event, piece, units)}"
        case Undone():
            return f"  {answer_words(loom.warp, before, event, units)}"
        case Paused():
            return "  paused"
        case Resumed():
            return "  back at the loom"
        case _:
            return f"  {deed_words(loom.warp, before, event, units)}"


def _faults_in(now: State, pick: int) -> list[str]:
    """Return how to settle each open fault that was noted in a pick (index) of the piece on the loom."""
    return [
        f"  fault {fault.number + 1} was noted in it; d {fault.number + 1} mended settles it"
        for fault in now.open_faults
        if (fault.piece, fault.pick) == (now.piece, pick)
    ]


def _lying(loom: AtTheLoom) -> list[int]:
    return [row.pick for row in rows_at_fell(loom.warp, loom.progress, ROWS)]
