"""What was stated of a warp when it was put on the loom, in words and as JSON-ready values."""

from __future__ import annotations

from collections.abc import Iterator

from companion.draft.model import Draft
from companion.draft.shorthand_print import print_sley
from companion.draft.sley import even_sley, print_reed
from companion.draft.units import Units, length_words, picks_words, wound_words, yarn_size_words
from companion.weaving.warp import Piece, Warp


def warp_facts(warp: Warp, units: Units) -> list[tuple[str, str]]:
    """Return what was wound, its width, the loom waste and the yarns, by name; what nobody stated is left out."""
    facts = []
    if warp.winding is not None:
        wound = warp.winding
        shares = f"take-up {wound.take_up:.0%}, shrinkage {wound.shrinkage:.0%}"
        facts.append(("Warp wound", f"{wound_words(wound.length_cm, units)}, {shares}"))
    if warp.width_cm is not None:
        facts.append(("Width in the reed", length_words(float(f"{warp.width_cm:.4g}"), units)))
    if warp.loom.loom_waste_cm:
        facts.append(("Loom waste", length_words(warp.loom.loom_waste_cm, units)))
    for size in warp.sizes:
        words = f"{size.words}, " if size.words else ""
        facts.append((f"Yarn {size.yarn}", f"{words}{yarn_size_words(size.tex, units)}"))
    return facts


def piece_plan(piece: Piece, units: Units) -> str:
    """Return what was planned of a piece: `8 picks per cm, 120 cm long, fringe 20 cm`; empty where nothing was."""
    per_cm = piece.planned_picks_per_cm()
    parts = [
        "" if per_cm is None else picks_words(per_cm, units),
        "" if piece.length_cm is None else f"{length_words(piece.length_cm, units)} long",
        f"fringe {length_words(piece.fringe_cm, units)}" if piece.fringe_cm else "",
        f"spacer {length_words(piece.spacer_cm, units)}" if piece.spacer_cm else "",
    ]
    return ", ".join(part for part in parts if part)


def warp_document(warp: Warp) -> dict[str, object]:
    """Return the facts of a warp as JSON-ready values, lengths in cm; None where nobody stated one."""
    wound = warp.winding
    return {
        "wound_cm": None if wound is None else wound.length_cm,
        "take_up": None if wound is None else wound.take_up,
        "shrinkage": None if wound is None else wound.shrinkage,
        "width_cm": warp.width_cm,
        "loom_waste_cm": warp.loom.loom_waste_cm,
        "yarns": [{"yarn": size.yarn, "tex": size.tex, "words": size.words} for size in warp.sizes],
    }


def piece_document(piece: Piece) -> dict[str, object]:
    """Return the plan of a piece as JSON-ready values, lengths in cm; None where nothing was planned."""
    return {
        "picks_per_cm": piece.planned_picks_per_cm(),
        "length_cm": piece.length_cm,
        "fringe_cm": piece.fringe_cm,
        "spacer_cm": piece.spacer_cm,
    }


def sley_facts(draft: Draft) -> Iterator[tuple[str, str]]:
    """Yield the reed and how its dents are filled, as far as they are told."""
    sley = draft.sley
    if sley.reed_per_cm is not None:
        yield "Reed", f"{print_reed(sley.reed_per_cm)} dents".replace("/", " dents per ").removesuffix(" dents")
    if not sley.dents:
        return
    usual = sley.dents[0]
    even = usual > 0 and even_sley(draft.ends, usual).dents == sley.dents
    yield "Sley", f"{usual} in a dent" if even else f"ends in each dent from end 1: {print_sley(sley, draft.ends)}"
