"""`fellside sheet`: pages to print for a draft or a warp, in the loom's own treadles where one is chosen."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from companion.cli.commands import run

DEMO = str(Path(__file__).resolve().parents[2] / "assets" / "drafts" / "demo-double-faced-four-shaft.wif")


def test_both_forms_are_written_and_say_how_many_pages(tmp_path, capsys):
    html, pdf = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    assert (
        run(["sheet", DEMO, "--treadles", "6", "--html", str(html), "--pdf", str(pdf), "--words", "Breathe <b>"]) == 0
    )
    assert "2 pages" in capsys.readouterr().out
    text = html.read_text(encoding="utf-8")
    assert "Window-seat cushion" in text
    assert "Breathe &lt;b&gt;" in text
    assert "L1" in text
    assert pdf.read_bytes().startswith(b"%PDF-")


def test_paper_is_chosen(tmp_path):
    out = tmp_path / "sheet.html"
    assert run(["sheet", DEMO, "--html", str(out), "--paper", "letter"]) == 0
    assert 'width="612pt" height="792pt"' in out.read_text(encoding="utf-8")


def test_letters_that_the_pdf_cannot_show_are_told(tmp_path, capsys):
    assert run(["sheet", DEMO, "--pdf", str(tmp_path / "sheet.pdf"), "--words", "żyto"]) == 0
    assert "no shape for ż" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([DEMO], "--pdf OUT"),
        ([DEMO, "--pdf", "x.pdf", "--loom", "nowhere"], "nowhere"),
        (["nothing-here", "--pdf", "x.pdf"], "neither a file nor a warp"),
        ([DEMO, "--pdf", "no-such-folder/x.pdf"], "check the folder"),
        ([DEMO, "--pdf", "x.pdf", "--shafts", "3", "--treadles", "4"], "shafts"),
    ],
)
def test_bad_input_is_one_line_and_exit_status_2(words, says, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run(["sheet", *words]) == 2
    told = capsys.readouterr().err
    assert says in told
    assert told.count("\n") == 1


def test_words_that_are_kept_stand_on_later_sheets_and_go_with_the_draft_onto_the_loom(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "shelf"))
    draft, out = tmp_path / "towel.wif", tmp_path / "sheet.html"
    draft.write_bytes(Path(DEMO).read_bytes())
    first = ["--words", "Slack edges.", "--finishing", "Wash warm.", "--keep"]
    assert run(["sheet", str(draft), "--html", str(out), *first]) == 0
    assert run(["sheet", str(draft), "--html", str(out), "--finishing", "Only once."]) == 0
    once = out.read_text(encoding="utf-8")
    assert "Slack edges." in once
    assert "Only once." in once
    monkeypatch.setattr("sys.stdin", io.StringIO("q\n"))
    assert run(["weave", str(draft), "--text", "--treadles", "6", "--name", "Towel"]) == 0
    assert run(["sheet", "Towel", "--html", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    assert "Slack edges." in text
    assert "Wash warm." in text
    assert run(["sheet", "Towel", "--html", str(out), "--keep"]) == 2
