"""A draft made as wide as a cloth: its threading over and over, the last time as far as the ends go."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.edits import delete_ends, repeat_ends
from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.sley import sley_of_ends


def threaded_to(draft: Draft, ends: int) -> Draft:
    """Return the draft with so many ends: its threading, colours and dents repeated, or cut off.

    Raises DraftError for no end or too many, and for a draft without ends.
    """
    if not draft.ends or ends < 1:
        raise DraftError(f"{draft.ends} ends made {ends}", mend="thread an end, and give at least 1")
    wide = repeat_ends(draft, 0, draft.ends, -(-ends // draft.ends))
    if wide.ends > ends:
        wide = delete_ends(wide, ends, wide.ends)
    return replace(wide, sley=sley_of_ends(draft.sley, [end % draft.ends for end in range(ends)]))
