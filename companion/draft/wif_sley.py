"""The sley plan in a Weaving Information File: as the standard's spacing where that says the same, else in our section.

The standard knows the room of each end and no reed. With the reed beside it the spacing gives the dents back; what it
cannot say, such as dents left empty before the first end, stands in `Dents` as shorthand writes it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TypeVar

from companion.draft.errors import DraftError
from companion.draft.model import Draft, Layout
from companion.draft.shorthand_print import print_sley
from companion.draft.shorthand_sley import parse_sley
from companion.draft.sley import UNTOLD, Sley, dents_of_spacing, parse_reed, print_reed, spacing_cm
from companion.draft.wif_file import OUR_SLEY, WifFile
from companion.draft.wif_text import KeyValueLine, quoted
from companion.draft.wif_values import without_comment

_Value = TypeVar("_Value")

_FROM_DENTS = "from the dents"
"""Said of a spacing that was worked out from the plan and is no statement of its own."""


def written_layout(draft: Draft) -> Layout:
    """Return the layout of the warp as it is written: with the spacing of the dents where the draft states none."""
    layout = draft.warp_layout
    return layout if layout.spacing_cm else replace(layout, spacing_cm=spacing_cm(draft.sley, draft.ends))


def sley_settings(draft: Draft) -> list[str] | None:
    """Return the lines of our section; None where no plan is told."""
    return list(_settings(draft)) or None


def _settings(draft: Draft) -> Iterator[str]:
    sley, spacing = draft.sley, written_layout(draft).spacing_cm
    if sley.reed_per_cm is not None:
        yield f"Reed={print_reed(sley.reed_per_cm)}"
    said = sley.reed_per_cm is not None and dents_of_spacing(spacing, sley.reed_per_cm) == sley.dents
    if sley.dents and not said:
        yield f"Dents={print_sley(sley, draft.ends)}"
    if spacing and not draft.warp_layout.spacing_cm:
        yield f"Spacing={_FROM_DENTS}"
    elif said and spacing:
        yield "Spacing=gives the dents"


def read_sley(file: WifFile, layout: Layout, ends: int) -> tuple[Sley, Layout]:
    """Return the plan of a file for so many ends, and its layout without a spacing that only repeats the plan.

    Raises DraftError.
    """
    if not file.has(OUR_SLEY):
        return UNTOLD, layout
    reed_line, dents_line = file.setting(OUR_SLEY, "REED"), file.setting(OUR_SLEY, "DENTS")
    reed = None if reed_line is None else _value(reed_line, parse_reed)
    of_spacing = file.text(OUR_SLEY, "SPACING")
    if dents_line is not None:
        sley = replace(_value(dents_line, lambda text: parse_sley(text, ends)), reed_per_cm=reed)
    elif of_spacing and reed is not None:
        dents = dents_of_spacing(layout.spacing_cm, reed)
        if dents is None:
            file.tolerated.note("the spacing lies in no dents of the reed; there is no sley plan", file.place(OUR_SLEY))
            return Sley((), reed), layout
        sley = Sley(dents, reed)
    else:
        return Sley((), reed), layout
    if of_spacing != _FROM_DENTS:
        return sley, layout
    if not _alike(layout.spacing_cm, spacing_cm(sley, ends)):
        file.tolerated.note("the spacing is not that of the dents; both are kept", file.place(OUR_SLEY, "Spacing"))
        return sley, layout
    return sley, replace(layout, spacing_cm=())


def _value(entry: KeyValueLine, read: Callable[[str], _Value]) -> _Value:
    try:
        return read(without_comment(entry.value))
    except DraftError as error:
        raise DraftError(f"{quoted(entry.value)}: {error.what}", place=entry.place, mend=error.mend) from error


def _alike(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return len(one) == len(other) and all(abs(a - b) <= 0.01 * b for a, b in zip(one, other, strict=True))
