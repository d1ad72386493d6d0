"""`fellside remap`: the JSON keys that others rely on, the words, the card, exit statuses, and refusals in one line."""

from __future__ import annotations

import json
import random
import re
import sys
import time

import pytest

from companion.cli import remap_words
from companion.cli.commands import run
from companion.draft.model import Section
from companion.draft.reading import read_draft
from companion.draft.wif_write import write_wif
from companion.remap.loom.loom import Loom
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap as answer_for
from companion.workshop.places import asset
from tests.cli.stopped import stopped_once_known
from tests.draft.drafts import draft_of
from tests.oracles.lifting_by_hand import can_stand, cloth

DOUBLE_FACED = {
    "threading": [1, 2, 3, 4] * 4,
    "tieup": [[1], [2], [3], [4], [1, 2, 3], [2, 3, 4], [1, 3, 4], [1, 2, 4]],
    "treadling": [1, 5, 2, 6, 3, 7, 4, 8] * 4,
}
KEYS = {"draft", "loom", "outcome", "fewest", "tieup", "sheds", "picks", "cloth_identical", "stages", "alternatives"}


@pytest.fixture
def remap(tmp_path, capsys):
    """Write a draft to a file, remap it, and return (exit status, stdout, stderr)."""

    def remap_it(draft, *options):
        path = tmp_path / "draft.wif"
        path.write_bytes(draft if isinstance(draft, bytes) else write_wif(draft))
        status = run(["remap", str(path), *map(str, options)])
        said = capsys.readouterr()
        return status, said.out, said.err

    return remap_it


def document(remap, draft, *options, status=0):
    found, out, err = remap(draft, "--json", *options)
    assert (found, err) == (status, "")
    return json.loads(out)


def woven(draft, ties, picks, action):
    """Weave a stretch of the document by hand."""
    both = {
        "rising": lambda tie: (tie, []),
        "sinking": lambda tie: ([], tie),
        "countermarche": lambda tie: (tie["up"], tie["down"]),
    }[action]
    threading = [shaft + 1 for shaft in draft.threading]
    pressed = [pick["left"] + pick["right"] for pick in picks]
    return cloth(threading, pressed, [both(tie) for tie in ties], draft.shafts, action)


def as_drafted(draft):
    """The draft's own cloth by hand: rows of True (warp up)."""
    threading = [shaft + 1 for shaft in draft.threading]
    ties = [(tie, []) for tie in DOUBLE_FACED["tieup"]]
    return cloth(threading, [[treadle] for treadle in DOUBLE_FACED["treadling"]], ties, 4, "rising")


@pytest.mark.parametrize(
    ("action", "reach", "treadles"),
    [("rising", 1, 6), ("sinking", 1, 6), ("countermarche", 1, 8), ("rising", 2, 4), ("sinking", 2, 5)],
)
def test_a_draft_that_fits_has_all_keys_and_the_document_alone_weaves_its_cloth(remap, action, reach, treadles):
    draft = draft_of(**DOUBLE_FACED)
    found = document(remap, draft, "--treadles", treadles, "--action", action, "--reach", reach)
    assert set(found) >= KEYS
    assert found["draft"] == {"shafts": 4, "treadles": 8, "picks": 32, "ends": 16, "sheds": 8}
    assert found["loom"] == {"shafts": 4, "treadles": treadles, "action": action, "reach": reach}
    assert (found["outcome"], found["cloth_identical"], found["stages"]) == ("fits", True, [])
    assert found["fewest"]["proven"] is True
    assert [pick["pick"] for pick in found["picks"]] == list(range(1, 33))
    assert all(can_stand(pick["left"], pick["right"], reach) for pick in found["picks"])
    assert woven(draft, found["tieup"], found["picks"], action) == as_drafted(draft)
    assert sum(shed["picks"] for shed in found["sheds"]) == 32
    assert {tuple(shed["shafts"]) for shed in found["sheds"]} == {tuple(tie) for tie in DOUBLE_FACED["tieup"]}


