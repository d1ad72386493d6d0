"""A slower processor: processes that may run for a share of the time only, a few milliseconds at once.

They are stopped and let go by signals, all at once, every 5 ms. A quota of a control group does the same by periods of
100 ms (the kernel's usual one): who has used its 20 ms up in a burst waits for up to 80 ms, which no slow processor
makes anybody wait; what takes 20 ms of the processor would come after 20 ms there, and what takes 21 ms after 101. Here
nothing waits for more than 4 ms at once, so that what takes 20 ms comes after some 100, as on a processor of a fifth of
the speed. Much shorter periods would measure the signals and the scheduler instead. What is held has its share on each
of the processors that it runs on; the disk is as fast as ever.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager

_PERIOD_S = 0.005
_HOLDER = """
import os, signal, sys, time
share, period = float(sys.argv[1]), float(sys.argv[2])
held, parent = [int(word) for word in sys.argv[3:]], os.getppid()
def tell(what):
    for one in held:
        try:
            os.kill(one, what)
        except ProcessLookupError:
            pass
def end(*_):
    tell(signal.SIGCONT)
    os._exit(0)
signal.signal(signal.SIGTERM, end)
print("holding", flush=True)
while os.getppid() == parent:
    tell(signal.SIGSTOP)
    time.sleep(period * (1 - share))
    tell(signal.SIGCONT)
    time.sleep(period * share)
end()
"""


@contextmanager
def held_to(share: float, *processes: int) -> Iterator[None]:
    """Let processes, which may be this one, run for a `share` of the time: stopped and let go in turn, all at once."""
    told = [str(share), str(_PERIOD_S), *map(str, processes)]
    holder = subprocess.Popen([sys.executable, "-c", _HOLDER, *told], stdout=subprocess.PIPE)
    try:
        assert holder.stdout is not None
        holder.stdout.readline()
        yield
    finally:
        holder.terminate()
        holder.wait()


def share_had(seconds: float = 1.0) -> float:
    """Return which share of one processor a program that is always busy gets here now."""
    clock, processor = time.perf_counter(), time.process_time()
    while time.perf_counter() - clock < seconds:
        pass
    return (time.process_time() - processor) / (time.perf_counter() - clock)


def loop_s() -> tuple[float, float]:
    """Return how long two million additions take, on the clock and of the processor: how fast this computer is now."""
    clock, processor, number = time.perf_counter(), time.process_time(), 0
    while number < 2_000_000:
        number += 1
    return time.perf_counter() - clock, time.process_time() - processor
