"""A foot-switch over a real pseudo-terminal pair: every test waits for events, none sleeps."""

from __future__ import annotations

import contextlib
import queue
import random
import threading
from pathlib import Path

import pytest

from drivers.events import LinkDown, LinkUp, Press, Pressed, PressSwallowed, TreadlesSensed, Trouble
from drivers.gestures import TWO_PEDALS
from drivers.line_protocol import Line, print_line
from drivers.messages import Ask, Judged, Lamps
from drivers.pedal import PedalSettings, open_pedal
from drivers.port_errors import explain_opening
from drivers.serial_link import open_exclusively
from drivers.tally import Ignored
from tests.drivers.wired import Ears

QUICK = {"retry_s": 0.01}
FAST_FOOT = PedalSettings(guard=None)
"""The made-up board lives faster than our clock: what it presses in two of its seconds arrives in a millisecond."""


def test_a_tap_is_next_and_a_long_press_is_back(board):
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK) as pedal:
        board.answer()
        board.press(200)
        board.press(900)
        board.press(150)
        assert isinstance(ears.next(), LinkUp)
        assert [ears.next().press for _ in range(3)] == [Press.ADVANCE, Press.BACK, Press.ADVANCE]
        assert pedal.ignored()[Ignored.BOUNCE] > 0
        assert ears.heard.empty()


def test_two_pedals_speak_when_they_go_down(board):
    ears = Ears()
    with open_pedal(board.port, ears, PedalSettings(uses=TWO_PEDALS, guard=None), **QUICK):
        board.answer(pedals=2)
        board.press(100, pedals=0b01)
        board.press(2000, pedals=0b10)
        ears.next_of(LinkUp)
        assert [ears.next().press for _ in range(2)] == [Press.ADVANCE, Press.BACK]


def test_noise_between_and_within_lines_makes_no_press(board):
    chance = random.Random(7)
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK) as pedal:
        board.answer()
        for _ in range(20):
            board.write(chance.randbytes(200))
        board.write(b"\n!1 9 press adv")
        board.press(200)
        ears.next_of(LinkUp)
        assert ears.next().press is Press.ADVANCE
        assert ears.heard.empty()
        assert pedal.ignored()[Ignored.BAD_LINE] > 0


def test_unplugged_and_plugged_in_again_it_goes_on(board):
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK):
        for _ in range(3):
            board.answer()
            board.press(200)
            assert isinstance(ears.next(), LinkUp)
            assert ears.next().press is Press.ADVANCE
            board.state(1)
            board.pull_out()
            down = ears.next()
            assert isinstance(down, LinkDown)
            assert down.trouble is Trouble.UNPLUGGED
            assert "plug it in again" in down.why
            board.plug_in()


def test_a_port_that_is_not_there_yet_is_awaited_without_repeating_itself(board):
    board.pull_out()
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK):
        down = ears.next()
        assert (down.trouble, down.port) == (Trouble.NO_SUCH_PORT, board.port)
        board.plug_in()
        board.answer()
        assert isinstance(ears.next(), LinkUp)


def test_a_port_taken_by_another_program_says_so(board):
    ears = Ears()
    taken = open_exclusively(board.port)
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK):
        down = ears.next()
        assert down.trouble is Trouble.BUSY
        assert "another program" in down.why
        taken.close()
        board.answer()
        assert isinstance(ears.next(), LinkUp)


def test_the_lamps_are_ordered_until_the_board_shows_them_lit(board):
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK) as pedal:
        board.answer()
        ears.next_of(LinkUp)
        pedal.light(frozenset({0, 3}))
        assert board.hear() == Lamps(0b1001)
        # The order was lost: the board still shows no lamp, and is told again.
        board.state(lamps=0)
        assert board.hear() == Lamps(0b1001)
        board.state(lamps=0b1001)
        pedal.light(frozenset())
        while board.hear() != Lamps(0):
            pass


def test_treadles_are_sensed_as_a_set(board):
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK):
        board.answer()
        for treadles in (0b0001, 0b1001, 0b1001, 0, 0):
            board.state(treadles=treadles)
        board.rest(0.2)
        seen = [ears.next_of(TreadlesSensed).down for _ in range(3)]
        assert seen == [frozenset({0}), frozenset({0, 3}), frozenset()]


