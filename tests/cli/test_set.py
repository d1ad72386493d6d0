"""`fellside set`: a folder of drafts side by side, sheets for all of them, and one file to hand on."""

from __future__ import annotations

import shutil
import zipfile

import pytest

from companion.cli.commands import run
from companion.draft.reading import read_draft
from companion.workshop import app
from companion.workshop.dressing import reckon_with
from companion.workshop.looms import UNNAMED_LOOM
from companion.workshop.places import asset
from tests.draft.drafts import draft_of
from tests.record.printed import needs_poppler, pages_of, text_of, words_in

MATS = [f"diversified-plain-weave-four-shaft-{number}.txt" for number in range(1, 6)]


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    folder = tmp_path / "mats"
    folder.mkdir()
    for name in MATS:
        shutil.copy(asset(f"drafts/{name}"), folder / name)
    return folder


@needs_poppler
def test_a_folder_is_a_set_of_its_drafts_and_shows_them_side_by_side(folder, tmp_path, capsys):
    out = tmp_path / "mats.pdf"
    assert run(["set", str(folder), "--pdf", str(out), "--paper", "letter"]) == 0
    assert "mats: 5 projects" in capsys.readouterr().out
    text = words_in(text_of(out.read_bytes()))
    assert pages_of(out.read_bytes()) == 1
    assert [f"mat {number}" in text for number in range(1, 6)] == [True] * 5


@needs_poppler
def test_the_list_gives_title_order_words_and_warps(folder, tmp_path, capsys):
    draft = draft_of(threading=[1, 2], tieup=[[1], [2]], treadling=[1, 2], title="Strip")
    app.put_on_shelf(reckon_with("Blue shawl", [draft], UNNAMED_LOOM), False)
    listed = f"# ours\ntitle: Mats for the class\nwords: Weave mat 2 first.\ndraft: {MATS[1]}\nwarp: Blue shawl\n"
    (folder / "set.txt").write_text(listed, encoding="utf-8")
    out = tmp_path / "mats.pdf"
    assert run(["set", str(folder), "--pdf", str(out)]) == 0
    assert "Mats for the class: 2 projects" in capsys.readouterr().out
    text = words_in(text_of(out.read_bytes()))
    assert "Weave mat 2 first." in text
    assert text.index("mat 2") < text.index("Blue shawl")


def test_there_is_a_sheet_for_each_and_one_bundle_of_all(folder, tmp_path):
    bundle = tmp_path / "mats.zip"
    assert run(["set", str(folder), "--sheets", str(tmp_path / "sheets"), "--bundle", str(bundle)]) == 0
    sheets = sorted(path.name for path in (tmp_path / "sheets").iterdir())
    assert len(sheets) == 5
    assert all(path.read_bytes().startswith(b"%PDF-") for path in (tmp_path / "sheets").iterdir())
    with zipfile.ZipFile(bundle) as whole:
        assert whole.testzip() is None
        assert set(whole.namelist()) == {*MATS, "set.html", *(f"sheets/{name}" for name in sheets)}
        assert read_draft(whole.read(MATS[0])).ends == 72
    again = tmp_path / "again.zip"
    assert run(["set", str(folder), "--bundle", str(again)]) == 0
    assert again.read_bytes() == bundle.read_bytes()


@pytest.mark.parametrize(
    ("listed", "says"),
    [
        ("draft: ../other.wif", "copy it there"),
        ("draft: missing.wif", "line 1"),
        ("warp: nowhere", "nowhere"),
        ("mat one", "line 1: 'mat one' is no line of a set; write title"),
        ("title: Empty", "no draft is in this set"),
    ],
)
def test_a_list_that_cannot_be_read_is_one_line_and_exit_status_2(listed, says, folder, capsys):
    (folder / "set.txt").write_text(listed, encoding="utf-8")
    assert run(["set", str(folder)]) == 2
    told = capsys.readouterr().err
    assert says in told
    assert told.count("\n") == 1


def test_no_folder_is_no_set(tmp_path, capsys):
    assert run(["set", str(tmp_path / "nothing")]) == 2
    assert "give the folder of a set" in capsys.readouterr().err
