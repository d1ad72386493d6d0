"""What the weave screen says in its slots, each in wordings from the fullest to the shortest that will do.

Every slot keeps its size from pick to pick, so what is said there gives way: names are shortened, and what can wait
for a pause is left out.
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.masks import print_shed, shafts_of
from companion.draft.repeats import RepeatStep
from companion.draft.treadling import PlaceInReading
from companion.draft.units import Units, counted, length_words, measured_number, rough_words, short_words
from companion.present.durations import short_duration_words
from companion.present.wording import (
    BETWEEN,
    CUE_PAUSED,
    CUE_WOVEN,
    LAY_IN,
    SIDE_ASKED,
    SIDE_NOT_KNOWN,
    footing_words,
    running_out_words,
    short_time_words,
)
from companion.weaving.amounts import warp_left
from companion.weaving.dressing import time_ms
from companion.weaving.forecast import forecast
from companion.weaving.pick_view import PickView
from companion.weaving.progress import Progress
from companion.weaving.shuttles import shuttles
from companion.weaving.state import State
from companion.weaving.warp import Piece, Warp

Wordings = tuple[str, ...]
"""Ways to say the same, the fullest first; never empty."""

MOST_LETTERS = 16
"""Of a name that is shortened."""
FAR_AHEAD = 500
"""A change that is further ahead in picks than this is not told of."""


def shortened(name: str, letters: int = MOST_LETTERS) -> str:
    """Return a name, cut where it is long: `hand-dyed madde…`."""
    return name if len(name) <= letters else f"{name[: letters - 1].rstrip()}…"


def place_wordings(view: PickView, units: Units, place: PlaceInReading | None = None, pieces: int = 1) -> Wordings:
    """Return where in its section a pick stands: `Border · motif 1/4 · block 2/4 · pick 2/2`.

    Where the warp has several `pieces` the piece comes first: `piece 2/3 · Border · …`. `place` is where it lies in the
    treadling read as repeats, where that is known. The outermost of several repeats is a motif, the innermost a block.
    Within the outermost only those are said in which every pick of it lies: so a weaver counts on the same things from
    one of its picks to the next.
    """
    counts = []
    pick = f"pick {view.pick_in_section + 1}/{view.section_picks}"
    if view.until_cm is not None:
        counts.append(f"repeat {view.lap + 1}")
    elif place is not None:
        all_repeats = [step for step in place.steps if isinstance(step, RepeatStep)]
        repeats = all_repeats[: 1 + all_repeats[0].levels] if all_repeats else []
        names = ["block"] if len(repeats) == 1 else ["motif", *["part"] * (len(repeats) - 2), "block"]
        counts += [f"{name} {step.repeat + 1}/{step.times}" for name, step in zip(names, repeats, strict=False)]
        if place.steps:
            last = repeats[-1] if repeats else place.steps[-1]
            pick = f"pick {last.pick + 1}/{last.picks}"
    counts.append(pick)
    if view.until_cm is not None:
        woven = "" if view.section_cm is None else f"{measured_number(view.section_cm, units)} of "
        counts.append(f"{woven}{length_words(view.until_cm, units)}")
    name = view.section_name
    brief = shortened(name)
    ways = ((name, *counts), (brief, *counts), counts, (brief, *counts[-2:]), counts[-1:])
    # Two pieces may be alike to the last pick.
    which = f"piece {view.piece + 1}/{pieces}" if pieces > 1 else ""
    return tuple(_joined(which, *parts) for parts in ways)


def piece_wordings(warp: Warp, piece: int) -> Wordings:
    """Return which piece of the warp is on the loom: `Towel · piece 2 of 3`."""
    which = f"piece {piece + 1} of {len(warp.pieces)}"
    name = warp.pieces[piece].name
    return _joined(name, which), _joined(shortened(name), which), which


def ahead_wordings(piece: Piece, pick: int) -> Wordings:
    """Return what changes next and how many picks away, this one included: `indigo in 3`, `Body in 4`, `end in 12`."""
    weft, section = piece.draft.weft, piece.section_at(pick)
    end = piece.section_picks(section).stop
    for other in range(pick + 1, min(end, pick + FAR_AHEAD)):
        if weft[other] != weft[pick]:
            return _in_picks(piece.draft.yarns[weft[other]].name, other - pick)
    if end - pick >= FAR_AHEAD:
        return ("",)
    if end >= piece.picks:
        return (f"end in {end - pick}",)
    return _in_picks(piece.sections[section + 1].name or "next part", end - pick)


def following_wordings(view: PickView | None) -> Wordings:
    """Return the pick after this one in a few words: `then  L 3  R 6 · indigo from the right`.

    Every wording says what the feet do and, where it is known, from which side the shuttle comes.
    """
    if view is None:
        return ("then the end of the piece",)
    feet = f"up {print_shed(view.shed)}" if view.footing is None else footing_words(view.footing)
    # So many shafts that not even they stand in a line are counted: what they are is drawn when the pick comes.
    many = counted(len(shafts_of(view.shed)), "shaft")
    if view.laid_in is not None:
        names = (view.shuttle, *(shortened(view.shuttle, letters) for letters in (MOST_LETTERS, MOST_LETTERS // 2)))
        fuller = tuple(f"then  {feet}{BETWEEN}{LAY_IN} {name}" for name in names)
        counts = (f"{many} up{BETWEEN}{LAY_IN}",) if view.footing is None else ()
        return (*fuller, f"{feet}{BETWEEN}{LAY_IN}", *counts)
    side = f"from the {view.comes_from.value}" if view.side_known else SIDE_NOT_KNOWN
    far = ", the other side from your last shuttle" if view.far else ""
    bare = view.comes_from.value if view.side_known else "side?"
    brief = f"from {bare}" if view.side_known else bare
    name, short = (shortened(view.shuttle, letters) for letters in (MOST_LETTERS, MOST_LETTERS // 2))
    return (
        f"then  {feet}{BETWEEN}{view.shuttle} {side}{far}",
        f"then  {feet}{BETWEEN}{name} {side}{far}",
        f"then  {feet}{BETWEEN}{name} {side}",
        f"then  {feet}{BETWEEN}{name} {brief}",
        f"then  {feet}{BETWEEN}{short} {brief}",
        # Rather no name, which the stripe of the yarn tells too, than treadles that might be those of this pick.
        f"then  {feet}{BETWEEN}{brief}",
        f"then  {feet}{BETWEEN}{bare}",
        f"{feet}{BETWEEN}{brief}",
        f"{feet}{BETWEEN}{bare}",
        *((f"{many} up{BETWEEN}{bare}",) if view.footing is None else ()),
    )


def between_wordings(leave: str, carry: str) -> Wordings:
    """Return what is done between two pieces; a shuttle on the wrong side goes before warp that is left."""
    return _joined(carry, leave), carry or leave


def amounts_wordings(warp: Warp, progress: Progress, units: Units) -> Wordings:
    """Return what is left of time and warp, as far as known: `20–40 min left · 83 cm of warp`."""
    time_left, left = forecast(warp, progress), warp_left(warp, progress)
    time = short_time_words(time_left) if time_left is not None and time_left.picks else ""
    short = left is not None and left.short_piece is not None
    wound = ""
    if left is not None and left.short_piece is not None:
        wound = f"warp {short_words(left.short_cm, units)} short for piece {left.short_piece + 1}"
    elif left is not None and left.left_cm is not None:
        wound = f"{rough_words(left.left_cm, units)} of warp"
    first, second = (wound, time) if short else (time, wound)
    return (_joined(first, second), first or second)


def time_spent_words(now: State) -> str:
    """Return how long the warp has been worked on: `12 min dressing · 2.5 h at the loom`; below a minute nothing."""
    spent = ((time_ms(now.dressing), "dressing"), (now.at_loom_ms, "at the loom"))
    return BETWEEN.join(f"{took} {where}" for ms, where in spent if (took := short_duration_words(ms)))


def over_under_words(view: PickView) -> str:
    """Return how the shuttle passes floating selvedges: in over the one where it enters, out under the other.

    Empty where no shuttle is thrown, or nobody knows from where. (Common practice, no source.)
    """
    if view.laid_in is not None or not view.side_known:
        return ""
    return f"over {view.comes_from.value}, under {view.comes_from.opposite.value}"


def over_under_wordings(view: PickView) -> Wordings:
    """Return the same for the slot at the shuttle; a narrow one leaves out the second half, which is the rule."""
    words = over_under_words(view)
    return words, words.partition(",")[0]


def bobbin_wordings(warp: Warp, progress: Progress, view: PickView, units: Units) -> Wordings:
    """Return what is on the bobbin of this pick's shuttle: `23 picks on it`; empty where that is not known.

    Of what is laid in how long each is: `14 in each`.
    """
    if view.laid_in is not None:
        return ("" if view.laid_in.length_cm is None else f"{length_words(view.laid_in.length_cm, units)} each",)
    for shuttle in shuttles(warp, progress):
        if shuttle.yarn == view.yarn and shuttle.picks_left is not None:
            picks = counted(shuttle.picks_left, "pick")
            return (f"{picks} on it", picks) if shuttle.picks_left else ("bobbin empty", "empty")
    return ("",)


def cue_wordings(view: PickView, paused: bool) -> Wordings:
    """Return what the next touch does: `Woven? Touch here`."""
    if view.re_tie == 0:
        return "Touch here to tie the treadles", "Touch to tie the treadles"
    if view.re_tie is not None:
        return f"Touch here to tie the treadles for stage {view.re_tie + 1}", f"Touch to tie stage {view.re_tie + 1}"
    return CUE_PAUSED if paused else CUE_WOVEN


def warning_wordings(warp: Warp, progress: Progress, view: PickView) -> Wordings:
    """Return what to look out for before this pick; empty words where nothing."""
    if not view.side_known and view.laid_in is None:
        return SIDE_ASKED, "Touch the boat where it lies"
    words = running_out_words(warp, progress, view)
    if not words:
        return ("",)
    return words, f"{shortened(view.shuttle)} bobbin runs out soon"


def _in_picks(name: str, picks: int) -> Wordings:
    return tuple(f"{shortened(name, letters)} in {picks}" for letters in (MOST_LETTERS, MOST_LETTERS // 2))


def _joined(*parts: str) -> str:
    return BETWEEN.join(_some(parts))


def _some(parts: Sequence[str]) -> list[str]:
    return [part for part in parts if part]
