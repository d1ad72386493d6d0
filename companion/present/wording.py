"""Every word that the weaver reads at the loom, in one place."""

from __future__ import annotations

from companion.draft.facing import Side
from companion.draft.masks import Shed, print_shed
from companion.draft.repeats import RepeatStep
from companion.draft.treadling import PlaceInReading
from companion.draft.units import Units, counted, length_words, measured_number
from companion.present.durations import MINUTE_MS, short_duration_words
from companion.remap.loom.loom import Footing
from companion.weaving.coming_back import LastPick
from companion.weaving.forecast import Forecast
from companion.weaving.pick_view import PickView
from companion.weaving.progress import Progress
from companion.weaving.sensing import Judgement
from companion.weaving.shuttles import shuttles
from companion.weaving.warp import Warp

LEFT_LETTER = "L"
RIGHT_LETTER = "R"
RESTING = "–"
BETWEEN = " · "
CUE_WOVEN = ("Woven? Touch here",)
CUE_PAUSED = ("Cloth looks like this? Touch", "Cloth like this? Touch")
CUE_FINISH = ("All woven. Touch to finish", "Touch to finish")
CUE_NEXT_PIECE = ("Finished. Touch for the next piece", "Touch for the next piece", "On to the next piece")
LIFT_FIRST = "Beat not counted: lift the feet once"
SIDE_NOT_KNOWN = "(side not known)"
LAY_IN = "lay in"
"""In place of the side from which a shuttle comes, where no shuttle carries the weft."""
SIDE_ASKED = "Side not known: touch the boat where it lies"
END_OF_WARP = ("The warp is woven to its end", "The end of the warp")


def treadle_words(treadles: tuple[int, ...]) -> str:
    """Return the treadles (indices) under one foot: `2 3`, or a dash for a resting foot."""
    return " ".join(str(treadle + 1) for treadle in treadles) or RESTING


def footing_words(footing: Footing) -> str:
    """Return both feet: `L 2  R 5`, or only the one that presses."""
    feet = ((LEFT_LETTER, footing.left), (RIGHT_LETTER, footing.right))
    return "  ".join(f"{letter} {treadle_words(treadles)}" for letter, treadles in feet if treadles) or "no treadle"


def side_words(side: Side) -> str:
    """Return where a shuttle comes from: `from the left`."""
    return f"from the {side.value}"


def weft_words(view: PickView) -> str:
    """Return the weft of a pick and how it goes in: `indigo from the right`; `lay in rush` where no shuttle does."""
    if view.laid_in is not None:
        return f"{LAY_IN} {view.shuttle}"
    return f"{view.shuttle} {side_words(view.comes_from) if view.side_known else SIDE_NOT_KNOWN}"


def shed_words(shed: Shed) -> str:
    """Return the shafts that stand up: `shafts up: 1 3`."""
    return f"shafts up: {print_shed(shed)}"


def place_words(view: PickView, units: Units, place: PlaceInReading | None = None) -> str:
    """Return where in its section a pick stands: `Border · repeat 4 of 12 · pick 5 of 8`, or the length woven to.

    `place` is where it lies in the treadling read as repeats, where that is known.
    """
    words = [view.section_name]
    pick = f"pick {view.pick_in_section + 1} of {view.section_picks}"
    if view.until_cm is not None:
        words.append(f"repeat {view.lap + 1}")
    elif place is not None:
        for step in place.steps:
            if isinstance(step, RepeatStep):
                words.append(f"repeat {step.repeat + 1} of {step.times}")
            pick = f"pick {step.pick + 1} of {step.picks}"
    words.append(pick)
    if view.until_cm is not None:
        woven = "" if view.section_cm is None else f"{measured_number(view.section_cm, units)} of "
        words.append(f"{woven}{length_words(view.until_cm, units)}")
    return BETWEEN.join(words)


def count_words(view: PickView) -> str:
    """Return where in its piece a pick stands: `pick 123 of 304`."""
    return f"pick {view.pick + 1} of {view.total}"


def following_words(view: PickView | None) -> str:
    """Return the pick after this one in a few words."""
    if view is None:
        return "then: the end of the piece"
    return f"then  {pick_in_brief(view)}"


def pick_in_brief(view: PickView) -> str:
    """Return a pick in a few words: `L 3  R 6 · indigo from the right`."""
    footing = shed_words(view.shed) if view.footing is None else footing_words(view.footing)
    far = ", the other side from your last shuttle" if view.far else ""
    return f"{footing}{BETWEEN}{weft_words(view)}{far}"


def last_words(last: LastPick | None) -> str:
    """Return the newest pick in the cloth, and where its shuttle lies: `Last pick 12, oat on the left`."""
    if last is None:
        return "No pick lies in the cloth"
    where = f"on the {last.lies.value}" if last.side_known else SIDE_NOT_KNOWN
    return f"Last pick {last.pick + 1}, {last.shuttle} {'laid in' if last.laid_in else where}"


def ago_words(milliseconds: int) -> str:
    """Return how long ago something was, in the largest unit that fits: `3 days ago`."""
    for unit, length_ms in (("day", 86_400_000), ("hour", 3_600_000), ("minute", MINUTE_MS)):
        number = milliseconds // length_ms
        if number >= 1:
            return f"{counted(number, unit)} ago"
    return "just now"


def short_time_words(time_left: Forecast) -> str:
    """Return how long the piece still takes: `20–40 min left`, `or more` where a length cannot be counted."""
    least, most = short_duration_words(time_left.least_ms), short_duration_words(time_left.most_ms)
    if time_left.most_ms < MINUTE_MS:
        between = "under 1 min"
    elif time_left.least_ms < MINUTE_MS:
        between = f"up to {most}"
    elif least == most:
        between = least
    else:
        number, _, unit = least.partition(" ")
        between = f"{number if most.endswith(unit) else least}–{most}"
    return f"{between} left" if time_left.certain else f"{between} or more left"


def running_out_words(warp: Warp, progress: Progress, view: PickView) -> str:
    """Return that the bobbin of this pick's shuttle will run out soon; empty where it will not, or nobody knows."""
    for shuttle in shuttles(warp, progress):
        if shuttle.running_out and shuttle.yarn == view.yarn:
            left = shuttle.picks_left
            soon = f"runs out in about {counted(left, 'pick')}" if left else "is as good as empty"
            return f"The {shuttle.name} bobbin {soon}"
    return ""


def piece_words(warp: Warp, piece: int) -> str:
    """Return which piece of the warp is on the loom."""
    return f"{warp.pieces[piece].name}{BETWEEN}piece {piece + 1} of {len(warp.pieces)}"


def spoken_words(view: PickView) -> str:
    """Return what the voice says before a pick: `left 2, right 5`, and the shuttle where it changes."""
    footing = view.footing
    feet = () if footing is None else (("left", footing.left), ("right", footing.right))
    parts = [f"{foot} {treadle_words(treadles)}" for foot, treadles in feet if treadles]
    if footing is None:
        parts.append(shed_words(view.shed))
    if view.changes:
        parts.append(weft_words(view))
    return ", ".join(parts)


def feet_words(judgement: Judgement) -> str:
    """Return what is wrong with the feet, before the beat: `Not treadle 3; treadle 5 is missing`."""
    parts = []
    if judgement.wrong:
        parts.append(f"not treadle {treadle_words(judgement.wrong)}")
    if judgement.missing:
        verb = "is" if len(judgement.missing) == 1 else "are"
        parts.append(f"treadle {treadle_words(judgement.missing)} {verb} missing")
    return "; ".join(parts).capitalize()
