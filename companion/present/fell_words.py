"""What is said of the cloth at the fell: which of its ends are drawn, and which of its surfaces."""

from __future__ import annotations

from companion.draft.cloth import Surface


def ends_words(shown: int, ends: int) -> str:
    """Return which ends are drawn: `ends 1–32 of 160`."""
    return f"ends 1–{shown} of {ends}" if shown < ends else f"all {ends} ends"


def turned_words(surface: Surface, face_down: bool = False) -> str:
    """Return which surface is drawn, by its true name; nothing for the face of a cloth woven face up.

    `surface` counts from the weaver's seat: FACE is what lies up on the loom. Of a piece woven `face_down` that is
    the back.
    """
    if face_down:
        return "Face down: the back lies up" if surface is Surface.FACE else "Face of the cloth, below on the loom"
    return "" if surface is Surface.FACE else "Back of the cloth"
