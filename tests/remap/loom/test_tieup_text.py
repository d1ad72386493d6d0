"""A tie-up as typed and as printed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.masks import Shed, shed_of, without
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Tie
from companion.remap.loom.tieup_text import parse_tieup, print_tieup

sheds = st.integers(0, (1 << 40) - 1).map(Shed)


@given(st.lists(sheds, min_size=1, max_size=20), st.lists(sheds, min_size=20, max_size=20))
def test_what_is_printed_is_read_back(ups, downs):
    rising = tuple(Tie(up=up) for up in ups)
    sinking = tuple(Tie(down=up) for up in ups)
    both = tuple(Tie(up, without(down, up)) for up, down in zip(ups, downs, strict=False))
    for tieup, action in ((rising, Action.RISING), (sinking, Action.SINKING), (both, Action.COUNTERMARCHE)):
        assert parse_tieup(print_tieup(tieup, action), action) == tieup


def test_dashes_and_blanks_leave_a_treadle_untied():
    assert parse_tieup("1 3, -,, 2", Action.RISING) == (Tie(up=shed_of([1, 3])), Tie(), Tie(), Tie(up=shed_of([2])))


def test_a_countermarche_says_up_and_down():
    assert parse_tieup("1 3/2 4,-/1", Action.COUNTERMARCHE) == (
        Tie(shed_of([1, 3]), shed_of([2, 4])),
        Tie(down=shed_of([1])),
    )


@pytest.mark.parametrize(
    ("text", "action", "what"),
    [
        ("1 3, 2 b", Action.RISING, "treadle 2 .*'b'"),
        ("0", Action.RISING, "treadle 1 .*'0'"),
        ("41", Action.RISING, "'41'"),
        ("²", Action.SINKING, "'²'"),
        ("1/2", Action.RISING, "'1/2'"),
        ("1 2", Action.COUNTERMARCHE, "no stroke"),
        ("1 2/2", Action.COUNTERMARCHE, "ties 2 up and down"),
        (" ", Action.RISING, "empty"),
    ],
)
def test_what_cannot_be_tied_is_named(text, action, what):
    with pytest.raises(RemapError, match=what):
        parse_tieup(text, action)


@given(st.text(max_size=30), st.sampled_from(list(Action)))
def test_any_text_is_a_tie_up_or_is_refused_in_one_line(text, action):
    refusal = ""
    try:
        tieup = parse_tieup(text, action)
    except RemapError as refused:
        refusal = str(refused)
    if refusal:
        assert len(refusal.splitlines()) == 1
    else:
        assert len(tieup) == text.count(",") + 1
