"""From a press to a drawn frame, the cold start, and memory: `python -m tests.bench.bench_screen [PART ...]`.

Parts: start, free, quick, pages, fifth, memory; all of them where none is named. Between them stands how long this
computer takes for a loop of plain additions: a computer that others load, or that is slow today, is slow in everything.

A press is posted from another thread, as the pedal's driver does; the pick goes to a real journal on disk; the clock
stops when the frame that shows the next pick has been flipped, in a window of 1024x600. The peer in the same run is a
bare Kivy label whose text is changed from another thread in the same way. Growth: treadlings of 100 to 10,000 picks.

Presses come at rest, when the pick before has slid in and nothing moves, or one upon the other, while it still slides.
Beside the time on the clock stands that of the processor, in all threads: where Mesa draws without a graphics
processor, it takes most of it; how much is told by drawing the same screen over and over. The weaver's program looks
for circles of objects only at rest (`ClearedAtRest`), and so does this.

A hundred presses that come while nobody draws (a pedal that was stood upon, a program that was stopped for a second):
every one is a pick on disk, none is two, and frames that would be out of date at once are left out.

How long a page takes to come when pages are opened and left at a weaver's pace, with the pages that are gone cleared
away at rest and, the peer, with Python left to look for them when it likes.

All of it once more on a processor held to a fifth of its speed (`held`, which says how), the display's server with it.
Where that is measured Mesa draws on the thread that asks for it, from the beginning: threads of its own would draw on
other processors, and all of them wake each time the program is let go, which costs more than the drawing does.
The memory after 10,000 picks woven in one window: resident, and the program's share of it where pages are shared.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass
from pathlib import Path
from statistics import median

from tests.bench.held import held_to, loop_s, share_had
from tests.screens.stage import Stage, virtual_display

WINDOW = (1024, 600)
PRESSES = 300
ROUNDS = (25, 250, 2500)
"""Rounds of four picks: 100, 1,000 and 10,000 picks."""
REST_S = 0.15
"""After so long the pick has slid in."""
SETTLED_S = 3.0
"""So long after its window got its size Kivy moves nothing more of its own: meanwhile its clock never rests."""
REDRAWN = 60
AT_ONCE = 100
BURSTS = 5
PAGES = 60
SHARE = 0.2
MEMORY_ROUNDS = 2501
MEMORY_AT = (100, 1000, 2500, 5000, 7500, 10_000)
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


@dataclass(frozen=True, slots=True)
class Press:
    """One press, in seconds: on the clock, and of the processor in all threads of this program."""

    clock_s: float
    processor_s: float


def main() -> None:
    """Measure and print."""
    parts = sys.argv[1:] or list(_PARTS)
    with virtual_display(*WINDOW) as display, tempfile.TemporaryDirectory() as home:
        os.environ.update(DISPLAY=display, KIVY_HOME=f"{home}/kivy", FELLSIDE_HOME=home, SDL_AUDIODRIVER="dummy")
        os.environ["KIVY_NO_CONSOLELOG"] = "1"
        if "fifth" in parts:
            os.environ["LP_NUM_THREADS"] = "0"
        # So far the display's server is the only other process that was started here.
        (server,) = map(int, Path(f"/proc/self/task/{os.getpid()}/children").read_text().split())
        _tell_speed()
        for part in parts:
            _PARTS[part](Path(home), server)
            _tell_speed()


def _tell_speed() -> None:
    clock, processor = loop_s()
    print(
        f"[this computer now: two million additions in {processor:.3f} s of the processor, {clock:.3f} s on the clock; "
        f"load {os.getloadavg()[0]:.1f}]",
        flush=True,
    )


def _start(home: Path, _server: int) -> None:
    _cold_start(home)


def _free(home: Path, _server: int) -> None:
    base = _bare_label(PRESSES)
    _print("bare label (the peer)", base)
    for rounds in ROUNDS:
        _print(f"{4 * rounds:>6} picks, one upon the other", _presses(home, rounds, PRESSES), base)
    _print("  1000 picks, each at rest", _presses(home, 250, PRESSES, REST_S), base)


def _fifth(home: Path, server: int) -> None:
    print(f"held to {SHARE} of the processor (free, {share_had():.2f} of one was to be had):")
    _cold_start(home, 3, SHARE, server)
    with held_to(SHARE, os.getpid(), server):
        print(f"a program that is always busy has {share_had():.2f} of it")
        base = _bare_label(PRESSES // 2)
        _print("bare label (the peer)", base)
        _print("  1000 picks, one upon the other", _presses(home, 250, PRESSES), base)
        _print("  1000 picks, each at rest", _presses(home, 250, PRESSES, REST_S), base)


def _print(what: str, presses: list[Press], base: list[Press] | None = None) -> None:
    clock, processor = (
        sorted(times) for times in ([one.clock_s for one in presses], [one.processor_s for one in presses])
    )
    at_p99 = int(len(presses) * 0.99)
    slowest = max(range(len(presses)), key=lambda at: presses[at].clock_s)
    beside = "" if base is None else f", {median(clock) / median(one.clock_s for one in base):.1f} times the label"
    print(
        f"{what}: press to frame p50 {1000 * median(clock):.1f} ms, p99 {1000 * clock[at_p99]:.1f} ms, "
        f"slowest {1000 * clock[-1]:.1f} ms (the {slowest + 1}th), n {len(clock)}{beside}; "
        f"of the processor p50 {1000 * median(processor):.1f} ms, p99 {1000 * processor[at_p99]:.1f} ms "
        f"(load {os.getloadavg()[0]:.1f})",
        flush=True,
    )


def _cold_start(home: Path, runs: int = 5, share: float = 1.0, *others: int) -> None:
    """Start the program as on any day but the first, when Python compiles it and keeps what it compiled."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    told = []
    for run in range(-1, runs):
        started = subprocess.Popen(
            [sys.executable, "-c", _COLD_START],
            stdout=subprocess.PIPE,
            text=True,
            env=kept | {"PYTHONPYCACHEPREFIX": f"{home}/compiled"},
        )
        with held_to(share, started.pid, *others) if share < 1 and run >= 0 else nullcontext():
            said, _ = started.communicate()
        if run >= 0:
            told.append([float(part) for part in said.split()])
    seconds, memory = (median(values) for values in zip(*told, strict=True))
    print(f"cold start to the first frame with the demo: {seconds:.2f} s; memory {memory:.0f} MB (median of {runs})")


