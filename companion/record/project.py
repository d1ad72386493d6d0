"""What a project sheet says, for somebody else to weave from: no diary, only what makes the cloth.

A sheet is of one piece of a warp; a draft that is on no loom yet is reckoned with as a warp all the same. Where a loom
is chosen the treadling is told in that loom's treadles and feet (`treadling_told`), otherwise as the draft writes it.
`project_pages` lays a sheet out on paper.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from companion.draft.masks import count, has_bit
from companion.draft.model import Colour, Draft, Lifted, Treadled
from companion.draft.shorthand_print import print_threading, print_warp
from companion.draft.units import (
    Units,
    counted,
    density_words,
    long_words,
    measured_words,
    measured_yarn_words,
    per_length_words,
    picks_words,
    weight_words,
    yarn_size_words,
)
from companion.present.between_pieces import carry_planned
from companion.present.cautions import TYING_CAUTION
from companion.present.cords import change_words
from companion.present.dressing_counts_words import no_shaft_words
from companion.present.footing_in_words import foot_of_treadles
from companion.present.laid_in_words import lengths_words
from companion.present.loom_kinds import loom_in_full
from companion.present.plan_words import UNTIL_LENGTH
from companion.present.trade_words import AS_WRITTEN, Trade, in_trade_words, names_in
from companion.record.needed import (
    pressed_words,
    shafts_needed,
    spare_for_plain_weave,
    tied_as_needed,
    treadles_needed,
    treadles_pressed,
)
from companion.record.planned import sley_facts
from companion.record.treadling_told import DIVIDER, Passage, passages
from companion.record.wording import loom_name_before
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Action, Tie, TieUp
from companion.weaving.amounts import finished_cm, planned_cm, planned_weft_picks, warp_needed
from companion.weaving.warp import Piece, Warp
from companion.weaving.yarn_needs import warp_yarns, weft_planned

BREAKS_CAUTION = "Pause before you are tired: 5 to 10 minutes in the hour."


@dataclass(frozen=True, slots=True)
class Handout:
    """What the teacher decides of a sheet: the loom's own treadles or the draft's, words of their own, the finishing.

    `wound` tells that the warp's length is one that was wound, not one that is to be. Words are those of the `trade`.
    """

    on_loom: bool = False
    wound: bool = False
    words: tuple[str, ...] = ()
    finishing: tuple[str, ...] = ()
    trade: Trade = AS_WRITTEN


@dataclass(frozen=True, slots=True)
class YarnLine:
    """A yarn: its colour, its name and size, and what warp and weft take of it, in words."""

    colour: Colour
    name: str
    size: str
    amounts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TieUpToDraw:
    """A tie-up on so many shafts, and its heading; `legend` says what a square means.

    `left` and `right` are the treadles (indices) of either foot, where that is known.
    """

    title: str
    tieup: TieUp
    shafts: int
    legend: str
    left: frozenset[int] = frozenset()
    right: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class ProjectSheet:
    """A sheet in the order in which it is read; `facts` are labels and what belongs to them.

    `drawn` is the draft as it stands in quarters: with the loom's own treadles where all of it is woven on one tie-up.
    """

    title: str
    subtitle: str
    draft: Draft
    drawn: Draft
    drawn_as: str
    facts: tuple[tuple[str, str], ...]
    yarns: tuple[YarnLine, ...]
    threading: tuple[Passage, ...]
    tieups: tuple[TieUpToDraw, ...]
    treadling_key: str
    treadling: tuple[Passage, ...]
    notes: tuple[str, ...]
    handout: Handout
    cautions: tuple[str, ...]


LEGENDS = {
    Action.RISING: "A filled square: this treadle raises that shaft.",
    Action.SINKING: "A hollow square: this treadle sinks that shaft.",
    Action.COUNTERMARCHE: "Filled: this treadle raises that shaft. Hollow: it sinks it.",
    Action.LEVERS: "",
}


def project_sheet(warp: Warp, piece_index: int, units: Units, handout: Handout) -> ProjectSheet:
    """Return the sheet of a piece (index) of a warp."""
    piece = warp.pieces[piece_index]
    draft = piece.draft
    drawn, drawn_as = _drawn(warp, piece, handout.on_loom)
    key, treadling = passages(warp, piece, handout.on_loom, units)
    own = (warp.name, warp.loom.name, piece.name, *names_in(draft))
    said = partial(in_trade_words, trade=handout.trade, own=own)
    return ProjectSheet(
        title=draft.title or piece.name,
        subtitle=said(_subtitle(warp, piece_index, handout.on_loom)),
        draft=draft,
        drawn=drawn,
        drawn_as=said(drawn_as),
        facts=said((*_facts(warp, piece, units, handout), *_after_piece(warp, piece_index, handout.on_loom))),
        yarns=said(tuple(_yarns(warp, piece_index, units, handout))),
        threading=said(tuple(_threading(draft))),
        tieups=said(tuple(_tieups(warp, piece, handout.on_loom))),
        treadling_key=said(key),
        treadling=said(treadling),
        notes=draft.notes,
        handout=handout,
        cautions=said((f"Under the loom: {TYING_CAUTION}.", BREAKS_CAUTION)),
    )


def _drawn(warp: Warp, piece: Piece, on_loom: bool) -> tuple[Draft, str]:
    """Return the draft as it is drawn, and what must be said of that."""
    if on_loom and warp.loom.loom.action is Action.LEVERS:
        return replace(piece.draft, lifting=Lifted(piece.sheds), rising=True), "For this loom; "
    if not on_loom or not piece.stages:
        return piece.draft, ""
    if len(piece.stages) > 1 or piece.face_down:
        return piece.draft, "As the draft is written, the loom's tie-up is overleaf; "
    sinking = warp.loom.loom.action is Action.SINKING
    needed = shafts_needed(piece.draft)
    tied = tied_as_needed(piece.stages[0].tieup, treadles_needed(piece, warp.loom.loom.action), needed)
    ties = tuple(tie.down if sinking else tie.up for tie in tied)
    pressed = tuple(footing.pressed for footing in piece.footings)
    return replace(piece.draft, shafts=needed, lifting=Treadled(ties, pressed), rising=not sinking), "For this loom; "


def _subtitle(warp: Warp, piece_index: int, on_loom: bool) -> str:
    """Return what the cloth needs, whatever else the loom has that it is told for; without a loom, what is written.

    Of several pieces on a warp it says first which this is.
    """
    piece = warp.pieces[piece_index]
    draft = piece.draft
    shafts, treadles = (
        (shafts_needed(draft), count(treadles_pressed(piece))) if on_loom else (draft.shafts, draft.treadles)
    )
    several = len(warp.pieces) > 1
    parts = [
        *([f"piece {piece_index + 1} of {len(warp.pieces)} on one warp"] if several else []),
        counted(shafts, "shaft"),
        counted(treadles, "treadle") if treadles else "lift plan",
        counted(draft.ends, "end"),
        f"{counted(draft.picks, 'pick')}{'' if planned_weft_picks(piece).certain else UNTIL_LENGTH}",
        *([f"by {draft.author}"] if draft.author else []),
        *(["woven face down: the face of the pictures lies below on the loom"] if piece.face_down else []),
    ]
    return ", ".join(parts)


def _after_piece(warp: Warp, piece_index: int, on_loom: bool) -> Iterator[tuple[str, str]]:
    """Yield what to do after the piece before: shuttles to carry and, where the loom is known, cords to change."""
    if piece_index and (carried := carry_planned(warp, piece_index)):
        yield f"Shuttles after piece {piece_index}", carried
    before, piece = warp.pieces[piece_index - 1], warp.pieces[piece_index]
    if piece_index and on_loom and before.stages and piece.stages:
        action, shafts = warp.loom.loom.action, shafts_needed(piece.draft)
        drawn = [
            tied_as_needed(stage.tieup, treadles_needed(one, action), shafts)
            for one, stage in ((before, before.stages[-1]), (piece, piece.stages[0]))
        ]
        here = treadles_needed(piece, action)
        # What hangs on a treadle that this piece does not need may stay there.
        changes = [change for change in cord_changes(*drawn) if has_bit(here, change.treadle)]
        words = "; ".join(change_words(change, action) for change in changes)
        yield f"Cords to change after piece {piece_index}", words or "none"


def _facts(warp: Warp, piece: Piece, units: Units, handout: Handout) -> Iterator[tuple[str, str]]:
    draft = piece.draft
    if handout.on_loom:
        yield "Told for", f"{loom_name_before(warp.loom)}{loom_in_full(warp.loom.loom)}"
        if piece.footings:
            loom = warp.loom.loom
            plain = spare_for_plain_weave(piece, loom.action)
            yield "Treadles pressed", pressed_words(treadles_pressed(piece), loom.treadles, plain)
    yield "Ends", _ends(draft)
    if warp.width_cm is not None:
        yield "Width in reed", measured_words(warp.width_cm, units)
        yield "Sett", f"{density_words(draft.ends / warp.width_cm, units, '.3g')} ends {per_length_words(units)}"
    yield from sley_facts(draft)
    length_cm = warp.winding.length_cm if handout.wound and warp.winding else warp_needed(warp)
    if length_cm is not None:
        yield "Warp length", long_words(length_cm, units) + ("" if handout.wound else " with loom waste")
    per_cm = piece.planned_picks_per_cm()
    if per_cm is not None:
        yield "Weft", picks_words(per_cm, units, ".3g")
    woven_cm = planned_cm(piece)
    if woven_cm is not None:
        finished = finished_cm(warp, woven_cm)
        shrunk = finished is not None and finished < woven_cm
        yield (
            "Woven length",
            measured_words(woven_cm, units) + (f", finished {measured_words(finished, units)}" if shrunk else ""),
        )
    if piece.fringe_cm:
        yield "Fringe", f"{measured_words(piece.fringe_cm, units)}, both ends together"


def _ends(draft: Draft) -> str:
    on_none = no_shaft_words(draft)
    return f"{draft.ends}" + (f", of these {on_none}" if on_none else "")


def _yarns(warp: Warp, piece_index: int, units: Units, handout: Handout) -> Iterator[YarnLine]:
    draft = warp.pieces[piece_index].draft
    length_cm = warp.winding.length_cm if handout.wound and warp.winding else warp_needed(warp)
    in_warp = {need.name: need for need in warp_yarns(warp, length_cm)}
    in_weft = {need.name: need for need in weft_planned(warp, piece_index)}
    # Without picks per cm nobody knows how often a section that is woven to a length is repeated.
    more = "" if planned_weft_picks(warp.pieces[piece_index]).certain else UNTIL_LENGTH
    sizes = {size.yarn: size for size in warp.sizes}
    for yarn in draft.yarns:
        amounts = []
        if yarn.name in in_warp:
            need = in_warp[yarn.name]
            amounts.append(f"warp {counted(need.ends, 'end')}{_amount(need.metres, need.grams, units)}")
        if yarn.name in in_weft:
            weft = in_weft[yarn.name]
            metres, weight = weft.metres and weft.metres[2], weft.grams and weft.grams[2]
            laid = "".join(f", {words}" for words in filter(None, (lengths_words(weft.laid_in, units),)))
            amounts.append(f"weft {counted(weft.picks, 'pick')}{laid}{_amount(metres, weight, units)}{more}")
        if amounts:
            size = sizes.get(yarn.name)
            words = "" if size is None else ", ".join(filter(None, (size.words, yarn_size_words(size.tex, units))))
            yield YarnLine(yarn.colour, yarn.name, words, tuple(amounts))


def _amount(metres: float | None, grams: float | None, units: Units) -> str:
    known = [
        measured_yarn_words(metres, units) if metres is not None else "",
        weight_words(grams, units) if grams is not None else "",
    ]
    return "".join(f", {words}" for words in known if words)


def _threading(draft: Draft) -> Iterator[Passage]:
    first = 0
    for name, ends in [(block.name, block.ends) for block in draft.blocks] or [("", draft.ends)]:
        last = first + ends
        where = f"{name or DIVIDER}: ends {first + 1} to {last}" if draft.blocks else f"Ends 1 to {last}"
        yield Passage(where, print_threading(draft.threading[first:last]))
        first = last
    if len(set(draft.warp)) > 1:
        yield Passage("Colours of the ends", print_warp(draft))


def _tieups(warp: Warp, piece: Piece, on_loom: bool) -> Iterator[TieUpToDraw]:
    draft = piece.draft
    if on_loom:
        loom = warp.loom.loom
        treadles, needed = treadles_needed(piece, loom.action), shafts_needed(draft)
        for number, stage in enumerate(piece.stages, 1):
            of = f", stage {number} of {len(piece.stages)}" if len(piece.stages) > 1 else ""
            left, right = foot_of_treadles(piece.footings[stage.first : stage.last + 1])
            tied = tied_as_needed(stage.tieup, treadles, needed)
            yield TieUpToDraw(f"Tie-up{of}", tied, needed, LEGENDS[loom.action], left, right)
    elif isinstance(draft.lifting, Treadled):
        ties = tuple(Tie(up=tie) if draft.rising else Tie(down=tie) for tie in draft.lifting.tieup)
        action = Action.RISING if draft.rising else Action.SINKING
        yield TieUpToDraw("Tie-up", ties, draft.shafts, LEGENDS[action])
