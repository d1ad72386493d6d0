"""The warp on the loom: its loom's profile, the pieces it carries in order, and what was wound. Values only.

A piece is made once, from a draft and an answer of the remap room, and then does not change: a journal refers to its
picks by index. Where a draft is edited, a new warp is made.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import accumulate

from companion.draft.facing import Side
from companion.draft.laying_in import Weft, laid_in_at, only_laid_in, weft_at
from companion.draft.masks import Shed, union, without
from companion.draft.model import MOST_SHAFTS, MOST_YARNS, Draft, LaidIn, Section
from companion.draft.units import Amount
from companion.remap.loom.feet_wish import FeetWish
from companion.remap.loom.loom import Action, Footing, Loom, TieUp
from companion.remap.loom.question import counted_cords
from companion.weaving.bounds import (
    LONGEST_CM,
    MOST_PICKS_PER_CM,
    MOST_PIECES,
    MOST_TEX,
    check_density,
    check_length,
    check_width,
)
from companion.weaving.errors import WeavingError
from companion.weaving.tied import check_heddles, check_loom, check_stages, check_ties, check_treadles

NO_NAME = "loom"
"""What the loom of a warp is called that was made without a profile; no profile is called so."""


@dataclass(frozen=True, slots=True)
class LoomProfile:
    """A loom that a weaver owns: `present` is the tie-up now on it, where known.

    `weaving_width_cm` is the widest warp that it takes, `loom_waste_cm` the length of warp at both ends that no cloth
    comes of. `heddles` are those on each shaft, the first shaft first, where told.
    """

    name: str
    loom: Loom
    present: TieUp | None = None
    weaving_width_cm: float | None = None
    loom_waste_cm: float = 0.0
    heddles: tuple[int, ...] = ()

    def wishing(self, weaver: FeetWish) -> LoomProfile:
        """Return the loom with the weaver's wish for the feet where it leaves one open."""
        return replace(self, loom=replace(self.loom, wish=self.loom.wish.or_else(weaver)))


@dataclass(frozen=True, slots=True)
class Stage:
    """The picks `first` to `last` (indices, both woven) that are woven on one tie-up."""

    first: int
    last: int
    tieup: TieUp


@dataclass(frozen=True, slots=True)
class Winding:
    """What was put on the loom: warp length, and how it will shrink.

    `take_up` is the share of the warp's length that bending over and under the weft uses (0.1 is a tenth),
    `shrinkage` the share of the woven length lost off the loom and in the wash. The weaver estimates both.
    Raises WeavingError for a length or a share that cannot be.
    """

    length_cm: float
    take_up: float = 0.0
    shrinkage: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.length_cm <= LONGEST_CM:
            raise WeavingError("a warp of ", Amount(self.length_cm), "; give the length that was wound")
        for what, share in (("take-up", self.take_up), ("shrinkage", self.shrinkage)):
            if not 0 <= share < 1:
                raise WeavingError(f"a {what} of {share:g}; give a share from 0 to below 1, such as 0.1 for a tenth")


@dataclass(frozen=True, slots=True)
class YarnSize:
    """How thick the yarn of this name is: `tex` grams per kilometre; `words` as the weaver said it, `16/2 cotton`.

    Raises WeavingError for a yarn that weighs nothing.
    """

    yarn: str
    tex: float
    words: str = ""

    def __post_init__(self) -> None:
        if not 0 < self.tex <= MOST_TEX:
            raise WeavingError(f"yarn {self.yarn!r} of {self.tex:g} tex; give a number above 0, to {MOST_TEX:g}")


