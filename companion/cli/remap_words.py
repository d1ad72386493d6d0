"""The answer of `fellside remap` in words, with the tie-up drawn in characters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.cli.columns import columns
from companion.draft.masks import Shed, count, is_raised, print_shed, shed_of
from companion.draft.model import Draft
from companion.draft.units import counted, numbered
from companion.present.aims_compared import aims_compared, other_aims
from companion.present.cords import change_words
from companion.present.feet_wish import wish_told
from companion.present.footing_in_words import aim_words, stage_footing_words
from companion.present.lap_words import lap_words
from companion.present.loom_kinds import loom_in_full
from companion.present.spare_words import LEFT_OUT, spare_words
from companion.present.ties_said import TO_CHANGE, to_change_words
from companion.present.wording import footing_words
from companion.remap.aim import Aim
from companion.remap.feet.tied_stage import Footwork, TiedStage
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.remap.remapped import Alternative, Remapping, Verdict
from companion.remap.search.bounds import Bounds
from companion.remap.spare_treadles import room_for_plain_weave

MOST_STAGES = 6
"""Stages printed in full: more would scroll the verdict out of sight."""
_UP, _DOWN, _NONE = "■", "□", "·"


def lines(draft: Draft, answer: Remapping, others: Sequence[Remapping] = ()) -> Iterator[str]:
    """Yield the answer line by line: the verdict, the tie-up, the feet, what to change, and what else would do.

    `others` are answers for other aims, to stand beside one that fits.
    """
    loom = answer.loom
    parts = counted(draft.shafts, "shaft"), counted(len(answer.sheds), "shed"), counted(draft.picks, "pick")
    yield f"Loom: {loom_in_full(loom)}; the draft has {', '.join(parts)}"
    if empty := draft.empty_shafts():
        shafts, them = ("shafts {} carry", "them") if count(empty) > 1 else ("shaft {} carries", "it")
        yield f"Note: {shafts.format(print_shed(empty))} no end; lifting {them} changes no cloth and no shed."
    match answer.verdict:
        case Verdict.TOO_FEW_SHAFTS:
            shafts = print_shed(shed_of(answer.missing_shafts))
            which = "shafts" if len(answer.missing_shafts) > 1 else "shaft"
            yield f"Cannot be woven on this loom: ends are threaded on {which} {shafts}, which it does not have."
        case Verdict.UNKNOWN | Verdict.RE_TIE:
            yield from _re_tying(answer)
        case Verdict.FITS:
            yield from _fitting(answer, others)


def fewest_words(fewest: Bounds) -> str:
    """Return what is known of the fewest treadles: `6 treadles are the fewest (proven)`."""
    if fewest.best is None:
        return f"at least {counted(fewest.at_least, 'treadle')} {'is' if fewest.at_least == 1 else 'are'} needed"
    if fewest.proven:
        number = counted(fewest.best, "treadle")
        return f"{number} {'is' if fewest.best == 1 else 'are'} the fewest (proven)"
    return f"{fewest.best} treadles do; at least {fewest.at_least} are needed (the search ended before it was sure)"


_LIGHT_AS = {
    Aim.FEET: "as light as can be",
    Aim.CORDS: "as light as so few ties allow",
    Aim.TREADLES: "as light as so few treadles allow",
    Aim.DRAFT: "as light as this tie-up in this order allows",
}


def footwork_words(footwork: Footwork, aim: Aim) -> str:
    """Return what the feet have to do: `Footwork 750, as light as can be (proven); feet travel 120 treadle widths.`."""
    light = f"{_LIGHT_AS[aim]} (proven)" if footwork.proven else f"nothing is lighter than {footwork.at_least}"
    own = "" if footwork.draft_cost is None else f"; the draft's own tie-up as it stands {footwork.draft_cost}"
    return f"Footwork {footwork.cost}, {light}{own}; feet travel {footwork.travel_widths:.0f} treadle widths."


def alternative_words(other: Alternative) -> str:
    """Return another way in a line: `reach 2: fits, on 4 treadles (proven)`."""
    certain = "proven" if other.fewest.proven else f"at least {other.fewest.at_least}"
    number = f"{counted(other.fewest.best, 'treadle')} ({certain})" if other.fewest.best is not None else f"({certain})"
    verdict = {True: "fits", False: "does not fit", None: "not known"}[other.fits]
    return f"{other.what}: {verdict}, {number}"


def _fitting(answer: Remapping, others: Sequence[Remapping]) -> Iterator[str]:
    if answer.loom.action is Action.LEVERS:
        moves = [change.moves for change in answer.levers]
        yield "It fits: each shed is set by its levers."
        yield "It weaves the draft's cloth (checked pick by pick)."
        if moves:
            yield f"Lever moves: {sum(moves)} in all, at most {max(moves)} between two picks."
        for pick, change in enumerate(answer.levers, 1):
            yield f"  pick {pick}: raise {print_shed(change.raise_)}, lower {print_shed(change.lower)}"
        return
    yield f"It fits. {fewest_words(answer.fewest)}."
    yield "It weaves the draft's cloth (checked pick by pick)."
    for stage in answer.stages:
        yield from _stage(stage, answer.loom)
        if stage.footwork is not None:
            yield f"Feet: {stage_footing_words(answer, stage)}."
            aims = " or ".join(aim.value for aim in other_aims(answer))
            yield f"{aim_words(answer).capitalize()}; --aim {aims} chooses another way."
            yield footwork_words(stage.footwork, answer.aim)
    if unkept := wish_told(answer):
        yield f"{unkept[0].upper()}{unkept[1:]}."
    if spare := spare_words(answer):
        tie = "; --plain-weave ties it" if room_for_plain_weave(answer) else ""
        yield f"{spare[0].upper()}{spare[1:]}{tie}."
    if others:
        yield "Side by side:"
        yield from (f"  {line}" for line in columns(aims_compared((answer, *others))))


def _re_tying(answer: Remapping) -> Iterator[str]:
    treadles = counted(answer.loom.treadles, "treadle")
    if answer.verdict is Verdict.RE_TIE:
        yield f"It does not fit on {treadles}: {fewest_words(answer.fewest)}."
    else:
        yield f"Whether it fits on {treadles} is not known yet: {fewest_words(answer.fewest)}."
    if answer.conflict is not None:
        sheds = ", ".join(print_shed(shed) for shed in answer.conflict.sheds)
        how = "; without any one of them the rest fit" if answer.conflict.irreducible else ""
        yield f"These sheds are in each other's way: {sheds}{how}."
    if answer.alternatives:
        yield "Other ways:"
        yield from (f"  {alternative_words(other)}" for other in answer.alternatives)
    stops = len(answer.stages) - 1
    fewest = "provably the fewest" if answer.fewest_stages else "the fewest found"
    anew = "Or re-tie" if answer.verdict is Verdict.RE_TIE else "So re-tie"
    yield f"{anew}: {counted(stops, 'stop')}, {fewest}; the cloth is the same."
    certain = "provably the fewest for so few stops" if answer.fewest_cords_in_all else "the fewest found"
    laps = f"; {words}" if (words := lap_words(answer)) else ""
    yield f"{to_change_words(answer.cords_in_all)} in all, {certain}{laps}."
    if unkept := wish_told(answer):
        yield f"{unkept[0].upper()}{unkept[1:]}."
    if answer.plain_weave_left_out:
        yield f"{LEFT_OUT[0].upper()}{LEFT_OUT[1:]}."
    for number, stage in enumerate(answer.stages[:MOST_STAGES], 1):
        where = ", from the end of a section" if stage.at_section_end else ""
        yield ""
        picks = numbered("pick", stage.first, stage.last)
        yield f"Stage {number}: {picks}{where}"
        yield from _stage(stage, answer.loom)
    if len(answer.stages) > MOST_STAGES:
        yield ""
        yield f"… and {counted(len(answer.stages) - MOST_STAGES, 'stage')} more; --card and --json give them all."


def _stage(stage: TiedStage, loom: Loom) -> Iterator[str]:
    if stage.changes is not None:
        how = " (proven fewest)" if stage.fewest_cords else ""
        yield f"{TO_CHANGE.capitalize()} before: {stage.cords_changed}{how}"
        yield from (f"  {change_words(change, loom.action)}" for change in stage.changes)
    yield from drawn(stage.tieup, loom)
    for feet in stage.sheds:
        yield f"  {print_shed(feet.shed):<20} {footing_words(feet.footing)}  ({counted(feet.picks, 'pick')})"


def drawn(tieup: TieUp, loom: Loom) -> Iterator[str]:
    """Yield a tie-up drawn in characters: shaft 1 lowest, treadle 1 on the left; full raises, hollow sinks."""
    highest = max((_highest(tie) for tie in tieup), default=0)
    for shaft in reversed(range(min(loom.shafts, max(highest, 1)))):
        yield f"  shaft {shaft + 1:>2}  " + "  ".join(_mark(tie, shaft) for tie in tieup)
    yield "  treadle   " + " ".join(f"{treadle:<2}" for treadle in range(1, len(tieup) + 1)).rstrip()


def _highest(tie: Tie) -> int:
    return max(Shed(tie.up).bit_length(), Shed(tie.down).bit_length()) if count(tie.up) + count(tie.down) else 0


def _mark(tie: Tie, shaft: int) -> str:
    if is_raised(tie.up, shaft):
        return _UP
    return _DOWN if is_raised(tie.down, shaft) else _NONE
