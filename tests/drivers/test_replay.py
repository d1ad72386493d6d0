from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.event_facts import event_of, facts_of
from drivers.events import LinkDown, LinkUp, Press, Pressed, PressSwallowed, TreadlesSensed, Trouble
from drivers.replay import Replay, read_recorded
from tests.drivers.wired import Ears

times = st.integers(0, 10**7).map(lambda tenths: tenths / 10**4)
events = st.one_of(
    st.builds(Pressed, st.sampled_from(Press), times),
    st.builds(PressSwallowed, st.sampled_from(Press), times, times),
    st.builds(TreadlesSensed, st.frozensets(st.integers(0, 31)), times),
    st.builds(LinkUp, st.text(), times),
    st.builds(LinkDown, st.text(), st.text(), times, st.sampled_from(Trouble)),
)


@given(events)
def test_an_event_comes_back_from_its_json(event):
    assert event_of(json.loads(json.dumps(facts_of(event)))) == event


def recorded(tmp_path, *events):
    path = tmp_path / "watch.json"
    path.write_text(json.dumps({"ports": [], "events": [facts_of(event) for event in events]}))
    return path


def test_a_recorded_watch_plays_in_order_and_at_its_times(tmp_path):
    path = recorded(tmp_path, TreadlesSensed(frozenset({1}), 60.0), Pressed(Press.BACK, 20.0))
    ears = Ears()
    with Replay(read_recorded(path), ears, speed=1000.0):
        back, sensed = ears.next(), ears.next()
    assert (back.press, sensed.down) == (Press.BACK, frozenset({1}))
    assert abs(sensed.at_s - back.at_s - 0.04) < 1e-6


def test_a_replay_ends_at_once_when_it_is_closed():
    ears = Ears()
    with Replay([Pressed(Press.ADVANCE, 0.0), Pressed(Press.ADVANCE, 3600.0)], ears):
        assert ears.next().press is Press.ADVANCE
    assert ears.heard.empty()


NO_RECORDED_WATCH = (
    "",
    "[]",
    "{}",
    "[" * 9999,
    '{"events": 3}',
    '{"events": [3]}',
    '{"events": [{}]}',
    '{"events": [{"seconds": 1, "event": "jump"}]}',
    '{"events": [{"seconds": 1, "event": "press", "press": "x"}]}',
)


@pytest.mark.parametrize("text", NO_RECORDED_WATCH)
def test_a_file_that_is_no_recorded_watch_is_named(tmp_path, text):
    path = tmp_path / "other.json"
    path.write_text(text)
    with pytest.raises(ValueError, match=r"other\.json: no recorded watch"):
        read_recorded(path)
