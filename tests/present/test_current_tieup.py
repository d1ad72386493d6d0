"""The current tie-up is touched square by square: every cord can be reached, and what is made can be told in words."""

from __future__ import annotations

import pytest

from companion.present.current_tieup import current_tieup_signs, with_square_touched
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.tieup_text import parse_tieup, print_tieup
from companion.weaving.warp import LoomProfile

ANY = 10**6


def square(profile, treadle, shaft):
    rows = current_tieup_signs(profile, 0, ANY, ANY).rows
    (found,) = [one for row in rows for one in row if (one.treadle, one.shaft) == (treadle, shaft)]
    return found


def touched(profile, *squares):
    for treadle, shaft in squares:
        profile = with_square_touched(profile, square(profile, treadle, shaft))
    return profile


@pytest.mark.parametrize(
    ("action", "ways"),
    [
        (Action.RISING, [1, 0, 1]),
        (Action.SINKING, [-1, 0, -1]),
        (Action.COUNTERMARCHE, [1, -1, 0, 1]),
    ],
)
def test_a_square_goes_round_the_ways_that_the_loom_can_tie(action, ways):
    profile = LoomProfile("Floor loom", Loom(4, 6, action))
    seen = []
    for _ in ways:
        profile = touched(profile, (2, 1))
        seen.append(square(profile, 2, 1).way)
    assert seen == ways


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING])
def test_what_is_touched_is_the_tie_up_that_the_same_words_say(action):
    wanted = parse_tieup("1 2, -, 3 4, 1 3", action)
    squares = [(0, 0), (0, 1), (2, 2), (2, 3), (3, 0), (3, 2)]
    profile = touched(LoomProfile("Floor loom", Loom(4, 4, action)), *squares)
    assert profile.present == wanted
    assert print_tieup(profile.present, action) == "1 2, -, 3 4, 1 3"


def test_a_countermarche_is_tied_up_by_one_touch_and_down_by_two():
    squares = [(0, 0), (0, 1), (0, 1)]
    profile = touched(LoomProfile("Floor loom", Loom(2, 1, Action.COUNTERMARCHE)), *squares)
    assert profile.present == parse_tieup("1/2", Action.COUNTERMARCHE)


def test_cords_that_were_known_stay_as_they_are():
    tied = parse_tieup("1 2, 3 4", Action.RISING)
    profile = touched(LoomProfile("Floor loom", Loom(4, 4), tied), (3, 0))
    assert profile.present == parse_tieup("1 2, 3 4, -, 1", Action.RISING)


@pytest.mark.parametrize("across", [1, 3, 5, 14])
@pytest.mark.parametrize("down", [1, 3, 7, 16])
def test_the_pages_show_every_square_once(across, down):
    profile = LoomProfile("Floor loom", Loom(16, 14))
    of = current_tieup_signs(profile, 0, across, down).of
    pages = [current_tieup_signs(profile, number, across, down) for number in range(of)]
    shown = [(one.treadle, one.shaft) for page in pages for row in page.rows for one in row]
    assert sorted(shown) == [(treadle, shaft) for treadle in range(14) for shaft in range(16)]
    assert all(len(page.rows) <= down and len(page.rows[0]) <= across for page in pages)
    assert current_tieup_signs(profile, of, across, down) == pages[0]
