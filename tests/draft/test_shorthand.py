"""Shorthand says what a weaver would write on paper: what each form stands for, and where a slip is pointed out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.errors import DraftError, ShorthandError
from companion.draft.masks import shafts_of, treadles_of
from companion.draft.model import MOST_THREADS, Lifted, Section, Treadled
from companion.draft.shorthand import parse_shorthand
from companion.draft.shorthand_sequences import MOST_DEPTH

PLAIN = "threading: 1 2 3 4\ntie-up: 1 3, 2 4, 1 2, 3 4\n"


def picks(treadling, head=PLAIN):
    """The treadles of each pick, as a list of numbers or of lists where a pick has none or several."""
    lifting = parse_shorthand(f"{head}treadling: {treadling}").lifting
    pressed = [treadles_of(pick) for pick in lifting.treadling]
    return [pick[0] if len(pick) == 1 else list(pick) for pick in pressed]


def threading(text):
    return [None if shaft is None else shaft + 1 for shaft in parse_shorthand(f"threading: {text}").threading]


def weft(treadling, head="yarn: oat\nyarn: sea\nyarn: rust\n" + PLAIN):
    draft = parse_shorthand(f"{head}treadling: {treadling}")
    return [draft.yarns[yarn].name for yarn in draft.weft]


def complaint(text):
    with pytest.raises(DraftError) as caught:
        parse_shorthand(text)
    return caught.value


@pytest.mark.parametrize(
    ("written", "means"),
    [
        ("1 2 3 4", [1, 2, 3, 4]),
        ("(1 2)x3", [1, 2] * 3),
        ("(1 2) x 3", [1, 2] * 3),
        ("(1 2)×3", [1, 2] * 3),
        ("4x3 1", [4, 4, 4, 1]),
        ("((1 2)x2 3)x2 4", [1, 2, 1, 2, 3, 1, 2, 1, 2, 3, 4]),
        ("1-4", [1, 2, 3, 4]),
        ("4-2 1", [4, 3, 2, 1]),
        ("point (1 2 3 4)", [1, 2, 3, 4, 3, 2]),
        ("point 1-4 x2", [1, 2, 3, 4, 3, 2] * 2),
        ("(1 2 3) and back", [1, 2, 3, 2, 1]),
        ("(1 2 3) and reversed", [1, 2, 3, 3, 2, 1]),
        ("reversed (1 1 2 3)", [3, 2, 1, 1]),
        ("1+3 0 2", [[1, 3], [], 2]),
        ("(1+3 2+4)x2", [[1, 3], [2, 4]] * 2),
        ("as drawn in", [1, 2, 3, 4]),
        ("(as drawn in)x2 reversed as drawn in", [1, 2, 3, 4, 1, 2, 3, 4, 4, 3, 2, 1]),
        ("1 2\n 3\n\n# woven to here\n 4", [1, 2, 3, 4]),
        ("", []),
    ],
)
def test_a_treadling_means_what_is_written(written, means):
    assert picks(written) == means


def test_threading_is_written_as_treadling_is():
    assert threading("(1-4)x2 point 1-4 0") == [1, 2, 3, 4, 1, 2, 3, 4, 1, 2, 3, 4, 3, 2, None]


def test_tie_up_lists_the_shafts_of_each_treadle():
    draft = parse_shorthand("shafts: 4\nthreading: 1-4\ntie-up: 1 2, 0, 4\ntreadling: 1 3")
    assert [shafts_of(tie) for tie in draft.lifting.tieup] == [(1, 2), (), (4,)]
    assert draft.sheds() == (0b0011, 0b1000)


def test_a_lift_plan_lists_the_shafts_of_each_pick():
    draft = parse_shorthand("threading: 1-4\nlift plan: (1+3 2+4)x2 0")
    assert draft.lifting == Lifted((0b0101, 0b1010, 0b0101, 0b1010, 0))


def test_a_sinking_shed_raises_the_shafts_that_are_not_tied():
    assert parse_shorthand(PLAIN + "shed: sinking\ntreadling: 1").sheds() == (0b1010,)


@pytest.mark.parametrize(
    ("written", "thrown"),
    [
        ("sea 1 2 oat 3", ["sea", "sea", "oat"]),
        ("sea/oat 1 2 3", ["sea", "oat", "sea"]),
        ("sea/oat (1 2 3)x2", ["sea", "oat", "sea", "oat", "sea", "oat"]),
        ("(sea 1 oat 2)x2", ["sea", "oat"] * 2),
        # What is named in brackets holds to the closing bracket.
        ("sea 1 (rust 2) 3", ["sea", "rust", "sea"]),
        ("sea/oat 1 (rust 2) 3 4", ["sea", "rust", "oat", "sea"]),
        ("reversed (sea 1 oat 2 2)", ["oat", "oat", "sea"]),
        ("(sea 1 oat 2 3) and back", ["sea", "oat", "oat", "oat", "sea"]),
    ],
)
def test_shuttles_hold_until_another_is_named(written, thrown):
    assert weft(written) == thrown


def test_of_two_yarns_the_second_is_the_weft_unless_told():
    two = "yarn: oat\nyarn: sea\n" + PLAIN
    assert weft("1", two) == ["sea"]
    assert weft("1", two + "weft: oat\n") == ["oat"]


def test_tabby_follows_each_pattern_pick_by_turns_over_the_whole_draft():
    draft = parse_shorthand(
        "yarn: oat\nyarn: sea\n" + PLAIN + "tabby: oat 1 2\ntreadling:\n"
        "section: Motif\nsea (3 4 4)x1 with tabby\nsection: Ground\n sea 3 with tabby 4\n"
    )
    assert [treadles_of(pick)[0] for pick in draft.lifting.treadling] == [3, 1, 4, 2, 4, 1, 3, 2, 4]
    assert [draft.yarns[yarn].name for yarn in draft.weft] == ["sea", "oat"] * 4 + ["sea"]
    assert draft.sections == (Section("Motif", 6), Section("Ground", 3))


def test_tabby_keeps_its_turns_through_repeats_and_reversals():
    draft = parse_shorthand(PLAIN + "tabby: 1 2\ntreadling: ((3 4) and back)x2 with tabby")
    assert [treadles_of(pick)[0] for pick in draft.lifting.treadling][1::2] == [1, 2] * 3


def test_sections_have_names_and_may_be_woven_to_a_length():
    draft = parse_shorthand(
        PLAIN
        + 'treadling:\nsection: Hem\n1 2\nsection: Body: wide until 40.5 cm\n(3 4)x2\nsection: " ""A"" until 3 cm"\n'
    )
    assert draft.sections == (Section("Hem", 2), Section("Body: wide", 4, 40.5), Section('"A" until 3 cm', 0))


def test_colours_are_words_or_codes_and_the_warp_takes_one_or_an_order():
    head = "yarn: oat #010203\nyarn: red\nyarn: 'no'".replace("'", '"') + " white\n" + PLAIN
    draft = parse_shorthand(head + 'warp: (red oat)x1 "no" x2')
    assert [tuple(yarn.colour) for yarn in draft.yarns] == [(1, 2, 3), (255, 0, 0), (255, 255, 255)]
    assert draft.warp == (1, 0, 2, 2)
    assert parse_shorthand(head + "warp: red").warp == (1,) * 4


def test_sizes_of_threads_are_read_in_the_unit_behind_the_last():
    """1 in = 2.54 cm exactly (NIST Special Publication 811, appendix B)."""
    draft = parse_shorthand(PLAIN + "treadling: 1 2\nwarp spacing: (0.05 0.1)x2 in\nweft thickness: 1 mm")
    assert draft.warp_layout.spacing_cm == (0.127, 0.254, 0.127, 0.254)
    assert draft.weft_layout.thickness_cm == (0.1, 0.1)


def test_texts_and_sizes():
    draft = parse_shorthand("title: Nap: a cloth \nauthor: x\nnote: one\nnote:\nwarp spacing: .2 x3 0.25\n" + PLAIN)
    assert (draft.title, draft.author, draft.notes) == ("Nap: a cloth", "x", ("one", ""))
    assert draft.warp_layout.spacing_cm == (0.2, 0.2, 0.2, 0.25)


@pytest.mark.parametrize(
    ("text", "line", "mark"),
    [
        # The line of the complaint, and the line with the caret below the very place.
        ("threading: 1 2\nshafs: 4", "line 2, column 1: there is no 'shafs'; is 'shafts' meant?", "shafs: 4\n^"),
        ("threading: 1 ?", "line 1, column 14: '?' is not understood", "threading: 1 ?\n             ^"),
        ("threading: (1 2", "line 1, column 12: this bracket is not closed", "threading: (1 2\n           ^"),
        ("threading: 1 2)", "line 1, column 15: ')' does not belong here", "threading: 1 2)\n              ^"),
        ("threading: ()x3", "line 1, column 12: nothing stands in the brackets", "threading: ()x3\n           ^"),
        ("threading: point", "line 1, column 17: something must follow 'point'", "threading: point\n                ^"),
        (
            "shafts: 4\nthreading: 1 5",
            "line 2, column 14: 5 is too much for a shaft; at most 4",
            "threading: 1 5\n             ^",
        ),
        ("threading: 1-", "a shaft is missing before the end of the line", "threading: 1-\n             ^"),
        ("threading: (1)x0", "line 1, column 15: 0 times", "threading: (1)x0\n              ^"),
        ("threading: sea", "'sea' is not understood here", "threading: sea\n           ^"),
        ('threading: "sea', "a quotation mark has no partner", 'threading: "sea\n           ^'),
        ("1 2 3", "line 1, column 1: this line belongs to nothing; begin it with a word", "1 2 3\n^"),
        ("title: a\n\t 1 2", "line 2, column 3: this line belongs to nothing", "\t 1 2\n\t ^"),
        (PLAIN + "threading: 1", "line 3, column 1: 'threading' stands twice; delete one", "threading: 1\n^"),
        (
            PLAIN + "treadling: 5",
            "line 3, column 12: 5 is too much for a treadle; at most 4",
            "treadling: 5\n           ^",
        ),
        (PLAIN + "treadling: 1 2 with tabby", "line 3, column 16: no tabby is declared; add a line", None),
        (PLAIN + "tabby: 1 2\ntreadling: (3 with tabby) with tabby", "these picks have their tabby already", None),
        (PLAIN + "tabby: 1\ntreadling: 3", "line 3, column 9: a treadle is missing", "tabby: 1\n        ^"),
        (PLAIN + "treadling: 1x", "line 3, column 13: a number of times is missing behind 'x'; write such as x3", None),
        (PLAIN + "treadling: red 1", "no yarn is called 'red'; the yarns are warp, weft", None),
        (PLAIN + "treadling: weft x3 1", "line 3, column 17: a shuttle stands here, not a pick", None),
        (
            "yarn: a red\nyarn: b red\nyarn: c red\n" + PLAIN + "treadling: 1 2",
            "picks stand here without a shuttle",
            None,
        ),
        ("yarn: a red\nyarn: a blue\n" + PLAIN, "line 2, column 7: two yarns are called 'a'", "yarn: a blue\n      ^"),
        (
            "yarn: a reddish\n" + PLAIN,
            "line 1, column 9: 'reddish' is no colour known here",
            "yarn: a reddish\n        ^",
        ),
        ("yarn: 3\n" + PLAIN, "line 1, column 7: a yarn needs a name", "yarn: 3\n      ^"),
        ("threading: 1 2\ntie-up: 1, ,2", "line 2, column 12: a treadle without shafts; write 0", None),
        ("threading: 1 2\ntie-up: 1,", "line 2, column 10: a treadle is missing behind the comma", None),
        ("threading: 1 2\ntreadling: 1", "line 2, column 1: a treadling without a tie-up", None),
        (PLAIN + "lift plan: 1", "line 2, column 1: tie-up and lift plan exclude each other", None),
        (PLAIN + "section: Hem\n1", "line 3, column 1: a section before treadling", None),
        (PLAIN + "treadling: 1\nsection: Hem\n1", "line 4, column 1: picks stand before the first section", None),
        (PLAIN + "treadling:\nsection: Hem until x cm\n1", "line 4, column 1: 'x cm' is no length", None),
        (PLAIN + "treadling:\nsection: Hem until 12\n1", "line 4, column 1: '12' is no length to weave to", None),
        (PLAIN + "treadling:\nsection: Hem until 0 cm\n1", "line 4, column 1: '0 cm' is no length", None),
        (PLAIN + "shed: upward", "line 3, column 7: 'upward' is no shed; write rising or sinking", None),
        (PLAIN + "warp: warp x3", "line 3, column 1: 3 ends have a colour, but 4 are threaded", None),
        (PLAIN + "warp spacing: 1 2", "line 3, column 1: 2 sizes for 4 threads", None),
        ("shafts: 41\n" + PLAIN, "line 1, column 9: 41 is too much for the number of shafts; at most 40", None),
        ("shafts: 0\n" + PLAIN, "line 1, column 9: a loom without shafts; write 1 to 40", None),
        (
            "threading: 0 2\ntie-up: 1\ntreadling: as drawn in",
            "line 3, column 12: the treadling cannot be as drawn in",
            None,
        ),
    ],
)
def test_a_slip_is_pointed_out_with_line_column_and_caret(text, line, mark):
    error = complaint(text)
    assert line in str(error)
    assert "\n" not in str(error)
    assert isinstance(error, ShorthandError)
    if mark is not None:
        source, indent = mark.split("\n")
        at = indent.index("^")
        assert error.caret == source[:at] + "^" + source[at:]


def test_of_a_long_line_only_the_neighbourhood_of_the_slip_is_shown():
    error = complaint("threading: " + "1 " * 500 + "? " + "1 " * 500)
    assert "line 1, column 1012: '?'" in str(error)
    assert error.caret == "…" + "1 " * 20 + "^? " + "1 " * 19 + "…"


def test_without_a_threading_there_is_no_draft():
    assert str(complaint("shafts: 4")) == "there is no threading; add a line such as: threading: (1 2 3 4)x20"


@pytest.mark.parametrize(
    "treadling",
    [
        f"(1)x{MOST_THREADS} 1",
        "(1 2)x99999",
        "((((1)x999)x999)x999)x999",
        "1x" + "9" * 5000,
        "1 " + "and reversed " * 40,
        "(1)x60000 (1)x60000",
    ],
)
def test_a_treadling_that_would_be_endless_is_refused_before_it_is_written_out(treadling):
    assert "too much" in str(complaint(PLAIN + f"treadling: {treadling}")) or f"at most {MOST_THREADS:,}" in str(
        complaint(PLAIN + f"treadling: {treadling}")
    )


def test_brackets_nest_as_deep_as_allowed_and_no_deeper():
    assert picks("(" * MOST_DEPTH + "1" + ")" * MOST_DEPTH) == [1]
    for depth in (MOST_DEPTH + 1, 100_000):
        assert "brackets stand in each other" in str(complaint(PLAIN + "treadling: " + "(" * depth))


HEADS = ["threading:", "tie-up:", "treadling:", "section:", "yarn:", "warp:", "weft:", "tabby:", "note:", "shafts:"]
SIGNS = [
    "1",
    "2",
    "4",
    "0",
    "99",
    "(",
    ")",
    "x3",
    "x",
    ",",
    "+",
    "-",
    "/",
    "point",
    "reversed",
    "red",
    '"red"',
    '"',
    "#ff0000",
    ".5",
]
PHRASES = ["lift plan:", "and back", "and reversed", "with tabby", "as drawn in", "until 3 cm", "\n"]
HOSTILE = st.sampled_from(HEADS) | st.sampled_from(SIGNS) | st.sampled_from(PHRASES)


@given(st.lists(HOSTILE, max_size=40).map(" ".join) | st.text(max_size=60))
def test_whatever_is_typed_gives_a_draft_or_a_complaint_of_one_line(text):
    try:
        lifting = parse_shorthand(text).lifting
    except DraftError as error:
        lifting = None
        line = str(error)
    assert isinstance(lifting, Treadled | Lifted) or ("\n" not in line and len(line) < 500)


@pytest.mark.parametrize(("written", "cm"), [("12 in", 30.48), ("12in", 30.48), ("1/2 yd", 45.72), ("40 cm", 40.0)])
def test_a_section_is_woven_to_a_length_in_any_unit(written, cm):
    """1 in = 2.54 cm, 1 yd = 0.9144 m exactly (NIST Special Publication 811, appendix B)."""
    draft = parse_shorthand(PLAIN + f"treadling:\nsection: Body until {written}\n1 2")
    assert draft.sections == (Section("Body", 2, cm),)


def test_words_of_the_trade_may_be_written_in_the_other_usual_way():
    plain = "threading: 1 2 3 4\ntie-up: 1 2, 3 4, 1 3, 2 4\ntabby: 3 4\n"
    assert parse_shorthand(plain + "treadling: (1 2)x2 use tabby") == parse_shorthand(
        plain + "treadling: (1 2)x2 with tabby"
    )
    assert parse_shorthand("threading: 1 2\nliftplan: 1 2") == parse_shorthand("threading: 1 2\nlift plan: 1 2")