def test_closing_is_prompt_safe_twice_and_leaves_no_thread_and_no_open_file(board):
    own_files = Path("/proc/self/fd")
    files = len(list(own_files.iterdir())) if own_files.is_dir() else None
    for _ in range(20):
        ears = Ears()
        with open_pedal(board.port, ears, FAST_FOOT, **QUICK) as pedal:
            board.answer()
            ears.next_of(LinkUp)
        pedal.__exit__(None, None, None)
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("pedal")]
    if files is not None:
        assert len(list(own_files.iterdir())) == files


class SteppedClock:
    """A clock that a test moves."""

    def __init__(self):
        self.now_s = 100.0

    def __call__(self):
        return self.now_s


def silence(clock, ears):
    """Let four seconds pass again and again until something is told: what was sent before may still be on its way."""
    for _ in range(600):
        clock.now_s += 4
        with contextlib.suppress(queue.Empty):
            return ears.heard.get(timeout=0.1)
    raise AssertionError("the silence was never told")


def test_a_device_that_falls_silent_is_told_once_and_told_again_when_it_speaks(board):
    ears, clock = Ears(), SteppedClock()
    with open_pedal(board.port, ears, FAST_FOOT, clock=clock, **QUICK):
        board.answer()
        assert isinstance(ears.next(), LinkUp)
        down = silence(clock, ears)
        assert (down.trouble, "no sign of life" in down.why) == (Trouble.SILENT, True)
        board.state()
        assert isinstance(ears.next(), LinkUp)
        board.press(200)
        assert ears.next().press is Press.ADVANCE


def test_a_board_of_another_version_is_named_and_says_what_to_update(board):
    ears, clock = Ears(), SteppedClock()
    with open_pedal(board.port, ears, FAST_FOOT, clock=clock, **QUICK) as pedal:
        assert board.hear() == Ask()
        board.write(print_line(Line(2, 1, ("state", "1", "0", "0", "0"))))
        board.write(print_line(Line(2, 2, ("state", "51", "0", "0", "0"))))
        while not pedal.ignored()[Ignored.OTHER_VERSION]:
            board.write(b"\n")
        down = silence(clock, ears)
        assert down.trouble is Trouble.OTHER_VERSION
        assert "version 2" in down.why
        assert "update Fellside" in down.why


def test_a_million_random_bytes_over_the_cable_press_nothing_and_the_next_press_is_heard(board):
    chance = random.Random(12)
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK) as pedal:
        board.answer()
        assert isinstance(ears.next(), LinkUp)
        for _ in range(1000):
            board.write(chance.randbytes(1000))
        board.write(b"\n")
        board.press(200)
        assert ears.next().press is Press.ADVANCE
        assert ears.heard.empty()
        assert pedal.ignored()[Ignored.NOISE_BYTE] > 400_000
        assert pedal.ignored()[Ignored.BAD_LINE] > 3000


def test_a_flood_of_presses_is_told_in_order_and_none_is_lost(board):
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK):
        board.answer()
        assert isinstance(ears.next(), LinkUp)
        wanted = [Press.ADVANCE, Press.BACK, Press.HOLD] * 3334
        for press in wanted:
            board.say(Judged(press))
        assert [ears.next().press for _ in wanted] == wanted


def test_the_guard_stands_between_the_pedal_and_the_program(board):
    ears, clock = Ears(), SteppedClock()
    with open_pedal(board.port, ears, clock=clock, **QUICK) as pedal:
        board.answer()
        for wait_s in (1.0, 0.1, 1.5):
            clock.now_s += wait_s
            board.say(Judged(Press.ADVANCE))
            told = ears.next_of((Pressed, PressSwallowed))
            assert isinstance(told, PressSwallowed) == (wait_s == 0.1)
        assert pedal.ignored()[Ignored.TOO_SOON] == 1


def test_a_board_that_does_not_read_its_lamps_holds_up_nothing(board):
    ears = Ears()
    with open_pedal(board.port, ears, FAST_FOOT, **QUICK) as pedal:
        board.answer()
        ears.next_of(LinkUp)
        for number in range(2000):
            pedal.light(frozenset({number % 8}))
        board.press(200)
        assert ears.next().press is Press.ADVANCE


def test_a_name_longer_than_any_port_has_is_no_port():
    with pytest.raises(OSError, match="File name too long") as refusal:
        Path("/dev/" + "x" * 300).stat()
    trouble, line = explain_opening(refusal.value, "/dev/" + "x" * 300)
    assert (trouble, line.endswith("not a serial port; see `fellside pedal` for the ports")) == (
        Trouble.NO_SUCH_PORT,
        True,
    )
