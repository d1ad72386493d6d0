"""Free treadles in a line: `treadles 9 and 10 are free: plain weave could be tied on 9 (1 3) and 10 (2 4)`."""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.masks import print_shed
from companion.remap.loom.loom import Action, Tie
from companion.remap.remapped import Remapping
from companion.remap.spare_treadles import free_treadles, plain_weave_held, room_for_plain_weave

LEFT_OUT = "no two treadles are left for the plain weave that the draft ties: tie it anew for headings and hems"


def spare_words(answer: Remapping) -> str:
    """Return which treadles hold plain weave, which are free and what they may be used for, and what has no room.

    Empty where there is nothing of that to say.
    """
    held = plain_weave_held(answer)
    holds = f"{_treadles(held)} hold plain weave, for headings and hems" if held else ""
    free = _free_words(answer, [treadle for treadle in free_treadles(answer) if treadle not in held])
    return "; ".join(filter(None, (holds, free, LEFT_OUT if answer.plain_weave_left_out else "")))


def _free_words(answer: Remapping, free: Sequence[int]) -> str:
    if not free:
        return ""
    said = f"{_treadles(free)} {'is' if len(free) == 1 else 'are'} free"
    room = room_for_plain_weave(answer)
    if not room:
        return said
    ties = " and ".join(f"{treadle + 1} ({_tie_words(tie, answer.loom.action)})" for treadle, tie in room)
    return f"{said}: plain weave, for headings and hems, could be tied on {ties}"


def _treadles(treadles: Sequence[int]) -> str:
    numbers = [str(treadle + 1) for treadle in treadles]
    return f"treadle {numbers[0]}" if len(numbers) == 1 else f"treadles {', '.join(numbers[:-1])} and {numbers[-1]}"


def _tie_words(tie: Tie, action: Action) -> str:
    if action is Action.COUNTERMARCHE:
        return f"{print_shed(tie.up)} up, {print_shed(tie.down)} down"
    return print_shed(tie.down if action is Action.SINKING else tie.up)
