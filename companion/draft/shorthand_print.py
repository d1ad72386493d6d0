"""Shorthand written out: any draft as `parse_shorthand` reads it back, repeats found, one way of saying each thing.

Kept: everything but the private sections of other programs, for which the form has no place. Two yarns of one name
are told apart by a number behind it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from decimal import Decimal
from itertools import groupby
from typing import TypeVar

from companion.draft.colours import print_colour
from companion.draft.masks import shafts_of, treadles_of
from companion.draft.model import Draft, LaidIn, Lifted, Section, Treadled
from companion.draft.repeat_search import Reading, read_repeats
from companion.draft.repeats import Back, Repeat, SequencePart, Series, SymbolRun, Turn
from companion.draft.shorthand_laid_in import WORDS as LAID_IN
from companion.draft.shorthand_names import printed_names, quoted
from companion.draft.sley import Sley, even_sley, print_reed
from companion.draft.wif_text import one_line

WIDTH = 100
"""Lines are broken before this many letters, between items."""
_LONGEST_TURN = 4
"""Up to so many shuttles are written as taking turns: `sand/sea`."""
_PLAIN_SECTION = re.compile(r"[^\W_][\w' ]*")

Item = TypeVar("Item", bound=Hashable)


def print_shorthand(draft: Draft) -> str:
    """Return the draft in shorthand; `parse_shorthand` gives the same draft, but for sections of other programs."""
    return "".join(f"{line}\n" for line in _lines(draft))


def _lines(draft: Draft) -> Iterator[str]:
    names = printed_names(draft.yarns)
    for word, text in (("title", draft.title), ("author", draft.author)):
        if one_line(text):
            yield f"{word}: {one_line(text)}"
    for note in draft.notes:
        yield f"note: {one_line(note)}".rstrip()
    yield f"shafts: {draft.shafts}"
    if not draft.rising:
        yield "shed: sinking"
    for name, yarn in zip(names, draft.yarns, strict=True):
        yield f"yarn: {name} {print_colour(yarn.colour)}"
    if set(draft.warp) - {0}:
        yield from _wrapped("warp", _one_or_all(draft.warp, lambda yarn: names[yarn]))
    yield from _threading_lines(draft)
    for word, sizes in (
        ("warp spacing", draft.warp_layout.spacing_cm),
        ("warp thickness", draft.warp_layout.thickness_cm),
        ("weft spacing", draft.weft_layout.spacing_cm),
        ("weft thickness", draft.weft_layout.thickness_cm),
    ):
        if sizes:
            yield from _wrapped(word, _one_or_all(sizes, _decimal))
    if draft.sley.dents:
        yield from _wrapped("sley", _dents(draft.sley, draft.ends))
    if draft.sley.reed_per_cm is not None:
        yield f"reed: {print_reed(draft.sley.reed_per_cm)}"
    yield from _picks(draft, names)


def print_run(reading: Reading[int]) -> str:
    """Return a reading of numbers as the shorthand writes it: `10 (9 10)x8`."""
    return " ".join(_tokens(reading.part, lambda symbols: [str(reading.items[symbol]) for symbol in symbols]))


def print_sley(sley: Sley, ends: int) -> str:
    """Return the dents of a plan for so many ends as the shorthand writes them: `2`, `(1 1 2 2 0)x20`."""
    return " ".join(_dents(sley, ends))


def _dents(sley: Sley, ends: int) -> list[str]:
    usual = sley.dents[0]
    if usual and even_sley(ends, usual).dents == sley.dents:
        return [str(usual)]
    if len(sley.dents) == 1:
        return [f"({usual})"]
    reading = read_repeats(sley.dents)
    return _tokens(reading.part, lambda symbols: [str(reading.items[symbol]) for symbol in symbols])


def print_threading(threading: Sequence[int | None]) -> str:
    """Return shafts (indices) in the order of the ends, as the shorthand writes them: `(1-4)x40`."""
    return " ".join(_threading(threading))


def print_warp(draft: Draft) -> str:
    """Return the yarns of the ends in order, as the shorthand writes them: `(natural x2 indigo x2)x24`."""
    names = printed_names(draft.yarns)
    return " ".join(_one_or_all(draft.warp, lambda yarn: names[yarn]))


def _decimal(number: float) -> str:
    return format(Decimal(repr(number)), "f")


def _one_or_all(values: Sequence[Item], said: Callable[[Item], str]) -> list[str]:
    """Return the words for one value per thread: the value alone where all are alike."""
    if len(set(values)) == 1:
        return [said(values[0])]
    reading = read_repeats(values)
    return _tokens(reading.part, lambda symbols: [said(reading.items[symbol]) for symbol in symbols])


def _picks(draft: Draft, names: Sequence[str]) -> Iterator[str]:
    if isinstance(draft.lifting, Treadled):
        ties = ", ".join(" ".join(map(str, shafts_of(tie))) or "0" for tie in draft.lifting.tieup)
        yield from _wrapped("tie-up", ties.split(" ") if ties else [])
        moved = [treadles_of(pressed) for pressed in draft.lifting.treadling]
    else:
        moved = [shafts_of(lifted) for lifted in draft.lifting.plan]
    word = "lift plan" if isinstance(draft.lifting, Lifted) else "treadling"
    if draft.sections:
        yield f"{word}:"
    first = 0
    for section in draft.sections or (Section("", draft.picks),):
        last = first + section.picks
        tokens = _stretch(moved[first:last], draft.weft[first:last], names)
        if draft.sections:
            until = "" if section.until_cm is None else f" until {_decimal(section.until_cm)} cm"
            yield f"section: {_plain_name(section.name)}{until}{_laid_in(section.laid_in, names)}"
            yield from _wrapped("", tokens)
        else:
            yield from _wrapped(word, tokens)
        first = last


def _laid_in(laid_in: Sequence[LaidIn], names: Sequence[str]) -> str:
    said = (
        names[laid.yarn] + ("" if laid.length_cm is None else f" {_decimal(laid.length_cm)} cm") for laid in laid_in
    )
    return f" {LAID_IN} {', '.join(said)}" if laid_in else ""


def _threading_lines(draft: Draft) -> Iterator[str]:
    if not draft.blocks:
        yield from _wrapped("threading", _threading(draft.threading))
        return
    yield "threading:"
    first = 0
    for block in draft.blocks:
        yield f"block: {_plain_name(block.name)}"
        yield from _wrapped("", _threading(draft.threading[first : first + block.ends]))
        first += block.ends


def _plain_name(name: str) -> str:
    name = one_line(name)
    plain = _PLAIN_SECTION.fullmatch(name) and not any(word in name.lower() for word in ("until", "laid"))
    return name if plain else quoted(name)


def _stretch(moved: Sequence[tuple[int, ...]], weft: Sequence[int], names: Sequence[str]) -> list[str]:
    """Return the picks of a section: shuttles that take turns named once, others wherever they change."""
    for turn in range(1, _LONGEST_TURN + 1):
        if all(yarn == weft[pick % turn] for pick, yarn in enumerate(weft)):
            only = len(names) == 1 or not weft
            return [*([] if only else ["/".join(names[yarn] for yarn in weft[:turn])]), *_moved(moved)]
    thrown = read_repeats(list(zip(weft, moved, strict=True)))

    def words(symbols: tuple[int, ...]) -> list[str]:
        found: list[str] = []
        for yarn, picks in groupby((thrown.items[symbol] for symbol in symbols), key=lambda pick: pick[0]):
            found += [names[yarn], *_pick_words([shafts for _, shafts in picks])]
        return found

    return _tokens(thrown.part, words)


def _moved(moved: Sequence[tuple[int, ...]]) -> list[str]:
    reading = read_repeats(moved)
    return _tokens(reading.part, lambda symbols: _pick_words([reading.items[symbol] for symbol in symbols]))


def _pick_words(picks: Sequence[tuple[int, ...]]) -> list[str]:
    """Return picks as words, runs of single numbers drawn together."""
    words: list[str] = []
    for single, stretch in groupby(picks, key=lambda pick: len(pick) == 1):
        if single:
            words += _runs([pick[0] for pick in stretch])
        else:
            words += ["+".join(map(str, pick)) or "0" for pick in stretch]
    return words


def _threading(threading: Sequence[int | None]) -> list[str]:
    reading = read_repeats([0 if shaft is None else shaft + 1 for shaft in threading])
    return _tokens(reading.part, lambda symbols: _runs([reading.items[symbol] for symbol in symbols]))


def _runs(numbers: Sequence[int]) -> list[str]:
    """Return numbers as words; four or more that rise or fall by one are drawn together: `1-4`."""
    words: list[str] = []
    first = 0
    while first < len(numbers):
        last = first + 1
        step = numbers[last] - numbers[first] if last < len(numbers) else 0
        if step in (1, -1):
            while last + 1 < len(numbers) and numbers[last + 1] - numbers[last] == step:
                last += 1
        if abs(step) == 1 and last - first >= 3:
            words.append(f"{numbers[first]}-{numbers[last]}")
            first = last + 1
        else:
            words.append(str(numbers[first]))
            first += 1
    return words


def _tokens(part: SequencePart, words: Callable[[tuple[int, ...]], list[str]]) -> list[str]:
    """Return a reading as words between which a line may break."""
    match part:
        case SymbolRun(symbols):
            return words(symbols)
        case Series(parts):
            return [word for one in parts for word in _tokens(one, words)]
        case Repeat(body, times):
            return _bracketed(_tokens(body, words), f"x{times}")
        case Back(body, Turn.POINT):
            return ["point", *_bracketed(_tokens(body, words), "")]
        case Back(body, turn):
            return [*_bracketed(_tokens(body, words), ""), "and", "back" if turn is Turn.ONCE else "reversed"]


def _bracketed(words: list[str], behind: str) -> list[str]:
    words = [f"({words[0]}", *words[1:]]
    return [*words[:-1], f"{words[-1]}){behind}"]


def _wrapped(word: str, tokens: Iterable[str]) -> Iterator[str]:
    """Yield a statement in lines no longer than `WIDTH`, the later ones set in."""
    line = f"{word}:" if word else ""
    for token in tokens:
        if line and len(line) + 1 + len(token) > WIDTH:
            yield line
            line = ""
        line = f"{line} {token}" if line else f"  {token}"
    if line:
        yield line
