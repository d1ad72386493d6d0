"""What is written and read again is the same draft, and the file is plain to the standard.

The form of the file is from memory of the WIF specification, version 1.1 (R. Nielsen, ed., 1997): a Windows .INI file
with [WIF], [CONTENTS], information sections and data sections of `number=value` lines.
"""

from __future__ import annotations

import configparser

import pytest
from hypothesis import given, settings

from companion.draft.model import Colour, ForeignSection, Layout, Section, Yarn
from companion.draft.wif_read import read_wif
from companion.draft.wif_write import write_wif
from tests.draft.drafts import draft_of
from tests.draft.random_drafts import drafts, words


def settings_of(data):
    """The file as Python's own reader of INI files sees it: section, key, value, all in upper case but the values."""
    parser = configparser.RawConfigParser(strict=True, delimiters=("=",), comment_prefixes=(";",), allow_no_value=True)
    parser.optionxform = str.upper
    parser.read_string(data.decode("ascii").replace("\r\n", "\n"))
    return {section.upper(): dict(parser[section]) for section in parser.sections()}


@given(drafts())
def test_reading_what_was_written_gives_the_same_draft_and_nothing_to_tolerate(draft):
    read = read_wif(write_wif(draft))
    assert read.draft == draft
    assert [deviation for deviation in read.deviations if "a lift plan beside" not in deviation.what] == []


def small_draft(**more):
    return draft_of(threading=[1, None, 2], tieup=[[1], [2], []], treadling=[1, [1, 2], []], weft=[2, 1, 2], **more)


def test_the_file_says_each_thing_in_the_standards_own_words():
    said = settings_of(write_wif(small_draft(title="Nap cloth", rising=False)))
    assert list(said)[:2] == ["WIF", "CONTENTS"]
    assert said["WIF"]["VERSION"] == "1.1"
    assert said["WIF"]["DATE"] == "April 20, 1997"  # the specification's date, not the file's
    assert said["TEXT"] == {"TITLE": "Nap cloth"}
    assert said["WEAVING"] == {"SHAFTS": "2", "TREADLES": "3", "RISING SHED": "false"}
    assert said["WARP"]["THREADS"] == "3"
    assert said["THREADING"] == {"1": "1", "2": "0", "3": "2"}
    assert said["TIEUP"] == {"1": "1", "2": "2", "3": "0"}
    assert said["TREADLING"] == {"1": "1", "2": "1,2", "3": "0"}
    assert said["COLOR PALETTE"] == {"ENTRIES": "2", "FORM": "RGB", "RANGE": "0,255"}
    assert said["COLOR TABLE"] == {"1": "255,255,255", "2": "38,50,110"}
    assert said["WEFT COLORS"] == {"1": "2", "2": "1", "3": "2"}


@given(drafts(texts=words))
@settings(max_examples=40)
def test_the_contents_list_the_sections_that_stand_in_the_file(draft):
    heads = [line[1:-1] for line in write_wif(draft).decode().split("\r\n") if line.startswith("[")]
    body = write_wif(draft).decode().split("[CONTENTS]\r\n")[1].split("\r\n\r\n")[0].split("\r\n")
    listed = [line.removesuffix("=true") for line in body if line]
    assert set(listed) == set(heads) - {"WIF", "CONTENTS"}
    assert len(listed) == len(set(listed))


def test_a_draft_with_plain_texts_is_written_in_ascii_and_any_other_in_utf8():
    assert write_wif(small_draft(title="Nap cloth")).isascii()
    assert "Läufer".encode() in write_wif(small_draft(title="Läufer"))


def test_sizes_have_no_exponent_and_come_back_exactly():
    layout = Layout(spacing_cm=(0.1, 0.00001, 1 / 3))
    data = write_wif(small_draft(warp_layout=layout))
    assert b"2=0.00001\r\n" in data
    assert read_wif(data).draft.warp_layout == layout


@pytest.mark.parametrize("letter", ["\n", "\r", "\0", "\x85", "\u2028", "\ud800"])
def test_a_letter_that_would_break_the_line_becomes_a_blank(letter):
    draft = small_draft(title=f"one{letter}two", notes=(f"a{letter}[THREADING]",))
    again = read_wif(write_wif(draft)).draft
    assert again.title == "one two"
    assert again.notes == ("a [THREADING]",)
    assert again.threading == draft.threading


def test_names_of_yarns_and_sections_stand_in_private_sections():
    draft = small_draft(
        yarns=(Yarn("oat, thick", Colour(1, 2, 3)), Yarn("", Colour(1, 2, 3))),
        sections=(Section("Hem; plain", 1), Section("Body, long", 2, 40.5)),
    )
    data = write_wif(draft)
    assert b"[PRIVATE FELLSIDE SECTIONS]\r\n1=1,,Hem; plain\r\n2=2,40.5,Body, long\r\n" in data
    assert read_wif(data).draft == draft


def test_keys_of_other_programs_go_back_into_their_sections():
    draft = small_draft(foreign=(ForeignSection("TEXT", ("EMail=nobody@example.org",)),))
    data = write_wif(draft)
    assert settings_of(data)["TEXT"] == {"EMAIL": "nobody@example.org"}
    assert read_wif(data).draft == draft


def test_a_foreign_section_whose_name_cannot_be_a_key_is_kept_but_not_listed():
    draft = small_draft(foreign=(ForeignSection("[RP", ("1",)), ForeignSection("; A=B", ("2",))))
    assert read_wif(write_wif(draft)).draft == draft
