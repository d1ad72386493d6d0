"""Reading the Weaving Information File (WIF), version 1.1: whatever the bytes, a draft or a DraftError.

Source: R. Nielsen (ed.), *Weaving Information File (WIF) Specification, Version 1.1*, 20 April 1997. Where a file
leaves room, the reader takes the plainest sense and says so in its deviations; where the cloth itself would be guessed
at, it refuses. Two rules where the standard is in doubt: Rising Shed holds for the lift plan too, and where a tie-up
with treadling and a lift plan disagree, the tie-up and treadling count.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from companion.draft.deviations import Read
from companion.draft.errors import DraftError
from companion.draft.masks import NO_SHAFT, NO_TREADLE, Shed, TreadleSet, complement, shed_of, ties_pressed, treadle_set
from companion.draft.model import (
    MOST_SHAFTS,
    MOST_THREADS,
    MOST_TREADLES,
    Draft,
    Lifted,
    Section,
    ThreadingBlock,
    Treadled,
)
from companion.draft.wif_file import OUR_BLOCKS, OUR_SECTIONS, WifFile
from companion.draft.wif_laid_in import with_laid_in
from companion.draft.wif_sley import read_sley
from companion.draft.wif_text import KeyValueLine, one_line
from companion.draft.wif_threads import DEFAULT_WARP, DEFAULT_WEFT, Palette, layout
from companion.draft.wif_values import measure, numbers, whole, without_comment, yes_or_no

MOST_NOTES = 100_000
MOST_CM = 100_000.0
"""A section longer than this is a slip."""

_Value = TypeVar("_Value")


def read_wif(data: bytes) -> Read:
    """Return the draft of a WIF file and every departure from the standard that was tolerated.

    Raises DraftError, which names section, key and line, where no draft can be read without guessing at the cloth.
    """
    file = WifFile(data)
    threading, shafts_used = _threading(file)
    treadled, lifted, shafts_tied = _lifting(file)
    shafts = _count(file, "WEAVING", "Shafts", MOST_SHAFTS, max(shafts_used, shafts_tied))
    rising = _rising(file)
    lifting = _settled(file, treadled, lifted, shafts, rising)
    picks = len(lifting.treadling) if isinstance(lifting, Treadled) else len(lifting.plan)
    palette = Palette(file)
    warp = palette.of_threads("WARP", len(threading), MOST_THREADS, DEFAULT_WARP)
    weft = palette.of_threads("WEFT", picks, MOST_THREADS, DEFAULT_WEFT)
    notes = file.table("NOTES", MOST_NOTES, "note")
    sley, warp_layout = read_sley(file, layout(file, "WARP", len(threading), MOST_THREADS), len(threading))
    draft = Draft(
        shafts=shafts,
        threading=threading,
        lifting=lifting,
        yarns=tuple(palette.yarns),
        warp=warp,
        weft=weft,
        rising=rising,
        sections=with_laid_in(file, _sections(file, picks), len(palette.yarns)),
        title=file.text("TEXT", "TITLE"),
        author=file.text("TEXT", "AUTHOR"),
        notes=tuple(one_line(notes[number].value) for number in sorted(notes)),
        warp_layout=warp_layout,
        weft_layout=layout(file, "WEFT", picks, MOST_THREADS),
        foreign=file.kept(),
        sley=sley,
        blocks=_blocks(file, len(threading)),
    )
    return Read(draft, file.tolerated.all())


def _count(file: WifFile, section: str, key: str, most: int, used: int) -> int:
    """Return a count that the file sets, or the largest number that it uses; raises DraftError where it uses more."""
    entry = file.setting(section, key.upper())
    if entry is None:
        file.tolerated.note(f"{key} is missing; {used} are used", file.place(section, key))
        return used
    stated = whole(without_comment(entry.value), entry.place, most)
    if used > stated:
        raise DraftError(
            f"{stated}, but number {used} is used", place=entry.place, mend=f"set {key}={used} or correct it"
        )
    return stated


def _by_number(
    table: dict[int, KeyValueLine], count: int, none: _Value, value: Callable[[KeyValueLine], _Value]
) -> tuple[_Value, ...]:
    return tuple(value(table[number]) if number in table else none for number in range(1, count + 1))


def _note_missing(file: WifFile, section: str, table: dict[int, KeyValueLine], count: int, sense: str) -> None:
    if len(table) < count:
        file.tolerated.note(f"{count - len(table)} lines are missing; {sense}", file.place(section))


def _threading(file: WifFile) -> tuple[tuple[int | None, ...], int]:
    """Return the shaft index of each end, and how many shafts that needs."""
    if not file.has("THREADING"):
        raise DraftError("the section [THREADING] is missing", mend="add it, with a line end=shaft for each end")
    table = file.table("THREADING", MOST_THREADS, "end")
    ends = _count(file, "WARP", "Threads", MOST_THREADS, max(table, default=0))
    _note_missing(file, "THREADING", table, ends, "these ends are unthreaded")
    threading = _by_number(table, ends, None, lambda entry: _shaft(file, entry))
    return threading, max((shaft + 1 for shaft in threading if shaft is not None), default=0)


def _shaft(file: WifFile, entry: KeyValueLine) -> int | None:
    shafts = numbers(entry, MOST_SHAFTS, file.tolerated)
    if len(shafts) > 1:
        raise DraftError(
            f"end {entry.key} is on the shafts {', '.join(map(str, shafts))} at once",
            place=entry.place,
            mend="name one shaft; ends on several shafts are not woven by this program",
        )
    return shafts[0] - 1 if shafts else None


def _lifting(file: WifFile) -> tuple[Treadled | None, Lifted | None, int]:
    """Return what the file has of a tie-up with treadling and of a lift plan, and how many shafts they need."""
    tieup = file.table("TIEUP", MOST_TREADLES, "treadle")
    treadling = file.table("TREADLING", MOST_THREADS, "pick")
    plan = file.table("LIFTPLAN", MOST_THREADS, "pick")
    picks = _count(file, "WEFT", "Threads", MOST_THREADS, max((*treadling, *plan), default=0))
    shafts = [0]

    def shed(entry: KeyValueLine) -> Shed:
        lifted = numbers(entry, MOST_SHAFTS, file.tolerated)
        shafts.append(max(lifted, default=0))
        return shed_of(lifted)

    treadled = _treadled(file, tieup, treadling, picks, shed)
    lifted = None
    if file.has("LIFTPLAN"):
        _note_missing(file, "LIFTPLAN", plan, picks, "no shaft moves at these picks")
        lifted = Lifted(_by_number(plan, picks, NO_SHAFT, shed))
    if treadled is None and lifted is None and picks:
        raise DraftError(
            "there is neither a treadling nor a lift plan",
            place=file.place("WEFT", "Threads"),
            mend="add [TIEUP] and [TREADLING], or [LIFTPLAN]",
        )
    return treadled, lifted, max(shafts)


def _treadled(
    file: WifFile,
    tieup: dict[int, KeyValueLine],
    treadling: dict[int, KeyValueLine],
    picks: int,
    shed: Callable[[KeyValueLine], Shed],
) -> Treadled | None:
    if not file.has("TREADLING") and (picks or not file.has("TIEUP")):
        return None

    def pressed(entry: KeyValueLine) -> TreadleSet:
        return treadle_set(numbers(entry, MOST_TREADLES, file.tolerated))

    _note_missing(file, "TREADLING", treadling, picks, "no treadle is pressed at these picks")
    per_pick = _by_number(treadling, picks, NO_TREADLE, pressed)
    if any(per_pick) and not file.has("TIEUP"):
        raise DraftError(
            "there is a treadling without a tie-up", place=file.place("TREADLING"), mend="add [TIEUP] or [LIFTPLAN]"
        )
    most = max((treadles.bit_length() for treadles in set(per_pick)), default=0)
    treadles = _count(file, "WEAVING", "Treadles", MOST_TREADLES, max((most, *tieup)))
    _note_missing(file, "TIEUP", tieup, treadles, "these treadles are tied to nothing")
    return Treadled(_by_number(tieup, treadles, NO_SHAFT, shed), per_pick)


def _settled(
    file: WifFile, treadled: Treadled | None, lifted: Lifted | None, shafts: int, rising: bool
) -> Treadled | Lifted:
    """Return the one way of lifting that counts, and note where the two that the file has disagree.

    One that moves nothing at any pick says nothing beside one that does.
    """
    if treadled is not None and lifted is not None and any(treadled.treadling) != any(lifted.plan):
        if any(lifted.plan):
            file.tolerated.note("no treadle is pressed at any pick; the lift plan counts", file.place("TREADLING"))
            treadled = None
        else:
            file.tolerated.note("no shaft moves at any pick; tie-up and treadling count", file.place("LIFTPLAN"))
            lifted = None
    if treadled is None:
        if not rising:
            doubt = "a lift plan beside Rising Shed=no is in doubt; its shafts are taken to sink"
            file.tolerated.note(doubt, file.place("LIFTPLAN"))
        return lifted or Lifted(())
    if lifted is not None and not _same_cloth(treadled, lifted, shafts, rising):
        clash = "the lift plan is another cloth than tie-up and treadling; these count, the lift plan is dropped"
        file.tolerated.note(clash, file.place("LIFTPLAN"))
    return treadled


def _same_cloth(treadled: Treadled, lifted: Lifted, shafts: int, rising: bool) -> bool:
    """Tell whether the two say the same; beside a tie-up of what sinks, a plan may also tell what rises."""
    moved = {pressed: ties_pressed(treadled.tieup, pressed) for pressed in set(treadled.treadling)}
    woven = tuple(moved[pressed] for pressed in treadled.treadling)
    return lifted.plan == woven or (not rising and tuple(complement(shed, shafts) for shed in lifted.plan) == woven)


def _rising(file: WifFile) -> bool:
    entry = file.setting("WEAVING", "RISING SHED")
    if entry is None:
        file.tolerated.note("Rising Shed is missing; a rising shed is meant", file.place("WEAVING", "Rising Shed"))
        return True
    return yes_or_no(without_comment(entry.value), entry.place)


def _sections(file: WifFile, picks: int) -> tuple[Section, ...]:
    table = file.table(OUR_SECTIONS, MOST_THREADS, "section")
    sections = tuple(_section(table[number]) for number in sorted(table))
    if sections and sum(section.picks for section in sections) != picks:
        file.tolerated.note("the sections do not add up to the picks and are dropped", file.place(OUR_SECTIONS))
        return ()
    return sections


def _blocks(file: WifFile, ends: int) -> tuple[ThreadingBlock, ...]:
    table = file.table(OUR_BLOCKS, MOST_THREADS, "block")
    blocks = tuple(_block(table[number]) for number in sorted(table))
    if blocks and sum(block.ends for block in blocks) != ends:
        file.tolerated.note("the blocks do not add up to the ends and are dropped", file.place(OUR_BLOCKS))
        return ()
    return blocks


def _block(entry: KeyValueLine) -> ThreadingBlock:
    ends, comma, name = entry.value.partition(",")
    if not comma:
        raise DraftError("this is no block", place=entry.place, mend="write ends,name: 24,Point")
    return ThreadingBlock(one_line(name.strip()), whole(ends.strip(), entry.place, MOST_THREADS))


def _section(entry: KeyValueLine) -> Section:
    parts = entry.value.split(",", 2)
    if len(parts) != 3:
        raise DraftError("this is no section", place=entry.place, mend="write picks,centimetres,name: 96,,Border")
    picks, until_cm, name = (part.strip() for part in parts)
    until = measure(until_cm, entry.place, MOST_CM) if until_cm else None
    return Section(one_line(name), whole(picks, entry.place, MOST_THREADS), until)