@dataclass(frozen=True, slots=True)
class Piece:
    """One length of cloth: `footings[pick]` opens the shed of that pick on the tie-up of its stage.

    `face_down`: the cloth is woven with its face below, so every shed is the complement of the draft's.
    `picks_per_cm` is what the weaver plans; `start_side` is where shuttles lie before their first pick
    here, but those (yarns, as indices) that `begin_across` lie on the other side.
    `length_cm` is the planned woven length on the loom; `fringe_cm` is unwoven warp kept with the piece, both ends
    together; `spacer_cm` is warp between this piece and the next, unwoven or woven with waste weft, that is cut away.
    A loom of levers has no treadles: no footings and no stages.
    Raises WeavingError when the parts do not fit together.
    """

    name: str
    draft: Draft
    stages: tuple[Stage, ...] = ()
    footings: tuple[Footing, ...] = field(default=(), repr=False)
    face_down: bool = False
    picks_per_cm: float | None = None
    start_side: Side = Side.RIGHT
    length_cm: float | None = None
    fringe_cm: float = 0.0
    spacer_cm: float = 0.0
    begin_across: tuple[int, ...] = ()
    sheds: tuple[Shed, ...] = field(init=False, repr=False, compare=False)
    """The shafts with ends that are up for each pick as it is woven, face up or face down; worked out when made."""
    sections: tuple[Section, ...] = field(init=False, repr=False, compare=False)
    """The sections that cover the picks; a draft that names none is one section."""
    section_ends: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """For each section the index of the pick after its last one."""
    shuttles: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """The yarns (indices) of the weft, in order of first use: one shuttle each."""
    laid_in: Mapping[int, LaidIn] = field(init=False, repr=False, compare=False)
    """For each pick (index) whose weft no shuttle carries what is laid in there; empty for most pieces."""
    hand_laid: frozenset[int] = field(init=False, repr=False, compare=False)
    """The yarns (indices) of the weft that no shuttle carries at any pick."""
    _picks_of: Mapping[Weft, tuple[int, ...]] = field(init=False, repr=False, compare=False)
    """For each weft the picks (indices) that it weaves, in order."""

    def __post_init__(self) -> None:
        sheds = self.draft.sheds_of_ends()
        if self.face_down:
            carrying = self.draft.threaded_shafts()
            sheds = tuple(without(carrying, shed) for shed in sheds)
        sections = self.draft.sections or (Section(self.name, self.draft.picks),)
        # Worked out once: each is asked for at every pick, and a frozen value is only set this way.
        object.__setattr__(self, "sheds", sheds)
        object.__setattr__(self, "sections", sections)
        object.__setattr__(self, "section_ends", tuple(accumulate(section.picks for section in sections)))
        laid_in = laid_in_at(self.draft)
        picks_of: dict[Weft, list[int]] = {}
        for pick in range(self.draft.picks):
            picks_of.setdefault(weft_at(self.draft, laid_in, pick), []).append(pick)
        object.__setattr__(self, "laid_in", laid_in)
        object.__setattr__(self, "hand_laid", only_laid_in(self.draft, laid_in))
        object.__setattr__(self, "shuttles", self.draft.shuttles())
        object.__setattr__(self, "_picks_of", {weft: tuple(picks) for weft, picks in picks_of.items()})
        _check_piece(self)

    def start_of(self, yarn: int) -> Side:
        """Return where the shuttle of this yarn (index) lies before its first pick."""
        return self.start_side.opposite if yarn in self.begin_across else self.start_side

    @property
    def picks(self) -> int:
        """How many picks the treadling lists."""
        return self.draft.picks

    def section_at(self, pick: int) -> int:
        """Return the index of the section that this pick belongs to; the last one for the place after the last pick."""
        return min(bisect_right(self.section_ends, pick), len(self.sections) - 1)

    def section_picks(self, section: int) -> range:
        """Return the indices of the picks of a section: `range(0, 8)` for a first section of 8 picks."""
        end = self.section_ends[section]
        return range(end - self.sections[section].picks, end)

    def weft_picks(self, picks: range) -> Counter[Weft]:
        """Return how many of these picks (indices) each weft weaves; long treadlings take no longer."""
        count: Counter[Weft] = Counter()
        for weft, its_picks in self._picks_of.items():
            if number := bisect_left(its_picks, picks.stop) - bisect_left(its_picks, picks.start):
                count[weft] = number
        return count

    def next_use(self, yarn: int, pick: int) -> int | None:
        """Return the first pick (index) from `pick` on that is listed with this yarn (index); None without one."""
        later = []
        for weft, its_picks in self._picks_of.items():
            at = bisect_left(its_picks, pick)
            if weft.yarn == yarn and at < len(its_picks):
                later.append(its_picks[at])
        return min(later, default=None)

    def planned_picks_per_cm(self) -> float | None:
        """Return the planned picks per cm: as set, else from the draft's weft spacing, else None."""
        if self.picks_per_cm is not None:
            return self.picks_per_cm
        return self.drafted_picks_per_cm()

    def drafted_picks_per_cm(self) -> float | None:
        """Return the picks per cm that the draft's weft spacing makes; None where it states none that can be."""
        spacing = self.draft.weft_layout.spacing_cm
        total = sum(spacing)
        return len(spacing) / total if total * MOST_PICKS_PER_CM > len(spacing) else None

    def stage_at(self, pick: int) -> int | None:
        """Return the index of the stage that weaves this pick; None on a lever loom."""
        for index, stage in enumerate(self.stages):
            if stage.first <= pick <= stage.last:
                return index
        return None


