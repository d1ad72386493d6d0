"""A file that is asked for is whole or as it was, and what is no file keeps its place."""

from __future__ import annotations

import io
import os
import shutil
import sys
from pathlib import Path

import pytest

from companion.cli.commands import run
from companion.cli.outputs import write_whole
from companion.cli.status import CommandError


def test_a_new_file_and_one_in_the_place_of_an_old_one(tmp_path):
    out = tmp_path / "card.html"
    for data in (b"first", b"second, longer"):
        write_whole(str(out), data)
        assert out.read_bytes() == data
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.parametrize("name", ["", "nowhere/card.html", "n" * 300, "a\0b"])
def test_where_it_cannot_be_written_is_one_line_and_nothing_is_left_behind(tmp_path, name):
    with pytest.raises(CommandError, match="check the folder, its rights and its room"):
        write_whole(f"{tmp_path}/{name}", b"data")
    assert list(tmp_path.iterdir()) == []


def test_an_old_file_stays_as_it_was_when_the_new_one_finds_no_room(tmp_path, monkeypatch):
    out = tmp_path / "card.html"
    out.write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(CommandError, match="No space left on device"):
        write_whole(str(out), b"new")
    assert out.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pipe with a name")
def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_whole(str(pipe), b"data")
        assert os.read(reader, 10) == b"data"
    finally:
        os.close(reader)
    assert Path(pipe).is_fifo()


DRAFT = Path(__file__).resolve().parents[2] / "assets" / "drafts" / "overshot-four-shaft.txt"


@pytest.mark.parametrize(
    "words",
    [
        ["sheet", "DRAFT", "--html", "OUT"],
        ["sheet", "DRAFT", "--pdf", "OUT"],
        ["remap", "DRAFT", "--treadles", "6", "--card", "OUT"],
        ["record", "Demo", "--html", "OUT"],
        ["record", "Demo", "--csv", "OUT"],
        ["set", "SET", "--html", "OUT"],
        ["set", "SET", "--pdf", "OUT"],
        ["set", "SET", "--bundle", "OUT"],
    ],
    ids=lambda words: f"{words[0]} {words[-2][2:]}",
)
def test_a_document_takes_the_place_of_its_older_self_and_of_nothing_else(tmp_path, monkeypatch, capsys, words):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.setattr(sys, "stdin", io.StringIO("\nq\n"))
    assert run(["weave", "--text"]) == 0
    (tmp_path / "set").mkdir()
    draft = Path(shutil.copy(DRAFT, tmp_path / "set" / "runner.txt"))
    capsys.readouterr()

    def asked(out):
        named = {"DRAFT": draft, "SET": draft.parent, "OUT": out}
        return run([str(named.get(word, word)) for word in words])

    assert asked(draft) == 2
    told = capsys.readouterr().err
    assert (told.count("\n"), draft.read_bytes()) == (1, DRAFT.read_bytes())
    assert f"{draft}: is there already, and no older one of its kind; give another name" in told
    out = tmp_path / "out"
    assert (asked(out), asked(out)) == (0, 0), capsys.readouterr().err
