"""A bare switch over pyserial's loop://, which loops RTS to CTS and DTR to DSR: the test moves the lines."""

from __future__ import annotations

import threading

import serial

from drivers.events import LinkDown, LinkUp, Press
from drivers.gestures import BEATER, ONE_PEDAL, TWO_PEDALS
from drivers.pedal import PedalSettings, Wiring, open_pedal
from drivers.switch_lines import SwitchWiring
from tests.drivers.wired import PATIENCE_S, Ears

STEP_S = 0.004


class LoopedSwitch:
    """An adapter whose read lines the test sets, and a clock that moves one poll at a time."""

    def __init__(self):
        self.port = serial.serial_for_url("loop://")
        self._closed = dict.fromkeys(("rts", "dtr"), False)
        self._now_s = 100.0
        self._spans = []
        self.done = threading.Event()

    def open(self, _name):
        return self.port

    def plan(self, line, *spans_s):
        self._spans += [(line, 100 + start_s, 100 + end_s) for start_s, end_s in spans_s]

    def clock(self):
        """Called at every look: time goes on and the foot does what is planned for it."""
        self._now_s += STEP_S / 2
        for line in self._closed:
            setattr(self.port, line, any(a <= self._now_s < b for name, a, b in self._spans if name == line))
        if all(end_s + 1 < self._now_s for _, _, end_s in self._spans):
            self.done.set()
        return self._now_s


def watched(switch, settings):
    ears = Ears()
    with open_pedal("loop://", ears, settings, opener=switch.open, clock=switch.clock):
        assert switch.done.wait(PATIENCE_S)
    told = []
    while not ears.heard.empty():
        told.append(ears.next())
    assert isinstance(told.pop(0), LinkUp)
    return [pressed.press for pressed in told]


def settings(uses, **wiring):
    return PedalSettings(Wiring.SWITCH, uses, switch=SwitchWiring(poll_ms=0.01, rest_poll_ms=0.01, **wiring))


def test_a_beater_hangs_on_the_line_after_the_pedal_and_every_beat_is_told():
    switch = LoopedSwitch()
    switch.plan("rts", (0.5, 0.6))
    switch.plan("dtr", (1.0, 1.03), (1.3, 1.33), (3.0, 3.9))
    assert watched(switch, settings((*ONE_PEDAL, BEATER))) == [Press.ADVANCE, Press.BEAT, Press.BEAT, Press.BEAT]


def test_a_tap_and_a_hold_on_one_switch():
    switch = LoopedSwitch()
    switch.plan("rts", (1, 1.3), (2, 3), (4, 4.2))
    assert watched(switch, settings(ONE_PEDAL)) == [Press.ADVANCE, Press.BACK, Press.ADVANCE]


def test_two_switches_are_next_and_back():
    switch = LoopedSwitch()
    switch.plan("rts", (1, 1.3), (4, 4.2))
    switch.plan("dtr", (2, 2.9))
    assert watched(switch, settings(TWO_PEDALS)) == [Press.ADVANCE, Press.BACK, Press.ADVANCE]


def test_an_adapter_that_reads_pressed_as_off_is_inverted():
    switch = LoopedSwitch()
    # Off from 1 to 1.3 s is a tap; off for the last second is a hold.
    switch.plan("rts", (0, 1), (1.3, 2))
    assert watched(switch, settings(ONE_PEDAL, invert=True)) == [Press.ADVANCE, Press.BACK]


def test_a_port_without_control_lines_is_told_in_one_line(board):
    ears = Ears()
    with open_pedal(board.port, ears, settings(ONE_PEDAL), retry_s=0.01):
        down = ears.next()
    assert isinstance(down, LinkDown)
    assert "no control lines" in down.why
    assert ears.heard.empty()
