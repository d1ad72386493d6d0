"""A warp comes back from its JSON as it was, or is refused."""

import json

import pytest

from companion.journal.plain import PlainError
from companion.journal.warp_codec import decode_warp, encode_warp
from tests.journal.warps import long_warp, small_warp


@pytest.mark.parametrize("warp", [small_warp(), long_warp(40)], ids=["every part filled in", "plain"])
def test_a_warp_comes_back_as_it_was(warp):
    assert decode_warp(encode_warp(warp)) == warp


def test_a_warp_is_stored_as_one_ascii_line():
    text = encode_warp(small_warp())
    assert text.isascii()
    assert "\n" not in text
    assert text == encode_warp(decode_warp(text))


def altered(change):
    plain = json.loads(encode_warp(small_warp()))
    change(plain)
    return json.dumps(plain)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no warp"),
        ("[" * 100_000, "no warp"),
        ("{}", "Warp lacks its field"),
        (altered(lambda warp: warp.update(pieces=[])), "has no piece"),
        (altered(lambda warp: warp["pieces"][0]["draft"]["weft"].append(9)), "8 picks are treadled but 9 have a weft"),
        (altered(lambda warp: warp["loom"]["loom"].update(action="flying")), "'flying' is no Action"),
        (altered(lambda warp: warp["pieces"][0]["draft"]["lifting"].update({"is": "Guessed"})), "none of Treadled"),
    ],
)
def test_what_is_no_warp_or_does_not_fit_together_is_refused(text, says):
    with pytest.raises(PlainError, match=says):
        decode_warp(text)
