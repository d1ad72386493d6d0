"""The weave screen's contents, ready to show: words, colours and pictures of this pick, and nothing to decide."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from companion.draft.facing import Side
from companion.draft.masks import print_shed
from companion.draft.model import Colour
from companion.draft.treadling import TreadlingReading
from companion.draft.units import Units
from companion.present import wording
from companion.present.between_pieces import carry_words, leave_after, short_of_plan
from companion.present.shed import HarnessSigns, shed_signs
from companion.present.weave_words import (
    Wordings,
    ahead_wordings,
    amounts_wordings,
    between_wordings,
    bobbin_wordings,
    cue_wordings,
    following_wordings,
    over_under_wordings,
    piece_wordings,
    place_wordings,
    warning_wordings,
)
from companion.remap.loom.loom import Footing
from companion.weaving.pick_view import PickView, next_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import Piece, Warp


class WeaveButton(Enum):
    """The buttons at the foot of the weave screen."""

    BACK = "Take out"
    FAULT = "Fault"
    NOTE = "Note"
    MEASURE = "Length"
    FIND = "Find"
    UNDO = "Undo"
    TURN = "Turn"
    PAUSE = "Pause"


class WeavePart(Enum):
    """What of the weave screen is touched for itself."""

    PLACE = "where in the piece"
    SHUTTLE = "the shuttle and its bobbin"
    TREADLES = "the treadles and their ties"
    CLOTH = "the cloth at the fell"


@dataclass(frozen=True, slots=True)
class WeaveSigns:
    """Everything that the weave screen says at one pick. Colours are parts in 0..1; shares add up to 1.

    `side_asked`: nobody knows where the shuttle lies, so that the weaver may touch the boat where she sees it.
    `laid_in`: no shuttle carries this weft. `following_yarn` is the colour of the one after it, where that is another;
    it lies at the right where it is known to come `following_from_right`.
    `ties_first`: the cue is to tie treadles, which comes before this pick.
    `levers` are the shafts to raise where the loom has no treadles; then no foot does anything. What may be long is
    said in several wordings, the fullest first.
    """

    place: Wordings
    count: str
    section_shares: tuple[float, ...]
    done_share: float
    shuttle: str
    shuttle_colour: tuple[float, float, float]
    from_left: bool
    from_right: bool
    harness: HarnessSigns
    left_foot: str
    right_foot: str
    following: Wordings
    cue: Wordings
    ahead: Wordings = ("",)
    bobbin: Wordings = ("",)
    amounts: Wordings = ("",)
    warning: Wordings = ("",)
    ties_first: bool = False
    left_letter: str = wording.LEFT_LETTER
    right_letter: str = wording.RIGHT_LETTER
    levers: str = ""
    side_asked: bool = False
    laid_in: bool = False
    following_yarn: Colour | None = None
    following_from_right: bool = False

    @property
    def boat_left(self) -> bool:
        """Whether the weft is drawn on the left: it comes from there, nobody knows from where, or from no side."""
        return self.from_left or self.side_asked or self.laid_in

    @property
    def boat_right(self) -> bool:
        """Whether the shuttle is drawn on the right."""
        return self.from_right or self.side_asked


def weave_signs(
    warp: Warp,
    progress: Progress,
    view: PickView | None,
    units: Units,
    reading: TreadlingReading | None = None,
    over_under: bool = False,
) -> WeaveSigns:
    """Return what the weave screen shows now: the pick to weave, `view`, or that the piece is at its end.

    `reading` is the treadling of the piece on the loom read as repeats, where it is known yet. `over_under`: the weaver
    wants to be told how the shuttle passes floating selvedges; that stands in the place of what is on the bobbin.
    """
    piece = warp.pieces[progress.now.piece]
    if view is None:
        return _at_the_end(warp, progress, piece, units)
    footing, following = view.footing or Footing(), next_pick(warp, progress)
    return WeaveSigns(
        place=place_wordings(view, units, None if reading is None else reading.place(view.pick), len(warp.pieces)),
        count=wording.count_words(view),
        section_shares=_section_shares(piece),
        done_share=view.pick / view.total,
        shuttle=view.shuttle if view.laid_in is None else f"{wording.LAY_IN} {view.shuttle}",
        shuttle_colour=_colour(piece, view.yarn),
        from_left=view.comes_from is Side.LEFT and view.side_known,
        from_right=view.comes_from is Side.RIGHT and view.side_known,
        harness=shed_signs(warp, piece, view.tieup or (), footing, view.shed),
        left_foot=wording.treadle_words(footing.left),
        right_foot=wording.treadle_words(footing.right),
        following=following_wordings(following),
        cue=cue_wordings(view, progress.now.paused and progress.now.cloth.picks > 0),
        ahead=ahead_wordings(piece, view.pick),
        bobbin=_at_the_shuttle(warp, progress, view, units, over_under),
        amounts=amounts_wordings(warp, progress, units),
        warning=warning_wordings(warp, progress, view),
        ties_first=view.re_tie is not None,
        levers=print_shed(view.shed) if view.footing is None else "",
        side_asked=not view.side_known and view.laid_in is None,
        laid_in=view.laid_in is not None,
        following_yarn=_other_yarn(piece, view, following),
        following_from_right=following is not None and following.side_known and following.comes_from is Side.RIGHT,
    )


def _at_the_shuttle(warp: Warp, progress: Progress, view: PickView, units: Units, over_under: bool) -> Wordings:
    passing = over_under_wordings(view) if over_under else ("",)
    return passing if passing[0] else bobbin_wordings(warp, progress, view, units)


def _at_the_end(warp: Warp, progress: Progress, piece: Piece, units: Units) -> WeaveSigns:
    now = progress.now
    cue: Wordings
    if not now.finished:
        cue = wording.CUE_FINISH
    elif now.piece + 1 < len(warp.pieces):
        cue = wording.CUE_NEXT_PIECE
    else:
        cue = wording.END_OF_WARP
    tieup = piece.stages[-1].tieup if piece.stages else ()
    short = "" if now.finished else short_of_plan(warp, progress, units)
    return WeaveSigns(
        place=piece_wordings(warp, now.piece),
        count=f"{now.cloth.picks} picks",
        section_shares=_section_shares(piece),
        done_share=min(now.next_pick / max(piece.picks, 1), 1.0),
        shuttle="",
        shuttle_colour=(0.0, 0.0, 0.0),
        from_left=False,
        from_right=False,
        harness=shed_signs(warp, piece, tieup, Footing(), None),
        left_foot=wording.RESTING,
        right_foot=wording.RESTING,
        following=between_wordings(leave_after(warp, now.piece, units), carry_words(warp, progress)),
        cue=cue,
        amounts=(short,) if short else amounts_wordings(warp, progress, units),
    )


def _section_shares(piece: Piece) -> tuple[float, ...]:
    return tuple(section.picks / piece.picks for section in piece.sections) if piece.picks else (1.0,)


def _other_yarn(piece: Piece, view: PickView, following: PickView | None) -> Colour | None:
    if following is None or following.yarn == view.yarn:
        return None
    return piece.draft.yarns[following.yarn].colour


def _colour(piece: Piece, yarn: int) -> tuple[float, float, float]:
    red, green, blue = piece.draft.yarns[yarn].colour
    return red / 255, green / 255, blue / 255
