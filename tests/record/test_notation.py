"""What a sheet says of its signs is what the shorthand means by them, and only of signs that stand there."""

from __future__ import annotations

import pytest

from companion.draft.masks import treadles_of
from companion.draft.shorthand import parse_shorthand
from companion.record.notation import BY_FEET, BY_TREADLES, how_to_read, signs_told

HEAD = """
yarn: sand
yarn: sea
threading: (1-4)x4
tie-up: 1 2, 2 3, 3 4, 1 4
treadling: sand """


def picks(text):
    draft = parse_shorthand(HEAD + text)
    return [treadles_of(pressed)[0] for pressed in draft.lifting.treadling], [
        draft.yarns[yarn].name for yarn in draft.weft
    ]


@pytest.mark.parametrize("sign", ["1-4", "point (1 2 3)", "(1 2 3) and back", "(1 2 3) and reversed"])
def test_each_sign_is_said_to_mean_what_it_means(sign):
    words = signs_told([f"sand {sign} 4"])
    said, meaning = words.rstrip(".").split(": ")
    assert said == sign
    assert picks(sign)[0] == [int(number) for number in meaning.split()]


def test_a_bracket_is_woven_as_often_as_is_said():
    assert signs_told(["(1 2)x3"]) == "(…)x3: three times."
    assert picks("(1 2)x3")[0] == [1, 2] * 3


def test_shuttles_by_turns_begin_anew_each_time_round_a_bracket():
    assert "begin with sand again each time round" in signs_told(["(sand/sea 1 2 3)x2"])
    assert picks("(sand/sea 1 2 3)x2")[1] == ["sand", "sea", "sand"] * 2


def test_what_does_not_stand_there_is_not_explained():
    assert how_to_read(BY_FEET, ["sand L1 R2"]) == BY_FEET
    assert how_to_read(BY_FEET, ["sand L1 R2 L1+R2"]) == f"{BY_FEET} L1+R5: both at one pick."
    assert how_to_read(BY_TREADLES, ["sand 1 2 1+2"]) == f"{BY_TREADLES} 1+3: both at one pick."
    assert how_to_read(BY_TREADLES, ["sand 1 2"]) == BY_TREADLES
    assert signs_told(["(1 2)x2 1-3"]) == "(…)x3: three times. 1-4: 1 2 3 4."
