"""What a weaver reads first on coming back: how long ago, the last pick, notes, and faults that are still open."""

from __future__ import annotations

from companion.present import wording
from companion.weaving.coming_back import ComingBack, LastPick


def last_time_lines(back: ComingBack) -> tuple[str, ...]:
    """Return the lines, the last pick first; none before the first pick.

    `3 days ago · last pick 12 · L 3  R 6 · shafts up: 1 2 4 · sea lies on the left`
    """
    if back.last is None or back.away_ms is None:
        return ()
    lines = [f"{wording.ago_words(back.away_ms)}{wording.BETWEEN}{_last_pick(back.last)}"]
    lines += [f"note before pick {note.pick + 1}: {note.text}" for note in back.notes]
    for fault in back.open_faults:
        end = "" if fault.end is None else f", end {fault.end + 1}"
        note = f": {fault.note}" if fault.note else ""
        lines.append(f"open fault: {fault.kind.value} at pick {fault.pick + 1}{end}{note}")
    return tuple(lines)


def _last_pick(last: LastPick) -> str:
    footing = "" if last.footing is None else wording.footing_words(last.footing)
    where = f"lies on the {last.lies.value}" if last.side_known else wording.SIDE_NOT_KNOWN
    shuttle = f"{last.shuttle} {'laid in' if last.laid_in else where}"
    parts = (f"last pick {last.pick + 1}", footing, wording.shed_words(last.shed), shuttle)
    return wording.BETWEEN.join(part for part in parts if part)