def _bare_label(presses: int) -> list[Press]:
    _prepare()
    from kivy.app import App
    from kivy.clock import Clock
    from kivy.uix.label import Label

    class Bare(App):
        def build(self):
            return Label(text="0")

    app = Bare()
    with Stage(app, shown=True) as stage:
        stage.resize(*WINDOW)

        def press(number: int) -> None:
            Clock.schedule_once(lambda _seconds: setattr(app.root, "text", str(number)), 0)

        return [
            _press_to_frame(lambda n=number: press(n), lambda n=number: app.root.text == str(n))
            for number in range(1, presses)
        ]


def _prepare() -> None:
    from companion.screens.environment import prepare

    prepare()


@contextmanager
def _at_the_loom(home: Path, rounds: int) -> Iterator[Stage]:
    """Open the window on a new warp of so many rounds, as the program does, and let it come to rest."""
    _prepare()
    from companion.screens.clearing import ClearedAtRest
    from tests.screens.at_the_loom import at_the_screen
    from tests.screens.warps import twill_warp

    (journal := home / "towel.journal").unlink(missing_ok=True)
    with at_the_screen(journal, twill_warp(rounds), shown=True) as stage, ClearedAtRest():
        stage.resize(*WINDOW)
        _rest(stage, SETTLED_S)
        yield stage


def _quick(home: Path, _server: int) -> None:
    """Press many times while nothing is drawn, and tell how long it takes until the screen is true again."""
    from tests.screens.at_the_loom import events_in

    with _at_the_loom(home, 250) as stage:
        place, picks = stage.app.place, 0
        for _ in range(BURSTS):
            picks += AT_ONCE
            with _frames_counted() as frames:
                began = time.perf_counter()
                for _ in range(AT_ONCE):
                    stage.app.post(place.go_on)
                _until_shown(stage, lambda told=f"pick {picks + 1} of 1000": place.weave.ids.count.text == told)
                took = time.perf_counter() - began
            print(f"{AT_ONCE} presses at once: true after {1000 * took:.0f} ms, in {len(frames)} frames", flush=True)
            # Whatever came twice would come now.
            _rest(stage, REST_S)
            assert place.progress.now.cloth.picks == picks, "a press was lost, or woven twice"
    woven = sum(type(event).__name__ == "PickWoven" for event in events_in(home / "towel.journal"))
    assert woven == picks, f"{picks} presses, {woven} picks on disk"
    print(f"on disk: {woven} picks of {picks} presses")


@contextmanager
def _frames_counted() -> Iterator[list[float]]:
    """Put into the list when each frame was flipped to the display."""
    from kivy.core.window import Window

    frames: list[float] = []

    def flip() -> None:
        type(Window).flip(Window)
        frames.append(time.perf_counter())

    Window.flip = flip
    try:
        yield frames
    finally:
        del Window.flip


def _until_shown(stage: Stage, shown: Callable[[], bool]) -> None:
    while not shown():
        stage.pump(1)


def _presses(home: Path, rounds: int, presses: int, rest_s: float = 0.0) -> list[Press]:
    with _at_the_loom(home, rounds) as stage:
        times = []
        for number in range(1, min(presses, 4 * rounds - 1)):
            times.append(_weave(stage, number, 4 * rounds))
            _rest(stage, rest_s)
        if rest_s:
            _redraw()
        return times


