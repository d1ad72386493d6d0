"""More told of a new warp in the window before it is woven: its measures, and further pieces on it."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from companion.draft.model import Draft
from companion.present.asking import Asked
from companion.present.file_names import draft_choices
from companion.present.new_warp import (
    THREADED_OTHERWISE,
    Fact,
    Lookup,
    NewPiece,
    NewWarp,
    Telling,
    WeaveNew,
    ask_new_warp,
    ask_piece,
    known,
    left_out,
    waiting_for_drafts,
    waiting_for_plan,
)
from companion.present.outcome_words import FACE_DOWN_ALONE, no_tie_up_words, so_far_words
from companion.present.plan_words import taken_words
from companion.present.start import MenuItem
from companion.remap.errors import RemapError
from companion.remap.pieces import plan_pieces
from companion.remap.remapped import Verdict
from companion.screens.flow import FlowPlace
from companion.weaving.errors import WeavingError
from companion.wiring.background import in_background
from companion.wiring.navigator import Navigator
from companion.workshop.draft_files import DraftFileError, name_of_draft, read_draft_file
from companion.workshop.new_warp import contradiction, warp_taken
from companion.workshop.places import asset, drafts_to_choose_from, home

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
            return ask_piece(onto, lookup, _drafts(), problem)

        return in_background(ways, side, waiting_for_drafts(), look)

    def add(onto: NewWarp, key: str) -> Asked[Telling]:
        if any(piece.answer.face_down for piece in onto.pieces):
            return drafts(onto, FACE_DOWN_ALONE)
        before = [(piece.title, piece.draft) for piece in onto.pieces]

        def with_it() -> Titled:
            return (*before, _further(Path(key), onto))

        titles = [*(title for title, _ in before), Path(key).stem]
        return _in_best_order(ways, side, onto, titles, with_it, lookup)

    def plan(onto: NewWarp, stay: Sequence[int]) -> Asked[Telling]:
        pieces = [(onto.pieces[piece].title, onto.pieces[piece].draft) for piece in stay]
        return _in_best_order(ways, side, onto, [title for title, _ in pieces], lambda: pieces, lookup)

    def reckon(onto: NewWarp) -> str:
        try:
            return taken_words(warp_taken(onto), known(onto, Fact.LENGTH), units, left_out(onto))
        except WeavingError as error:
            return error.said(units)

    units = ways.around.units
    lookup = Lookup(units, drafts, reckon, add, plan)
    side = FlowPlace(ask_new_warp(warp, lookup), ways.around, chosen)
    ways.push(lambda: side)


class _CannotJoinError(ValueError):
    """A draft that cannot be woven on this warp, in one line."""


def _further(path: Path, onto: NewWarp) -> tuple[str, Draft]:
    """Return a further piece for the warp; raises _CannotJoinError."""
    try:
        draft = read_draft_file(path).draft
    except DraftFileError as error:
        raise _CannotJoinError(f"{path.name}: {error}") from error
    title = name_of_draft(draft, path)
    if draft.threading != onto.pieces[0].draft.threading:
        raise _CannotJoinError(f"{title} {THREADED_OTHERWISE}")
    return title, draft


def _in_best_order(
    ways: Navigator,
    side: FlowPlace,
    warp: NewWarp,
    titles: Sequence[str],
    titled: Callable[[], Titled],
    lookup: Lookup,
) -> Asked[Telling]:
    """Look for the order of the `titled` pieces that changes fewest cords, while the screen lives on."""
    stopped = threading.Event()

    def stop() -> Asked[Telling]:
        stopped.set()
        return waiting

    def work() -> Asked[Telling]:
        try:
            drafts = titled()
            plan = plan_pieces(
                [draft for _, draft in drafts],
                warp.profile.loom,
                present=warp.profile.present,
                should_stop=stopped.is_set,
            )
        except (RemapError, _CannotJoinError) as error:
            return ask_piece(warp, lookup, _drafts(), str(error))
        finally:
            stopped.set()
        pieces = tuple(NewPiece(*drafts[piece], answer) for piece, answer in zip(plan.order, plan.answers, strict=True))
        unknown = [piece.title for piece in pieces if piece.answer.verdict not in (Verdict.FITS, Verdict.RE_TIE)]
        if unknown:
            return ask_piece(warp, lookup, _drafts(), no_tie_up_words(unknown[0]))
        return ask_new_warp(replace(warp, pieces=pieces), lookup)

    def tick() -> None:
        if side.asking is not waiting:
            # Whoever went back waits for nothing any more.
            stopped.set()
        if stopped.is_set():
            end()
        else:
            side.say(so_far_words(time.monotonic() - began))

    began = time.monotonic()
    waiting = waiting_for_plan(titles, stop)
    end = ways.window.every(TELL_EVERY_S, tick)
    return in_background(ways, side, waiting, work)


def _drafts() -> tuple[MenuItem, ...]:
    return draft_choices(drafts_to_choose_from(home()), home(), asset("drafts"))
