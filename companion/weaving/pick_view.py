"""One pick as the weaver needs it: feet, shed, shuttle and side, and where in the piece it stands. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

from companion.draft.facing import Side
from companion.draft.masks import Shed
from companion.draft.model import LaidIn
from companion.remap.loom.loom import Footing, TieUp
from companion.weaving.progress import Progress
from companion.weaving.state import (
    State,
    following,
    laps_begun,
    laps_needed,
    lying_newest,
    picks_per_cm,
    re_tie_due,
    side_of,
    with_next_woven,
)
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class PickView:
    """One pick, to be shown. Indices and counts from 0; `total` picks are listed in the piece.

    `lap` counts the repeats of a section that is woven to a length (0 in others), of `laps` that will reach it as
    things stand (None in others, or where the picks per cm are unknown). `comes_from` is the side from which the
    shuttle is thrown, where that is known (`side_known`). `changes`: another shuttle than the pick below it in the
    cloth; `far`: it changes, and the new one lies on the other side than the shuttle just thrown. `laid_in`: no shuttle
    carries this weft, it comes from no side. `re_tie` is the stage to be tied before this pick, `tieup` that of its
    stage; `footing` is None on a lever loom.
    """

    piece: int
    piece_name: str
    pick: int
    total: int
    section: int
    sections: int
    section_name: str
    pick_in_section: int
    section_picks: int
    until_cm: float | None
    section_cm: float | None
    lap: int
    laps: int | None
    shed: Shed
    footing: Footing | None
    stage: int | None
    tieup: TieUp | None
    re_tie: int | None
    yarn: int
    shuttle: str
    comes_from: Side
    changes: bool
    far: bool
    side_known: bool = True
    laid_in: LaidIn | None = None


@dataclass(frozen=True, slots=True)
class FellRow:
    """A pick that lies in the cloth: its index, its weft yarn (index), its shed, the side it left to, where known.

    `laid_in`: it left to no side.
    """

    pick: int
    yarn: int
    shed: Shed
    went_to: Side
    side_known: bool = True
    laid_in: bool = False

    @property
    def came_from(self) -> Side | None:
        """The side from which its shuttle was thrown; None where that is not known, or none was."""
        return self.went_to.opposite if self.side_known else None


def this_pick(warp: Warp, progress: Progress) -> PickView | None:
    """Return the pick to weave now; None after the last one or when the piece is finished."""
    state = progress.now
    piece = warp.pieces[state.piece]
    if state.finished or state.next_pick >= piece.picks:
        return None
    newest = state.cloth.newest
    yarn_below = None if newest is None else piece.draft.weft[newest]
    lies = {yarn: side_of(piece, state, yarn) for yarn in piece.shuttles}
    return _view(warp, state, state.next_pick, re_tie_due(warp, state), yarn_below, lies)


def next_pick(warp: Warp, progress: Progress) -> PickView | None:
    """Return the pick after this one, as it will be when this one is woven; None where there is none."""
    state = progress.now
    piece = warp.pieces[state.piece]
    if state.finished or state.next_pick >= piece.picks:
        return None
    pick = state.next_pick
    after = state._replace(cloth=with_next_woven(state), anew=False)
    following_pick = following(piece, state, after.cloth, pick)
    if following_pick >= piece.picks:
        return None
    yarn = piece.draft.weft[pick]
    lies = {other: side_of(piece, state, other) for other in piece.shuttles}
    if pick not in piece.laid_in:
        lies[yarn] = lies[yarn].opposite
    stage, stage_after = piece.stage_at(pick), piece.stage_at(following_pick)
    re_tie = None
    if stage is not None and stage_after is not None and piece.stages[stage].tieup != piece.stages[stage_after].tieup:
        re_tie = stage_after
    return _view(warp, after, following_pick, re_tie, yarn, lies)


def rows_at_fell(warp: Warp, progress: Progress, rows: int) -> tuple[FellRow, ...]:
    """Return the newest `rows` picks in the cloth of this piece, newest first; fewer where fewer are woven."""
    state = progress.now
    piece = warp.pieces[state.piece]
    sides = {yarn: side_of(piece, state, yarn) for yarn in piece.shuttles}
    found = []
    for pick in islice(state.cloth.newest_first(), rows):
        yarn = piece.draft.weft[pick]
        laid_in = pick in piece.laid_in
        known = state.shuttles[yarn].side_known and not laid_in
        found.append(FellRow(pick, yarn, piece.sheds[pick], sides[yarn], known, laid_in))
        if not laid_in:
            sides[yarn] = sides[yarn].opposite
    return tuple(found)


def _view(
    warp: Warp, state: State, pick: int, re_tie: int | None, yarn_below: int | None, lies: dict[int, Side]
) -> PickView:
    piece = warp.pieces[state.piece]
    section = piece.section_at(pick)
    picks = piece.section_picks(section)
    until_cm = piece.sections[section].until_cm
    woven_here = lying_newest(state, picks)
    density = picks_per_cm(piece, state)
    stage = piece.stage_at(pick)
    yarn = piece.draft.weft[pick]
    thrown, below = pick not in piece.laid_in, state.cloth.newest
    changes = yarn_below is not None and yarn_below != yarn
    return PickView(
        piece=state.piece,
        piece_name=piece.name,
        pick=pick,
        total=piece.picks,
        section=section,
        sections=len(piece.sections),
        section_name=piece.sections[section].name,
        pick_in_section=pick - picks.start,
        section_picks=len(picks),
        until_cm=until_cm,
        section_cm=woven_here / density if density else None,
        lap=laps_begun(state, picks, pick) if until_cm is not None else 0,
        laps=laps_needed(until_cm, density, len(picks)),
        shed=piece.sheds[pick],
        footing=piece.footings[pick] if piece.footings else None,
        stage=stage,
        tieup=None if stage is None else piece.stages[stage].tieup,
        re_tie=re_tie,
        yarn=yarn,
        shuttle=piece.draft.yarns[yarn].name,
        comes_from=lies[yarn],
        changes=changes,
        far=changes
        and thrown
        and yarn_below is not None
        and below not in piece.laid_in
        and lies[yarn_below] is not lies[yarn]
        and state.shuttles[yarn].side_known
        and state.shuttles[yarn_below].side_known,
        side_known=state.shuttles[yarn].side_known and thrown,
        laid_in=piece.laid_in.get(pick),
    )
