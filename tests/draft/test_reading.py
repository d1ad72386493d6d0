"""The content of a file tells its dialect, whatever its name and encoding."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.reading import read_draft, read_with_deviations
from companion.draft.shorthand_print import print_shorthand
from companion.draft.wif_write import write_wif
from tests.draft.drafts import draft_of

DRAFT = draft_of(threading=[1, 2], tieup=[[1], [2]], treadling=[1, 2], title="Nap für Öland")
WIF, SHORTHAND = write_wif(DRAFT).decode(), print_shorthand(DRAFT)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_both_dialects_are_read_in_any_encoding(encoding, line_end):
    for text in (WIF, SHORTHAND):
        lines = text.replace("\r\n", "\n").replace("\n", line_end)
        assert read_draft(lines.encode(encoding)) == DRAFT


def test_a_remark_before_the_first_section_does_not_hide_a_wif_file():
    read = read_with_deviations(("note: from a friend\n" + WIF).encode())
    assert read.draft == DRAFT
    assert "text before the first section is passed over" in str(read.deviations[0])


@pytest.mark.parametrize("data", [b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"<html></html>", b"1 2 3 4", b"\0\0"])
def test_what_is_no_draft_at_all_is_said_to_be_none(data):
    with pytest.raises(DraftError, match="neither a WIF file nor shorthand"):
        read_draft(data)


@given(st.binary(max_size=80) | st.text(max_size=60).map(str.encode))
def test_any_file_gives_a_draft_or_a_draft_error(data):
    try:
        assert isinstance(read_draft(data), Draft)
    except DraftError as error:
        refusal = str(error)
        assert_one_line(refusal)


def assert_one_line(text):
    assert text
    assert "\n" not in text


@pytest.mark.parametrize("data", [b"", b" \r\n", b"\xff\xfe"])
def test_an_empty_file_is_said_to_be_empty(data):
    with pytest.raises(DraftError, match="the file is empty"):
        read_draft(data)
