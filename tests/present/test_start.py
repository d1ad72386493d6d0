"""The start flow: the weaver's own looms come first, a folder says what is in it and the ways out."""

from __future__ import annotations

from itertools import pairwise

from companion.present.asking import Answered, Asked
from companion.present.start import Around, Folder, MenuItem, PutOnLoom
from companion.present.which_draft import BY_LETTER, LONG_LIST, ask_draft, ask_folder, under_letters
from companion.present.which_loom import ask_loom
from companion.remap.loom.loom import Action, Loom
from companion.weaving.warp import LoomProfile
from companion.workshop.places import asset

FLOOR = LoomProfile("Floor loom", Loom(4, 6), weaving_width_cm=90)
TABLE = LoomProfile("Table loom", Loom(8, 0, Action.LEVERS))


def around(drafts=(), looms=()):
    return Around(
        lambda: list(drafts), lambda path: Asked(f"into {path}", ()), lambda: looms, lambda key: ask_loom(key, looms)
    )


def answer(asked, words):
    (found,) = (answer for answer in (*asked.answers, *asked.foot) if answer.words == words)
    return found


def test_the_weavers_own_looms_come_first_and_are_handed_on_whole():
    asked = answer(ask_draft(around([MenuItem("t", "towel")], (FLOOR, TABLE))), "towel").leads_to()
    assert [(row.words, row.detail) for row in asked.answers] == [
        ("Floor loom", "4 shafts, 6 treadles, jack"),
        ("Table loom", "8 shafts, table loom with levers"),
        ("Another loom", ""),
    ]
    wanted = answer(asked, "Floor loom").leads_to().result
    assert wanted.profile(shafts=8) == FLOOR
    other = answer(asked, "Another loom").leads_to()
    end = answer(answer(other, "8 treadles").leads_to(), "Counterbalance").leads_to()
    assert end == Answered(PutOnLoom("t", 8, Action.SINKING))
    assert end.result.profile(shafts=4).loom == Loom(4, 8, Action.SINKING)


def test_without_a_loom_of_ones_own_the_treadles_are_asked_for_at_once():
    assert answer(ask_loom("t"), "6 treadles").main


def test_a_loom_with_any_number_of_treadles_can_be_told():
    pad = answer(ask_loom("t"), "Another number").leads_to()
    (nine,) = (key for key in pad.pad if key.words == "9")
    kinds = answer(nine.leads_to(), "Done").leads_to()
    assert answer(kinds, "Countermarche").leads_to() == Answered(PutOnLoom("t", 9, Action.COUNTERMARCHE))


def test_drafts_are_looked_up_each_time_they_are_asked_for():
    found = [MenuItem("a", "apron")]
    asked = ask_draft(Around(lambda: tuple(found), lambda path: Asked(path, ()), lambda: (), ask_loom))
    assert [row.words for row in asked.answers] == ["apron"]
    found.insert(0, MenuItem("b", "belt"))
    assert [row.words for row in answer(asked, "Look again").leads_to().answers] == ["belt", "apron"]


def test_no_draft_at_all_says_what_to_do():
    asked = ask_draft(around())
    assert asked.words == "No draft was found"
    assert "USB stick" in asked.detail


def test_a_folder_shows_folders_then_drafts_and_leads_on():
    folder = Folder(
        "Weaving",
        "/home/w/Weaving",
        (MenuItem("/x", "old"),),
        (MenuItem("/t.wif", "towel"),),
        (MenuItem("/home/w", "Up"),),
    )
    asked = ask_folder(folder, around().folder, around().opened)
    assert [(row.words, row.detail) for row in asked.answers] == [("old", "folder"), ("towel", "draft")]
    assert answer(asked, "old").leads_to().words == "into /x"
    assert answer(asked, "Up").leads_to().words == "into /home/w"
    assert answer(asked, "towel").leads_to().words == "How many treadles on your loom?"


def test_an_empty_and_an_unreadable_folder_say_so():
    assert ask_folder(Folder("a", "/a"), around().folder, around().opened).detail == "no folder and no draft is in here"
    assert (
        "denied" in ask_folder(Folder("a", "/a", problem="Permission denied"), around().folder, around().opened).detail
    )


def test_a_draft_in_a_long_list_is_three_touches_away_by_its_letter():
    names = [path.stem.replace("-", " ") for path in asset("drafts").iterdir()]
    drafts = [MenuItem(name, name) for name in ["my towel", *names]]
    opened = []
    start = Around(lambda: drafts, lambda _path: Asked("no", ()), lambda: (), opened.append)
    asked = ask_draft(start)
    for name in names:
        letters = next(answer for answer in asked.foot if answer.words == BY_LETTER).leads_to()
        assert len(letters.answers) <= 9
        first, *last = letters_of = [
            answer for answer in letters.answers if answer.words[0] <= name[0].upper() <= answer.words[-1]
        ]
        assert not last, letters_of
        (found,) = (answer for answer in first.leads_to().answers if answer.words == name)
        found.leads_to()
        assert opened.pop() == name


def test_a_short_list_has_no_letters_and_every_draft_stands_under_exactly_one():
    few = [MenuItem(str(number), f"Draft {number}") for number in range(LONG_LIST)]
    start = Around(lambda: few, lambda _path: Asked("no", ()), lambda: (), lambda _key: Asked("no", ()))
    assert BY_LETTER not in [answer.words for answer in ask_draft(start).foot]
    names = ["\u00e9toile", "apron", "Apple", "bag", "zebra", "Bib", *few]
    drafts = [one if isinstance(one, MenuItem) else MenuItem(one, one) for one in names]
    groups = under_letters(drafts)
    assert sorted(one.key for some in groups for one in some) == sorted(one.key for one in drafts)
    assert [[one.words for one in some] for some in groups[:1]] == [["Apple", "apron", "bag", "Bib"]]
    for some, other in pairwise(groups):
        assert some[-1].words[0].upper() != other[0].words[0].upper()
