"""The draft: threading, tie-up and treadling or lift plan, yarns, sections. Values only; nothing is read here.

Indices count from 0 (ends, picks, shafts, treadles, yarns); masks are those of `masks`. A draft is checked when
it is made: whoever holds a `Draft` holds one that can be woven as it stands, however odd the cloth.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from companion.draft.errors import DraftError
from companion.draft.masks import (
    Shed,
    TreadleSet,
    common,
    complement,
    every_shaft,
    shed_of,
    ties_pressed,
    treadle_set,
    within,
    without,
)
from companion.draft.sley import UNTOLD, Sley
from companion.draft.units import Units, length_words

MOST_SHAFTS = 40
"""The most shafts this program handles; large dobby looms stop at 40 (common practice, no source)."""

MOST_THREADS = 100_000
"""The most ends, and the most picks, that are read or made; more is a slip and must not fill the memory."""
MOST_TREADLES = 256
"""The most treadles that are read; more is a slip."""
MOST_YARNS = 10_000
"""More colours than any palette of a draft."""
MOST_THREAD_CM = 1_000.0
"""Wider than any spacing or thread; a number beyond it is a slip."""


_FULL = 255
"""The most of a part of an sRGB colour."""


class Colour(NamedTuple):
    """An sRGB colour, each part 0..255."""

    red: int
    green: int
    blue: int


@dataclass(frozen=True, slots=True)
class Yarn:
    """One yarn of the draft. Used in the weft it is also a shuttle: `name` is what the weaver calls it."""

    name: str
    colour: Colour


@dataclass(frozen=True, slots=True)
class Treadled:
    """A tie-up (shafts tied per treadle) and a treadling (treadles pressed per pick)."""

    tieup: tuple[Shed, ...]
    treadling: tuple[TreadleSet, ...]


@dataclass(frozen=True, slots=True)
class Lifted:
    """A lift plan: the shafts moved for each pick."""

    plan: tuple[Shed, ...]


@dataclass(frozen=True, slots=True)
class LaidIn:
    """A weft (yarn, as an index) that is laid in or cut at each pick: in lengths of `length_cm`, where that is told."""

    yarn: int
    length_cm: float | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """A named stretch of `picks` picks; `until_cm` where it is woven to a length and the picks are one repeat.

    `laid_in` are those of its wefts that no shuttle carries: sticks, rushes, strips, inlay. They come from no side.
    """

    name: str
    picks: int
    until_cm: float | None = None
    laid_in: tuple[LaidIn, ...] = ()


@dataclass(frozen=True, slots=True)
class ThreadingBlock:
    """A named stretch of `ends` ends next to each other, such as one of the threadings of a gamp."""

    name: str
    ends: int


@dataclass(frozen=True, slots=True)
class Layout:
    """How threads of one direction lie: spacing and thickness in cm per thread; empty where unstated."""

    spacing_cm: tuple[float, ...] = ()
    thickness_cm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class ForeignSection:
    """A section of a file that belongs to another program: kept word for word and written back."""

    name: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """A whole draft. `threading[end]` is the shaft index of that end, or None for an unthreaded end.

    `rising` tells what a tie (or lift) does: raise its shafts, or sink them while the rest stay up.
    `warp[end]` and `weft[pick]` are indices into `yarns`. `sections` cover the picks in order, or are empty, and
    so do `blocks` the ends.
    `sley` is the plan of its dents; it may be told for more or fewer ends than there are (see `checks`).
    Raises DraftError when the parts do not fit together.
    """

    shafts: int
    threading: tuple[int | None, ...]
    lifting: Treadled | Lifted
    yarns: tuple[Yarn, ...]
    warp: tuple[int, ...]
    weft: tuple[int, ...]
    rising: bool = True
    sections: tuple[Section, ...] = ()
    title: str = ""
    author: str = ""
    notes: tuple[str, ...] = ()
    warp_layout: Layout = Layout()
    weft_layout: Layout = Layout()
    foreign: tuple[ForeignSection, ...] = ()
    sley: Sley = UNTOLD
    blocks: tuple[ThreadingBlock, ...] = ()

    def __post_init__(self) -> None:
        _check(self)

    def __repr__(self) -> str:
        lifting = f"{self.treadles} treadles" if isinstance(self.lifting, Treadled) else "lift plan"
        return f"<Draft {self.title!r}: {self.shafts} shafts, {lifting}, {self.ends} ends, {self.picks} picks>"

    @property
    def ends(self) -> int:
        """How many warp ends there are."""
        return len(self.threading)

    @property
    def picks(self) -> int:
        """How many picks there are."""
        return len(self.weft)

    @property
    def treadles(self) -> int:
        """How many treadles the draft asks for; 0 for a lift plan."""
        return len(self.lifting.tieup) if isinstance(self.lifting, Treadled) else 0

    @property
    def shafts_needed(self) -> int:
        """How many shafts a loom must have: up to the last one that carries an end, and at least one."""
        return 1 + max((shaft for shaft in self.threading if shaft is not None), default=0)

    def sheds(self) -> tuple[Shed, ...]:
        """Return the shafts that are up for each pick, whatever the draft's way of saying so."""
        if isinstance(self.lifting, Lifted):
            moved = self.lifting.plan
        else:
            known: dict[TreadleSet, Shed] = {}
            for pressed in self.lifting.treadling:
                if pressed not in known:
                    known[pressed] = ties_pressed(self.lifting.tieup, pressed)
            moved = tuple(known[pressed] for pressed in self.lifting.treadling)
        return moved if self.rising else tuple(complement(shed, self.shafts) for shed in moved)

    def sheds_of_ends(self) -> tuple[Shed, ...]:
        """Return the shafts with ends that are up for each pick: two picks lie alike when these are the same."""
        carrying = self.threaded_shafts()
        sheds = self.sheds()
        cut = {shed: common(shed, carrying) for shed in set(sheds)}
        return tuple(cut[shed] for shed in sheds)

    def threaded_shafts(self) -> Shed:
        """Return the shafts that carry ends; lifting any other changes no cloth."""
        return shed_of(shaft + 1 for shaft in set(self.threading) if shaft is not None)

    def empty_shafts(self) -> Shed:
        """Return the shafts of the draft that carry no end."""
        return without(every_shaft(self.shafts), self.threaded_shafts())

    def shuttles(self) -> tuple[int, ...]:
        """Return the yarn indices used in the weft, in order of first use: one shuttle each."""
        return tuple(dict.fromkeys(self.weft))


