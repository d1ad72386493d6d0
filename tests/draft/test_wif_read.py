"""Files as they come: every liberty that the reader grants is told, and what would change the cloth is refused.

What the sections and keys mean is from memory of the WIF specification, version 1.1 (R. Nielsen, ed., 1997).
"""

from __future__ import annotations

import pytest

from companion.draft.errors import DraftError
from companion.draft.model import Colour, ForeignSection, Lifted, Treadled
from companion.draft.wif_read import read_wif
from companion.draft.wif_write import write_wif

HEAD = """[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com
Source Program=by hand

"""
CLOTH = """[WEAVING]
Shafts=4
Treadles=3
Rising Shed=true
[WARP]
Threads=4
Color=1
[WEFT]
Threads=3
Color=2
[COLOR PALETTE]
Entries=2
Form=RGB
Range=0,999
[COLOR TABLE]
1=999,0,500
2=0,0,0
[THREADING]
1=1
2=2
3=3
4=4
[TIEUP]
1=1,3
2=2,4
3=4
[TREADLING]
1=1
2=2
3=1,3
"""
CONTENTS = (
    "[CONTENTS]\n"
    + "".join(
        f"{name}=yes\n"
        for name in ["COLOR PALETTE", "WEAVING", "WARP", "WEFT", "COLOR TABLE", "THREADING", "TIEUP", "TREADLING"]
    )
    + "\n"
)
WHOLE = HEAD + CONTENTS + CLOTH


def read(text):
    return read_wif(text.encode("utf-8"))


def told(text):
    return [str(deviation) for deviation in read(text).deviations]


def refusal(text):
    with pytest.raises(DraftError) as caught:
        read(text)
    return str(caught.value)


def changed(old, new, text=WHOLE):
    assert text.count(old) == 1
    return text.replace(old, new)


def test_a_file_that_keeps_the_standard_is_read_with_nothing_to_tell():
    draft, deviations = read(WHOLE)
    assert deviations == ()
    assert draft.threading == (0, 1, 2, 3)
    assert draft.lifting == Treadled((0b0101, 0b1010, 0b1000), (0b001, 0b010, 0b101))
    assert draft.sheds() == (0b0101, 0b1010, 0b1101)
    assert [yarn.colour for yarn in draft.yarns] == [Colour(255, 0, 128), Colour(0, 0, 0)]
    assert (draft.warp, draft.weft) == ((0,) * 4, (1,) * 3)


@pytest.mark.parametrize(
    "rewrite",
    [
        pytest.param(lambda text: text.replace("\n", "\r\n").encode(), id="CRLF"),
        pytest.param(lambda text: text.replace("\n", "\r").encode(), id="CR"),
        pytest.param(lambda text: text.upper().encode(), id="upper case"),
        pytest.param(lambda text: text.lower().encode(), id="lower case"),
        pytest.param(lambda text: text.replace("=", " = ").encode(), id="blanks around the equals sign"),
        pytest.param(lambda text: text.replace("\n", "  \n\t").encode(), id="blanks around the lines"),
        pytest.param(lambda text: text.replace(",", " , ").encode(), id="blanks around commas"),
        pytest.param(lambda text: text.replace("\n[", "\n; a remark\n\n[").encode(), id="remarks and blank lines"),
        pytest.param(lambda text: text.replace("=1\n", "=1 ; shaft\n").encode(), id="remarks behind numbers"),
        pytest.param(lambda text: text.replace("=1\n", "=0001\n").encode(), id="leading zeros"),
        pytest.param(lambda text: b"\xef\xbb\xbf" + text.encode(), id="UTF-8 mark"),
        pytest.param(lambda text: text.encode("utf-16"), id="UTF-16"),
        pytest.param(lambda text: b"\xfe\xff" + text.encode("utf-16-be"), id="UTF-16, other byte order"),
        pytest.param(
            lambda text: ("[" + "[".join(reversed(text.split("[")[1:]))).encode(), id="sections in reverse order"
        ),
        pytest.param(lambda text: text.replace("1=1\n2=2\n3=3\n4=4", "4=4\n2=2\n1=1\n3=3").encode(), id="lines mixed"),
        pytest.param(lambda text: text.replace(CONTENTS, "").encode(), id="no contents"),
        pytest.param(lambda text: text.replace(HEAD, "").encode(), id="no [WIF]"),
    ],
)
def test_the_form_of_the_file_does_not_change_the_draft(rewrite):
    assert read_wif(rewrite(WHOLE)).draft == read(WHOLE).draft


