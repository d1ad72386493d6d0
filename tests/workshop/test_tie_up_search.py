"""The search on its own thread: this loom first, then every other way in turn, and an end to it when nobody waits."""

from __future__ import annotations

import threading

from companion.remap.errors import RemapError
from companion.remap.loom.loom import Loom
from companion.remap.remapping import remap
from companion.weaving.warp import LoomProfile
from companion.workshop import tie_up_search
from companion.workshop.tie_up_search import TieUpSearch
from tests.draft.drafts import draft_of

DRAFT = draft_of(threading=[1, 2, 3], plan=[[2, 3], [1, 3], [3], [2, 3]], shafts=3)
"""Face up three treadles, face down two."""


def searched(after=lambda _search: None):
    """Run a search to its end and return it, with how many ways were worked out whenever it told of more."""
    search, told, done = TieUpSearch(DRAFT, LoomProfile("loom", Loom(3, 2))), [], threading.Event()

    def found():
        told.append(sum(one.answer is not None or bool(one.problem) for one in search.choices))
        after(search)
        if search._left.is_set() or told[-1] == len(search.choices):
            done.set()

    search.start(lambda _progress: None, found)
    assert done.wait(60)
    return search, told


def test_the_ways_come_one_after_another_and_every_answer_is_of_its_own_way():
    search, told = searched()
    assert told == list(range(1, len(search.choices) + 1))
    names = [one.name for one in search.choices]
    assert {"This loom", "Face down", "With 3 treadles"} <= set(names)
    for one in search.choices:
        assert (one.answer.loom, one.answer.face_down) == (one.profile.loom, one.face_down)
        assert one.answer.proven_cloth


def test_who_leaves_is_not_searched_for_any_longer():
    search, told = searched(after=TieUpSearch.leave)
    assert told == [1]
    assert all(one.answer is None for one in search.choices[1:])


def test_who_stops_the_search_for_this_loom_still_sees_the_other_ways():
    _, told = searched(after=TieUpSearch.stop)
    assert len(told) > 1


def test_a_way_that_fails_says_so_and_the_others_go_on(monkeypatch):
    def fails_face_down(*asked, face_down=False, **more):
        if face_down:
            raise RemapError("this way is barred", mend="take another")
        return remap(*asked, **more)

    monkeypatch.setattr(tie_up_search, "remap", fails_face_down)
    search, _ = searched()
    assert {one.name: "barred" in one.problem for one in search.choices if one.answer is None} == {"Face down": True}
