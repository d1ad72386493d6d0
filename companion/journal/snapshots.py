"""From a journal to how things stand, by way of the newest snapshot: a long journal opens as fast as a short one.

A snapshot holds a settled state (`Progress.settled`), which no later entry can change; the entries after it are folded
onto it. It may be thrown away at any time, and is, when the code that folds has changed since it was taken.
"""

from __future__ import annotations

import json
import zlib
from functools import cache
from pathlib import Path

from companion import weaving
from companion.journal.codec import dump
from companion.journal.errors import JournalError
from companion.journal.plain import PlainError, from_plain, to_plain
from companion.journal.shelf import as_shelved
from companion.journal.store import Journal
from companion.weaving.dressing import as_sleyed
from companion.weaving.opened import PUT_ON_AGAIN, unopened_words
from companion.weaving.progress import Progress, begin, carry_on
from companion.weaving.state import State
from companion.weaving.warp import Warp

EVERY = 500
"""Entries from one snapshot to the next: so many are folded at most when a warp is opened (and the trail)."""


def progress_of(journal: Journal) -> Progress:
    """Return the fold of the whole journal; raises JournalError, or ContradictionError where it cannot be folded."""
    start = _settled_state(journal)
    return carry_on(journal.warp, start, journal.entries(after=start.number))


def warp_to_hand_on(journal: Journal) -> Warp:
    """Return the warp under its name on the shelf, with the dents that its weaver planned, for others to weave from.

    Raises as `progress_of`, and JournalError where what is pressed weaves another cloth than the drafts.
    """
    if unopened := unopened_words(journal.warp):
        raise JournalError(unopened, place=journal.path, mend=PUT_ON_AGAIN)
    return as_sleyed(as_shelved(journal), progress_of(journal).now.dressing)


def keep_snapshot(journal: Journal, standing: Progress) -> None:
    """Keep a snapshot, if it is `EVERY` entries since the last one; call it after every entry or from time to time.

    A disk that does not take it is not reported: nothing is lost by that, and the next entry will say so.
    """
    settled = standing.settled
    if settled.number - journal.snapshot_number < EVERY:
        return
    try:
        journal.keep_snapshot(settled.number, _shape(), dump(to_plain(State, settled)))
    except JournalError:
        return


def _settled_state(journal: Journal) -> State:
    found = journal.snapshot(_shape())
    if found is not None:
        try:
            state: State = from_plain(State, json.loads(found))
        except PlainError:
            return begin(journal.warp).now
        return state
    return begin(journal.warp).now


@cache
def _shape() -> str:
    """Tell the code that folds by a checksum: a state folded by other code is not taken up."""
    room = Path(weaving.__file__ or "").parent
    return f"{zlib.crc32(b''.join(path.read_bytes() for path in sorted(room.glob('*.py')))):08x}"
