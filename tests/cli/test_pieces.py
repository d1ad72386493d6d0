"""`fellside pieces`: several pieces of one warp, on one tie-up or in the order that changes few cords."""

from __future__ import annotations

import json
import re

import pytest

from companion.cli.commands import run
from companion.workshop.places import asset
from tests.draft.drafts import KEPT

MATS = [str(KEPT / f"diversified-plain-weave-four-shaft-{number}.txt") for number in (1, 4, 2, 5, 3)]


@pytest.fixture
def pieces(capsys):
    """Ask for the pieces with these words; return exit status, stdout and stderr."""

    def ask(*words):
        status = run(["pieces", *words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return ask


def test_one_tie_up_for_all_is_drawn_once(pieces):
    status, out, err = pieces(*MATS, "--treadles", "6")
    assert (status, err) == (0, "")
    assert "no cord changes between them" in out
    assert out.count("treadle   1  2") == 1
    assert out.count("144 picks") == 5


def test_else_the_cords_stand_before_each_piece(pieces):
    status, out, _ = pieces(*MATS, "--treadles", "4")
    assert status == 0
    assert "Cords to change in this order: 4; as given: " in out
    assert out.count("cords to change before: ") == 4
    changes = [line.split(": ")[1] for line in out.splitlines() if line.strip().startswith("treadle ") and ":" in line]
    assert sum(len(re.findall(r"\d+", change)) for change in changes) == 4


def test_the_document_has_the_order_and_every_answer(pieces):
    status, out, _ = pieces(*MATS, "--treadles", "4", "--json")
    told = json.loads(out)
    assert status == 0
    assert sorted(told["order"]) == [1, 2, 3, 4, 5]
    assert [piece["given_as"] for piece in told["pieces"]] == told["order"]
    changed = [piece["cords"]["changed"] for piece in told["pieces"] if piece["cords"] is not None]
    assert told["cords"] == sum(changed) == 4
    assert all(piece["cloth_identical"] for piece in told["pieces"])


def test_pieces_that_do_not_fit_are_named_with_what_they_need(pieces):
    status, out, _ = pieces(*MATS, "--treadles", "3")
    assert status == 1
    assert "mat 1: does not fit; 4 treadles are the fewest (proven)" in out
    # Mats 4 and 5 raise 1, 2, 134, 234: with 134 = 1 and 34, 234 = 2 and 34, three treadles do.
    assert "mat 4" not in out


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        ((MATS[0], "--treadles", "0"), "say 1 to 20"),
        ((MATS[0], "--treadles", "4", "--seconds", "0"), "give a time above 0"),
        ((MATS[0], str(asset("drafts/waffle-four-shaft.txt")), "--treadles", "6"), "threaded otherwise"),
        ((MATS[0], "--treadles", "4", "--shafts", "4", "--present", "1 9"), "the present tie-up ties"),
        ((MATS[0], "--treadles", "4", "--shafts", "0"), "say 1 or more"),
    ],
)
def test_what_makes_no_sense_is_one_line_and_status_2(pieces, words, complaint):
    status, out, err = pieces(*words)
    assert (status, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert complaint in err