def test_letters_of_utf8_and_of_latin1_are_read():
    text = WHOLE + "[TEXT]\nTitle=Läufer für Öland\n"
    assert read_wif(text.encode("utf-8")).draft.title == "Läufer für Öland"
    latin = read_wif(text.encode("latin-1"))
    assert latin.draft.title == "Läufer für Öland"
    assert "the file is not UTF-8; read as Latin-1" in map(str, latin.deviations)


def test_a_sinking_shed_raises_the_shafts_that_are_not_tied():
    assert read(changed("Rising Shed=true", "Rising Shed=off")).draft.sheds() == (0b1010, 0b0101, 0b0010)


def test_a_lift_plan_alone_needs_no_treadles():
    text = WHOLE.split("[TIEUP]")[0] + "[LIFTPLAN]\n1=1,3\n2=0\n3=4,2\n"
    assert read(text).draft.lifting == Lifted((0b0101, 0, 0b1010))


def test_a_lift_plan_that_says_the_same_as_the_tie_up_is_no_trouble():
    same = WHOLE.replace("TIEUP=yes\n", "TIEUP=yes\nLIFTPLAN=yes\n") + "[LIFTPLAN]\n1=1,3\n2=2,4\n3=1,3,4\n"
    assert read(same) == (read(WHOLE).draft, ())


def test_a_lift_plan_of_what_rises_agrees_with_a_tie_up_of_what_sinks():
    text = changed("Rising Shed=true", "Rising Shed=no") + "[LIFTPLAN]\n1=2,4\n2=1,3\n3=2\n"
    assert not any("another cloth" in line for line in told(text))


def test_where_lift_plan_and_tie_up_disagree_the_tie_up_counts_and_it_is_told():
    text = WHOLE + "[LIFTPLAN]\n1=1\n2=2\n3=3\n"
    assert read(text).draft == read(WHOLE).draft
    assert any("[LIFTPLAN]" in line and "another cloth" in line for line in told(text))


def test_the_range_of_the_palette_may_start_above_zero():
    text = (
        changed("Range=0,999", "Range=100,1100")
        .replace("1=999,0,500", "1=1100,100,600")
        .replace("2=0,0,0", "2=350,350,350")
    )
    assert [yarn.colour for yarn in read(text).draft.yarns] == [Colour(255, 0, 128), Colour(64, 64, 64)]


def test_units_are_turned_into_centimetres():
    # 1 decipoint is 1/720 inch (from memory of the specification), an inch is 2.54 cm.
    text = changed("Color=1\n", "Color=1\nUnits=Decipoints\nSpacing=72\n") + "[WARP SPACING]\n2=36\n"
    assert read(text).draft.warp_layout.spacing_cm == pytest.approx((0.254, 0.127, 0.254, 0.254))
    text = changed("Color=2\n", "Color=2\nUnits=Inches\nThickness=.5\n")
    assert read(text).draft.weft_layout.thickness_cm == pytest.approx((1.27,) * 3)


def test_colours_of_threads_stand_over_the_usual_colour():
    text = WHOLE + "[WEFT COLORS]\n2=1\n3=0\n[WARP COLORS]\n4=2\n"
    assert read(text).draft.weft == (1, 0, 1)
    assert read(text).draft.warp == (0, 0, 0, 1)