def test_a_draft_that_does_not_fit_is_re_tied_and_every_stage_weaves_its_picks(remap):
    draft = draft_of(**DOUBLE_FACED)
    found = document(remap, draft, "--treadles", 5, "--present", "1,2,3,4,1 3", status=1)
    assert (found["outcome"], found["cloth_identical"], found["tieup"]) == ("re-tie", True, [])
    assert found["fewest"] == {"treadles": 6, "proven": True, "at_least": 6}
    assert found["cords_in_all"] == sum(stage["cords_changed"] for stage in found["stages"])
    assert found["fewest_cords_in_all"] is True
    rows = []
    for stage in found["stages"]:
        assert stage["cords_changed"] == sum(
            len(change[verb][way]) for change in stage["changes"] for verb in ("untie", "tie") for way in ("up", "down")
        )
        rows += woven(draft, stage["tieup"], found["picks"][stage["first"] - 1 : stage["last"]], "rising")
    assert rows == as_drafted(draft)
    assert found["conflict"]["irreducible"] is True
    assert {"what": "reach 2", "treadles": 4, "proven": True}.items() <= found["alternatives"][0].items()


def test_without_a_present_tie_up_the_first_stage_changes_no_cord_and_later_ones_do(remap):
    found = document(remap, draft_of(**DOUBLE_FACED), "--treadles", 5, status=1)
    first, *later = [stage["cords_changed"] for stage in found["stages"]]
    assert first == 0
    assert later
    assert all(cords > 0 for cords in later)


def test_words_draw_the_tie_up_and_name_feet_and_gain(remap):
    status, out, _ = remap(draft_of(**DOUBLE_FACED), "--treadles", 6)
    assert status == 0
    assert "It fits. 6 treadles are the fewest (proven)." in out
    rows = [line for line in out.splitlines() if line.strip().startswith("shaft ")]
    assert [line.split()[1] for line in rows] == ["4", "3", "2", "1"]
    assert all(len(line.split()) == 8 for line in rows)
    assert sum(line.count("■") for line in rows) == 8
    assert "Feet: both feet at 16 of 32 picks; left (1 to 3) and right (4 to 6)." in out
    assert "Chosen for the feet; --aim treadles chooses another way." in out


def test_each_aim_is_said_with_what_the_feet_pay_for_it(remap):
    _, out, _ = remap(draft_of(**DOUBLE_FACED), "--treadles", 6, "--aim", "treadles")
    assert "Footwork 1916, as light as so few treadles allow (proven); feet travel 31 treadle widths." in out
    assert "Chosen for few treadles, then the feet; --aim feet chooses another way." in out
    found = document(remap, draft_of(**DOUBLE_FACED), "--treadles", 8)
    own = document(remap, draft_of(**DOUBLE_FACED), "--treadles", 8, "--aim", "draft")
    assert (found["aim"], own["aim"]) == ("feet", "draft")
    assert own["tieup"] == DOUBLE_FACED["tieup"]
    assert set(found["footwork"]) == {"cost", "at_least", "proven", "both_feet_picks", "travel_widths", "draft_cost"}
    assert found["footwork"]["cost"] <= found["footwork"]["draft_cost"] == own["footwork"]["cost"]
    assert found["footwork"]["both_feet_picks"] == 0


@pytest.mark.parametrize(
    ("aim", "status", "what"),
    [("cords", 2, "--present"), ("draft", 1, "no tie-up of its own"), ("draft", 1, "another aim")],
)
def test_an_aim_that_cannot_be_is_told_in_one_line_and_a_tie_up_that_no_feet_press_is_no_bad_input(
    remap, aim, status, what
):
    found, out, err = remap(draft_of(**DOUBLE_FACED), "--treadles", 6, "--aim", aim, "--json")
    assert (found, out, err.count("\n")) == (status, "", 1)
    assert what in err


