"""The treadling of a piece in order, section by section, as it is pressed: by feet on a loom's own treadles.

With a loom the piece is read as a draft that has every treadle twice, once for each foot, so that a pick says both the
treadle and the foot: `L1` is the left foot on treadle 1, `R5` the right foot on treadle 5, `L1+R5` both.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from companion.draft.chant import SayMoves, chant, chant_tabby
from companion.draft.masks import TreadleSet, bits_of, treadle_set
from companion.draft.model import Draft, Layout, Lifted, Section, Treadled
from companion.draft.treadling import read_treadling
from companion.draft.units import Units, length_words, numbered
from companion.present.laid_in_words import section_laid_in_words
from companion.record.notation import BY_FEET, BY_SHAFTS, BY_TREADLES, how_to_read
from companion.remap.loom.loom import Action, Footing, Loom, TieUp
from companion.weaving.warp import Piece, Warp

DIVIDER = "Divider"
"""What a block or a section without a name is called between others that have names."""


@dataclass(frozen=True, slots=True)
class Passage:
    """A stretch of threads in words, and its heading."""

    heading: str
    text: str


def passages(warp: Warp, piece: Piece, on_loom: bool, units: Units) -> tuple[str, tuple[Passage, ...]]:
    """Return how the treadling is to be read, and all of it in order.

    `on_loom`: in the treadles and feet (or levers) of the warp's loom, otherwise as the draft is written.
    """
    if not piece.draft.picks:
        return "No picks are written: what is woven on this threading is yours.", ()
    if not on_loom:
        key = BY_TREADLES if isinstance(piece.draft.lifting, Treadled) else BY_SHAFTS
        told = tuple(passage for passage, _last in _told(piece.draft, 0, units, None))
    elif warp.loom.loom.action is Action.LEVERS:
        key, lifted = BY_SHAFTS, replace(piece.draft, lifting=Lifted(piece.sheds), rising=True)
        told = tuple(passage for passage, _last in _told(lifted, 0, units, None))
    else:
        stages = [
            TroddenStage(stage.first, stage.tieup, piece.footings[stage.first : stage.last + 1])
            for stage in piece.stages
        ]
        key, told = BY_FEET, tuple(passages_by_feet(piece.draft, warp.loom.loom, stages, units))
    return how_to_read(key, (passage.text for passage in told)), told


@dataclass(frozen=True, slots=True)
class TroddenStage:
    """Picks from `first` (index) on, on one tie-up, with the footing of each."""

    first: int
    tieup: TieUp
    footings: tuple[Footing, ...]


@dataclass(frozen=True, slots=True)
class _Round:
    """Picks `first` to `last` (indices) of a section woven to a length, tied anew in the midst of each round."""

    name: str
    first: int
    last: int
    until_cm: float

    def words(self, units: Units) -> Passage:
        """Return what to do at its end."""
        back = f"{self.name}: from pick {self.last + 1} back to pick {self.first + 1}, re-tied for each stage"
        return Passage(f"{back}, until {length_words(self.until_cm, units)} are woven", "")


def passages_by_feet(draft: Draft, loom: Loom, stages: Sequence[TroddenStage], units: Units) -> Iterator[Passage]:
    """Yield the treadling of a draft on a loom with treadles, stage by stage and section by section.

    A section woven to a length begins anew with its first pick, so where its round takes several stages each part of
    it is woven once a round.
    """
    rounds = {one.last: one for one in _rounds(draft, stages)}
    for number, stage in enumerate(stages, 1):
        if len(stages) > 1:
            picks = numbered("pick", stage.first, stage.first + len(stage.footings) - 1)
            yield Passage(f"STAGE {number}: {picks}, on tie-up {number}", "")
        by_feet = _by_feet(draft, loom, stage)
        for passage, last in _told(by_feet, stage.first, units, partial(_feet, len(stage.tieup))):
            yield passage
            if last in rounds:
                yield rounds[last].words(units)


def _told(draft: Draft, before: int, units: Units, say: SayMoves | None) -> Iterator[tuple[Passage, int]]:
    """Yield the sections of a draft that has so many picks before it, each with its last pick (index)."""
    first = before
    parted = any(section.name.strip() for section in draft.sections)
    for one in read_treadling(draft).sections:
        section = one.section
        if not section.picks:
            continue
        where = numbered("pick", first, first + section.picks - 1)
        until = ""
        if section.until_cm is not None:
            until = f", again and again until {length_words(section.until_cm, units)}"
        if laid := section_laid_in_words(section, draft.yarns, units):
            until += f"; {laid}"
        words = " ".join(
            # Bracketed as in shorthand: the tabby belongs to these picks and to none before them.
            f"({picks}) with tabby" if stretch.with_tabby else picks
            for stretch in one.stretches
            for picks in (chant(stretch.reading, draft.yarns, say),)
        )
        if one.tabby is not None:
            words += f". Tabby after each such pick, by turns: {chant_tabby(one.tabby, draft.yarns, say)}"
        named = section.name or (DIVIDER if parted else "Treadling")
        first += section.picks
        yield Passage(f"{named}: {where}{until}", words), first - 1


def _by_feet(draft: Draft, loom: Loom, stage: TroddenStage) -> Draft:
    """Return the picks of a stage as a draft with every treadle twice: for the left foot, then for the right."""
    sinking = loom.action is Action.SINKING
    picks = slice(stage.first, stage.first + len(stage.footings))
    ties = tuple(tie.down if sinking else tie.up for tie in stage.tieup)
    return replace(
        draft,
        shafts=max(draft.shafts, loom.shafts),
        lifting=Treadled((*ties, *ties), tuple(_both_feet(footing, len(ties)) for footing in stage.footings)),
        rising=not sinking,
        weft=draft.weft[picks],
        weft_layout=Layout(),
        sections=tuple(_sections_in(draft, picks)),
    )


def _sections_in(draft: Draft, picks: slice) -> Iterator[Section]:
    """Yield what lies of each section in these picks; a part of one that is woven to a length is woven once a round."""
    begin = 0
    for section in draft.sections:
        inside = min(begin + section.picks, picks.stop) - max(begin, picks.start)
        if inside > 0:
            yield replace(section, picks=inside, until_cm=section.until_cm if inside == section.picks else None)
        begin += section.picks


def _rounds(draft: Draft, stages: Sequence[TroddenStage]) -> Iterator[_Round]:
    """Yield the sections woven to a length whose picks lie on more than one tie-up."""
    begin = 0
    for section in draft.sections:
        last = begin + section.picks - 1
        if section.until_cm is not None and any(begin < stage.first <= last for stage in stages):
            yield _Round(section.name, begin, last, section.until_cm)
        begin += section.picks


def _both_feet(footing: Footing, treadles: int) -> TreadleSet:
    return treadle_set([*(one + 1 for one in footing.left), *(treadles + one + 1 for one in footing.right)])


def _feet(treadles: int, moved: Sequence[int]) -> Iterable[str]:
    for pressed in moved:
        yield (
            "+".join(f"L{one + 1}" if one < treadles else f"R{one - treadles + 1}" for one in bits_of(pressed))
            or "none"
        )
