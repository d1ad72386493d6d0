"""The moves that weavers make on purpose: a section once more, on to the next one, a pick left out, the piece ended.

Only moves that can be made now are offered; each is one event, and Undo takes it back.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from companion.present.asking import Answer, Answered, Asked, AtLoom
from companion.weaving.decide import Command, end_section, finish_piece, repeat_section, skip
from companion.weaving.errors import WeavingError
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

_MOVES: tuple[tuple[str, Command], ...] = (
    ("This section once more", repeat_section),
    ("On to the next section", end_section),
    ("Leave out one pick", skip),
    ("End the piece here", finish_piece),
)


def ask_elsewhere(warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Ask where to go on."""
    answers = [Answer(words, partial(_make, move)) for words, move in possible_moves(warp, progress)]
    return Asked("Go on where?", tuple(answers), detail="Undo takes it back")


def _make(move: Command) -> Answered[AtLoom]:
    return Answered((move,))


def possible_moves(warp: Warp, progress: Progress) -> Iterator[tuple[str, Command]]:
    """Yield the moves, in words, that can be made now; none on a pause."""
    for words, move in _MOVES:
        try:
            move(warp, progress)
        except WeavingError:
            continue
        yield words, move
