"""From a press to a drawn frame, the cold start, and memory: `python -m tests.bench.bench_screen`.

A press is posted from another thread, as the pedal's driver does; the pick goes to a real journal on disk; the clock
stops when the frame that shows the next pick has been flipped. The peer in the same run is a bare Kivy label whose
text is changed from another thread in the same way. Growth: treadlings of 100 to 10,000 picks.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from statistics import median

from tests.screens.stage import Stage, virtual_display

PRESSES = 300
ROUNDS = (25, 250, 2500)
"""Rounds of four picks: 100, 1,000 and 10,000 picks."""
_COLD_START = """
import time; start = time.perf_counter()
from companion.screens.environment import prepare; prepare()
from kivy.core.window import Window
from companion.screen_app import ScreenApp
from companion.cli.weave import demo_warp_name
program = ScreenApp(demo_warp_name())
shown = []
def flipped(*_):
    if program.window.root is not None and not shown:
        shown.append(time.perf_counter() - start)
        program.window.stop()
Window.bind(on_flip=flipped)
program.run()
import resource
print(shown[0], resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
"""


def main() -> None:
    """Measure and print."""
    with virtual_display() as display, tempfile.TemporaryDirectory() as home:
        os.environ.update(DISPLAY=display, KIVY_HOME=f"{home}/kivy", FELLSIDE_HOME=home, SDL_AUDIODRIVER="dummy")
        os.environ["KIVY_NO_CONSOLELOG"] = "1"
        _cold_start()
        from companion.screens.environment import prepare

        prepare()
        bare = _bare_label()
        _print("bare label (the peer)", bare)
        base = median(bare)
        for rounds in ROUNDS:
            times = _presses(Path(home) / f"{rounds}.journal", rounds)
            _print(f"{4 * rounds:>6} picks", times)
            print(f"        {median(times) / base:.1f} times the bare label, with a pick put on disk in between")
        print(f"memory at the end: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB at most")


def _print(what: str, times: list[float]) -> None:
    ordered = sorted(times)
    p99 = ordered[int(len(ordered) * 0.99)]
    print(f"{what}: press to frame p50 {1000 * median(ordered):.1f} ms, p99 {1000 * p99:.1f} ms, n {len(ordered)}")


def _cold_start() -> None:
    runs = []
    for _ in range(5):
        done = subprocess.run([sys.executable, "-c", _COLD_START], capture_output=True, text=True, check=True)
        runs.append([float(part) for part in done.stdout.split()])
    seconds, memory = (median(values) for values in zip(*runs, strict=True))
    print(
        f"cold start to the first frame with the demo: {seconds:.2f} s; memory {memory:.0f} MB (median of {len(runs)})"
    )


def _bare_label() -> list[float]:
    from kivy.app import App
    from kivy.clock import Clock
    from kivy.uix.label import Label

    class Bare(App):
        def build(self):
            return Label(text="0")

    app = Bare()
    with Stage(app) as stage:

        def press(number: int) -> None:
            Clock.schedule_once(lambda _seconds: setattr(app.root, "text", str(number)), 0)

        return [
            _press_to_frame(stage, lambda n=number: press(n), lambda n=number: app.root.text == str(n))
            for number in range(1, PRESSES)
        ]


def _presses(path: Path, rounds: int) -> list[float]:
    from tests.screens.test_window import at_the_screen
    from tests.screens.warps import twill_warp

    with at_the_screen(path, twill_warp(rounds)) as stage:
        weave = stage.app.place.weave
        last = min(PRESSES, 4 * rounds - 1)
        return [
            _press_to_frame(
                stage,
                lambda: stage.app.post(stage.app.place.go_on),
                lambda n=number: weave.ids.count.text == f"pick {n + 1} of {4 * rounds}",
            )
            for number in range(1, last)
        ]


def _press_to_frame(stage: Stage, press, shown) -> float:
    """Press in another thread and pump until what it leads to was flipped to the display."""
    from kivy.base import EventLoop
    from kivy.core.window import Window

    begun: list[float] = []

    def in_thread() -> None:
        begun.append(time.perf_counter())
        press()

    thread = threading.Thread(target=in_thread)
    thread.start()
    while not shown():
        EventLoop.idle()
        Window.mainloop()
    EventLoop.idle()
    thread.join()
    return time.perf_counter() - begun[0]


if __name__ == "__main__":
    main()
