"""Shuttles begin where the draft's check advises, on the side of that end; or where they are told to."""

from __future__ import annotations

import json

import pytest

from companion.cli.commands import run
from companion.draft.facing import FROM_LEFT, FROM_RIGHT, Side
from companion.draft.reading import read_draft
from companion.journal.shelf import shelf_of_weaver
from companion.remap.loom.loom import Action, Loom
from companion.remap.remapping import remap
from companion.weaving.progress import begin
from companion.weaving.state import side_of
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import Measures, dress
from companion.workshop.places import asset

DRAFTS = sorted(asset("drafts").glob("*.txt")) + sorted(asset("drafts").glob("*.wif"))


@pytest.mark.parametrize("path", DRAFTS[:6], ids=lambda path: path.name)
@pytest.mark.parametrize("facing", [FROM_LEFT, FROM_RIGHT], ids=["left", "right"])
def test_weaving_begins_where_the_check_advises(path, facing, capsys):
    draft = read_draft(path.read_bytes())
    profile = LoomProfile("levers", Loom(draft.shafts, 0, Action.LEVERS))
    warp = dress("try", [draft], profile, [remap(draft, profile.loom)], facing=facing)
    assert run(["check", str(path), "--json"]) == 0
    advised = json.loads(capsys.readouterr().out)["shuttles"]
    assert len(advised) == len(draft.shuttles())
    for yarn, entry in zip(draft.shuttles(), advised, strict=True):
        first = entry["start_at_end"] == 1
        wanted = facing.first_end if first else facing.first_end.opposite
        assert side_of(warp.pieces[0], begin(warp).now, yarn) is wanted


def test_a_weaver_who_says_where_is_believed_and_who_says_nothing_begins_at_the_right():
    draft = read_draft(DRAFTS[0].read_bytes())
    profile = LoomProfile("levers", Loom(draft.shafts, 0, Action.LEVERS))
    answers = [remap(draft, profile.loom)]
    names = [draft.yarns[yarn].name for yarn in draft.shuttles()]
    told = Measures(starts=dict.fromkeys(names, Side.LEFT))
    for facing in (None, FROM_LEFT, FROM_RIGHT):
        piece = dress("try", [draft], profile, answers, measures=told, facing=facing).pieces[0]
        assert {piece.start_of(yarn) for yarn in draft.shuttles()} == {Side.LEFT}
    assert dress("try", [draft], profile, answers).pieces[0].begin_across == ()


def test_on_the_command_line_the_side_is_told_kept_and_not_contradicted(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    monkeypatch.setattr("sys.stdin", iter(["q"]))
    path = asset("drafts/waffle-four-shaft.txt")
    words = ["weave", str(path), "--name", "Try", "--treadles", "6", "--text"]
    assert run([*words, "--shuttles", "sage left"]) == 0
    with shelf_of_weaver().open_to_read("Try") as journal:
        piece = journal.warp.pieces[0]
    (sage,) = [yarn for yarn in piece.shuttles if piece.draft.yarns[yarn].name == "sage"]
    assert piece.start_of(sage) is Side.LEFT
    capsys.readouterr()
    assert run([*words, "--shuttles", "sage right"]) == 2
    assert '--shuttles "sage left"' in capsys.readouterr().err
