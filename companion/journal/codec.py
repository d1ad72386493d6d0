"""Events to and from their stored form: a stored name and a JSON object of the event's fields.

An event is stored under the name of its class, so `weaving.events.Event` is the whole table. A stored name stays for
ever: where a class is renamed, `STORED_AS` keeps the name it was stored under. A field added later has a default, so
that journals written before it still load.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any, cast, get_args

from companion.journal.plain import PlainError, from_plain, to_plain
from companion.weaving.events import Entry, Event

STORED_AS: Mapping[str, str] = {}
"""Events whose class was renamed since they were first stored: the class's name today, and the name on disk."""


def stored_names(kinds: Iterable[type[Event]], stored_as: Mapping[str, str]) -> dict[str, type[Event]]:
    """Return the class behind each stored name; raises ValueError where two classes claim one name."""
    named: dict[str, type[Event]] = {}
    for kind in kinds:
        name = stored_as.get(kind.__name__, kind.__name__)
        if name in named:
            raise ValueError(f"{kind.__name__} and {named[name].__name__} would both be stored as {name}")
        named[name] = kind
    return named


STORED_NAMES = stored_names(get_args(Event), STORED_AS)
_NAME_OF = {kind: name for name, kind in STORED_NAMES.items()}


def dump(plain: Any) -> str:
    """Return a plain value as one line of JSON, ASCII only, keys in a fixed order: equal values, equal text."""
    return json.dumps(plain, separators=(",", ":"), sort_keys=True, allow_nan=False)


def encode_event(event: Event) -> tuple[str, str]:
    """Return the stored name and the JSON of an event: `PickWoven(4)` gives `("PickWoven", '{"pick":4}')`.

    Raises ValueError for a measure that is no number (infinite, or not a number at all).
    """
    kind = type(event)
    return _NAME_OF[kind], dump(to_plain(kind, event))


def decode_event(name: str, body: str) -> Event:
    """Return the event that `encode_event` stored; raises PlainError when there is none."""
    try:
        plain = json.loads(body)
    except (ValueError, RecursionError) as error:
        raise PlainError(f"{name}: not JSON") from error
    return event_of(name, plain)


def event_of(name: Any, plain: Any) -> Event:
    """Return the event with this stored name and these fields; raises PlainError when there is none."""
    kind = STORED_NAMES.get(name) if isinstance(name, str) else None
    if kind is None:
        raise PlainError(f"no event is called {name!r:.40}")
    return cast(Event, from_plain(kind, plain))


def entry_to_line(entry: Entry) -> str:
    """Return an entry as one line of JSON: `{"at_ms":5,"event":{"pick":4},"name":"PickWoven","number":1}`."""
    kind = type(entry.event)
    fields = to_plain(kind, entry.event)
    return dump({"number": entry.number, "at_ms": entry.at_ms, "name": _NAME_OF[kind], "event": fields})


def entry_from_line(line: str) -> Entry:
    """Return the entry that `entry_to_line` wrote; raises PlainError when there is none."""
    try:
        plain = json.loads(line)
    except (ValueError, RecursionError) as error:
        raise PlainError("not JSON") from error
    if not isinstance(plain, dict) or plain.keys() != {"number", "at_ms", "name", "event"}:
        raise PlainError("no entry")
    return Entry(
        from_plain(int, plain["number"]), from_plain(int, plain["at_ms"]), event_of(plain["name"], plain["event"])
    )