def test_without_colours_warp_and_weft_are_given_two_that_differ():
    text = HEAD + "[WEAVING]\nShafts=1\nTreadles=1\nRising Shed=1\n[THREADING]\n1=1\n[TIEUP]\n1=1\n[TREADLING]\n1=1\n"
    draft = read(text).draft
    assert [yarn.name for yarn in draft.yarns] == ["warp", "weft"]
    assert draft.yarns[draft.warp[0]].colour != draft.yarns[draft.weft[0]].colour


def test_notes_keep_their_order_and_their_semicolons():
    assert read(WHOLE + "[NOTES]\n2=then wash; warm\n1=;first\n").draft.notes == (";first", "then wash; warm")


PRIVATE = "[Private OTHER Widths]\n  a = 1\n; kept too\n\nnot a setting\n"


def test_private_sections_and_unknown_keys_are_kept_word_for_word_on_rewriting():
    text = changed("Color=1\n", "Color=1\nSymbol='#'\n") + PRIVATE + "\n\n[WARP SYMBOLS]\n1=#\n"
    draft = read(text).draft
    assert draft.foreign == (
        ForeignSection("Private OTHER Widths", ("  a = 1", "; kept too", "", "not a setting")),
        ForeignSection("WARP SYMBOLS", ("1=#",)),
        ForeignSection("WARP", ("Symbol='#'",)),
    )
    assert read_wif(write_wif(draft)).draft == draft


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (WHOLE.replace(CONTENTS, ""), "the section [CONTENTS] is missing"),
        (WHOLE.replace(HEAD, ""), "the section [WIF] is missing"),
        (changed("Version=1.1", "Version=3"), "[WIF], key Version, line 2: the WIF version is neither 1.0 nor 1.1"),
        (changed("Rising Shed=true\n", ""), "[WEAVING], key Rising Shed, line 17: Rising Shed is missing"),
        (changed("Shafts=4\n", ""), "[WEAVING], key Shafts, line 17: Shafts is missing; 4 are used"),
        (changed("Threads=4\n", ""), "key Threads, line 21: Threads is missing; 4 are used"),
        (changed("Treadles=3\n", ""), "Treadles is missing; 3 are used"),
        (
            changed("2=2\n3=3\n4=4\n", "2=2\n4=4\n"),
            "[THREADING], line 34: 1 lines are missing; these ends are unthreaded",
        ),
        (changed("2=2\n3=1,3\n", "3=1,3\n"), "[TREADLING], line 43: 1 lines are missing; no treadle is pressed"),
        (changed("3=4\n[", "[").replace("3=1,3", "3=1"), "[TIEUP], line 39: 1 lines are missing"),
        (changed("1=1,3\n", "1=1,3,\n"), "[TIEUP], key 1, line 40: a comma too many is passed over"),
        (changed("3=4\n[", "3=\n["), "a line without a value is read as none"),
        (changed("Entries=2", "Entries=7"), "the palette has not as many colours as it says"),
        (
            changed("Range=0,999\n", "").replace("999,0,500", "99,0,5"),
            "the range of the colours is missing; 0,255 is meant",
        ),
        (changed("TIEUP=yes\n", ""), "sections stand in the file that [CONTENTS] does not list; read"),
        (
            changed("TIEUP=yes\n", "TIEUP=yes\nNOTES=yes\n"),
            "sections are listed in [CONTENTS] that are not in the file",
        ),
        (WHOLE + "[TIEUP]\n3=4\n", "the section stands more than once; read as one"),
        (WHOLE + "3=1,3\n", "[TREADLING], key 3, line 47: a line stands twice"),
        (changed("Color=1\n", "Color=1\nSpacing=2\n"), "sizes without their unit are passed over"),
        (changed("Color=1\n", "Color=1,999,0,500\n"), "a colour is written out beside its number"),
        (changed("Color=1\n", "\n"), "threads without a colour are given one"),
        (changed("[TIEUP]", "[TIEUP] ties"), "[TIEUP], line 39: text after a section name is passed over"),
        ("drawn by hand\n" + WHOLE, "line 1: text before the first section is passed over"),
        (WHOLE + "[PRIVATE FELLSIDE SECTIONS]\n1=2,,Hem\n", "the sections do not add up to the picks and are dropped"),
    ],
)
def test_what_is_tolerated_is_told_with_its_place(text, what):
    assert any(what in line for line in told(text)), told(text)


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        (
            changed("Threads=4", "Threads=999999999"),
            "[WARP], key Threads, line 22: '999999999' is more than this program takes",
        ),
        (changed("Threads=3", "Threads=" + "9" * 10_000), "[WEFT], key Threads, line 25: '99999"),
        (
            changed("Shafts=4", "Shafts=٤"),
            "[WEAVING], key Shafts, line 18: '٤' is not a whole number; write one from 0 to 40",
        ),
        (changed("Shafts=4", "Shafts=1_0"), "'1_0' is not a whole number"),
        (changed("Shafts=4", "Shafts=-4"), "'-4' is not a whole number"),
        (changed("Shafts=4", "Shafts=41"), "'41' is more than this program takes; at most 40"),
        (changed("Shafts=4", "Shafts=3"), "[WEAVING], key Shafts, line 18: 3, but number 4 is used; set Shafts=4"),
        (changed("Treadles=3", "Treadles=2"), "[WEAVING], key Treadles, line 19: 2, but number 3 is used"),
        (changed("Threads=4", "Threads=3"), "[WARP], key Threads, line 22: 3, but number 4 is used"),
        (
            changed("3=3\n", "3=1,3\n"),
            "[THREADING], key 3, line 37: end 3 is on the shafts 1, 3 at once; name one shaft",
        ),
        (changed("3=3\n", "3=x\n"), "[THREADING], key 3, line 37: 'x' is not a whole number"),
        (
            changed("3=3\n", "three\n"),
            "[THREADING], line 37: 'three' is no line of this section; write end number=value",
        ),
        (changed("3=3\n", "0=3\n"), "[THREADING], key 0, line 37: there is no end 0; number the lines from 1"),
        (changed("3=3\n", "2=3\n"), "this end stands twice, with '2' in line 36 and with '3' here; delete one"),
        (
            changed("Rising Shed=true", "Rising Shed=maybe"),
            "[WEAVING], key Rising Shed, line 20: 'maybe' is neither yes",
        ),
        (
            changed("1=999,0,500", "1=999,0,1500"),
            "[COLOR TABLE], key 1, line 32: 1500 is outside the palette's range 0,999",
        ),
        (changed("1=999,0,500", "1=999,0"), "'999,0' is no colour; write red, green and blue: 120,30,0"),
        (changed("Color=2", "Color=3"), "[WEFT], key Color, line 26: colour 3 is not in the palette; add line 3"),
        (changed("Range=0,999", "Range=9,9"), "[COLOR PALETTE], key Range, line 30: the range 9,9 is empty"),
        (changed("Form=RGB", "Form=CMYK"), "[COLOR PALETTE], key Form, line 29: 'CMYK' is no form of colours"),
        (changed("Color=1\n", "Color=1\nUnits=Furlongs\n"), "[WARP], key Units, line 24: 'Furlongs' is no unit"),
        (changed("Color=1\n", "Color=1\nUnits=Inches\nSpacing=1e999\n"), "'1e999' is more than this program takes"),
        (changed("Color=1\n", "Color=1\nUnits=Inches\nSpacing=nan\n"), "'nan' is not a number"),
        (changed("[TIEUP]", "[TIEUP"), "line 39: a section name without its closing bracket; write ]"),
        (WHOLE.split("[THREADING]")[0], "the section [THREADING] is missing; add it"),
        (WHOLE.split("[TIEUP]")[0], "[WEFT], key Threads, line 25: there is neither a treadling nor a lift plan"),
        (WHOLE.replace("[TIEUP]", "[PRIVATE X]"), "[TREADLING], line 43: there is a treadling without a tie-up"),
        (
            WHOLE + "[PRIVATE FELLSIDE SECTIONS]\n1=3\n",
            "key 1, line 48: this is no section; write picks,centimetres,name",
        ),
        ("", "no section of a WIF file is in it"),
    ],
)
def test_what_cannot_be_read_is_refused_with_section_key_line_and_mend(text, complaint):
    line = refusal(text)
    assert complaint in line
    assert "\n" not in line
    assert len(line) < 300


