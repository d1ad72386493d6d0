"""The weaver's looms come back as they were kept; a file that makes no sense is told of and left as it is."""

from __future__ import annotations

import json
import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import shed_of, without
from companion.journal.lock import WriterLock
from companion.remap.loom.feet_wish import ANY_FEET, FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.loom import Action, Loom, Tie
from companion.weaving.warp import LoomProfile
from companion.workshop.looms import LoomsError, loom_named, tied_now, with_loom, without_loom
from companion.workshop.looms_file import change_looms, load_looms, save_looms

FLOOR = LoomProfile("Floor loom", Loom(4, 6), (Tie(up=shed_of([1, 3])), Tie(up=shed_of([2, 4])), Tie()), 90.0, 60.5)
TABLE = LoomProfile("table loom", Loom(8, 0, Action.LEVERS))


def test_looms_come_back_as_they_were_kept(tmp_path):
    path = tmp_path / "home" / "looms.json"
    assert load_looms(path) == ()
    save_looms(path, with_loom(with_loom((), TABLE), FLOOR))
    assert load_looms(path) == (FLOOR, TABLE)
    assert [file.name for file in path.parent.iterdir()] == ["looms.json"]


def test_the_file_can_be_read_by_a_person(tmp_path):
    save_looms(tmp_path / "looms.json", (FLOOR,))
    assert json.loads((tmp_path / "looms.json").read_text("utf-8")) == {
        "looms": [
            {
                "name": "Floor loom",
                "shafts": 4,
                "treadles": 6,
                "action": "rising",
                "reach": 1,
                "present": "1 3, 2 4, -",
                "width_cm": 90.0,
                "waste_cm": 60.5,
            }
        ]
    }


def test_a_file_typed_by_hand_needs_no_more_than_name_shafts_and_treadles(tmp_path):
    path = tmp_path / "looms.json"
    path.write_text('{"looms": [{"name": "old  friend", "shafts": 4, "treadles": 6}]}', encoding="utf-8")
    assert load_looms(path) == (LoomProfile("old friend", Loom(4, 6)),)


def test_what_is_wished_of_the_feet_is_kept_and_an_older_file_wishes_nothing(tmp_path):
    path = tmp_path / "looms.json"
    path.write_text('{"looms": [{"name": "old", "shafts": 4, "treadles": 6}]}', encoding="utf-8")
    assert load_looms(path)[0].loom.wish == ANY_FEET
    wish = FeetWish(TabbyPlace.LEFT, FirstFoot.RIGHT)
    save_looms(path, [LoomProfile("new", Loom(4, 6, wish=wish))])
    kept = json.loads(path.read_text("utf-8"))["looms"][0]
    assert (kept["tabby"], kept["first_foot"]) == ("left", "right")
    assert load_looms(path)[0].loom.wish == wish


def test_a_loom_takes_from_its_weaver_only_the_wish_that_it_leaves_open():
    weaver = FeetWish(TabbyPlace.RIGHT, FirstFoot.LEFT)
    loom = replace(FLOOR, loom=replace(FLOOR.loom, wish=FeetWish(TabbyPlace.LEFT)))
    assert loom.wishing(weaver).loom.wish == FeetWish(TabbyPlace.LEFT, FirstFoot.LEFT)
    assert FLOOR.wishing(weaver).loom.wish == weaver


SHEDS = st.frozensets(st.integers(1, 4)).map(shed_of)
TIES = {
    Action.RISING: SHEDS.map(lambda shed: Tie(up=shed)),
    Action.SINKING: SHEDS.map(lambda shed: Tie(down=shed)),
    Action.COUNTERMARCHE: st.tuples(SHEDS, SHEDS).map(lambda both: Tie(both[0], without(both[1], both[0]))),
}


@st.composite
def profiles(draw):
    action = draw(st.sampled_from(list(TIES)))
    present = draw(st.none() | st.lists(TIES[action], min_size=1, max_size=6).map(tuple))
    name = draw(st.text(st.characters(whitelist_categories=("L", "N")), min_size=1, max_size=8))
    width = draw(st.none() | st.floats(0.1, 500))
    return LoomProfile(name, Loom(4, 6, action, draw(st.sampled_from([1, 2]))), present, width, draw(st.floats(0, 200)))


