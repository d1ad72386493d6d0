"""Where the cloth truly ends, and where the shuttles lie: what the weaver says, and the one thing that it leaves open.

The answer is about the cloth: what was woven or taken out meanwhile is told in one event, which one undo takes back.
Where the way to that cloth is not clear, it is asked for; then nobody counted how often a shuttle crossed, so its side
is asked for as well.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from itertools import islice

from companion.draft.facing import Side
from companion.draft.units import counted
from companion.present.asking import (
    Answer,
    Answered,
    Asked,
    AtLoom,
    Commands,
    FlowStep,
    empty_slot,
)
from companion.present.deeds import told_words
from companion.present.fell import MOST_ROWS_DRAWN
from companion.present.number_pad import Wanted, ask_amount
from companion.weaving.bounds import MOST_TOLD
from companion.weaving.decide import resume
from companion.weaving.errors import WeavingError
from companion.weaving.picks_moved import cloth_told
from companion.weaving.progress import Progress
from companion.weaving.questions import MOST_SHUTTLES
from companion.weaving.state import State, side_of
from companion.weaving.telling import Meanwhile, WayThere, picks_further, tell_cloth, tell_sides, ways_there
from companion.weaving.warp import Piece, Warp

BY_NUMBER, NOT_SURE = "By number", "Not sure"
FEW, MOST_OFF = 3, 7
"""Beside the picture of the cloth, up to FEW picks further or back are one touch, and up to MOST_OFF are two."""
MORE_OFF = f"{FEW + 1}+ off"
_AT, _FURTHER, _BACK = "At that pick", "So many further", "So many back"

Seen = tuple[tuple[int, Side | None], ...]
"""Shuttles (yarns, as indices) with the side where each was seen; None where the weaver could not tell."""
Sides = tuple[tuple[int, ...], tuple[int, ...], tuple[int, ...]]
"""Yarns (indices) of the shuttles on the left, on the right, and of those that nobody has seen."""
Told = Callable[[Sides], Commands]


def pad_answers(warp: Warp, progress: Progress, unsure: Answer[AtLoom]) -> tuple[Answer[AtLoom], ...]:
    """Return the pad beside the picture of the cloth, every button in its place: more off, a few further, a few back.

    After two other answers they fill a pad of three by three. `unsure` is what "not sure" leads to.
    """
    more: Answer[AtLoom] = Answer(MORE_OFF, partial(ask_how_many, warp, progress, unsure))
    return more, *few_picks_answers(warp, progress)


def few_picks_answers(warp: Warp, progress: Progress) -> tuple[Answer[AtLoom], ...]:
    """Return its two full rows: one to three picks further, one to three back.

    Most losses of place are so small (common practice, no source).
    """
    few = range(1, FEW + 1)
    return tuple(_pad_button(warp, progress, picks) for picks in (*few, *(-back for back in few)))


def ask_how_many(warp: Warp, progress: Progress, unsure: Answer[AtLoom]) -> Asked[AtLoom]:
    """Ask for some more picks further or back, in two columns, each of them one touch; any number is one more away."""
    amounts = [way * picks for picks in range(FEW + 1, MOST_OFF + 1) for way in (1, -1)]
    number: Answer[AtLoom] = Answer(BY_NUMBER, partial(ask_by_number, warp, progress, unsure))
    return Asked(
        "How far is your cloth from this picture?",
        tuple(_pad_button(warp, progress, picks) for picks in amounts),
        detail="Further: more picks lie in it. Back: fewer",
        with_cloth=True,
        foot=foot_of_place(unsure, third=number),
        topic="Finding the place",
    )


def foot_of_place(
    unsure: Answer[AtLoom], second: Answer[AtLoom] | None = None, third: Answer[AtLoom] | None = None
) -> tuple[Answer[AtLoom], ...]:
    """Return the foot of every page on which the place is found: "not sure" stands first, whatever else there is."""
    return unsure, second or empty_slot(), third or empty_slot()


def further_words(picks: int) -> str:
    """Return how far off the cloth is: `2 further`, and below 0 `2 back`."""
    return f"{picks} further" if picks > 0 else f"{-picks} back"


def _pad_button(warp: Warp, progress: Progress, picks: int, words: str = "") -> Answer[AtLoom]:
    try:
        step = moved(warp, progress, picks)
    except WeavingError:
        return empty_slot()
    return Answer(words or further_words(picks), lambda: step)


def ask_by_number(warp: Warp, progress: Progress, unsure: Answer[AtLoom]) -> Asked[AtLoom]:
    """Ask for the pick that the cloth ends at, or for how many picks it is off the journal."""
    piece = warp.pieces[progress.now.piece]

    def meant(number: float | None) -> tuple[Answer[AtLoom], ...]:
        if number is None:
            return empty_slot(), empty_slot(), empty_slot()
        picks = round(number)
        at: Answer[AtLoom] = Answer(_AT, partial(end_at, warp, progress, picks - 1, unsure), main=True)
        return (
            at if picks <= piece.picks else empty_slot(),
            _pad_button(warp, progress, picks, _FURTHER),
            _pad_button(warp, progress, -picks, _BACK),
        )

    most = max(piece.picks, progress.now.cloth.picks)
    wanted = Wanted("Where does your cloth end? Pick", "", 1, most, topic="Finding the place")
    return ask_amount(wanted, None, meant, besides=foot_of_place(unsure))


def moved(warp: Warp, progress: Progress, picks: int) -> Answered[AtLoom]:
    """Tell that the cloth is so many picks further than the journal, or back where `picks` is below 0.

    Raises WeavingError where so many picks neither come nor lie there.
    """
    now = progress.now
    piece = warp.pieces[now.piece]
    if picks < 0:
        if -picks > now.cloth.picks:
            raise WeavingError(f"{counted(now.cloth.picks, 'pick')} lie in the cloth, so it cannot be {-picks} back")
        return Answered(_told(now, WayThere(Meanwhile.TAKEN_OUT, taken_out=-picks)))
    woven = picks_further(piece, now, picks) if picks <= MOST_TOLD else None
    if woven is None:
        raise WeavingError(f"{piece.name} has not {counted(picks, 'pick')} more to weave")
    return Answered(_told(now, WayThere(Meanwhile.WOVEN_ON, woven=woven)))


def end_at(warp: Warp, progress: Progress, pick: int, unsure: Answer[AtLoom]) -> FlowStep[AtLoom]:
    """Tell that the cloth ends at this pick (index); where the way there is not clear, ask what happened meanwhile.

    Who is not sure sees what the cloth would be, then where to count, and at last goes on with `unsure`.
    Raises WeavingError where the piece has no such pick.
    """
    now = progress.now
    piece = warp.pieces[now.piece]
    if not 0 <= pick < piece.picks:
        raise WeavingError(f"{piece.name} has no pick {pick + 1}; give 1 to {piece.picks}")
    ways = ways_there(piece, now, pick)
    if len(ways) == 1:
        return Answered(_told(now, ways[0]))
    answers = tuple(
        Answer(_meanwhile_words(way), partial(_not_counted, piece, now, way), main=index == 0)
        for index, way in enumerate(ways)
    )
    words = f"How did it come to pick {pick + 1}?"
    cloths = [
        tuple(islice(cloth_told(piece, now, way.taken_out, way.woven).cloth.newest_first(), MOST_ROWS_DRAWN))
        for way in ways
    ]
    count: Answer[AtLoom] = Answer(NOT_SURE, partial(ask_to_count, warp, progress, unsure))
    look = Asked(
        "Which of these is your cloth?",
        tuple(replace(answer, rows=rows, main=False) for answer, rows in zip(answers, cloths, strict=True)),
        detail=words,
        foot=foot_of_place(count),
        topic="Finding the place",
    )
    return Asked(
        words,
        answers,
        detail="so that cloth and record stay true",
        foot=foot_of_place(Answer(NOT_SURE, lambda: look)),
        topic="Finding the place",
    )


def ask_to_count(
    warp: Warp,
    progress: Progress,
    unsure: Answer[AtLoom],
    likeliest: tuple[Answer[AtLoom], ...] = (),
    none: Answer[AtLoom] | None = None,
) -> Asked[AtLoom]:
    """Say how the place is found where nothing that is seen tells it: by counting, and then by its number.

    Beside that stand the `likeliest` places to point at, and `none` for more of them; without any, the cloth by the
    journal with a few picks further or back.
    """
    number: Answer[AtLoom] = Answer(BY_NUMBER, partial(ask_by_number, warp, progress, unsure))
    return Asked(
        "Nothing tells them apart",
        likeliest or few_picks_answers(warp, progress),
        detail="Count its picks from the last place that you know",
        with_cloth=not likeliest,
        foot=foot_of_place(unsure, none, number),
        topic="Finding the place",
    )


def ask_sides(warp: Warp, progress: Progress) -> FlowStep[AtLoom]:
    """Ask on which side each shuttle of the piece lies."""
    now = progress.now
    piece = warp.pieces[now.piece]
    return _ask_side(piece, now, partial(_only_sides, now), _thrown(piece)[:MOST_SHUTTLES], ())


def _thrown(piece: Piece) -> tuple[int, ...]:
    return tuple(yarn for yarn in piece.shuttles if yarn not in piece.hand_laid)


def _meanwhile_words(way: WayThere) -> str:
    match way.meanwhile:
        case Meanwhile.NOTHING:
            return "No pick since then"
        case Meanwhile.TAKEN_OUT:
            return f"{counted(way.taken_out, 'pick')} taken out"
        case Meanwhile.LEFT_OUT:
            return f"Only pick {way.woven[-1] + 1} woven"
        case _:
            return told_words(0, way.woven).capitalize()


def _told(now: State, way: WayThere, sides: Sides = ((), (), ())) -> Commands:
    if not way.taken_out and not way.woven:
        return _back(now)
    left, right, unknown = sides
    told = partial(tell_cloth, taken_out=way.taken_out, woven=way.woven, left=left, right=right, unknown=unknown)
    return (*_back(now), told)


def _back(now: State) -> Commands:
    return (partial(resume, looked_right=False),) if now.paused else ()


def _not_counted(piece: Piece, now: State, way: WayThere) -> FlowStep[AtLoom]:
    """Ask on which side the shuttles lie that were thrown while nobody counted."""
    thrown = dict.fromkeys(piece.draft.weft[pick] for pick in way.woven if pick not in piece.laid_in)
    after = cloth_told(piece, now, way.taken_out, way.woven)
    return _ask_side(piece, after, partial(_told, now, way), tuple(thrown)[:MOST_SHUTTLES], ())


def _ask_side(piece: Piece, after: State, told: Told, yarns: Sequence[int], seen: Seen) -> FlowStep[AtLoom]:
    """Ask for the sides of these shuttles, one by one, then go on with what is `told` of them.

    `after` is how things stand when all else is told.
    """
    if not yarns:
        return Answered(told(_news(piece, after, seen)))
    yarn, *others = yarns

    def lies(side: Side | None) -> FlowStep[AtLoom]:
        return _ask_side(piece, after, told, others, (*seen, (yarn, side)))

    def none_known() -> FlowStep[AtLoom]:
        return _ask_side(piece, after, told, (), (*seen, *((one, None) for one in yarns)))

    colour = piece.draft.yarns[yarn].colour
    return Asked(
        f"Where does the {piece.draft.yarns[yarn].name} shuttle lie?",
        tuple(Answer(f"On the {side.value}", partial(lies, side), yarn=colour) for side in Side),
        detail="after the newest pick in the cloth",
        foot=(
            Answer(NOT_SURE, partial(lies, None)),
            Answer("Not sure of any", none_known) if others else empty_slot(),
        ),
        topic="Finding the place",
    )


def _news(piece: Piece, after: State, seen: Seen) -> Sides:
    """Return the yarns on the left, on the right and lost, of those that lie otherwise than the picks tell."""
    told: dict[Side | None, tuple[int, ...]] = {Side.LEFT: (), Side.RIGHT: (), None: ()}
    for yarn, side in seen:
        shuttle = after.shuttles[yarn]
        as_counted = side_of(piece, after, yarn) is side and shuttle.side_known
        if not as_counted and (side is not None or shuttle.side_known):
            told[side] += (yarn,)
    return told[Side.LEFT], told[Side.RIGHT], told[None]


def _only_sides(now: State, sides: Sides) -> Commands:
    left, right, unknown = sides
    told = (partial(tell_sides, left=left, right=right, unknown=unknown),) if any(sides) else ()
    return (*_back(now), *told)
