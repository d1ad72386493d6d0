"""The room that threads have in the cloth: as a file states their spacing, or as the dents of the reed hold them."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.model import Draft, Layout
from companion.draft.sley import Sley, spacing_cm

DEFAULT_SPACING_CM = 0.1
"""Where a draft states no spacing at all: ten threads to the centimetre."""
_ALIKE = 1e-6
"""Rooms that differ by no larger share are alike: they come from one number, divided and added."""


@dataclass(frozen=True, slots=True)
class ThreadRooms:
    """Threads side by side, in cm: each has its `room_cm`, of which the first `held_cm` is its share of a dent.

    It is `thick_cm` and lies in the middle of its share; what is left of its room is an empty dent.
    """

    room_cm: tuple[float, ...]
    held_cm: tuple[float, ...]
    thick_cm: tuple[float, ...]

    @property
    def even(self) -> bool:
        """Whether every thread has the same room, and no empty dent beside it."""
        sizes = (*self.room_cm, *self.held_cm)
        return not sizes or max(sizes) - min(sizes) <= _ALIKE * max(sizes)


def warp_rooms(draft: Draft) -> ThreadRooms:
    """Return the room of each end: as stated, else as its dents hold it, else as usual."""
    return rooms_of_ends(draft.sley, draft.warp_layout, draft.ends, usual_room_cm(draft))


def rooms_of_ends(sley: Sley, layout: Layout, ends: int, usual_cm: float = DEFAULT_SPACING_CM) -> ThreadRooms:
    """Return the room of so many ends: as the layout states it, else by the plan, if it is one for them, else as usual.

    In dents all ends are as thick as they lie in dents that hold some. Where no reed is told, as many dents lie on a
    length as give the ends the room that is usual.
    """
    if layout.spacing_cm or not ends or sley.ends != ends:
        room = layout.spacing_cm or (usual_cm,) * ends
        return ThreadRooms(room, room, layout.thickness_cm or room)
    per_cm = sley.reed_per_cm or len(sley.dents) / (usual_cm * ends)
    # No reed need be so fine or so coarse: the dents are measured in themselves.
    room = tuple(share / per_cm for share in spacing_cm(Sley(sley.dents, 1.0), ends))
    held = tuple(1.0 / in_dent / per_cm for in_dent in sley.dents for _ in range(in_dent))
    return ThreadRooms(room, held, layout.thickness_cm or (sum(held) / ends,) * ends)


def weft_rooms(draft: Draft) -> ThreadRooms:
    """Return the room of each pick: as stated, else as the ends have it."""
    layout = draft.weft_layout
    room = layout.spacing_cm or (usual_room_cm(draft),) * draft.picks
    return ThreadRooms(room, room, layout.thickness_cm or room)


def usual_room_cm(draft: Draft) -> float:
    """Return the room of a thread where nothing is stated of its direction: that of the other, else a usual one."""
    warp = draft.warp_layout.spacing_cm or spacing_cm(draft.sley, draft.ends)
    return _mean(warp) or _mean(draft.weft_layout.spacing_cm) or DEFAULT_SPACING_CM


def _mean(sizes: tuple[float, ...]) -> float:
    return sum(sizes) / len(sizes) if sizes else 0.0
