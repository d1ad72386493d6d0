"""Where what the weaver does at the loom goes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from companion.draft.cloth import Surface
from companion.present.asking import Elsewhere
from companion.weaving.decide import Command


@dataclass(frozen=True, slots=True)
class LoomEnds:
    """Where what the weaver does at the loom goes: `submit` takes commands and returns at once.

    `leave_for` goes elsewhere, `feel` takes sensed treadles, `beat` a beat of the beater, `turned` hears which surface
    of the cloth at the fell is shown from now on. `pressed` hears a touch that says "woven", to judge it like a press
    of the pedal before it counts; where it is None the touch counts at once. `now_ms` tells the time (Unix time in
    milliseconds).
    """

    submit: Callable[[Command], None]
    now_ms: Callable[[], int]
    leave_for: Callable[[Elsewhere], None] = lambda _where: None
    feel: Callable[[frozenset[int], float], None] = lambda _down, _at_s: None
    beat: Callable[[float], None] = lambda _at_s: None
    turned: Callable[[Surface], None] = lambda _surface: None
    pressed: Callable[[], None] | None = None
