"""Writing the Weaving Information File (WIF), version 1.1, plain to the standard: `read_wif` reads back the same draft.

Source: R. Nielsen (ed.), *Weaving Information File (WIF) Specification, Version 1.1*, 20 April 1997. What the standard
has no word for (names of yarns, sections) stands in private sections of our own; sections of other programs are
written back word for word. Texts are kept to one line each, which is all that the form can hold.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from decimal import Decimal

from companion.draft.colours import name_colours
from companion.draft.masks import shafts_of, treadles_of
from companion.draft.model import Draft, Layout, Treadled
from companion.draft.wif_file import OUR_BLOCKS, OUR_LAID_IN, OUR_SECTIONS, OUR_SLEY, OUR_YARNS, SETTINGS
from companion.draft.wif_sley import sley_settings, written_layout
from companion.draft.wif_text import canonical, one_line

_LINE_END = "\r\n"
_SectionBody = list[str]


def write_wif(draft: Draft) -> bytes:
    """Return the draft as a WIF file in UTF-8, which is plain ASCII wherever the draft's texts are."""
    bodies = {name: body for name, body in _sections(draft) if body is not None}
    for section in draft.foreign:
        # Keys of another program within a section of settings go back into that section.
        if section.name in SETTINGS:
            bodies[section.name] = [*bodies.get(section.name, ()), *section.lines]
    foreign = [section for section in draft.foreign if section.name not in SETTINGS]
    listed = dict.fromkeys(
        [*(name for name in bodies if name != "WIF"), *(canonical(section.name) for section in foreign)]
    )
    contents = [f"{name}=true" for name in listed if _can_be_key(name)]
    head, *rest = bodies.items()
    text = [_section(*head), _section("CONTENTS", contents)]
    text += [_section(name, body) for name, body in rest]
    text += [_section(section.name, section.lines) for section in foreign]
    return _LINE_END.join(text).encode("utf-8", errors="replace")


def _can_be_key(name: str) -> bool:
    """Tell whether a section's name can stand as a key; one that would read as something else is not listed."""
    return bool(name) and "=" not in name and not name.startswith(("[", ";"))


def _section(name: str, body: Iterable[str]) -> str:
    return "".join(f"{line}{_LINE_END}" for line in (f"[{name}]", *body))


def _sections(draft: Draft) -> Iterable[tuple[str, _SectionBody | None]]:
    """Yield the sections in the order of the standard's own list; None for one that the draft has no use for."""
    lifting = draft.lifting
    # The standard asks for a number of treadles beside a lift plan too: one treadle per shaft opens any shed.
    treadles = draft.treadles if isinstance(lifting, Treadled) else draft.shafts
    yield "WIF", ["Version=1.1", "Date=April 20, 1997", "Developers=wif@mhsoft.com", "Source Program=Fellside"]
    yield "COLOR PALETTE", [f"Entries={len(draft.yarns)}", "Form=RGB", "Range=0,255"] if draft.yarns else None
    yield "TEXT", _text(draft)
    yield (
        "WEAVING",
        [
            f"Shafts={draft.shafts}",
            f"Treadles={treadles}",
            f"Rising Shed={'true' if draft.rising else 'false'}",
        ],
    )
    yield "WARP", _threads(draft.warp, written_layout(draft))
    yield "WEFT", _threads(draft.weft, draft.weft_layout)
    yield "NOTES", _table(map(one_line, draft.notes)) or None
    if isinstance(lifting, Treadled):
        yield "TIEUP", _table(map(_list, map(shafts_of, lifting.tieup)))
    yield "COLOR TABLE", _table("{},{},{}".format(*yarn.colour) for yarn in draft.yarns) or None
    yield "THREADING", _table("0" if shaft is None else str(shaft + 1) for shaft in draft.threading)
    yield from _thread_tables("WARP", draft.warp, written_layout(draft))
    if isinstance(lifting, Treadled):
        yield "TREADLING", _table(map(_list, map(treadles_of, lifting.treadling)))
    else:
        yield "LIFTPLAN", _table(map(_list, map(shafts_of, lifting.plan)))
    yield from _thread_tables("WEFT", draft.weft, draft.weft_layout)
    yield OUR_YARNS, _yarn_names(draft)
    yield OUR_SECTIONS, _our_sections(draft)
    yield OUR_LAID_IN, _laid_in(draft)
    yield OUR_SLEY, sley_settings(draft)
    yield OUR_BLOCKS, _table(f"{block.ends},{one_line(block.name)}" for block in draft.blocks) or None


def _table(values: Iterable[str]) -> _SectionBody:
    return [f"{number}={value}" for number, value in enumerate(values, 1)]


def _list(numbers: tuple[int, ...]) -> str:
    return ",".join(map(str, numbers)) or "0"


def _decimal(number: float) -> str:
    """Return a number with a decimal point and no exponent; reading it gives the very number."""
    return format(Decimal(repr(number)), "f")


def _text(draft: Draft) -> _SectionBody | None:
    texts = (("Title", one_line(draft.title)), ("Author", one_line(draft.author)))
    return [f"{key}={text}" for key, text in texts if text] or None


def _alike(sizes: Sequence[float]) -> bool:
    return len(set(sizes)) == 1


def _threads(yarns: tuple[int, ...], layout: Layout) -> _SectionBody:
    body = [f"Threads={len(yarns)}"]
    if yarns:
        body.append(f"Color={Counter(yarns).most_common(1)[0][0] + 1}")
    if layout.spacing_cm or layout.thickness_cm:
        body.append("Units=Centimeters")
    for key, sizes in (("Spacing", layout.spacing_cm), ("Thickness", layout.thickness_cm)):
        if _alike(sizes):
            body.append(f"{key}={_decimal(sizes[0])}")
    return body


def _thread_tables(direction: str, yarns: tuple[int, ...], layout: Layout) -> Iterable[tuple[str, _SectionBody | None]]:
    for what, sizes in (("THICKNESS", layout.thickness_cm), ("SPACING", layout.spacing_cm)):
        yield f"{direction} {what}", None if _alike(sizes) else _table(map(_decimal, sizes)) or None
    yield f"{direction} COLORS", _table(str(yarn + 1) for yarn in yarns) if len(set(yarns)) > 1 else None


def _yarn_names(draft: Draft) -> _SectionBody | None:
    names = [yarn.name for yarn in draft.yarns]
    if names == name_colours([yarn.colour for yarn in draft.yarns]):
        return None  # a reader gives these names by itself
    return _table(map(one_line, names))


def _our_sections(draft: Draft) -> _SectionBody | None:
    return (
        _table(
            f"{section.picks},{'' if section.until_cm is None else _decimal(section.until_cm)},{one_line(section.name)}"
            for section in draft.sections
        )
        or None
    )


def _laid_in(draft: Draft) -> _SectionBody | None:
    return (
        _table(
            f"{number},{laid.yarn + 1},{'' if laid.length_cm is None else _decimal(laid.length_cm)}"
            for number, section in enumerate(draft.sections, 1)
            for laid in section.laid_in
        )
        or None
    )