def test_bytes_that_claim_to_be_utf16_but_are_not_are_refused():
    with pytest.raises(DraftError, match="starts as UTF-16"):
        read_wif(b"\xff\xfe\x00\xd8x")


def test_yarns_that_no_file_names_are_called_by_their_colours():
    text = changed("2=0,0,0", "2=0,0,0\n3=999,999,980\n4=2,2,2").replace("Entries=2", "Entries=4")
    assert [yarn.name for yarn in read(text).draft.yarns][1:] == ["black", "white", "black2"]


EMPTY_TREADLING = "[TREADLING]\n1=\n2=0\n"
PLAN = "[LIFTPLAN]\n1=1,3\n2=2,4\n3=4\n"
BEFORE_THE_TIEUP = WHOLE.split("[TIEUP]")[0]
TIEUP = "[TIEUP]\n1=1,3\n2=2,4\n3=4\n"


@pytest.mark.parametrize(
    ("lifting", "sheds", "says"),
    [
        ("[LIFTPLAN]\n", (0, 0, 0), "3 lines are missing; no shaft moves at these picks"),
        (TIEUP + "[LIFTPLAN]\n", (0, 0, 0), "3 lines are missing; no shaft moves at these picks"),
        (TIEUP + EMPTY_TREADLING, (0, 0, 0), "1 lines are missing; no treadle is pressed at these picks"),
        (EMPTY_TREADLING, (0, 0, 0), "these treadles are tied to nothing"),
        (TIEUP + EMPTY_TREADLING + PLAN, (5, 10, 8), "no treadle is pressed at any pick; the lift plan counts"),
        (EMPTY_TREADLING + PLAN, (5, 10, 8), "no treadle is pressed at any pick; the lift plan counts"),
        (
            TIEUP + "[TREADLING]\n1=1\n2=2\n3=3\n[LIFTPLAN]\n1=\n2=\n3=0\n",
            (5, 10, 8),
            "no shaft moves at any pick; tie-up and treadling count",
        ),
    ],
)
def test_what_moves_nothing_is_read_and_told_and_gives_way_to_what_moves_shafts(lifting, sheds, says):
    text = BEFORE_THE_TIEUP + lifting
    assert read(text).draft.sheds() == sheds
    assert any(says in one for one in told(text))
    again = read_wif(write_wif(read(text).draft)).draft
    assert again.sheds() == sheds


