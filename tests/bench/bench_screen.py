"""From a press to a drawn frame, the cold start, and memory: `python -m tests.bench.bench_screen`.

A press is posted from another thread, as the pedal's driver does; the pick goes to a real journal on disk; the clock
stops when the frame that shows the next pick has been flipped. The peer in the same run is a bare Kivy label whose
text is changed from another thread in the same way. Growth: treadlings of 100 to 10,000 picks.

Then a draft is scrolled by one pick in every frame, as fast as frames come, with 200 to 20,000 picks. The peer is
a bare Kivy rectangle that fills the same window, its texture filled anew with other pixels for every frame.
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
SCROLLED_PICKS = (200, 2000, 20_000)
SCROLLED_FRAMES = 120
SCROLL_WINDOW = (1024, 600)
_COLD_START = """
import time; start = time.perf_counter()
from companion.screens.environment import prepare; prepare()
from kivy.core.window import Window
from companion.wiring.screen_app import ScreenApp
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
        _scrolling()
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
    with Stage(app, shown=True) as stage:

        def press(number: int) -> None:
            Clock.schedule_once(lambda _seconds: setattr(app.root, "text", str(number)), 0)

        return [
            _press_to_frame(stage, lambda n=number: press(n), lambda n=number: app.root.text == str(n))
            for number in range(1, PRESSES)
        ]


def _presses(path: Path, rounds: int) -> list[float]:
    from tests.screens.test_window import at_the_screen
    from tests.screens.warps import twill_warp

    with at_the_screen(path, twill_warp(rounds), shown=True) as stage:
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


def _scrolling() -> None:
    from kivy.clock import Clock

    # Without this Kivy waits so as not to draw more than 60 frames a second.
    most_fps, Clock._max_fps = Clock._max_fps, 0
    try:
        peer = _bare_texture()
        print(f"a bare texture filled again (the peer): {peer:.0f} frames per second")
        for picks in SCROLLED_PICKS:
            for floats in (False, True):
                rate = _scrolled_draft(picks, floats)
                marked = " with floats marked" if floats else ""
                print(
                    f"scrolling {picks:>6} picks{marked}: {rate:.0f} frames per second, {rate / peer:.2f} of the peer"
                )
    finally:
        Clock._max_fps = most_fps


def _bare_texture() -> float:
    from kivy.app import App
    from kivy.graphics import Rectangle
    from kivy.graphics.texture import Texture
    from kivy.uix.widget import Widget

    width, height = SCROLL_WINDOW
    pictures = [bytes([shade]) * (3 * width * height) for shade in (40, 200)]

    class Bare(App):
        def build(self):
            return Widget()

    app = Bare()
    with Stage(app, shown=True) as stage:
        stage.resize(*SCROLL_WINDOW)
        texture = Texture.create(size=SCROLL_WINDOW, colorfmt="rgb")
        with app.root.canvas:
            Rectangle(texture=texture, size=SCROLL_WINDOW)

        def move(frame: int) -> None:
            texture.blit_buffer(pictures[frame % 2], colorfmt="rgb", bufferfmt="ubyte")
            app.root.canvas.ask_update()

        return _frames_per_second(stage, move, lambda: None)


def _scrolled_draft(picks: int, floats: bool) -> float:
    from companion.present.draft_desk import FLOATS_OVER
    from companion.present.draft_view import view_of
    from companion.screens.draft import DraftScreen
    from companion.screens.window import FellsideWindow
    from tests.screens.test_draft import long_draft

    draft = long_draft(picks)
    window = FellsideWindow(lambda win: DraftScreen("towel", draft, win.surroundings, *[print] * 5))
    with Stage(window, shown=True) as stage:
        stage.resize(*SCROLL_WINDOW)
        picture = window.place.ids.picture
        window.place.view = view_of(draft, floats_over=FLOATS_OVER[1] if floats else None)
        stage.pump()

        def shown() -> None:
            assert picture.corner.pick == SCROLLED_FRAMES, "the draft was not scrolled"

        return _frames_per_second(stage, lambda frame: picture.scroll_to((0, frame, 0, 0)), shown)


def _frames_per_second(stage: Stage, move, shown) -> float:
    """Return how many frames of median length go into a second."""
    times = []
    for frame in range(1, SCROLLED_FRAMES + 1):
        begun = time.perf_counter()
        move(frame)
        stage.pump(1)
        times.append(time.perf_counter() - begun)
    shown()
    return 1 / median(times)


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
