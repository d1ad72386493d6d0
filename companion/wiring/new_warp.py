"""More told of a new warp in the window before it is woven: its measures, and further pieces on it."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.present.asking import Asked
from companion.present.file_names import draft_choices
from companion.present.further_piece import CANNOT_BE_READ, OTHERWISE, ask_piece, waiting_for_drafts
from companion.present.new_warp import (
    THREADED_OTHERWISE,
    Fact,
    Lookup,
    NewPiece,
    NewWarp,
    Telling,
    WeaveNew,
    ask_new_warp,
    known,
    left_out,
    waiting_for_plan,
)
from companion.present.outcome_words import FACE_DOWN_ALONE, no_tie_up_words, order_so_far_words
from companion.present.piece_feet import ask_feet
from companion.present.pieces_kept import in_this_order, stays_as_woven
from companion.present.plan_words import taken_words
from companion.present.start import MenuItem
from companion.present.ways_of_pieces import no_same_feet_words
from companion.present.which_draft import ask_folder, waiting_for
from companion.remap.errors import RemapError
from companion.remap.pieces import OnPiecePlan, PiecePlan, plan_pieces
from companion.remap.remapped import Remapping, Verdict
from companion.remap.same_feet import plan_same_feet
from companion.remap.search.answers import ShouldStop
from companion.screens.flow_place import FlowPlace
from companion.weaving.errors import WeavingError
from companion.wiring.background import in_background
from companion.wiring.navigator import Navigator
from companion.wiring.start_folders import folder_wanted, looked_into, read_by_and_by
from companion.workshop import app
from companion.workshop.draft_files import DraftFileError, name_of_draft, read_draft_file
from companion.workshop.drafts_seen import seen
from companion.workshop.new_warp import contradiction, warp_taken
from companion.workshop.places import asset, drafts_to_choose_from, home, last_folder

TELL_EVERY_S = 1.0
"""How often the weaver is told that the search for an order still goes on."""

Titled = Sequence[tuple[str, Draft]]
"""Drafts with the names of their pieces."""


def tell_of_warp(ways: Navigator, warp: NewWarp, weave: Callable[[NewWarp], None]) -> None:
    """Let the weaver tell more of a warp, then `weave` it as told; the way back leads to the tie-up."""

    def chosen(telling: Telling) -> None:
        match telling:
            case WeaveNew(told):
                if (why := contradiction(told)) is not None:
                    # What was told stays on the screen, to be mended there.
                    side.say(why.said(units))
                else:
                    weave(told)

    def drafts(onto: NewWarp, problem: str) -> Asked[Telling]:
        def look() -> Asked[Telling]:
            return ask_piece(onto, lookup, _drafts(onto, ways.around.facing), problem)

        return in_background(ways, side, waiting_for_drafts(), look)

    def add(onto: NewWarp, key: str) -> Asked[Telling]:
        if any(piece.answer.face_down for piece in onto.pieces):
            return drafts(onto, FACE_DOWN_ALONE)
        before = [(piece.title, piece.draft) for piece in onto.pieces]

        def with_it() -> Titled:
            return (*before, _further(Path(key), onto))

        titles = [*(title for title, _ in before), Path(key).stem]
        return _in_best_order(ways, side, onto, titles, with_it, lookup)

    def again(onto: NewWarp, piece: int) -> Asked[Telling]:
        return plan(onto, (*range(len(onto.pieces)), piece))

    def folder(onto: NewWarp, path: str) -> Asked[Telling]:
        def look() -> Asked[Telling]:
            facing, now_ms = ways.around.facing, app.now_ms()
            # What lies far down a full folder keeps its name alone: here a weaver mostly looks for one draft.
            found = next(read_by_and_by(looked_into(path), lambda item: seen(item, facing, now_ms)))
            return ask_folder(found, partial(folder, onto), partial(add, onto))

        return in_background(ways, side, waiting_for(folder_wanted(path).name), look)

    def plan(onto: NewWarp, stay: Sequence[int]) -> Asked[Telling]:
        if stays_as_woven(onto):
            return ask_new_warp(in_this_order(onto, [onto.pieces[piece] for piece in stay]), lookup)
        pieces = [(onto.pieces[piece].title, onto.pieces[piece].draft) for piece in stay]
        return _in_best_order(ways, side, onto, [title for title, _ in pieces], lambda: pieces, lookup)

    def reckon(onto: NewWarp) -> str:
        try:
            return taken_words(warp_taken(onto), known(onto, Fact.LENGTH), units, left_out(onto))
        except WeavingError as error:
            return error.said(units)

    units = ways.around.units

    def feet(onto: NewWarp) -> Asked[Telling]:
        return _ask_which_feet(ways, side, onto, lookup)

    lookup = Lookup(units, drafts, reckon, add, plan, feet, again, folder)
    side = FlowPlace(ask_new_warp(warp, lookup), ways.around, chosen)
    ways.push(lambda: side)


class _CannotJoinError(ValueError):
    """A draft that cannot be woven on this warp, in one line, and `in_brief` as a list has room for it."""

    def __init__(self, line: str, in_brief: str = "") -> None:
        super().__init__(line)
        self.in_brief = in_brief


def _further(path: Path, onto: NewWarp) -> tuple[str, Draft]:
    """Return a further piece for the warp; raises _CannotJoinError."""
    try:
        draft = read_draft_file(path).draft
    except DraftFileError as error:
        raise _CannotJoinError(f"{path.name}: {error}", CANNOT_BE_READ) from error
    title = name_of_draft(draft, path)
    if draft.threading != onto.pieces[0].draft.threading:
        raise _CannotJoinError(f"{title} {THREADED_OTHERWISE}", OTHERWISE)
    return title, draft


def _in_best_order(
    ways: Navigator,
    side: FlowPlace,
    warp: NewWarp,
    titles: Sequence[str],
    titled: Callable[[], Titled],
    lookup: Lookup,
) -> Asked[Telling]:
    """Look for the order of the `titled` pieces with fewest cords, with the same feet where these are wanted."""

    def work(should_stop: ShouldStop, so_far: OnPiecePlan) -> Asked[Telling]:
        try:
            pieces = titled()
            same = _with_same_feet(warp, pieces, should_stop) if warp.same_feet else None
            planned = same if isinstance(same, NewWarp) else _with_own_feet(warp, pieces, should_stop, so_far)
        except (RemapError, _CannotJoinError) as error:
            return ask_piece(warp, lookup, _drafts(warp, ways.around.facing), str(error))
        return ask_new_warp(planned, lookup)

    return _while_the_screen_lives(ways, side, titles, work)


def _ask_which_feet(ways: Navigator, side: FlowPlace, warp: NewWarp, lookup: Lookup) -> Asked[Telling]:
    """Work out both ways to weave the pieces, and ask which one."""
    pieces = [(piece.title, piece.draft) for piece in warp.pieces]

    def work(should_stop: ShouldStop, so_far: OnPiecePlan) -> Asked[Telling]:
        try:
            own = _with_own_feet(warp, pieces, should_stop, so_far)
            same = _with_same_feet(warp, pieces, should_stop)
        except (RemapError, _CannotJoinError) as error:
            return ask_piece(warp, lookup, _drafts(warp, ways.around.facing), str(error))
        return ask_feet(own, same, "", lookup) if isinstance(same, NewWarp) else ask_feet(own, None, same, lookup)

    return _while_the_screen_lives(ways, side, warp.titles, work)


def _with_own_feet(warp: NewWarp, pieces: Titled, should_stop: ShouldStop, so_far: OnPiecePlan) -> NewWarp:
    """Return the warp with these pieces, each with feet of its own; raises _CannotJoinError or RemapError."""
    drafts = [draft for _, draft in pieces]
    loom, present = warp.profile.loom, warp.profile.present
    plan = plan_pieces(drafts, loom, present=present, should_stop=should_stop, so_far=so_far)
    planned = _made(warp, pieces, plan.order, plan.answers, same_feet=False)
    unknown = [piece.title for piece in planned.pieces if piece.answer.verdict not in (Verdict.FITS, Verdict.RE_TIE)]
    if unknown:
        raise _CannotJoinError(no_tie_up_words(unknown[0]))
    return planned


def _with_same_feet(warp: NewWarp, pieces: Titled, should_stop: ShouldStop) -> NewWarp | str:
    """Return the warp with these pieces, all woven with the same feet, or why that cannot be; raises RemapError."""
    drafts, loom = [draft for _, draft in pieces], warp.profile.loom
    plan = plan_same_feet(drafts, loom, present=warp.profile.present, should_stop=should_stop)
    if plan is None or not plan.fits:
        return no_same_feet_words(drafts, loom, plan).capitalize()
    return _made(warp, pieces, plan.order, plan.answers, same_feet=True)


def _made(
    warp: NewWarp, pieces: Titled, order: Sequence[int], answers: Sequence[Remapping], *, same_feet: bool
) -> NewWarp:
    made = tuple(NewPiece(*pieces[piece], answer) for piece, answer in zip(order, answers, strict=True))
    return replace(warp, pieces=made, same_feet=same_feet)


def _while_the_screen_lives(
    ways: Navigator,
    side: FlowPlace,
    titles: Sequence[str],
    work: Callable[[ShouldStop, OnPiecePlan], Asked[Telling]],
) -> Asked[Telling]:
    """Do the work beside the screen, which says how long it takes and what is known; until done, stopped or left."""
    stopped = threading.Event()
    known: list[PiecePlan] = []

    def stop() -> Asked[Telling]:
        stopped.set()
        return waiting

    def do() -> Asked[Telling]:
        try:
            return work(stopped.is_set, known.append)
        finally:
            stopped.set()

    def tick() -> None:
        if side.asking is not waiting:
            # Whoever went back waits for nothing any more.
            stopped.set()
        if stopped.is_set():
            end()
        else:
            side.say(order_so_far_words(time.monotonic() - began, known[-1].cords if known else None))

    began = time.monotonic()
    waiting = waiting_for_plan(titles, stop)
    end = ways.window.every(TELL_EVERY_S, tick)
    return in_background(ways, side, waiting, do)


def _drafts(onto: NewWarp, facing: Facing) -> tuple[MenuItem, ...]:
    """Return the drafts there are: those that can join the warp first, then the others with why they cannot."""
    paths, now_ms = drafts_to_choose_from(home(), last_folder()), app.now_ms()
    items = zip(paths, draft_choices(paths, home(), asset("drafts")), strict=True)
    told = [(seen(item, facing, now_ms), _why_not(path, onto)) for path, item in items]
    fitting = (item for item, why_not in told if not why_not)
    return (*fitting, *(replace(item, detail=why_not) for item, why_not in told if why_not))


def _why_not(path: Path, onto: NewWarp) -> str:
    """Return in brief why a draft cannot join the warp; empty where it can."""
    try:
        _further(path, onto)
    except _CannotJoinError as error:
        return error.in_brief
    return ""