def test_a_decimal_comma_is_read_and_told():
    text = (
        WHOLE.replace("Threads=4\n", "Threads=4\nUnits=Centimeters\nSpacing=0,25\n") + "[WARP SPACING]\n2=0,5\n3=0.75\n"
    )
    assert read(text).draft.warp_layout.spacing_cm == (0.25, 0.5, 0.75, 0.25)
    assert [line for line in told(text) if "comma" in line] == [
        "[WARP], key Spacing, line 24: a decimal comma is read as a point",
        "[WARP SPACING], key 2, line 50: a decimal comma is read as a point",
    ]
    assert "'1,2,3' is not a number" in refusal(text.replace("0,25", "1,2,3"))


def test_colours_numbered_from_0_are_read_and_told():
    text = changed("1=999,0,500\n2=0,0,0\n", "0=999,0,500\n1=0,0,0\n").replace("Color=1", "Color=0")
    text = text.replace("Color=2", "Color=1")
    found = read(text).draft
    assert [found.yarns[thread].colour for thread in found.warp] == [Colour(255, 0, 128)] * 4
    assert [found.yarns[thread].colour for thread in found.weft] == [Colour(0, 0, 0)] * 3
    assert [line for line in told(text) if "COLOR" in line] == [
        "[COLOR TABLE], key 0, line 32: colours are numbered from 0; a thread of colour 0 has that colour"
    ]