def test_words_of_a_re_tie_say_what_is_in_the_way_and_what_else_would_do(remap):
    status, out, _ = remap(draft_of(**DOUBLE_FACED), "--treadles", 5)
    assert status == 1
    assert "It does not fit on 5 treadles: 6 treadles are the fewest (proven)." in out
    assert "without any one of them the rest fit" in out
    assert "reach 2: fits, 4 treadles (proven)" in out
    assert "Stage 2: picks" in out
    assert "9 ties to change in all, provably the fewest for so few stops." in out
    _, out, _ = remap(draft_of(**DOUBLE_FACED), "--treadles", 3, "--reach", 2)
    assert " in all, the fewest found." in out


def test_cords_of_a_section_woven_to_a_length_are_said_to_be_those_of_one_lap(remap):
    sections = (Section("Hem", 8), Section("Body", 24, until_cm=40.0))
    _, out, _ = remap(draft_of(**DOUBLE_FACED, sections=sections), "--treadles", 5)
    assert "so few stops; counted for one lap of Body, each re-tied." in out


def test_present_cords_are_listed_treadle_by_treadle(remap):
    _, out, _ = remap(draft_of(**DOUBLE_FACED), "--treadles", 6, "--present", "1, 2, 3, 4, 1 3, 2 3 4")
    assert "Ties to change before: 1 (proven fewest)" in out
    assert "treadle 6: untie 3" in out


def test_the_picks_of_levers_list_the_lifts(remap):
    draft = draft_of(threading=[1, 2], tieup=[[1], [2], [1, 3]], treadling=[1, 2, 3], shafts=3)
    found = document(remap, draft, "--action", "levers")
    assert found["picks"] == [
        {"pick": 1, "left": [], "right": [], "shafts": [1]},
        {"pick": 2, "left": [], "right": [], "shafts": [2]},
        {"pick": 3, "left": [], "right": [], "shafts": [1]},
    ]


def test_the_present_tieup_may_name_shafts_that_the_draft_does_not_use(remap):
    draft = draft_of(threading=[1, 2], tieup=[[1], [2], [1, 3]], treadling=[1, 2, 3], shafts=3)
    found = document(remap, draft, "--treadles", "3", "--present", "1 3, 2 4, 5 6")
    assert found["cords"] == {"changed": 0, "proven": True, "changes": []}
    assert found["loom"]["shafts"] == 6
    assert found["shafts_without_ends"] == [3]


def test_an_empty_shaft_is_told(remap):
    draft = draft_of(threading=[1, 3], tieup=[[1], [3]], treadling=[1, 2], shafts=4)
    _, out, _ = remap(draft, "--treadles", "2")
    assert "shafts 2 4 carry no end; lifting them changes no cloth and no shed." in out


def test_levers_list_every_change(remap):
    found = document(remap, draft_of(**DOUBLE_FACED), "--action", "levers")
    assert (found["outcome"], found["tieup"], found["fewest"]["treadles"]) == ("fits", [], 0)
    assert found["levers"][:2] == [
        {"pick": 1, "raise": [1], "lower": []},
        {"pick": 2, "raise": [2, 3], "lower": []},
    ]


def test_a_loom_without_the_shafts_is_status_1_and_names_them(remap):
    status, out, _ = remap(draft_of(**DOUBLE_FACED), "--treadles", 8, "--shafts", 3)
    assert status == 1
    assert "shaft 4, which it does not have" in out


