"""`fellside set`: a folder of drafts side by side, sheets for all of them, and one file to hand on."""

from __future__ import annotations

import shutil
import zipfile
from dataclasses import replace

import pytest

from companion.cli.commands import run
from companion.draft.facing import FROM_LEFT
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.record.ink import Letters, Paper
from companion.record.project import Handout, project_sheet
from companion.workshop import app
from companion.workshop.dressing import reckon_with
from companion.workshop.looms import UNNAMED_LOOM
from companion.workshop.places import asset
from companion.workshop.project_sets import ProjectSet, SetMember
from companion.workshop.set_papers import bundle_name, overview_of
from tests.draft.drafts import draft_of
from tests.record.printed import needs_poppler, pages_of, text_of, words_in
from tests.weaving.world import two_stage_warp

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


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Mats", "Mats.zip"),
        ("Mats: a/b", "Mats- a-b.zip"),
        ("Twills 1.2", "Twills 1.2.zip"),
        ("…?", "…-.zip"),
        (" . ", "set.zip"),
        ("Läufer", "Läufer.zip"),
    ],
)
def test_a_bundle_is_called_as_the_set_is(title, name):
    assert bundle_name(title) == name


def test_of_a_warp_with_several_pieces_each_is_shown_and_its_sheet_says_which_it_is_and_what_is_tied_anew():
    one = two_stage_warp().pieces[0]
    first = replace(one, name="narrow", stages=(replace(one.stages[0], last=7),))
    other = replace(one, name="wide", stages=(replace(one.stages[1], first=0),))
    warp = replace(two_stage_warp(), pieces=(first, other))
    member = SetMember("Mat", None, warp, Handout(on_loom=True))
    (page,) = overview_of(ProjectSet("Mats", (), (member,)), Paper.A4, FROM_LEFT)
    words = [mark.text for mark in page.marks if isinstance(mark, Letters)]
    assert "Mat, piece 1: narrow" in words
    assert "Mat, piece 2: wide" in words
    sheets = [project_sheet(warp, piece, Units.METRIC, member.handout) for piece in range(2)]
    which = [sheet.subtitle.partition(",")[0] for sheet in sheets]
    assert which == ["piece 1 of 2 on one warp", "piece 2 of 2 on one warp"]
    cords = [dict(sheet.facts).get("Cords to change after piece 1") for sheet in sheets]
    # Treadle 1 raised 1 2 and is to raise 3 4, treadle 2 raised 2 3 and is to raise 1 4.
    assert cords == [None, "treadle 1: untie 1 2; tie 3 4; treadle 2: untie 2 3; tie 1 4"]
