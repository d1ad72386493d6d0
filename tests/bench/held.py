"""A slower processor: processes that may run for a share of the time only, a few milliseconds at once."""

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
