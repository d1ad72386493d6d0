"""Each thing that happens has its sound, and what is on disk ticks."""

from __future__ import annotations

from companion.present.cue import Sound, sound_of
from companion.weaving.decide import pause, take_out
from companion.weaving.events import Entry
from companion.weaving.onward import onward
from companion.weaving.progress import begin, evolve
from tests.screens.warps import twill_warp


def after(warp, *commands):
    progress = begin(warp)
    for number, command in enumerate(commands, 1):
        progress = evolve(warp, progress, Entry(number, 1000 * number, command(warp, progress)))
    return progress


def test_a_pick_on_disk_ticks_and_sounds_otherwise_before_another_shuttle():
    warp = twill_warp()  # two picks of each shuttle in turn
    heard = [sound_of(warp, after(warp, *[onward] * picks), "") for picks in (1, 2, 3, 4)]
    assert heard == [Sound.WOVEN, Sound.CHANGE, Sound.WOVEN, Sound.CHANGE]


def test_the_last_pick_of_the_piece_sounds_otherwise():
    warp = twill_warp(rounds=1)
    assert sound_of(warp, after(warp, *[onward] * 4), "") is Sound.CHANGE


def test_what_could_not_be_done_sounds_low_and_a_pause_is_silent():
    warp = twill_warp()
    assert sound_of(warp, after(warp), "there is none to take out") is Sound.REFUSED
    assert sound_of(warp, after(warp, onward, pause), "") is None
    assert sound_of(warp, after(warp, onward, onward, take_out), "") is Sound.WOVEN
