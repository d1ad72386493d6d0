"""Every kind of event has a stored name, and comes back as it was."""

import json
from dataclasses import fields
from enum import Enum
from typing import get_args, get_origin, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.journal.codec import STORED_NAMES, decode_event, dump, encode_event, stored_names
from companion.journal.plain import PlainError, from_plain, to_plain
from companion.remap.loom.feet_wish import FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.loom import Action, Loom
from companion.weaving.dressing_events import (
    Dressed,
    DressingMistake,
    DressingTakenOut,
    DressingTask,
    ShedFoundWrong,
    ShedPutRight,
    SleyPlanned,
    TaskBegun,
    TaskSettled,
    TaskState,
)
from companion.weaving.events import (
    BobbinChanged,
    ClothTold,
    Event,
    FaultKind,
    FaultNoted,
    FaultSettled,
    FaultState,
    Jumped,
    LengthMeasured,
    NearMiss,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    PieceFinished,
    PieceStarted,
    Resumed,
    ReTied,
    SidesTold,
    SquareMarked,
    TieUpAccepted,
    TreadleTied,
    Undone,
)

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


ON_DISK = [
    (PickWoven(4), "PickWoven", '{"pick":4}'),
    (PickTakenOut(3), "PickTakenOut", '{"pick":3}'),
    (
        ClothTold(2, (40, 41), (), (1,), (0,)),
        "ClothTold",
        '{"left":[],"right":[1],"taken_out":2,"unknown":[0],"woven":[40,41]}',
    ),
    (SidesTold((0,), (), (2, 1)), "SidesTold", '{"left":[0],"right":[],"unknown":[2,1]}'),
    (Jumped(12, "skipped"), "Jumped", '{"anew":false,"pick":12,"reason":"skipped"}'),
    (
        Jumped(8, "section once more", anew=True),
        "Jumped",
        '{"anew":true,"pick":8,"reason":"section once more"}',
    ),
    (
        FaultNoted(FaultKind.SKIPPED_END, 41, 7, FaultState.LEFT, "two ends \N{RIGHTWARDS ARROW} left"),
        "FaultNoted",
        '{"end":7,"kind":"skipped end","note":"two ends \\u2192 left","pick":41,'
        '"shaft":null,"state":"left","treadle":null}',
    ),
    (
        FaultNoted(FaultKind.THREADING, 5, 40, FaultState.FOUND, "", 2, None),
        "FaultNoted",
        '{"end":40,"kind":"threading mistake","note":"","pick":5,"shaft":2,"state":"found","treadle":null}',
    ),
    (FaultSettled(2, FaultState.MENDED, "sewn"), "FaultSettled", '{"fault":2,"note":"sewn","state":"mended"}'),
    (NoteWritten("calm"), "NoteWritten", '{"text":"calm"}'),
    (
        SquareMarked(1, 24, 48, 72, 96, True, "soft"),
        "SquareMarked",
        '{"first_end":24,"first_pick":72,"last_end":48,"last_pick":96,"piece":1,"starred":true,"text":"soft"}',
    ),
    (LengthMeasured(12.5, False), "LengthMeasured", '{"centimetres":12.5,"under_tension":false}'),
    (BobbinChanged(1, 40.0), "BobbinChanged", '{"metres":40.0,"yarn":1}'),
    (ReTied(1), "ReTied", '{"stage":1}'),
    (Paused(), "Paused", "{}"),
    (Resumed(False), "Resumed", '{"looked_right":false}'),
    (PieceStarted(1), "PieceStarted", '{"piece":1}'),
    (PieceFinished(), "PieceFinished", "{}"),
    (NearMiss(5, (0, 2), (1,)), "NearMiss", '{"missing":[1],"pick":5,"wrong":[0,2]}'),
    (TieUpAccepted(), "TieUpAccepted", "{}"),
    (TreadleTied(1, 3, False), "TreadleTied", '{"stage":1,"tied":false,"treadle":3}'),
    (TaskBegun(DressingTask.THREADING, True), "TaskBegun", '{"from_last":true,"task":"threading"}'),
    (Dressed(DressingTask.WINDING, 24, 2), "Dressed", '{"count":2,"first":24,"task":"winding"}'),
    (DressingTakenOut(DressingTask.SLEYING, 3), "DressingTakenOut", '{"count":3,"task":"sleying"}'),
    (TaskSettled(DressingTask.BEAMING, TaskState.SKIPPED), "TaskSettled", '{"state":"skipped","task":"beaming"}'),
    (SleyPlanned((1, 2, 0), 4.0), "SleyPlanned", '{"dents":[1,2,0],"reed_per_cm":4.0}'),
    (ShedFoundWrong(2, "end 7"), "ShedFoundWrong", '{"note":"end 7","test":2}'),
    (
        DressingMistake(DressingTask.TEST_WEAVE, 6, 7, True, "crossed"),
        "DressingMistake",
        '{"first":6,"last":7,"mended":true,"note":"crossed","task":"test weave"}',
    ),
    (ShedPutRight(2, "tied anew"), "ShedPutRight", '{"note":"tied anew","test":2}'),
    (Undone(8), "Undone", '{"number":8}'),
]
"""Every kind of event as it stands in journals on people's devices. Lines are added here; none is ever changed."""


