"""Values to plain JSON and back: strict in reading, exact both ways."""

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple, NewType

import pytest

from companion.journal.plain import PlainError, from_plain, to_plain

Mask = NewType("Mask", int)


class Tone(Enum):
    LIGHT = "light"
    DARK = "dark"


class Point(NamedTuple):
    across: int
    down: float


@dataclass(frozen=True, slots=True)
class Thread:
    mask: Mask
    tone: Tone = Tone.LIGHT
    points: tuple[Point, ...] = ()
    inner: "Thread | None" = None


@dataclass(frozen=True, slots=True)
class Knot:
    ends: frozenset[int]
    pair: tuple[str, bool]


THREAD = Thread(Mask(5), Tone.DARK, (Point(1, 2.5), Point(3, -4.0)), Thread(Mask(6)))
KNOT = Knot(frozenset({3, 1}), ("x", True))


@pytest.mark.parametrize(
    ("kind", "value", "plain"),
    [
        (
            Thread,
            THREAD,
            {
                "mask": 5,
                "tone": "dark",
                "points": [[1, 2.5], [3, -4.0]],
                "inner": {"mask": 6, "tone": "light", "points": [], "inner": None},
            },
        ),
        (Thread | Knot, KNOT, {"is": "Knot", "ends": [1, 3], "pair": ["x", True]}),
        (Thread | Knot | None, None, None),
        (float | None, 2.0, 2.0),
        (tuple[Tone, ...], (Tone.DARK, Tone.LIGHT), ["dark", "light"]),
        (tuple[Tone, ...], (Tone.DARK,) * 4 + (Tone.LIGHT,), {"each": ["dark", "light"], "order": [0, 0, 0, 0, 1]}),
        (tuple[Mask, ...], (Mask(4),) * 4, [4, 4, 4, 4]),
    ],
)
def test_a_value_takes_its_plain_form_and_comes_back(kind, value, plain):
    assert to_plain(kind, value) == plain
    assert from_plain(kind, plain) == value


def test_a_field_left_out_takes_its_default():
    assert from_plain(Thread, {"mask": 5}) == Thread(Mask(5))


def test_a_whole_number_may_stand_where_a_measure_belongs():
    value = from_plain(float, 3)
    assert value == 3.0
    assert isinstance(value, float)


@pytest.mark.parametrize(
    ("kind", "plain", "says"),
    [
        (Thread, {}, "Thread lacks its field mask"),
        (Thread, {"mask": 1, "colour": 2}, "Thread has no field colour"),
        (Thread, {"mask": True}, "Thread.mask: True is not int"),
        (Thread, {"mask": 1.0}, "Thread.mask: 1.0 is not int"),
        (Thread, {"mask": 1, "tone": "grey"}, "Thread.tone: 'grey' is no Tone"),
        (Thread, {"mask": 1, "points": 4}, "Thread.points: 4 is not a list"),
        (Thread, {"mask": 1, "points": [[1]]}, "Thread.points: 1 values where 2 belong"),
        (Thread, {"mask": 1, "inner": {"mask": ""}}, "Thread.inner: Thread.mask: '' is not int"),
        (Thread, 7, "7 is not a Thread"),
        (float, float("nan"), "nan is no measure"),
        (float, float("-inf"), "-inf is no measure"),
        (tuple[Tone, ...], {"each": ["dark"], "order": [1]}, "a list that repeats an item beyond its 1"),
        (tuple[Tone, ...], {"each": ["dark"], "order": [-1]}, "a list that repeats an item beyond its 1"),
        (tuple[Tone, ...], {"each": ["dark"]}, "{'each': ['dark']} is not a list"),
        (tuple[Mask, ...], [1, True], "a list with more than int in it"),
        (Thread | Knot, {"is": "Rope"}, "{'is': 'Rope'} is none of Thread, Knot"),
        (Thread | Knot, [], "[] is none of Thread, Knot"),
        (Tone, [], "[] is no Tone"),
    ],
)
def test_a_plain_value_that_does_not_fit_is_refused_with_its_place(kind, plain, says):
    with pytest.raises(PlainError) as caught:
        from_plain(kind, plain)
    assert str(caught.value) == says


@pytest.mark.parametrize("kind", [dict[str, int], list[int], object, complex])
def test_a_type_without_a_rule_is_a_fault_of_the_program_and_says_so(kind):
    with pytest.raises(TypeError, match="no plain form"):
        to_plain(kind, kind)
