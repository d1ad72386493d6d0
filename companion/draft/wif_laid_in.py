"""Our private table of wefts laid in at each pick of a section, read: `number=section,yarn,centimetres or nothing`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from companion.draft.errors import DraftError
from companion.draft.model import MOST_THREAD_CM, MOST_THREADS, LaidIn, Section
from companion.draft.wif_file import OUR_LAID_IN, WifFile
from companion.draft.wif_values import measure, whole


def with_laid_in(file: WifFile, sections: Sequence[Section], yarns: int) -> tuple[Section, ...]:
    """Return the sections with what the file says is laid in; raises DraftError for a line that says it otherwise.

    Of sections and yarns that are not there nothing is laid in; that is noted.
    """
    table = file.table(OUR_LAID_IN, MOST_THREADS, "laid in")
    laid: dict[int, dict[int, LaidIn]] = {}
    for number in sorted(table):
        entry = table[number]
        parts = [part.strip() for part in entry.value.split(",")]
        if len(parts) != 3:
            mend = "write section,yarn,centimetres: 2,3,36.0"
            raise DraftError("this is nothing laid in", place=entry.place, mend=mend)
        section, yarn = (whole(part, entry.place, MOST_THREADS) for part in parts[:2])
        length_cm = measure(parts[2], entry.place, MOST_THREAD_CM) if parts[2] else None
        if not (1 <= section <= len(sections) and 1 <= yarn <= yarns) or length_cm == 0:
            file.tolerated.note("a weft is laid in that is not there; it is left out", entry.place)
            continue
        laid.setdefault(section - 1, {})[yarn - 1] = LaidIn(yarn - 1, length_cm)
    return tuple(
        replace(section, laid_in=tuple(laid[index].values())) if index in laid else section
        for index, section in enumerate(sections)
    )
