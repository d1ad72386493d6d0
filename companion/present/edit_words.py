"""An edit of a draft in a few words, told by what it changed: what "undo" on the draft screen would take back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.draft.masks import shafts_of, treadles_of
from companion.draft.model import Draft, Lifted
from companion.draft.units import counted, numbered


def edit_words(before: Draft, after: Draft) -> str:
    """Return what was done to a draft: `end 12 on shaft 3`, `2 picks put in`, `treadling of picks 3 to 8`."""
    return next(_told(before, after), "what was told of it")


def _told(before: Draft, after: Draft) -> Iterator[str]:
    for noun, had, has in (("end", before.ends, after.ends), ("pick", before.picks, after.picks)):
        if had != has:
            yield f"{counted(abs(has - had), noun)} {'put in' if has > had else 'taken out'}"
            return
    if (where := _changed(before.threading, after.threading)) is not None:
        shaft = after.threading[where.start]
        on = "on no shaft" if shaft is None else f"on shaft {shaft + 1}"
        yield f"end {where.start + 1} {on}" if len(where) == 1 else f"threading of {_span('end', where)}"
    yield from _lifting_told(before, after)
    for noun, word, had_yarns, has_yarns in (
        ("end", "of", before.warp, after.warp),
        ("pick", "with", before.weft, after.weft),
    ):
        if (where := _changed(had_yarns, has_yarns)) is not None:
            yarn = has_yarns[where.start]
            same = len(set(has_yarns[where.start : where.stop])) == 1
            name = after.yarns[yarn].name or f"yarn {yarn + 1}"
            yield f"{_span(noun, where)} {word} {name}" if same else f"colours of {_span(noun, where)}"
    if before.sections != after.sections:
        yield "its sections"


def _lifting_told(before: Draft, after: Draft) -> Iterator[str]:
    had, has = before.lifting, after.lifting
    if isinstance(had, Lifted) or isinstance(has, Lifted):
        if not (isinstance(had, Lifted) and isinstance(has, Lifted)):
            yield "the lift plan"
        elif (where := _changed(had.plan, has.plan)) is not None:
            lifts = " ".join(map(str, shafts_of(has.plan[where.start]))) or "none"
            yield f"pick {where.start + 1}: shafts {lifts}" if len(where) == 1 else f"lifts of {_span('pick', where)}"
        return
    if (where := _changed(had.tieup, has.tieup)) is not None:
        ties = " ".join(map(str, shafts_of(has.tieup[where.start]))) if where.start < len(has.tieup) else ""
        yield f"treadle {where.start + 1} tied to {ties or 'nothing'}" if len(where) == 1 else "the tie-up"
    if (where := _changed(had.treadling, has.treadling)) is not None:
        pressed = treadles_of(has.treadling[where.start])
        on = f"{'treadle' if len(pressed) == 1 else 'treadles'} {' and '.join(map(str, pressed))}"
        one = f"pick {where.start + 1} on {on if pressed else 'no treadle'}"
        yield one if len(where) == 1 else f"treadling of {_span('pick', where)}"


def _changed(before: Sequence[object], after: Sequence[object]) -> range | None:
    """Return from where to where two sequences differ; None where they are the same."""
    if len(before) != len(after):
        return range(min(len(before), len(after)), max(len(before), len(after)))
    places = [place for place, (one, other) in enumerate(zip(before, after, strict=True)) if one != other]
    return range(places[0], places[-1] + 1) if places else None


def _span(noun: str, where: range) -> str:
    return numbered(noun, where.start, where.stop - 1)
