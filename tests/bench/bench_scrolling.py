"""A draft scrolled by one pick in every frame, as fast as frames come: `python -m tests.bench.bench_scrolling`.

The peer is a bare Kivy rectangle that fills the same window, its texture filled anew with other pixels for every frame.
Growth: drafts of 200 to 20,000 picks.
"""

from __future__ import annotations

import os
import tempfile
import time
from statistics import median

from tests.screens.stage import Stage, virtual_display

SCROLLED_PICKS = (200, 2000, 20_000)
SCROLLED_FRAMES = 120
SCROLL_WINDOW = (1024, 600)


def main() -> None:
    """Measure and print."""
    with virtual_display() as display, tempfile.TemporaryDirectory() as home:
        os.environ.update(DISPLAY=display, KIVY_HOME=f"{home}/kivy", FELLSIDE_HOME=home, SDL_AUDIODRIVER="dummy")
        os.environ["KIVY_NO_CONSOLELOG"] = "1"
        from companion.screens.environment import prepare

        prepare()
        _scrolling()


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


if __name__ == "__main__":
    main()
