"""`fellside picks` chants the treadling, sections first, and says where a pick lies."""

from __future__ import annotations

import json

import pytest

from companion.cli.commands import run
from companion.draft.model import Section
from companion.draft.reading import read_draft
from companion.draft.wif_write import write_wif
from tests.draft.drafts import KEPT, draft_of
from tests.oracles.places_by_hand import rows_that_tell


@pytest.fixture
def picks(tmp_path, capsys):
    """Write a draft to a file, run the command on it, and return (exit status, stdout, stderr)."""

    def run_it(draft, *options):
        path = tmp_path / "draft.wif"
        path.write_bytes(write_wif(draft))
        status = run(["picks", str(path), *options])
        said = capsys.readouterr()
        return status, said.out, said.err

    return run_it


def scarf():
    return draft_of(
        title="Scarf",
        threading=[1, 2, 3, 4] * 3,
        tieup=[[1, 3], [2, 4], [1, 2], [2, 3], [3, 4], [1, 4]],
        treadling=[1, 2] * 6 + [3, 4, 5, 6, 5, 4] * 12 + [1, 2] * 6,
        weft=[1] * 12 + [2] * 72 + [1] * 12,
        sections=(Section("hem", 12), Section("body", 72, until_cm=40), Section("hem", 12)),
    )


TELL = rows_that_tell([1, 2] * 6 + [3, 4, 5, 6, 5, 4] * 12 + [1, 2] * 6)
"""How many newest rows tell each pick of the scarf, by comparing every two; each treadle has its look."""


def test_sections_come_first_and_repeats_are_chanted(picks):
    status, out, err = picks(scarf())
    assert (status, err) == (0, "")
    assert out.splitlines() == [
        "Scarf: 96 picks in 3 sections",
        "",
        "1  hem: 12 picks (1 to 12)",
        "   white (1 2)x6",
        "",
        "2  body: 72 picks (13 to 84), again and again until 40 cm",
        "   indigo (point (3 4 5 6))x12",
        "",
        "3  hem: 12 picks (85 to 96)",
        "   white (1 2)x6",
        "",
        "Rows at the fell that tell a pick from every other: "
        f"{sorted(TELL)[48]} for half of the picks, {max(TELL)} for all.",
    ]


def test_a_draft_without_sections_is_chanted_whole(picks):
    draft = draft_of(threading=[1, 2], plan=[[1], [2]] * 50 + [[]])
    assert picks(draft)[1].splitlines() == [
        "Draft without a title: 101 picks",
        "",
        "   indigo (1 2)x50 0",
        "",
        # 1 2 1 2 …: pick n is told from pick n + 2 by the beginning alone; the last pick by itself.
        "Rows at the fell that tell a pick from every other: 51 for half of the picks, 99 for all.",
    ]


@pytest.mark.parametrize(
    ("pick", "words"),
    [
        (1, "section 1, repeat 1 of 6, pick 1 of 2"),
        (12 + 3 * 6 + 5, "section 2, repeat 4 of 12, on the way back, pick 5 of 6"),
        (96, "section 3, repeat 6 of 6, pick 2 of 2"),
    ],
)
def test_the_place_of_a_pick_is_told(picks, pick, words):
    tell = f"its newest {TELL[pick - 1]} rows lie so nowhere else"
    assert picks(scarf(), "--pick", str(pick))[1] == f"pick {pick}: {words}\n{tell}\n"


@pytest.mark.parametrize("pick", ["0", "97", "-3"])
def test_a_pick_that_is_not_there_is_refused_in_one_line(picks, pick):
    status, out, err = picks(scarf(), "--pick", pick)
    assert (status, out) == (2, "")
    assert err.count("\n") == 1
    assert "give 1 to 96" in err


def test_json_has_the_tree_and_the_place(picks):
    status, out, err = picks(scarf(), "--json", "--pick", "14")
    assert (status, err) == (0, "")
    document = json.loads(out)
    assert document["draft"] == {"title": "Scarf", "picks": 96, "sections": 3}
    assert document["rows_that_tell"] == TELL
    hem, body, _ = document["sections"]
    assert hem == {
        "name": "hem",
        "first": 1,
        "picks": 12,
        "until_cm": None,
        "reading": "white (1 2)x6",
        "tabby": None,
        "cost": 2 * 2 + 3,
        "exact": True,
        "parts": [
            {
                "times": 6,
                "parts": [{"treadles": [1], "shuttle": "white"}, {"treadles": [2], "shuttle": "white"}],
            }
        ],
    }
    assert (body["first"], body["until_cm"]) == (13, 40)
    assert body["parts"][0]["parts"][0]["turned"] == "point"
    assert document["place"] == {
        "pick": 14,
        "section": 2,
        "pick_in_section": 2,
        "steps": [{"repeat": 1, "times": 12, "pick": 2, "picks": 6}, {"back": False, "pick": 2, "picks": 6}],
    }


def test_a_lift_plan_is_chanted_in_shafts(picks):
    document = json.loads(picks(draft_of(threading=[1, 2, 3], plan=[[1, 3], [2]] * 3), "--json")[1])
    (section,) = document["sections"]
    assert section["reading"] == "indigo (1+3 2)x3"
    assert section["parts"][0]["parts"][0] == {"shafts": [1, 3], "shuttle": "indigo"}


def test_a_pattern_with_tabby_is_chanted_without_the_tabby_between_its_picks(picks):
    overshot = read_draft((KEPT / "overshot-four-shaft.txt").read_bytes())
    status, out, err = picks(overshot)
    assert (status, err) == (0, "")
    assert "(indigo (1 1 2 2 3 3 4)x4) with tabby, cream 5 6" in out
