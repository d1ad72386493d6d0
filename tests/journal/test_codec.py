"""Every kind of event has a stored name, and comes back as it was."""

import json
from dataclasses import fields
from enum import Enum
from typing import get_args, get_origin, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.journal.codec import STORED_NAMES, decode_event, encode_event
from companion.journal.plain import PlainError
from companion.weaving.events import Event, FaultKind, FaultNoted, FaultState, LengthMeasured, NoteWritten, PickWoven

KINDS = get_args(Event)
TEXT = st.text(st.characters(exclude_categories=()), max_size=40)
"""Any text at all, lone surrogates (which a bad file name can bring in) included."""


def any_of(hint):
    if isinstance(hint, type) and issubclass(hint, Enum):
        return st.sampled_from(hint)
    if hint is str:
        return TEXT
    if hint is float:
        return st.floats(allow_nan=False, allow_infinity=False)
    if hint is int:
        return st.integers()
    if hint is bool:
        return st.booleans()
    if get_origin(hint) is tuple:
        return st.lists(any_of(get_args(hint)[0]), max_size=4).map(tuple)
    return st.one_of(*(st.none() if arm is type(None) else any_of(arm) for arm in get_args(hint)))


def events_of(kind):
    hints = get_type_hints(kind)
    return st.builds(kind, **{field.name: any_of(hints[field.name]) for field in fields(kind)})


def test_the_table_names_every_kind_of_event_once():
    assert set(STORED_NAMES.values()) == set(KINDS)
    assert len(STORED_NAMES) == len(KINDS)


@given(st.one_of(*map(events_of, KINDS)))
def test_every_event_comes_back_from_its_stored_form(event):
    name, body = encode_event(event)
    assert decode_event(name, body) == event
    assert body.isascii()
    assert "\n" not in body


def test_the_stored_form_is_this_and_stays_this():
    event = FaultNoted(FaultKind.SKIPPED_END, 41, 7, FaultState.LEFT, "two ends \N{RIGHTWARDS ARROW} left")
    assert encode_event(event) == (
        "FaultNoted",
        '{"end":7,"kind":"skipped end","note":"two ends \\u2192 left","pick":41,"state":"left"}',
    )


def test_a_field_that_an_older_journal_lacks_takes_its_default():
    assert decode_event("FaultNoted", '{"kind":"other","pick":3}') == FaultNoted(FaultKind.OTHER, 3)


@pytest.mark.parametrize("length", [float("nan"), float("inf")])
def test_a_measure_that_is_no_number_is_not_stored(length):
    with pytest.raises(ValueError, match="JSON"):
        encode_event(LengthMeasured(length))


@pytest.mark.parametrize(
    ("name", "body"),
    [
        ("PickUnravelled", '{"pick":1}'),
        ("PickWoven", '{"pick":'),
        ("PickWoven", "[]"),
        ("PickWoven", "[" * 100_000),
        ("PickWoven", '{"pick":1,"sheds":2}'),
        ("FaultNoted", '{"kind":"moth","pick":3}'),
    ],
)
def test_what_is_no_event_is_refused(name, body):
    with pytest.raises(PlainError):
        decode_event(name, body)


@given(
    st.sampled_from(sorted(STORED_NAMES)),
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["pick", "kind", "text"]), inner),
    ),
)
def test_whatever_json_is_stored_it_is_an_event_or_refused(name, plain):
    try:
        event = decode_event(name, json.dumps(plain))
    except PlainError:
        return
    assert type(event) is STORED_NAMES[name]


def test_two_spellings_of_one_event_have_one_stored_form():
    assert encode_event(PickWoven(pick=3)) == encode_event(decode_event("PickWoven", ' {"pick" : 3 } '))
    assert encode_event(NoteWritten("é")) != encode_event(NoteWritten("e\N{COMBINING ACUTE ACCENT}"))