@pytest.mark.parametrize(("event", "name", "body"), ON_DISK, ids=[name for _, name, _ in ON_DISK])
def test_the_stored_form_is_this_and_stays_this(event, name, body):
    assert encode_event(event) == (name, body)
    assert decode_event(name, body) == event


LOOMS_ON_DISK = [
    (
        Loom(4, 6, wish=FeetWish(TabbyPlace.LEFT, FirstFoot.RIGHT)),
        '{"action":"rising","reach":1,"shafts":4,"treadles":6,"wish":{"first_foot":"right","tabby":"left"}}',
    ),
    (
        Loom(8, 10, Action.COUNTERMARCHE, 2, FeetWish(TabbyPlace.OUTSIDE, FirstFoot.EITHER)),
        '{"action":"countermarche","reach":2,"shafts":8,"treadles":10,'
        '"wish":{"first_foot":"either","tabby":"outside"}}',
    ),
]
"""Looms as they stand in every warp, with what is wished of the feet. Lines are added here; none is ever changed."""


@pytest.mark.parametrize(("loom", "body"), LOOMS_ON_DISK)
def test_the_stored_form_of_a_loom_with_a_wish_is_this_and_stays_this(loom, body):
    assert dump(to_plain(Loom, loom)) == body
    assert from_plain(Loom, json.loads(body)) == loom


def test_a_loom_stored_before_there_were_wishes_has_none():
    assert from_plain(Loom, json.loads('{"action":"rising","reach":1,"shafts":4,"treadles":6}')) == Loom(4, 6)


def test_every_event_is_stored_and_its_stored_form_is_pinned_above():
    assert [type(event) for event, _, _ in ON_DISK] == [STORED_NAMES[name] for _, name, _ in ON_DISK]
    assert {name for _, name, _ in ON_DISK} == set(STORED_NAMES)
    assert set(STORED_NAMES.values()) == set(KINDS)


def test_a_renamed_class_keeps_the_name_it_was_stored_under():
    assert stored_names((PickWoven, Undone), {"Undone": "TakenBack"}) == {"PickWoven": PickWoven, "TakenBack": Undone}


def test_two_classes_are_never_stored_under_one_name():
    with pytest.raises(ValueError, match="Undone and PickWoven would both be stored as PickWoven"):
        stored_names((PickWoven, Undone), {"Undone": "PickWoven"})


@given(st.one_of(*map(events_of, KINDS)))
def test_every_event_comes_back_from_its_stored_form(event):
    name, body = encode_event(event)
    assert decode_event(name, body) == event
    assert body.isascii()
    assert "\n" not in body


def test_a_field_that_an_older_journal_lacks_takes_its_default():
    assert decode_event("FaultNoted", '{"kind":"other","pick":3}') == FaultNoted(FaultKind.OTHER, 3)
    assert decode_event("Jumped", '{"pick":8,"reason":"section once more"}') == Jumped(8, "section once more")
    assert decode_event("ClothTold", '{"taken_out":2,"woven":[40,41]}') == ClothTold(2, (40, 41))


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
