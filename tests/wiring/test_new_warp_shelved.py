"""A warp begun in the window and one begun on the command line count their treadles as tied alike."""

from __future__ import annotations

import io

import pytest

from companion.cli.commands import run
from companion.draft.facing import FROM_LEFT
from companion.draft.wif_write import write_wif
from companion.journal.snapshots import progress_of
from companion.present.new_warp import NewPiece, NewWarp
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.tieup_text import parse_tieup
from companion.remap.remapping import remap
from companion.weaving.events import ReTied, TieUpAccepted
from companion.weaving.state import re_tie_due, tieup_on
from companion.weaving.warp import LoomProfile
from companion.workshop import app
from companion.workshop.new_warp import shelve
from tests.screens.warps import twill_draft

STRAIGHT = "1 2, 2 3, 3 4, 1 4"
OTHER = "1 2 3, 2 3 4, 1 3 4, 1 2 4"


def begun(name):
    """How it stands with the warp of this name: its events, what is tied, what is to be tied."""
    with app.shelf().open_to_read(name) as journal:
        warp, progress = journal.warp, progress_of(journal)
        events = [type(entry.event) for entry in journal.entries()]
    return warp.pieces, events, tieup_on(warp, progress.now), re_tie_due(warp, progress.now)


@pytest.mark.parametrize("present", [None, STRAIGHT, OTHER], ids=["not known", "as it shall be", "another"])
@pytest.mark.parametrize("tied", [False, True])
def test_window_and_command_line_count_the_treadles_as_tied_alike(tmp_path, monkeypatch, tied, present):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("DISPLAY", raising=False)
    draft = twill_draft()
    (tmp_path / "towel.wif").write_bytes(write_wif(draft))
    loom = Loom(draft.shafts, 4)
    ties = None if present is None else parse_tieup(present, Action.RISING)
    profile = LoomProfile("loom", loom, ties)
    answer = remap(draft, loom, present=ties)
    by_touch = shelve(NewWarp("By touch", profile, (NewPiece("By touch", draft, answer),), {}), FROM_LEFT, tied)

    monkeypatch.setattr("sys.stdin", io.StringIO("q\n"))
    typed = ["weave", str(tmp_path / "towel.wif"), "--text", "--name", "Typed", "--treadles", "4"]
    typed += ["--present", present] if present else []
    typed += ["--tied" if tied else "--untied"]
    assert run(typed) == 0
    touched, told = begun(by_touch), begun("Typed")
    # The terminal leaves a warp on a pause.
    assert told[1][:-1] == touched[1] == [TieUpAccepted, *([ReTied] if tied else [])]
    assert told[2:] == touched[2:]
    assert (told[3] is None) == (tied or present == STRAIGHT)


def test_whoever_says_nothing_in_a_terminal_weaves_on_unless_the_loom_is_known_to_be_tied_otherwise(
    tmp_path, monkeypatch
):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("DISPLAY", raising=False)
    (tmp_path / "towel.wif").write_bytes(write_wif(twill_draft()))
    for name, options, due in (("One", [], None), ("Two", ["--present", OTHER], 0)):
        monkeypatch.setattr("sys.stdin", io.StringIO("q\n"))
        assert run(["weave", str(tmp_path / "towel.wif"), "--text", "--name", name, "--treadles", "4", *options]) == 0
        assert begun(name)[3] is due
