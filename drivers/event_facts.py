"""Driver events as plain facts for JSON, and back. `fellside pedal --json` writes them, `replay` reads them."""

from __future__ import annotations

from typing import Any, assert_never

from drivers.events import (
    DriverEvent,
    LinkDown,
    LinkUp,
    Press,
    Pressed,
    PressSwallowed,
    TreadlesSensed,
    Trouble,
)

Facts = dict[str, Any]


def facts_of(event: DriverEvent, start_s: float = 0.0) -> Facts:
    """Return the facts of an event: `{"seconds": 1.25, "event": "press", "press": "advance"}`; treadles from 1."""
    return {"seconds": round(event.at_s - start_s, 4), **_particulars(event)}


def _particulars(event: DriverEvent) -> Facts:
    match event:
        case Pressed(press):
            return {"event": "press", "press": press.value}
        case PressSwallowed(press):
            return {"event": "swallowed", "press": press.value, "after_seconds": round(event.after_s, 4)}
        case TreadlesSensed(down):
            return {"event": "treadles", "down": sorted(treadle + 1 for treadle in down)}
        case LinkUp(port):
            return {"event": "up", "port": port}
        case LinkDown(port):
            return {"event": "down", "port": port, "why": event.why, "trouble": event.trouble.value}
    assert_never(event)


def event_of(facts: Facts) -> DriverEvent:
    """Return the event with these facts; the inverse of `facts_of` with a start of 0.

    Raises ValueError that says what is missing or unknown.
    """
    try:
        return _event(facts, float(facts["seconds"]))
    except KeyError as error:
        raise ValueError(f"the event has no {error.args[0]!r}") from error
    except TypeError as error:
        raise ValueError(f"an event is a set of named facts, not {facts!r:.40}") from error


def _event(facts: Facts, at_s: float) -> DriverEvent:
    match facts["event"]:
        case "press":
            return Pressed(Press(facts["press"]), at_s)
        case "swallowed":
            return PressSwallowed(Press(facts["press"]), at_s, float(facts["after_seconds"]))
        case "treadles":
            return TreadlesSensed(frozenset(int(treadle) - 1 for treadle in facts["down"]), at_s)
        case "up":
            return LinkUp(facts["port"], at_s)
        case "down":
            return LinkDown(facts["port"], facts["why"], at_s, Trouble(facts["trouble"]))
        case unknown:
            raise ValueError(f"no event {unknown!r}")