def _pages(home: Path, _server: int) -> None:
    """Open the page of a fault and leave it, again and again, and tell how long it takes to come."""
    _prepare()
    from companion.screens.clearing import ClearedAtRest
    from tests.screens.at_the_loom import at_the_screen
    from tests.screens.warps import twill_warp

    (journal := home / "towel.journal").unlink(missing_ok=True)
    with at_the_screen(journal, twill_warp(250), shown=True) as stage:
        stage.resize(*WINDOW)
        left, cleared = [_turned(stage, PAGES, way) for way in (nullcontext, ClearedAtRest)]
    for what, times in (("left to Python (the peer)", left), ("cleared away at rest", cleared)):
        slowest = f"slowest {1000 * max(times):.1f} ms, {max(times) / max(left):.2f} times the peer's"
        print(f"a page comes, {what}: p50 {1000 * median(times):.1f} ms, {slowest}, n {len(times)}", flush=True)


def _turned(stage: Stage, pages: int, way: Callable[[], AbstractContextManager[object]]) -> list[float]:
    from companion.present.weave import WeaveButton
    from companion.screens.clearing import AT_REST_S

    times, place = [], stage.app.place
    with way():
        for _ in range(pages):
            _rest(stage, 1.2 * AT_REST_S)
            began = time.perf_counter()
            stage.touch(place.weave.button(WeaveButton.FAULT))
            stage.until(lambda: place.ask is not None)
            times.append(time.perf_counter() - began)
            stage.touch(place.ask.foot.buttons[0])
            stage.until(lambda: place.ask is None)
    return times


def _rest(stage: Stage, seconds: float) -> None:
    rested = time.perf_counter() + seconds
    while time.perf_counter() < rested:
        stage.pump(1)


def _weave(stage: Stage, number: int, picks: int) -> Press:
    weave = stage.app.place.weave
    return _press_to_frame(
        lambda: stage.app.post(stage.app.place.go_on),
        lambda: weave.ids.count.text == f"pick {number + 1} of {picks}",
    )


def _redraw() -> None:
    """Draw what stands there again and again: what the display takes of a frame, with nothing of ours in it."""
    from kivy.core.window import Window

    frames = []
    for _ in range(REDRAWN):
        began, before = time.perf_counter(), time.process_time()
        type(Window).on_draw(Window)
        type(Window).flip(Window)
        frames.append((time.perf_counter() - began, time.process_time() - before))
    clock, processor = (1000 * median(times) for times in zip(*frames, strict=True))
    print(f"        drawing the same screen once more: {clock:.1f} ms; of the processor {processor:.1f} ms")


def _memory(home: Path, _server: int) -> None:
    """Weave 10,000 picks in one window, one upon the other, and tell how large the program is after them."""
    with _at_the_loom(home, MEMORY_ROUNDS) as stage:
        for number in range(1, max(MEMORY_AT) + 1):
            _weave(stage, number, 4 * MEMORY_ROUNDS)
            if number in MEMORY_AT:
                resident, shared_out = _memory_mb()
                print(f"memory after {number:>6} picks: {resident:.0f} MB, its share {shared_out:.0f} MB", flush=True)
    print(f"at most: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def _memory_mb() -> tuple[float, float]:
    """Return what is resident, and this program's share of it (PSS): a shared page counts as a part for each."""
    lines = Path("/proc/self/smaps_rollup").read_text().splitlines()
    kilobytes = {words[0]: float(words[1]) for words in map(str.split, lines) if len(words) == 3}
    return kilobytes["Rss:"] / 1024, kilobytes["Pss:"] / 1024


def _press_to_frame(press: Callable[[], None], shown: Callable[[], bool]) -> Press:
    """Press in another thread and pump until the frame with what it leads to was flipped to the display."""
    from kivy.base import EventLoop
    from kivy.core.window import Window

    flips = [0]

    def flip() -> None:
        flips[0] += 1
        type(Window).flip(Window)

    Window.flip = flip
    begun: list[tuple[float, float]] = []

    def in_thread() -> None:
        begun.append((time.perf_counter(), time.process_time()))
        press()

    thread = threading.Thread(target=in_thread)
    thread.start()
    drawn = 0
    while not shown():
        drawn = flips[0]
        EventLoop.idle()
        Window.mainloop()
    # What changes before a frame is in it.
    assert flips[0] > drawn, "it was changed and not shown"
    thread.join()
    took = Press(time.perf_counter() - begun[0][0], time.process_time() - begun[0][1])
    del Window.flip
    return took


_PARTS: dict[str, Callable[[Path, int], None]] = {
    "start": _start,
    "free": _free,
    "quick": _quick,
    "pages": _pages,
    "fifth": _fifth,
    "memory": _memory,
}

if __name__ == "__main__":
    main()
