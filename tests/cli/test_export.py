"""A draft is written out whole or not at all, and nothing that is there is lost by it."""

from __future__ import annotations

import pytest

from companion.cli.commands import run
from companion.draft.masks import shed_of
from companion.draft.model import ForeignSection
from companion.draft.reading import read_draft
from companion.draft.wif_write import write_wif
from tests.draft.drafts import draft_of

DRAFT = draft_of(threading=[1, 2], tieup=[[1], [2]], treadling=[1, 2], foreign=(ForeignSection("PRIVATE X", ("a",)),))


@pytest.fixture
def draft_file(tmp_path):
    path = tmp_path / "in.wif"
    path.write_bytes(write_wif(DRAFT))
    return path


def test_a_wif_file_written_out_holds_the_same_draft(draft_file, tmp_path, capsys):
    assert run(["export", str(draft_file), "--wif", str(tmp_path / "out.wif")]) == 0
    assert read_draft((tmp_path / "out.wif").read_bytes()) == DRAFT
    assert "out.wif: " in capsys.readouterr().out


def test_shorthand_written_out_weaves_the_same_and_says_what_it_left_out(draft_file, tmp_path, capsys):
    assert run(["export", str(draft_file), "--shorthand", str(tmp_path / "out.txt")]) == 0
    again = read_draft((tmp_path / "out.txt").read_bytes())
    assert again.sheds() == (shed_of([1]), shed_of([2]))
    assert "PRIVATE X" in capsys.readouterr().out


def test_a_file_that_is_there_is_kept_unless_told_otherwise(draft_file, tmp_path, capsys):
    out = tmp_path / "out.wif"
    out.write_text("mine")
    assert run(["export", str(draft_file), "--wif", str(out)]) == 2
    assert out.read_text() == "mine"
    assert capsys.readouterr().err.count("\n") == 1
    assert run(["export", str(draft_file), "--wif", str(out), "--overwrite"]) == 0
    assert read_draft(out.read_bytes()) == DRAFT


def test_a_folder_that_is_not_there_is_one_clear_line(draft_file, tmp_path, capsys):
    assert run(["export", str(draft_file), "--wif", str(tmp_path / "nowhere" / "out.wif")]) == 2
    said = capsys.readouterr().err
    assert "No such file or directory" in said
    assert said.count("\n") == 1


def test_nothing_is_left_behind_when_the_name_cannot_be_given(draft_file, tmp_path, capsys):
    (tmp_path / "folder").mkdir()
    assert run(["export", str(draft_file), "--wif", str(tmp_path / "folder"), "--overwrite"]) == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["folder", "in.wif"]
    assert capsys.readouterr().err.count("\n") == 1


def test_one_form_must_be_asked_for(draft_file, capsys):
    assert run(["export", str(draft_file)]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_a_slip_in_shorthand_is_told_with_file_line_and_column(tmp_path, capsys):
    slip = tmp_path / "slip.txt"
    slip.write_text("threading: (1 2\n")
    assert run(["export", str(slip), "--wif", str(tmp_path / "out.wif")]) == 2
    said = capsys.readouterr().err
    what = "line 1, column 12: this bracket is not closed; write ) where it ends"
    assert said == f"fellside export: {slip}: {what} | threading: ^(1 2\n"