@dataclass(frozen=True, slots=True)
class Warp:
    """One threading on one loom and the pieces woven on it, in order; `width_cm` is its width in the reed, where known.

    Raises WeavingError when the pieces do not share the threading, or ask for more than the loom has.
    """

    name: str
    loom: LoomProfile
    pieces: tuple[Piece, ...]
    winding: Winding | None = None
    sizes: tuple[YarnSize, ...] = ()
    width_cm: float | None = None

    def __post_init__(self) -> None:
        _check_warp(self)

    def cord_shafts(self) -> Shed:
        """Return the shafts whose cords matter to this warp, those that its own tie-ups name among them."""
        ties = [tie for piece in self.pieces for stage in piece.stages for tie in stage.tieup]
        named = (shed for tie in ties for shed in (tie.up, tie.down))
        return union((counted_cords(self.pieces[0].draft, self.loom.loom.action, self.loom.present), *named))


def _check_piece(piece: Piece) -> None:
    where = f"piece {piece.name!r}"
    if len(piece.footings) not in (0, piece.picks):
        raise WeavingError(f"{where}: {len(piece.footings)} footings for {piece.picks} picks; give one per pick")
    check_stages(where, [(stage.first, stage.last) for stage in piece.stages], piece.picks)
    check_density(where, piece.picks_per_cm)
    if not all(0 <= yarn < len(piece.draft.yarns) for yarn in piece.begin_across):
        raise WeavingError(f"{where}: a shuttle begins across that the draft has no yarn for")
    check_length(where, "length", piece.length_cm)
    check_length(where, "fringe", piece.fringe_cm, from_zero=True)
    check_length(where, "spacer", piece.spacer_cm, from_zero=True)
    for section in piece.draft.sections:
        check_length(f"{where}: section {section.name!r}", "length", section.until_cm)
        if section.until_cm is not None and section.picks == 0:
            raise WeavingError(f"{where}: section {section.name!r} is woven to a length but has no picks to repeat")


def _check_warp(warp: Warp) -> None:
    if not 1 <= len(warp.pieces) <= MOST_PIECES:
        few = f"warp {warp.name!r} has no piece; give it at least one draft"
        raise WeavingError(f"{len(warp.pieces)} pieces on a warp; give at most {MOST_PIECES}" if warp.pieces else few)
    if len(warp.sizes) > MOST_YARNS:
        raise WeavingError(f"warp {warp.name!r} tells the size of {len(warp.sizes)} yarns; give at most {MOST_YARNS}")
    _check_profile(warp.loom)
    check_width(f"warp {warp.name!r}", warp.width_cm, warp.loom.weaving_width_cm, warp.loom.name)
    loom = warp.loom.loom
    first = warp.pieces[0]
    for piece in warp.pieces:
        where = f"piece {piece.name!r}"
        if piece.draft.threading != first.draft.threading:
            raise WeavingError(f"{where} is threaded differently from {first.name!r}; make another warp of it")
        if piece.draft.shafts_needed > loom.shafts:
            raise WeavingError(
                f"{where} needs {piece.draft.shafts_needed} shafts; loom {warp.loom.name!r} has {loom.shafts}"
            )
        if loom.action is not Action.LEVERS and piece.picks and not (piece.footings and piece.stages):
            raise WeavingError(f"{where} has no footings; a loom with treadles needs a tie-up and one footing per pick")
        for stage in piece.stages:
            if len(stage.tieup) > loom.treadles:
                raise WeavingError(
                    f"{where} ties {len(stage.tieup)} treadles; loom {warp.loom.name!r} has {loom.treadles}"
                )
            check_ties(where, stage.tieup, loom.shafts)
            if piece.footings:
                check_treadles(where, stage.tieup, piece.footings[stage.first : stage.last + 1])


def _check_profile(profile: LoomProfile) -> None:
    loom, where = profile.loom, f"loom {profile.name!r}"
    check_loom(where, loom)
    check_length(where, "width", profile.weaving_width_cm)
    check_length(where, "waste", profile.loom_waste_cm, from_zero=True)
    check_heddles(where, profile.heddles, loom.shafts)
    if profile.present is not None:
        if len(profile.present) > max(loom.treadles, 1):
            raise WeavingError(f"{where} is tied at {len(profile.present)} treadles and has {loom.treadles}")
        # Cords to shafts that are out of use may hang there still.
        check_ties(where, profile.present, MOST_SHAFTS)