@settings(max_examples=40, deadline=None)
@given(profiles())
def test_every_loom_comes_back_from_its_file(tmp_path_factory, profile):
    path = tmp_path_factory.mktemp("home") / "looms.json"
    looms = with_loom((), profile)
    save_looms(path, looms)
    assert load_looms(path) == looms


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "Expecting value"),
        ("{", "Expecting property name"),
        ("[" * 100_000, "recursion"),
        ("[]", 'no list "looms"'),
        ('{"looms": {}}', 'no list "looms"'),
        ('{"looms": [3]}', "loom 1: 3 is no loom, such as {"),
        ('{"looms": [{"name": "a", "shafts": 4}]}', 'loom 1 (a): "treadles" is missing, such as "treadles": 6'),
        (
            '{"looms": [{"name": "a", "shafts": 4, "treadles": 6, "colour": "red"}]}',
            '"colour" says nothing of a loom; known are name, shafts',
        ),
        ('{"looms": [{"name": "a", "shafts": 4, "treadles": "6"}]}', 'loom 1 (a): "treadles" is "6", not such as 6'),
        ('{"looms": [{"name": "a", "shafts": 4, "treadles": 0}]}', "say 1 to 20"),
        ('{"looms": [{"name": "a", "shafts": 4, "treadles": 6, "present": "1 9"}]}', "name shafts 1 to 4"),
        ('{"looms": [{"name": "a", "shafts": 4, "treadles": 1, "present": "1, 2"}]}', "2 treadles and the loom 1"),
        (
            '{"looms": [{"name": "a", "shafts": 4, "treadles": 6, "action": "flying"}]}',
            '"action" is "flying", not such as "rising" or "sinking"',
        ),
        (
            '{"looms": [{"name": "a", "shafts": 4, "treadles": 6, "width_cm": NaN}]}',
            '"width_cm" is NaN, not such as 90',
        ),
        ('{"looms": [{"name": "a", "shafts": 4, "treadles": 6, "width_cm": 0}]}', "a weaving width of 0 cm"),
        ('{"looms": [{"name": "a", "shafts": 4, "treadles": 6, "waste_cm": -1}]}', "a loom waste of -1 cm"),
        (
            '{"looms": [{"name": "a", "shafts": 4, "treadles": 6, "tabby": "top"}]}',
            '"tabby" is "top", not such as "wherever" or "left"',
        ),
        ('{"looms": [{"name": " ", "shafts": 4, "treadles": 6}]}', "give a loom 1 to 80 letters"),
        (
            '{"looms": [{"name": "a", "shafts": 4, "treadles": 6}, {"name": "A", "shafts": 4, "treadles": 6}]}',
            "loom 2 (A): a second loom is called 'A'",
        ),
    ],
)
def test_a_spoilt_file_is_one_clear_line(tmp_path, text, complaint):
    path = tmp_path / "looms.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(LoomsError) as told:
        load_looms(path)
    assert complaint in str(told.value)
    assert str(told.value).startswith(f"{path}: ")
    assert "mend the file" in str(told.value)


def test_two_programs_that_change_looms_at_once_both_have_their_way(tmp_path):
    path = tmp_path / "home" / "looms.json"

    def adding(known, number):
        return with_loom(known, replace(TABLE, name=f"loom number {number}"))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda number: change_looms(path, lambda known: adding(known, number)), range(24)))
    assert {loom.name for loom in load_looms(path)} == {f"loom number {number}" for number in range(24)}


def test_looms_that_another_program_holds_too_long_are_told_of(tmp_path, monkeypatch):
    monkeypatch.setattr("companion.workshop.looms_file.LONGEST_WAIT_S", 0.0)
    path = tmp_path / "looms.json"
    save_looms(path, (FLOOR,))
    lock = WriterLock(path)
    with pytest.raises(LoomsError, match="another program is changing the looms; try again"):
        change_looms(path, lambda known: ())
    lock.release()
    assert load_looms(path) == (FLOOR,)
    assert change_looms(path, lambda known: with_loom(known, TABLE)) == load_looms(path) == (FLOOR, TABLE)


def test_a_change_that_cannot_be_leaves_the_looms_and_lets_them_go(tmp_path):
    path = tmp_path / "looms.json"
    save_looms(path, (FLOOR,))
    with pytest.raises(LoomsError, match="no loom is called"):
        change_looms(path, lambda known: without_loom(known, "barn"))
    assert change_looms(path, lambda known: without_loom(known, "floor loom")) == ()


def test_a_file_that_is_no_text_and_a_folder_in_its_place_are_told_of(tmp_path):
    path = tmp_path / "looms.json"
    path.write_bytes(b"\x00\xff")
    with pytest.raises(LoomsError, match="it is not text"):
        load_looms(path)
    with pytest.raises(LoomsError, match="Is a directory"):
        load_looms(tmp_path)


def test_a_place_that_cannot_be_written_is_told_of_and_keeps_what_was_there(tmp_path, monkeypatch):
    path = tmp_path / "looms.json"
    save_looms(path, (FLOOR,))
    monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(LoomsError, match="check the rights and the room there"):
        save_looms(path, (TABLE,))
    assert load_looms(path) == (FLOOR,)


def test_names_are_one_whatever_their_capitals_and_spaces():
    looms = with_loom(with_loom((), TABLE), FLOOR)
    assert loom_named(looms, " floor  LOOM") == FLOOR
    wider = replace(FLOOR, name="FLOOR LOOM", weaving_width_cm=120.0)
    assert with_loom(looms, wider) == (wider, TABLE)
    assert without_loom(looms, "Table Loom") == (FLOOR,)


def test_an_unknown_loom_is_one_line_that_names_those_there_are():
    with pytest.raises(LoomsError, match="no loom is called 'barn'; the looms here are: Floor loom, table loom"):
        loom_named((FLOOR, TABLE), "barn")
    with pytest.raises(LoomsError, match="the looms here are: none yet"):
        without_loom((), "barn")


def test_tying_a_warp_changes_the_present_tieup_of_its_loom_and_of_no_other():
    tied = (Tie(up=shed_of([1, 2])), Tie(up=shed_of([3, 4])))
    looms = (FLOOR, TABLE)
    assert tied_now(looms, "floor loom", tied) == (replace(FLOOR, present=(*tied, Tie())), TABLE)
    assert tied_now(looms, "barn", tied) is looms
    assert tied_now(looms, "table loom", tied) is looms
    assert tied_now(looms, "floor loom", tied * 4) == looms
    assert tied_now(looms, "Floor loom", FLOOR.present) == looms