def test_the_card_is_written_beside_the_answer(remap, tmp_path):
    card = tmp_path / "card.html"
    status, out, _ = remap(draft_of(**DOUBLE_FACED, title="Two faces"), "--treadles", 6, "--card", card)
    assert status == 0
    assert "It fits" in out
    assert ">Two faces</text>" in card.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("options", "what"),
    [
        ([], "--treadles N"),
        (["--treadles", "21"], "21 treadles; say 1 to 20"),
        (["--treadles", "0"], "0 treadles"),
        (["--treadles", "six"], "invalid int"),
        (["--treadles", "6", "--reach", "3"], "--reach"),
        (["--treadles", "6", "--action", "jumping"], "--action"),
        (["--treadles", "6", "--shafts", "0"], "0 shafts"),
        (["--treadles", "6", "--seconds", "0"], "--seconds"),
        (["--treadles", "6", "--seconds", "nan"], "--seconds"),
        (["--treadles", "6", "--present", "1 x"], "treadle 1 of the present tie-up names 'x'"),
        (["--treadles", "6", "--shafts", "4", "--present", "1, 9"], "treadle 2 of the present tie-up ties 9"),
        (["--treadles", "2", "--present", "1,2,3"], "3 treadles and the loom 2"),
        (["--treadles", "6", "--present", ""], "empty"),
        (["--treadles", "6", "--card", "/nowhere/at/all.html"], "/nowhere/at/all.html"),
    ],
)
def test_what_cannot_be_answered_is_refused_in_one_line(remap, options, what):
    status, out, err = remap(draft_of(**DOUBLE_FACED), *options)
    assert (status, out) == (2, "")
    assert what in err
    assert err.count("\n") == 1


def test_a_file_that_is_no_draft_is_refused_in_one_line(remap):
    status, out, err = remap(b"[WIF]\nVersion=", "--treadles", 4)
    assert (status, out, err.count("\n")) == (2, "", 1)


def hard_draft():
    """Sheds at random on 24 shafts, too many for any search to end soon at reach 2."""
    chance = random.Random(24)
    plan = [chance.sample(range(1, 25), 12) for _ in range(60)]
    return draft_of(threading=list(range(1, 25)), plan=plan, shafts=24)


def test_the_time_limit_is_kept_and_the_outcome_is_honest(remap):
    began = time.process_time()
    status, out, err = remap(hard_draft(), "--treadles", 20, "--reach", 2, "--seconds", "0.5", "--json")
    found = json.loads(out)
    assert err == ""
    assert time.process_time() - began < 8
    assert (status, found["outcome"]) in ((1, "unknown"), (1, "re-tie"))
    if found["outcome"] == "unknown":
        assert 1 <= found["fewest"]["at_least"] <= 20
    assert found["cloth_identical"] is True
    assert len(found["stages"]) > 1
    assert {way["what"] for way in found["alternatives"]} >= {"face down", "sinking", "countermarche"}


def test_a_search_that_ended_says_what_is_not_known_and_how_to_weave_meanwhile():
    draft = hard_draft()
    answer = answer_for(draft, Loom(24, 20, reach=2), should_stop=lambda: True)
    said = "\n".join(remap_words.lines(draft, answer))
    assert answer.verdict is Verdict.UNKNOWN
    assert "Whether it fits on 20 treadles is not known yet:" in said
    assert "Other ways:" in said
    assert f"So re-tie: {len(answer.stages) - 1} stops, the fewest found; the cloth is the same." in said


def test_a_terminal_sees_the_progress_and_ctrl_c_stops_the_search_with_what_is_known(tmp_path):
    """Both shown on a real pseudo-terminal; Ctrl-C comes only once the line tells the first answer, with its bound."""
    path = tmp_path / "hard.wif"
    path.write_bytes(write_wif(hard_draft()))
    words = [sys.executable, "-m", "companion", "remap", str(path), "--treadles", "20", "--reach", "2"]
    status, out, shown = stopped_once_known([*words, "--seconds", "100", "--json"])
    assert status == 1
    found = json.loads(out)
    assert found["outcome"] in ("unknown", "re-tie")
    assert b"Traceback" not in shown
    assert b"\rat least" in shown, "each line stands in the place of the one before"
    assert b"treadles, best so far" in shown
    told = re.search(rb"At least (\d+) treadles; a plan with (\d+) stops", shown)
    assert told is not None
    # What came after it is no worse.
    assert int(told[1]) <= found["fewest"]["at_least"]
    assert int(told[2]) >= len(found["stages"]) - 1


