"""Each thing that happens has its sound, and what is on disk ticks."""

from __future__ import annotations

from functools import partial

from companion.present.cue import Sound, sound_of
from companion.weaving.decide import note_near_miss, pause, take_out
from companion.weaving.events import Entry
from companion.weaving.onward import onward
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import begin, evolve
from tests.screens.warps import twill_warp


def sound_after(warp, *commands):
    progress, event = begin(warp), None
    for number, command in enumerate(commands, 1):
        event = command(warp, progress)
        progress = evolve(warp, progress, Entry(number, 1000 * number, event))
    return sound_of(event, this_pick(warp, progress))


def test_a_pick_on_disk_ticks_and_sounds_otherwise_before_another_shuttle():
    warp = twill_warp()  # two picks of each shuttle in turn
    heard = [sound_after(warp, *[onward] * picks) for picks in (1, 2, 3, 4)]
    assert heard == [Sound.WOVEN, Sound.CHANGE, Sound.WOVEN, Sound.CHANGE]


def test_the_last_pick_of_the_piece_sounds_otherwise():
    assert sound_after(twill_warp(rounds=1), *[onward] * 4) is Sound.CHANGE


def test_a_pick_taken_out_ticks_and_a_pause_or_a_near_miss_is_silent():
    warp = twill_warp()
    assert sound_after(warp, onward, onward, take_out) is Sound.WOVEN
    assert sound_after(warp, onward, pause) is None
    assert sound_after(warp, onward, partial(note_near_miss, wrong=(2,))) is None


def test_what_could_not_be_done_sounds_low():
    assert sound_of(None, None) is Sound.REFUSED