def distinct(sheds: tuple[Shed, ...]) -> tuple[Shed, ...]:
    """Return each shed once, in the order of first use."""
    return tuple(dict.fromkeys(sheds))


def _check(draft: Draft) -> None:
    if not 1 <= draft.shafts <= MOST_SHAFTS:
        raise DraftError(f"{draft.shafts} shafts", mend=f"give 1 to {MOST_SHAFTS}")
    counts = (("ends", draft.ends, MOST_THREADS), ("picks", draft.picks, MOST_THREADS))
    others = (("yarns", len(draft.yarns), MOST_YARNS), ("treadles", draft.treadles, MOST_TREADLES))
    for many, there, most in (*counts, *others):
        if there > most:
            raise DraftError(f"{there:,} {many}", mend=f"give at most {most:,}")
    for name, colour in ((yarn.name, yarn.colour) for yarn in draft.yarns):
        if not all(0 <= part <= _FULL for part in colour):
            raise DraftError(f"yarn {name!r:.40} has the colour {tuple(colour)}", mend=f"give 0 to {_FULL}")
    for end, shaft in enumerate(draft.threading, 1):
        if shaft is not None and not 0 <= shaft < draft.shafts:
            raise DraftError(f"end {end} is on shaft {shaft + 1} of {draft.shafts}")
    _check_lifting(draft)
    for what, threads, number in (("end", draft.warp, draft.ends), ("pick", draft.weft, draft.picks)):
        if len(threads) != number:
            raise DraftError(f"{len(threads)} colours for {number} {what}s")
        for thread, yarn in enumerate(threads, 1):
            if not 0 <= yarn < len(draft.yarns):
                raise DraftError(f"{what} {thread} names yarn {yarn + 1} of {len(draft.yarns)}")
    for section in draft.sections:
        if section.picks < 0:
            raise DraftError(f"section {section.name!r:.40} has {section.picks} picks", mend="give 0 or more")
        _check_laid_in(section, len(draft.yarns))
    if draft.sections and sum(section.picks for section in draft.sections) != draft.picks:
        raise DraftError("the sections do not add up to the picks", mend=f"make them {draft.picks} in all")
    for block in draft.blocks:
        if block.ends < 0:
            raise DraftError(f"block {block.name!r:.40} has {block.ends} ends", mend="give 0 or more")
    if draft.blocks and sum(block.ends for block in draft.blocks) != draft.ends:
        raise DraftError("the blocks do not add up to the ends", mend=f"make them {draft.ends} in all")
    for layout, number in ((draft.warp_layout, draft.ends), (draft.weft_layout, draft.picks)):
        for sizes in (layout.spacing_cm, layout.thickness_cm):
            if sizes and len(sizes) != number:
                raise DraftError(f"{len(sizes)} thread sizes for {number} threads")
            if not all(0 <= size <= MOST_THREAD_CM for size in sizes):
                raise DraftError(
                    "a thread is spaced or thick beyond measure",
                    mend=f"give at most {length_words(MOST_THREAD_CM, Units.METRIC)}",
                )


def _check_laid_in(section: Section, yarns: int) -> None:
    where = f"section {section.name!r:.40}"
    if len({laid.yarn for laid in section.laid_in}) != len(section.laid_in):
        raise DraftError(f"{where} lays one weft in twice", mend="name each once")
    for laid in section.laid_in:
        if not 0 <= laid.yarn < yarns:
            raise DraftError(f"{where} lays in yarn {laid.yarn + 1} of {yarns}")
        if laid.length_cm is not None and not 0 < laid.length_cm <= MOST_THREAD_CM:
            most = length_words(MOST_THREAD_CM, Units.METRIC)
            each = length_words(laid.length_cm, Units.METRIC)
            raise DraftError(f"{where} lays in lengths of {each}", mend=f"give above 0, to {most}")


def _check_lifting(draft: Draft) -> None:
    every = every_shaft(draft.shafts)
    if isinstance(draft.lifting, Lifted):
        per_pick, ties = len(draft.lifting.plan), draft.lifting.plan
    else:
        per_pick, ties = len(draft.lifting.treadling), draft.lifting.tieup
        all_treadles = treadle_set(range(1, len(draft.lifting.tieup) + 1))
        for pick, pressed in enumerate(draft.lifting.treadling, 1):
            if not within(pressed, all_treadles):
                raise DraftError(f"pick {pick} uses a treadle that the tie-up does not have")
    if per_pick != draft.picks:
        raise DraftError(f"{per_pick} picks are treadled but {draft.picks} have a weft")
    if any(not within(tie, every) for tie in ties):
        raise DraftError(f"a tie names a shaft beyond the {draft.shafts} of the draft")
