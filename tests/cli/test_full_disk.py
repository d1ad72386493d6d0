"""A disk without a free byte, a real one: what was woven can be read and carried away, and the disk is named."""

from __future__ import annotations

import io
import sys

import pytest

from companion.cli.commands import run
from companion.cli.weave import demo_warp_name
from companion.journal.disk import companions_of, full_disk
from companion.journal.store import Journal
from companion.weaving.decide import weave_pick
from companion.weaving.events import PickWoven
from companion.workshop import app
from tests.journal.full_disk import fill


@pytest.fixture
def disk(small_disk, monkeypatch):
    """A small disk with the demo on it, three picks woven."""
    monkeypatch.setenv("FELLSIDE_HOME", str(small_disk / "fellside"))
    with app.sit_down(demo_warp_name()) as loom:
        for _ in range(3):
            loom.do(weave_pick)
    return small_disk


@pytest.fixture(params=["log", "log without its index", "no log"])
def full(request, disk):
    """The disk, filled, with what a program that was cut off may have left beside the journal."""
    path = app.shelf().path("Demo")
    if request.param != "no log":
        kept = {}
        loom = app.sit_down("Demo")
        loom.do(weave_pick)
        for file in (path, *companions_of(path)):
            kept[file] = file.read_bytes()
        loom.__exit__(None, None, None)
        for file, content in kept.items():
            file.write_bytes(content)
        if "without" in request.param:
            companions_of(path)[1].unlink()
    fill(disk)
    assert full_disk(disk) == disk
    return disk


@pytest.mark.parametrize(
    "words",
    [
        ["record", "Demo", "--csv", "OTHER/r.csv"],
        ["record", "Demo", "--json"],
        ["find", "Demo", "--since-change", "1"],
        ["amounts", "Demo"],
        ["backup", "OTHER/copies"],
        ["bundle", "Demo", "--out", "OTHER/demo.zip"],
    ],
    ids=lambda words: words[0] + words[-1][-4:],
)
def test_what_was_woven_can_be_read_and_carried_away(full, tmp_path, capsys, words):
    other = tmp_path / "other"
    other.mkdir()
    assert run([word.replace("OTHER", str(other)) for word in words]) == 0, capsys.readouterr().err
    assert list(other.iterdir()) or words[0] in ("find", "amounts") or words[-1] == "--json"


def test_nothing_is_missing_from_what_is_read(full):
    picks = 4 if companions_of(app.shelf().path("Demo"))[0].exists() else 3
    with Journal.open_to_read(app.shelf().path("Demo")) as journal:
        assert sum(isinstance(entry.event, PickWoven) for entry in journal.entries()) == picks


@pytest.mark.parametrize(
    "words", [["backup"], ["bundle", "Demo", "--out", "SMALL/demo.zip"], ["weave", "--text", "Demo"]]
)
def test_what_finds_no_room_names_the_disk_in_one_line(disk, capsys, monkeypatch, words):
    fill(disk)
    monkeypatch.setattr(sys, "stdin", io.StringIO("\nq\n"))
    assert run([word.replace("SMALL", str(disk)) for word in words]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert f"the disk at {disk} is full; free some space there" in told


def test_a_disk_with_room_is_not_called_full(tmp_path):
    assert full_disk(tmp_path / "not" / "there" / "yet") is None
