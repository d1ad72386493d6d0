"""The board's bytes against what a foot did: late, lost, doubled, broken, in floods, and with clocks that jump."""

from __future__ import annotations

import random

import pytest

from drivers.board_decoder import BoardDecoder
from drivers.events import Press, Pressed, TreadlesSensed
from drivers.gestures import ONE_PEDAL, FootTimes
from drivers.line_protocol import Line, print_line
from drivers.messages import CLOCK_MS, Hello, Judged, State, line_of
from drivers.tally import Ignored, new_tally
from tests.drivers.contact import BouncingSwitch


class Board:
    """Makes the bytes that a board sends; `decoder` hears them at a time of our choice."""

    def __init__(self, start_ms=1000):
        self.ignored = new_tally()
        self.decoder = BoardDecoder(ONE_PEDAL, FootTimes(), self.ignored)
        self.sequence = 0
        self.start_ms = start_ms

    def line(self, message):
        self.sequence += 1
        return print_line(line_of(message, self.sequence))

    def state(self, ms, pedals=0, treadles=0):
        return self.line(State((self.start_ms + ms) % CLOCK_MS, pedals, treadles, 0))

    def tap(self, at_ms, down_ms=200):
        """The lines of one tap, with the states around it."""
        ends_ms = at_ms + down_ms
        times = [*range(at_ms, ends_ms, 50), ends_ms, ends_ms + 6, ends_ms + 56, ends_ms + 200]
        return [(ms, self.state(ms, int(at_ms <= ms < ends_ms))) for ms in [at_ms - 50, *times]]


def presses(events):
    return [event.press for event in events if isinstance(event, Pressed)]


def heard(board, timed_lines):
    """What the decoder tells of lines given as (seconds, bytes)."""
    return [event for at_s, line in timed_lines for event in board.decoder.feed(line, at_s)]


def in_time(lines):
    return [(ms / 1000, line) for ms, line in lines]


def test_a_tap_that_arrives_late_and_in_one_lump_is_still_a_tap():
    board = Board()
    board.decoder.feed(board.state(0), 10.0)
    lump = b"".join(line for _, line in board.tap(1000))
    assert presses(board.decoder.feed(lump, 15.0)) == [Press.ADVANCE]


def test_a_tap_whose_end_is_held_up_on_the_way_is_no_hold():
    board = Board()
    early, late = [], []
    for ms, line in board.tap(1000):
        (early if ms < 1100 else late).append(line)
    told = heard(board, [(11.1, b"".join(early)), (13.9, b"".join(late))])
    assert presses(told) == [Press.ADVANCE]


def test_presses_are_told_in_our_own_time():
    board = Board()
    (pressed,) = heard(board, [(100.002 + at_s, line) for at_s, line in in_time(board.tap(5000))])
    assert abs(pressed.at_s - 105.202) < 0.005


def test_the_boards_clock_may_run_over_in_the_middle_of_a_press():
    board = Board(start_ms=CLOCK_MS - 1100)
    assert presses(heard(board, in_time(board.tap(1000)))) == [Press.ADVANCE]


@pytest.mark.parametrize("jump_ms", [-500, -(10**6), 10**6])
def test_a_clock_that_jumps_while_the_pedal_is_down_makes_no_back(jump_ms):
    board = Board(start_ms=2 * 10**6)
    told = heard(board, in_time(board.tap(1000)))
    for ms in (2000, 2050, 2100):
        told += board.decoder.feed(board.state(ms, 1), ms / 1000)
    for ms in (2150, 2200, 2206, 2400, 2500):
        told += board.decoder.feed(board.state(ms + jump_ms, int(ms < 2200)), ms / 1000)
    assert presses(told)[0] is Press.ADVANCE
    assert Press.BACK not in presses(told)
    assert presses(heard(board, in_time(board.tap(4000)))) == [Press.ADVANCE], "and the next press is heard"


def test_a_lost_line_is_healed_by_the_next_and_counted():
    board = Board()
    told = []
    for number, (ms, line) in enumerate(board.tap(1000, down_ms=300)):
        if number % 3 != 1:
            told += board.decoder.feed(line, ms / 1000)
    assert presses(told) == [Press.ADVANCE]
    assert board.ignored[Ignored.LOST_LINE] == 3


def test_a_line_that_comes_twice_is_heard_once():
    board = Board()
    line = board.line(Judged(Press.BACK))
    assert presses(board.decoder.feed(line + line, 1.0)) == [Press.BACK]
    assert board.ignored[Ignored.REPEATED_LINE] == 1


def test_a_board_that_starts_again_has_lost_nothing():
    board = Board()
    for ms in (0, 50, 100):
        board.decoder.feed(board.state(ms), ms / 1000)
    board.sequence = 99
    board.decoder.feed(board.line(Hello(1, 4, 4, "again")), 1.0)
    assert board.ignored[Ignored.LOST_LINE] == 0
    assert board.decoder.hello.name == "again"


def test_another_version_is_not_guessed_at():
    board = Board()
    line = print_line(Line(2, 1, ("state", "1", "1", "0", "0")))
    assert board.decoder.feed(line, 1.0) == []
    assert board.decoder.other_version == 2
    assert board.ignored[Ignored.OTHER_VERSION] == 1


def test_bounce_noise_and_jitter_change_nothing_in_three_hundred_taps_and_holds():
    chance = random.Random(8)
    board = Board()
    spans, wanted, now_ms = [], [], 1000
    for _ in range(300):
        hold = chance.random() < 0.2
        down_ms = chance.randrange(650, 1200) if hold else chance.randrange(160, 560)
        spans.append((now_ms, now_ms + down_ms))
        wanted.append(Press.BACK if hold else Press.ADVANCE)
        now_ms += down_ms + chance.randrange(250, 900)
    switch = BouncingSwitch(spans, seed=3)
    told = []
    for ms in board_times(switch, now_ms):
        if chance.random() < 0.02:
            told += board.decoder.feed(chance.randbytes(30) + b"!1 7 state\n", ms / 1000)
        arrives_s = ms / 1000 + chance.expovariate(200)
        told += board.decoder.feed(board.state(ms, int(switch.closed(ms))), arrives_s)
    assert presses(told) == wanted
    assert board.ignored[Ignored.BOUNCE] > 300


def board_times(switch, until_ms):
    """When the board sends: at changes, 6 ms after the last one, and briskly."""
    before, changed_ms, sent_ms, settled = False, 0, 0, True
    for ms in range(until_ms):
        closed = switch.closed(ms)
        due = not settled and ms - changed_ms >= 6
        if closed != before:
            before, changed_ms, settled = closed, ms, False
        elif due:
            settled = True
        elif ms - sent_ms < 50:
            continue
        sent_ms = ms
        yield ms


def test_a_second_of_ten_thousand_events_is_all_heard():
    board = Board()
    flood = b"".join(board.state(number, treadles=1 << number // 8 % 8) for number in range(10_000))
    told = board.decoder.feed(flood, 1.0)
    assert len([event for event in told if isinstance(event, TreadlesSensed)]) > 1000
    assert board.decoder.lines_heard == 10_000
