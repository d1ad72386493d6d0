"""How fast a pedal is heard: events a second, delay from the byte to the event, and the CPU of an idle pedal.

The peer, in the same run, is the least that any program needs: a thread that reads what is there with pyserial, cuts it
at line feeds and puts every line into a queue, without checksum, debounce or gestures. (pyserial's own `readline` reads
byte by byte and is some ten times slower than that.) Prints ratios and how they grow; asserts nothing about time.
"""

from __future__ import annotations

import gc
import os
import queue
import statistics
import tempfile
import threading
import time
import tty
from contextlib import contextmanager
from pathlib import Path

import serial

from drivers.events import LinkUp, Press, TreadlesSensed
from drivers.line_protocol import print_line
from drivers.messages import Judged, State, line_of
from drivers.pedal import PedalSettings, Wiring, open_pedal
from drivers.switch_lines import SwitchWiring

NO_GUARD = PedalSettings(guard=None)


@contextmanager
def cable():
    """A pseudo-terminal pair: the board's end and the port's name."""
    end, device = os.openpty()
    tty.setraw(device)
    try:
        yield end, os.ttyname(device)
    finally:
        os.close(end)
        os.close(device)


@contextmanager
def plain_lines(port, put):
    """The peer: every line goes into the queue as it is."""
    opened = serial.Serial(port, 115_200, timeout=0.25)
    stop = threading.Event()

    def read():
        rest = b""
        while not stop.is_set():
            *lines, rest = (rest + opened.read(max(1, opened.in_waiting))).split(b"\n")
            for line in lines:
                put(line)

    thread = threading.Thread(target=read)
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join()
        opened.close()


def listening(kind, port, put):
    """The peer or ours on this port."""
    return plain_lines(port, put) if kind == "peer" else open_pedal(port, put, NO_GUARD)


def states(number):
    """Lines in which another treadle is down every 8 ms: each 8 lines are one event (bounce and repeats)."""
    lines = [print_line(line_of(State(1000 + i, 0, 1 << i // 8 % 8, 0), i)) for i in range(number)]
    return b"".join(lines)


def pour(end, data):
    """Write as fast as the reader takes it."""
    view = memoryview(data)
    while view:
        view = view[os.write(end, view[:1024]) :]


def seconds_of_flood(kind, lines):
    data = states(lines)
    heard = queue.SimpleQueue()
    with (
        cable() as (end, port),
        plain_lines(port, heard.put) if kind == "peer" else open_pedal(port, heard.put, NO_GUARD),
    ):
        if kind == "peer":
            time.sleep(0.1)
        else:
            os.read(end, 100)  # the question that shows that the port is open
        start_s = time.perf_counter()
        pour(end, data)
        if kind == "peer":
            for _ in range(lines):
                heard.get(timeout=60)
        else:
            events = 0
            while events < lines // 8 - 1:
                events += isinstance(heard.get(timeout=60), TreadlesSensed)
        return time.perf_counter() - start_s


def delays_of(kind, presses=2000):
    """Seconds from the writing of the last byte to the event's arrival in the listener, one by one."""
    heard = queue.SimpleQueue()
    delays = []

    def put(event):
        if not isinstance(event, LinkUp):
            heard.put(time.perf_counter())

    with cable() as (end, port), plain_lines(port, put) if kind == "peer" else open_pedal(port, put, NO_GUARD):
        if kind == "peer":
            time.sleep(0.1)
        else:
            os.read(end, 100)
        for number in range(presses):
            line = print_line(line_of(Judged(Press.ADVANCE), number))
            time.sleep(0.0005)
            written_s = time.perf_counter()
            os.write(end, line)
            delays.append(heard.get(timeout=10) - written_s)
    return delays


def idle_cpu(kind, seconds=5.0):
    """Share of one core that this process uses while a pedal is open and only its heart beats."""
    if kind == "switch":
        port = serial.serial_for_url("loop://")
        # loop:// joins RTS to CTS, as a foot on the switch does: inverted, that is a switch at rest.
        settings = PedalSettings(Wiring.SWITCH, switch=SwitchWiring(invert=True))
        with open_pedal("loop://", lambda _: None, settings, opener=lambda _: port):
            return _cpu_during(lambda: time.sleep(seconds), seconds)
    with cable() as (end, port), listening(kind, port, lambda _: None):

        def beat():
            for number in range(round(seconds * 2)):
                os.write(end, print_line(line_of(State(1000 + 500 * number, 0, 0, 0), number)))
                time.sleep(0.5)

        return _cpu_during(beat, seconds)


def idle_cpu_unplugged(seconds=5.0):
    with tempfile.TemporaryDirectory() as folder, open_pedal(str(Path(folder) / "none"), lambda _: None):
        return _cpu_during(lambda: time.sleep(seconds), seconds)


def _cpu_during(wait, seconds):
    gc.collect()
    before_s = time.process_time()
    wait()
    return (time.process_time() - before_s) / seconds


def percentile(values, share):
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def main():
    print("flood over a pseudo-terminal, lines read, checked and judged (peer: cut at line feeds)")
    for lines in (2_000, 8_000, 32_000):
        ours_s, peer_s = seconds_of_flood("ours", lines), seconds_of_flood("peer", lines)
        rates = f"{lines / ours_s:9.0f} lines/s   peer {lines / peer_s:9.0f} lines/s"
        print(f"  {lines:6} lines  {rates}   ratio of times {ours_s / peer_s:.2f}")
    print("delay from the byte written to the event told")
    ours, peer = delays_of("ours"), delays_of("peer")
    for share in (0.5, 0.99):
        a_ms, b_ms = 1000 * percentile(ours, share), 1000 * percentile(peer, share)
        print(f"  p{100 * share:.0f}  {a_ms:.3f} ms   peer {b_ms:.3f} ms   ratio {a_ms / b_ms:.2f}")
    print(f"  mean {1000 * statistics.fmean(ours):.3f} ms")
    print("CPU of one core when idle (the wanted limit is 2 %)")
    for name, share in (
        ("board", idle_cpu("ours")),
        ("bare switch", idle_cpu("switch")),
        ("unplugged", idle_cpu_unplugged()),
        ("peer", idle_cpu("peer")),
    ):
        print(f"  {name:12} {100 * share:.2f} %")


if __name__ == "__main__":
    main()
