"""The way the weaver has come, on places that are no widgets."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.screens.place import Place
from companion.workshop.bookmarks import Bookmark, Marked


class Spot(Place):
    """A place that remembers whether it was fitted to a window."""

    def __init__(self, name):
        self.name, self.fitted = name, []

    def fit(self, sizes):
        self.fitted.append(sizes)


class Window:
    """Stands in for the window: shows places, and has surroundings."""

    place = None

    def __init__(self, surroundings):
        self.surroundings = surroundings

    def show(self, place):
        self.place = place


@pytest.fixture
def ways(display):
    from companion.screens.look import look_of, window_sizes
    from companion.screens.surroundings import Surroundings
    from companion.screens.theme import DARK
    from companion.wiring.navigator import Navigator

    return Navigator(Window(Surroundings(look_of(DARK), window_sizes(800, 480), Units.METRIC, FROM_LEFT)))


def named(*names):
    return [lambda name=name: Spot(name) for name in names]


def test_the_way_back_leads_through_the_places_in_turn_and_stops_at_the_lowest(ways):
    start, draft, loom = named("start", "draft", "loom")
    ways.home(start)
    ways.push(draft)
    ways.push(loom)
    seen = []
    for _ in range(4):
        seen.append(ways.window.place.name)
        ways.window.place.go_back()
    assert seen == ["loom", "draft", "start", "start"]


def test_a_place_is_shown_again_as_it_was_and_takes_on_the_size_of_the_window(ways):
    start, draft = named("start", "draft")
    first = ways.home(start)
    ways.push(draft)
    ways.pop()
    assert ways.window.place is first
    assert first.fitted == [ways.around.sizes]


def test_a_place_whose_contents_change_is_made_anew(ways):
    start, draft = named("start", "draft")
    first = ways.home(start, fresh=True)
    ways.push(draft)
    ways.pop()
    assert (ways.window.place.name, ways.window.place is first) == ("start", False)


def test_whoever_is_left_hears_of_it_once_however_the_weaver_goes(ways):
    start, draft, loom = named("start", "draft", "loom")
    left = []
    ways.home(start)
    ways.push(draft, left=lambda: left.append("draft"))
    ways.push(loom, left=lambda: left.append("loom"))
    ways.pop()
    assert left == ["loom"]
    ways.home(start)
    assert left == ["loom", "draft"]
    ways.pop()
    assert (left, ways.window.place.name) == (["loom", "draft"], "start")


def test_a_place_put_in_the_place_of_another_leads_back_past_it(ways):
    start, looms, changed = named("start", "looms", "changed")
    ways.home(start)
    ways.push(looms)
    ways.replace(changed)
    assert ways.window.place.name == "changed"
    ways.pop()
    assert ways.window.place.name == "start"


def test_a_home_that_cannot_be_made_leaves_the_weaver_where_she_is(ways):
    start, draft = named("start", "draft")
    ways.home(start)
    ways.push(draft)
    with pytest.raises(ZeroDivisionError):
        ways.home(lambda: 1 / 0)
    assert ways.window.place.name == "draft"
    ways.pop()
    assert ways.window.place.name == "start"


def test_a_place_is_made_anew_where_the_window_has_another_look_by_then(ways):
    from companion.screens.look import look_of
    from companion.screens.theme import LIGHT

    start, draft = named("start", "draft")
    first = ways.home(start)
    ways.push(draft)
    ways.window.surroundings = replace(ways.around, look=look_of(LIGHT))
    ways.pop()
    again = ways.window.place
    assert (again.name, again is first) == ("start", False)
    ways.push(draft)
    ways.pop()
    assert ways.window.place is again


def test_bookmarks_lead_to_the_place_that_is_shown_past_those_that_cannot_be_found_again(ways):
    start, record, question, settings = named("start", "record", "question", "settings")
    marks = [Bookmark(Marked.START), Bookmark(Marked.RECORD, "Towel"), Bookmark(Marked.SETTINGS)]
    assert ways.bookmarks == ()
    ways.home(start, mark=marks[0])
    ways.push(record, mark=marks[1])
    assert ways.bookmarks == (marks[0], marks[1])
    ways.push(question)
    assert ways.bookmarks == (marks[0], marks[1])
    ways.push(settings, mark=lambda: marks[2])
    assert ways.bookmarks == tuple(marks)
    ways.pop()
    ways.replace(settings, mark=marks[2])
    assert ways.bookmarks == tuple(marks)
    ways.home(record)
    assert ways.bookmarks == ()


def test_a_message_stands_on_a_place_of_its_own_and_leads_back(ways):
    from companion.present.button_words import BACK

    (start,) = named("start")
    ways.home(start)
    ways.message("the shaft is not there")
    shown = ways.window.place
    assert shown.signs.detail == "the shaft is not there"
    assert shown.button(BACK)
    shown.go_back()
    assert ways.window.place.name == "start"


def test_a_place_is_put_where_the_weaver_waited_on_top_or_under_others_and_nowhere_once_that_is_left(ways):
    start, waiting, loom, record, late = named("start", "waiting", "loom", "record", "late")
    ways.home(start)
    waited_at = ways.push(waiting)
    ways.instead(waited_at, loom)
    assert ways.window.place.name == "loom"
    waited_at = ways.replace(waiting)
    ways.push(record)
    ways.instead(waited_at, loom)
    assert ways.window.place.name == "record"
    ways.window.place.go_back()
    assert ways.window.place.name == "loom"
    ways.instead(waited_at, late)
    assert ways.window.place.name == "loom"
    ways.window.place.go_back()
    assert ways.window.place.name == "start"


def test_who_looks_aside_finds_the_very_place_and_what_comes_meanwhile_stands_on_it(ways):
    list_, aside, draft = named("list", "aside", "draft")
    ways.home(list_, fresh=True)
    shown = ways.window.place
    ways.look_aside(aside)
    assert (ways.window.place.name, ways.is_shown(shown)) == ("aside", True)
    ways.window.place.leave()
    assert ways.window.place is shown
    ways.look_aside(aside)
    ways.instead(shown, lambda: Spot("list, looked through"))
    assert ways.window.place.name == "aside"
    ways.push(draft)
    assert not ways.is_shown(shown)
    ways.window.place.leave()
    assert ways.window.place.name == "list"
