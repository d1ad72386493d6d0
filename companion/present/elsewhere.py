"""The moves that weavers make on purpose: a section once more, on to the next one, a pick left out, the piece ended.

Only moves that can be made now are offered; each is one event, and Undo takes it back.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from companion.draft.repeats import RepeatStep
from companion.draft.treadling import TreadlingReading
from companion.draft.units import numbered
from companion.present.asking import Answer, Answered, Asked, AtLoom
from companion.present.number_pad import ask_number
from companion.present.weave_words import shortened
from companion.weaving.decide import Command, end_section, finish_piece, jump, repeat_section, skip
from companion.weaving.errors import WeavingError
from companion.weaving.progress import Progress
from companion.weaving.state import State
from companion.weaving.warp import Piece, Warp

_MOVES: tuple[tuple[str, Command], ...] = (
    ("Section once more", repeat_section),
    ("On to the next section", end_section),
    ("Leave out one pick", skip),
    ("End the piece here", finish_piece),
)


def ask_elsewhere(warp: Warp, progress: Progress, reading: TreadlingReading | None = None) -> Asked[AtLoom]:
    """Ask where to go on: by a move, or at a pick, a section, a repeat.

    `reading` is the treadling of the piece on the loom read as repeats, where it is known.
    """
    piece = warp.pieces[progress.now.piece]
    moves = [_offered(piece, progress.now, words, move) for words, move in possible_moves(warp, progress)]
    return Asked(
        "Go on where?",
        (*moves, *_places(piece, progress.now, reading)),
        detail="Undo takes it back",
        topic="Going elsewhere",
    )


def _offered(piece: Piece, now: State, words: str, move: Command) -> Answer[AtLoom]:
    """Return a move to touch; of a section that is woven once more its name, for the next pick is in another."""
    newest = now.cloth.newest
    name = piece.sections[piece.section_at(newest)].name if move is repeat_section and newest is not None else ""
    return Answer(f"{shortened(name)} once more" if name else words, partial(_make, move), own=bool(name))


def _places(piece: Piece, now: State, reading: TreadlingReading | None) -> Iterator[Answer[AtLoom]]:
    if now.paused or now.finished or not piece.picks:
        return
    yield Answer("At a pick", partial(ask_number, "Go on at pick", piece.picks, lambda pick: _go_to(pick - 1)))
    if len(piece.sections) > 1:
        yield Answer("At a section", partial(_ask_section, piece))
    repeats = _repeats_round(piece, now, reading)
    if repeats is not None:
        first, times, picks = repeats
        words = f"Go on at repeat, of {picks} picks"
        yield Answer(
            "At a repeat", partial(ask_number, words, times, lambda repeat: _go_to(first + (repeat - 1) * picks))
        )


def _repeats_round(piece: Piece, now: State, reading: TreadlingReading | None) -> tuple[int, int, int] | None:
    """Return the first pick (index) of the outermost repeats round the next pick, how many, and the picks of each."""
    if reading is None or now.next_pick >= piece.picks:
        return None
    steps = reading.place(now.next_pick).steps
    if not steps or not isinstance(steps[0], RepeatStep):
        return None
    outer = steps[0]
    return now.next_pick - outer.repeat * outer.picks - outer.pick, outer.times, outer.picks


def _ask_section(piece: Piece) -> Asked[AtLoom]:
    rows: list[Answer[AtLoom]] = []
    for number, section in enumerate(piece.sections):
        picks = piece.section_picks(number)
        name = section.name or f"section {number + 1}"
        detail = numbered("pick", picks.start, picks.stop - 1)
        rows.append(Answer(name, partial(_go_to, picks.start), detail=detail, own=bool(section.name)))
    return Asked("Go on at which section?", tuple(rows), as_list=True)


def _go_to(pick: int) -> Answered[AtLoom]:
    return _make(partial(jump, pick=pick, reason="by hand"))


def _make(move: Command) -> Answered[AtLoom]:
    return Answered((move,))


def possible_moves(warp: Warp, progress: Progress) -> Iterator[tuple[str, Command]]:
    """Yield the moves, in words, that can be made now; none on a pause."""
    now, piece = progress.now, warp.pieces[progress.now.piece]
    section_ends = piece.section_picks(piece.section_at(now.next_pick)).stop if now.next_pick < piece.picks else 0
    for words, move in _MOVES:
        if move is end_section and section_ends == piece.picks:
            # After the last section comes the end of the piece, which is asked for by its own name.
            continue
        try:
            move(warp, progress)
        except WeavingError:
            continue
        yield words, move
