"""The facts of a warp's record, from its journal alone: the plan stands in the warp, what was done in the entries.

A sheet holds values; `page` makes a printed page of it, `tables` rows and a JSON document.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from companion.draft.masks import Shed
from companion.record.dressing_told import DressingTold, dressing_told
from companion.remap.loom.loom import Footing, TieUp
from companion.weaving.amounts import WarpLeft, warp_left
from companion.weaving.dressing import as_sleyed
from companion.weaving.events import BobbinChanged, Entry
from companion.weaving.faults import FaultCount, count_faults
from companion.weaving.forecast import Forecast, forecast
from companion.weaving.history import History, PieceTold, history
from companion.weaving.progress import Progress
from companion.weaving.warp import Piece, Warp
from companion.weaving.yarn_needs import WeftNeed, YarnTotal, in_all, weft_to_come


@dataclass(frozen=True, slots=True)
class FootingRow:
    """A shed of a stage: the feet that open it (None with levers), and how many picks lie in the cloth from it."""

    stage: int | None
    shed: Shed
    footing: Footing | None
    picks: int


@dataclass(frozen=True, slots=True)
class SectionRow:
    """A section: picks listed, the length it is woven to, and picks that lie in the cloth from it."""

    name: str
    listed: int
    until_cm: float | None
    lying: int


@dataclass(frozen=True, slots=True)
class ShuttleRow:
    """A shuttle: picks that lie in the cloth from it, and bobbins put in while this piece was on."""

    yarn: int
    name: str
    picks: int
    bobbins: int


@dataclass(frozen=True, slots=True)
class PieceSheet:
    """A piece that was begun. `lying` are the picks in its cloth, oldest first; `tieups` those of its stages."""

    index: int
    piece: Piece
    told: PieceTold
    lying: tuple[int, ...]
    tieups: tuple[TieUp, ...]
    footings: tuple[FootingRow, ...]
    sections: tuple[SectionRow, ...]
    shuttles: tuple[ShuttleRow, ...]


@dataclass(frozen=True, slots=True)
class Ahead:
    """What is still to come on the loom, as things stand at the last entry; each None where nothing tells it.

    `time` and `weft` are of the piece on the loom, `later` is the weft of each piece (index) after it as planned,
    `in_all` all of this weft together.
    """

    warp: WarpLeft | None
    weft: tuple[WeftNeed, ...]
    time: Forecast | None
    later: tuple[tuple[int, tuple[WeftNeed, ...]], ...]
    in_all: tuple[YarnTotal, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole record. `began_ms` and `ended_ms` are Unix times of the first and the last entry, None without any."""

    warp: Warp
    told: History
    faults: FaultCount
    pieces: tuple[PieceSheet, ...]
    ahead: Ahead
    dressing: DressingTold
    began_ms: int | None
    ended_ms: int | None


def sheet(warp: Warp, entries: Iterable[Entry]) -> Sheet:
    """Return the record of a warp after these entries, from the first one on; raises ContradictionError."""
    told = history(warp, entries)
    state = told.progress.now
    # What is drawn and handed on lies in the dents that the weaver planned.
    warp = as_sleyed(warp, state.dressing)
    return Sheet(
        warp=warp,
        told=told,
        faults=count_faults(warp, told),
        pieces=tuple(_piece(warp, index, told) for index in range(len(told.pieces))),
        ahead=_ahead(warp, told.progress),
        dressing=dressing_told(warp, told),
        began_ms=state.began_ms,
        ended_ms=state.at_ms if state.number else None,
    )


def _ahead(warp: Warp, progress: Progress) -> Ahead:
    on_loom = progress.now.piece
    weft = weft_to_come(warp, progress)
    return Ahead(
        warp=warp_left(warp, progress),
        weft=weft[on_loom],
        time=forecast(warp, progress),
        later=tuple(enumerate(weft))[on_loom + 1 :],
        in_all=in_all(need for needs in weft for need in needs),
    )


def _piece(warp: Warp, index: int, told: History) -> PieceSheet:
    piece = warp.pieces[index]
    lying = tuple(told.pieces[index].cloth.newest_first())[::-1]
    bobbins = Counter(
        happened.entry.event.yarn
        for happened in told.happened
        if happened.piece == index and not happened.undone and isinstance(happened.entry.event, BobbinChanged)
    )
    by_section = Counter(piece.section_at(pick) for pick in lying)
    by_yarn = Counter(piece.draft.weft[pick] for pick in lying)
    return PieceSheet(
        index=index,
        piece=piece,
        told=told.pieces[index],
        lying=lying,
        tieups=tuple(stage.tieup for stage in piece.stages),
        footings=_footings(piece, lying),
        sections=tuple(
            SectionRow(section.name, section.picks, section.until_cm, by_section[number])
            for number, section in enumerate(piece.sections)
        ),
        shuttles=tuple(
            ShuttleRow(yarn, piece.draft.yarns[yarn].name, by_yarn[yarn], bobbins[yarn])
            for yarn in piece.draft.shuttles()
        ),
    )


def _footings(piece: Piece, lying: tuple[int, ...]) -> tuple[FootingRow, ...]:
    """Return each shed once per stage and footing, in the order of the treadling."""
    lies = Counter(lying)
    rows: dict[tuple[int | None, Shed, Footing | None], int] = {}
    for pick in range(piece.picks):
        key = (piece.stage_at(pick), piece.sheds[pick], piece.footings[pick] if piece.footings else None)
        rows[key] = rows.get(key, 0) + lies[pick]
    return tuple(FootingRow(stage, shed, footing, picks) for (stage, shed, footing), picks in rows.items())