def test_other_aims_stand_beside_the_answer(remap):
    draft = read_draft(asset("drafts/overshot-four-shaft.txt").read_bytes())
    status, out, err = remap(draft, "--treadles", "6")
    assert (status, err) == (0, "")
    rows = [line.split("  ") for line in out.split("Side by side:\n")[1].splitlines()]
    assert [row[1].strip() for row in rows] == ["tied for", "light feet", "few treadles", "the draft's own"]


def test_plain_weave_is_tied_on_free_treadles_where_that_is_asked_for(remap):
    draft = read_draft(asset("drafts/waffle-four-shaft.txt").read_bytes())
    plain = document(remap, draft, "--treadles", "6")
    assert plain["spare_treadles"] == [5, 6]
    assert plain["tieup"][4:] == [[], []]
    assert document(remap, draft, "--treadles", "6", "--plain-weave")["tieup"][4:] == [[1, 3], [2, 4]]
    status, out, err = remap(draft, "--treadles", "4", "--plain-weave")
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert "no two treadles are free" in err


def test_a_wish_that_costs_the_feet_much_is_told_with_its_price(remap):
    """Few ties first, then the right foot: of all that keep it nothing is lighter, and without it the feet do less."""
    draft = read_draft(asset("drafts/twill-gamp-four-shaft.txt").read_bytes())
    tied = ("--treadles", "6", "--present", "1 4, 1 2, 2 3, 3 4, 1 4, -")
    either = document(remap, draft, *tied)["footwork"]["cost"]
    _, out, _ = remap(draft, *tied, "--first-foot", "right")
    wished = document(remap, draft, *tied, "--first-foot", "right")["footwork"]["cost"]
    assert f"As wished: right foot first; footwork {wished}, without the wish {either} on the same tie-up." in out
    assert "wished" not in remap(draft, *tied)[1]


def test_where_the_feet_come_first_a_dear_wish_is_told_beside_the_lightest_tie_up_without_it(remap):
    """Tabby at both ends makes a foot step over it at every pick of pattern; the best tie-up keeps it together."""
    draft = read_draft(asset("drafts/overshot-four-shaft.txt").read_bytes())
    free, wished = (
        document(remap, draft, "--treadles", "6", *wish)["footwork"]["cost"] for wish in ((), ("--tabby", "outside"))
    )
    _, out, _ = remap(draft, "--treadles", "6", "--tabby", "outside")
    assert f"As wished: tabby outside; footwork {wished}, without the wish {free}.\n" in out


def test_plain_weave_is_told_apart_and_said_where_it_has_no_room(remap):
    """A 2/2 twill whose draft ties plain weave on two treadles more."""
    ties = [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]]
    draft = draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties, treadling=[1, 2, 3, 4] * 2)
    assert document(remap, draft, "--treadles", 4)["plain_weave"] == {"held_by": [], "left_out": True}
    assert document(remap, draft, "--treadles", 6)["plain_weave"] == {"held_by": [5, 6], "left_out": False}
    for treadles in (3, 4):
        assert (
            "No two treadles are left for the plain weave that the draft ties"
            in remap(draft, "--treadles", treadles)[1]
        )
    present = ("--treadles", 7, "--present", "1 2,2 3,3 4,-,1,-,2", "--plain-weave")
    rows = remap(draft, *present)[1].split("Side by side:\n")[1].splitlines()[1:]
    assert [re.split(r"\s{2,}", row.strip())[1] for row in rows] == ["4 and 2 for plain weave"] * 4
    changed = {row.split("  ")[1]: int(re.split(r"\s{2,}", row.strip())[2]) for row in rows}
    assert changed["few ties"] == min(changed.values())
