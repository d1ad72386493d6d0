"""`fellside pieces`: several pieces of one warp, on one tie-up or in the order that changes few cords."""

from __future__ import annotations

import json
import random
import re
import sys

import pytest

from companion.cli.commands import run
from companion.draft.wif_write import write_wif
from companion.workshop.places import asset
from tests.cli.stopped import stopped_once_known
from tests.draft.drafts import KEPT, draft_of

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
    assert "no tie changes between them" in out
    own, same = out.split("Same feet, tie-up differs:")
    assert own.count("treadle   1  2") == 1
    assert own.count("), 144 picks") == same.count("), 144 picks") == 5


def test_else_the_cords_stand_before_each_piece(pieces):
    status, out, _ = pieces(*MATS, "--treadles", "4")
    assert status == 0
    assert "Ties to change in this order: 4; as given: " in out
    assert out.count("ties to change before: ") == 4
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
        ((MATS[0], str(asset("drafts/waffle-four-shaft.txt")), "--treadles", "6"), "threaded differently"),
        ((MATS[0], "--treadles", "4", "--shafts", "4", "--present", "1 9"), "the present tie-up ties"),
        ((MATS[0], "--treadles", "4", "--shafts", "0"), "say 1 or more"),
    ],
)
def test_what_makes_no_sense_is_one_line_and_status_2(pieces, words, complaint):
    status, out, err = pieces(*words)
    assert (status, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert complaint in err


def test_both_ways_stand_side_by_side_and_each_is_told(pieces):
    status, out, _ = pieces(*MATS, "--treadles", "8")
    assert status == 0
    rows = [re.split(r"\s{2,}", line.strip()) for line in out.splitlines()[2:9]]
    assert rows == [
        [""],
        ["one tie-up, feet differ", "same feet, tie-up differs"],
        ["treadles", "8 pressed", "8 pressed"],
        ["treadlings to learn", "5", "1"],
        ["ties to change", "none", "32, no order has fewer"],
        ["picks with both feet", "none of 720 picks", "none of 720 picks"],
        ["footwork", rows[6][1], rows[6][2]],
    ]
    # Each mat's own feet walk the treadles of its sheds only; the same feet walk all eight for every mat.
    assert int(rows[6][1]) < int(rows[6][2])
    _, own, same = re.split(r"^One tie-up, feet differ:$|^Same feet, tie-up differs:$", out, flags=re.MULTILINE)
    assert own.count("treadle   1  2") == 1
    assert same.count("treadle   1  2") == 5
    changes = [line.split(": ")[1] for line in same.splitlines() if line.strip().startswith("treadle ") and ":" in line]
    assert sum(len(re.findall(r"\d+", change)) for change in changes) == 32


def test_what_the_same_feet_need_is_told_where_the_loom_has_too_few_treadles(pieces):
    status, out, _ = pieces(*MATS, "--treadles", "4")
    assert status == 0
    assert "The same feet need more: 6 treadles are the fewest (proven)." in out
    told = json.loads(pieces(*MATS, "--treadles", "4", "--json")[1])
    assert told["same_feet"]["outcome"] == "does not fit"
    assert told["same_feet"]["fewest"] == {"treadles": 6, "proven": True, "at_least": 6}
    assert told["same_feet"]["pieces"] == []


def test_the_document_has_the_pieces_with_the_same_feet_too(pieces):
    told = json.loads(pieces(*MATS, "--treadles", "8", "--json")[1])["same_feet"]
    assert told["outcome"] == "fits"
    assert sorted(told["order"]) == [1, 2, 3, 4, 5]
    assert told["cords"] == sum(piece["cords"]["changed"] for piece in told["pieces"] if piece["cords"]) == 32
    assert len({json.dumps(piece["picks"]) for piece in told["pieces"]}) == 1
    assert all(piece["cloth_identical"] for piece in told["pieces"])
    assert told["bounds_of"] == "all pieces together"
    assert told["footwork"]["at_least"] <= told["footwork"]["cost"]
    assert all(piece["footwork"] == told["footwork"] for piece in told["pieces"])


def test_an_aim_can_be_given(pieces):
    few = json.loads(pieces(*MATS, "--treadles", "8", "--aim", "treadles", "--json")[1])
    light = json.loads(pieces(*MATS, "--treadles", "8", "--json")[1])
    assert {piece["aim"] for piece in few["pieces"]} == {"treadles"}
    assert {piece["aim"] for piece in light["pieces"]} == {"feet"}


def test_every_piece_gets_a_card_in_the_order_of_weaving(pieces, tmp_path):
    folder = tmp_path / "cards"
    told = json.loads(pieces(*MATS, "--treadles", "8", "--cards", str(folder), "--json")[1])["same_feet"]
    cards = sorted(folder.iterdir())
    assert [card.name.split()[0] for card in cards] == ["1", "2", "3", "4", "5"]
    for card, piece in zip(cards, told["pieces"], strict=True):
        assert piece["title"] in card.read_text(encoding="utf-8")


def test_a_folder_for_cards_that_cannot_be_made_is_one_line(pieces, tmp_path):
    (tmp_path / "cards").write_text("a file")
    status, _, error = pieces(*MATS, "--treadles", "8", "--cards", str(tmp_path / "cards"))
    assert status == 2
    assert error.count("\n") == 1
    assert "name a folder" in error


def test_a_terminal_sees_how_far_the_pieces_are_and_ctrl_c_shows_what_is_known(tmp_path):
    """Pieces that share nothing take long; on a real pseudo-terminal Ctrl-C comes once an order is known."""
    chance = random.Random(5)
    names = []
    for piece in range(3):
        sheds = [chance.sample(range(1, 9), 4) for _ in range(8)]
        plan = [chance.choice(sheds) for _ in range(30)]
        path = tmp_path / f"{piece}.wif"
        path.write_bytes(write_wif(draft_of(threading=list(range(1, 9)), plan=plan, shafts=8)))
        names.append(str(path))
    words = [sys.executable, "-m", "companion", "pieces", *names, "--treadles", "10", "--json"]
    status, out, shown = stopped_once_known(words)
    assert status == 0
    assert b"\rpiece 2 of 3: " in shown
    told = re.search(rb"An order of the pieces changes (\d+) ties", shown)
    assert told is not None
    found = json.loads(out)
    assert sorted(found["order"]) == [1, 2, 3]
    assert found["cords"] <= int(told[1])
    assert all(piece["cloth_identical"] for piece in found["pieces"])
