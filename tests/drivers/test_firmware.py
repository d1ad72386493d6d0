"""The footboard's own core, compiled for this machine, against our side of the protocol."""

from __future__ import annotations

import random
import shutil
import socket
import subprocess
from itertools import pairwise
from pathlib import Path

import pytest

from drivers.events import LinkUp, Press, TreadlesSensed
from drivers.line_protocol import LineReader, print_line
from drivers.messages import Ask, Hello, Lamps, State, line_of, message_of
from drivers.pedal import PedalSettings, open_pedal
from drivers.tally import new_tally
from tests.drivers.contact import BouncingSwitch
from tests.drivers.wired import PATIENCE_S, Ears

ROOT = Path(__file__).resolve().parents[2]
STRICT = ("-std=c++11", "-Wall", "-Wextra", "-Werror", "-Wconversion", "-Wshadow", "-pedantic")

pytestmark = pytest.mark.skipif(
    shutil.which("g++") is None, reason="g++ is not installed: the footboard's core was NOT checked"
)


@pytest.fixture(scope="module")
def program(made_once):
    def compile_it(folder):
        source = Path(__file__).with_name("board_on_host.cpp")
        include = ROOT / "deploy" / "firmware" / "footboard"
        done = subprocess.run(
            ["g++", *STRICT, f"-I{include}", str(source), "-o", str(folder / "board")],
            capture_output=True,
            text=True,
            check=False,
            timeout=120,
        )
        assert done.returncode == 0, done.stderr

    return made_once("firmware", compile_it) / "board"


class HostBoard:
    """The compiled board with its cable in `cable_fd`."""

    def __init__(self, program, cable_fd, start_ms=1000):
        self.process = subprocess.Popen(
            [str(program), str(cable_fd), str(start_ms)],
            pass_fds=[cable_fd],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def at(self, ms, pedals=0, treadles=0):
        self.process.stdin.write(f"at {ms} {pedals:X} {treadles:X}\n")
        self.process.stdin.flush()

    def hear(self):
        self.process.stdin.write("hear\n")
        self.process.stdin.flush()
        return int(self.process.stdout.readline().split()[1], 16)

    def stop(self):
        """Let it finish what it was told; it ends when it is told no more."""
        self.process.communicate(timeout=PATIENCE_S)
        return self.process.returncode


@pytest.fixture
def cable():
    ours, theirs = socket.socketpair()
    ours.settimeout(PATIENCE_S)
    yield ours, theirs
    ours.close()
    theirs.close()


def said(ours, ignored=None):
    """All messages on the cable until it ends."""
    reader = LineReader(ignored or new_tally())
    messages = []
    while data := ours.recv(4096):
        messages += [message_of(line) for line in reader.feed(data)]
    return messages


def test_a_tap_a_hold_and_treadles_go_all_the_way_over_a_pseudo_terminal(program, board):
    ears = Ears()
    with open_pedal(board.port, ears, PedalSettings(guard=None), retry_s=0.01) as pedal:
        host = HostBoard(program, board.end)
        host.hear()
        chance_presses = [(2000, 2200), (3000, 3900), (5000, 5300)]
        switch = BouncingSwitch(chance_presses, seed=5)
        for ms in range(1001, 7000):
            host.at(ms, int(switch.closed(ms)), 0b101 if 6000 <= ms < 6500 else 0)
        assert isinstance(ears.next(), LinkUp)
        assert [ears.next().press for _ in range(3)] == [Press.ADVANCE, Press.BACK, Press.ADVANCE]
        assert [ears.next_of(TreadlesSensed).down for _ in range(2)] == [frozenset({0, 2}), frozenset()]
        pedal.light(frozenset({1, 7}))
        assert host.hear() == 0b10000010
        assert host.stop() == 0
        assert not any(pedal.ignored()[reason] for reason in pedal.ignored() if reason.name.endswith("LINE"))


def test_it_says_hello_at_its_start_and_when_asked(program, cable):
    ours, theirs = cable
    host = HostBoard(program, theirs.fileno())
    theirs.close()
    ours.sendall(print_line(line_of(Ask(), 1)))
    host.hear()
    host.stop()
    hello = Hello(1, 8, 8, "on-host")
    assert said(ours) == [hello, hello, State(1000, 0, 0, 0)]


def test_the_heart_beats_twice_a_second_and_briskly_around_a_press(program, cable):
    ours, theirs = cable
    host = HostBoard(program, theirs.fileno())
    theirs.close()
    host.at(5000, pedals=1)
    host.at(5200)
    host.at(9000)
    host.stop()
    times = [message.ms for message in said(ours) if isinstance(message, State)]
    assert [ms for ms in times if 2000 <= ms < 5000] == [2450, 2950, 3450, 3950, 4450, 4950]
    assert [ms for ms in times if 5000 <= ms < 5250] == [5000, 5006, 5056, 5106, 5156, 5200, 5206]
    assert all(later - earlier <= 50 for earlier, later in pairwise(times) if 5000 <= earlier < 6150)
    assert times[-1] - times[-2] == 500


def test_its_clock_may_run_over(program, cable):
    ours, theirs = cable
    host = HostBoard(program, theirs.fileno(), start_ms=2**32 - 700)
    theirs.close()
    host.at(600)
    host.stop()
    times = [message.ms for message in said(ours) if isinstance(message, State)]
    assert times[0] > 2**31
    assert times[-1] <= 600
    assert len(times) > 2


def test_noise_does_not_light_a_lamp_and_a_sound_order_after_it_does(program, cable):
    ours, theirs = cable
    host = HostBoard(program, theirs.fileno())
    theirs.close()
    chance = random.Random(11)
    order = print_line(line_of(Lamps(0xAA), 1))
    for number in range(200):
        broken = bytearray(order)
        # Not in the checksum itself: there a flipped case of A..F is the same number, and the order is whole.
        broken[chance.randrange(len(order) - 5)] ^= 1 << chance.randrange(7)
        ours.sendall(chance.randbytes(chance.randrange(300)) + b"\n" + broken)
        assert host.hear() == 0, number
    ours.sendall(b"!1 4 half" + order)
    assert host.hear() == 0xAA
    host.stop()
