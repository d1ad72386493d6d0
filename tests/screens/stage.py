"""A real window on a virtual display, worked as a person works it: touch, keys, and a look at what stands there."""

from __future__ import annotations

import itertools
import os
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

KEY_CODES = {
    "space": 32,
    "enter": 13,
    "backspace": 8,
    "escape": 27,
    "page_down": 281,
    "page_up": 280,
    "letter_a": 97,
    "letter_b": 98,
}
"""Key codes as Kivy's Window gives them (SDL key symbols)."""

USUAL_SIZE = (800, 600)


@contextmanager
def virtual_display(width: int = 1280, height: int = 800) -> Iterator[str]:
    """Run a virtual X display of our own and yield its name; the server itself says when it is ready.

    It stays as it is when the last program on it ends: while it starts over, nobody can reach it.
    """
    reading, writing = os.pipe()
    command = [
        "Xvfb",
        "-displayfd",
        str(writing),
        "-screen",
        "0",
        f"{width}x{height}x24",
        "-nolisten",
        "tcp",
        "-noreset",
    ]
    server = subprocess.Popen(command, pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(writing)
    try:
        with os.fdopen(reading) as pipe:
            number = pipe.readline().strip()
        assert number, "Xvfb did not start"
        yield f":{number}"
    finally:
        server.terminate()
        server.wait(timeout=60)


class Stage:
    """Opens one app in this process and pumps Kivy's loop until something can be seen."""

    def __init__(self, app, settle_s: float = 0.0, shown: bool = False) -> None:
        """`settle_s`: for so long a screen that has changed answers no finger; a test touches as fast as it likes.

        `shown`: each frame is drawn and shown, as in the program, for who measures it. Else only what ends on the
        stage is drawn, and what a picture is taken of: drawing takes most of the time, and nobody looks.
        """
        self.app, self.settle_s, self.shown = app, settle_s, shown

    def __enter__(self) -> Stage:
        from kivy.base import runTouchApp
        from kivy.core.window import Window

        if not self.shown:
            Window.on_draw = Window.flip = lambda: None
        # One window serves all tests of a run: a size that another test left must not tell, nor be laid out for.
        Window.size = USUAL_SIZE
        while tuple(Window.size) != USUAL_SIZE:
            Window.mainloop()
        self.app._run_prepare()
        self.app.root.settle_s = self.settle_s
        runTouchApp(embedded=True)
        self.pump()
        self.resize(*USUAL_SIZE)
        return self

    def __exit__(self, *_: object) -> None:
        from kivy.animation import Animation
        from kivy.clock import Clock
        from kivy.core.window import Window

        self.draw()
        for name in ("on_draw", "flip"):
            vars(Window).pop(name, None)
        self.app.stop()
        for child in list(Window.children):
            Window.remove_widget(child)
        for event in Clock.get_events():
            event.cancel()
        # Without its clock an animation never ends, and Kivy keeps it with its widget and all that this knows.
        for running in list(Animation._instances):
            for animated in list(running._widgets.values()):
                running.cancel(animated["widget"])

    def pump(self, frames: int = 3) -> None:
        from kivy.base import EventLoop
        from kivy.core.window import Window

        for _ in range(frames):
            EventLoop.idle()
            Window.mainloop()

    def until(self, seen: Callable[[], object], timeout_s: float = 60.0) -> None:
        """Pump until `seen()` is true; fails with the function's name when that takes too long."""
        end = time.monotonic() + timeout_s
        for pumped in itertools.count():
            if seen():
                break
            assert time.monotonic() < end, f"never came: {seen.__name__}"
            self.pump(1)
            # What takes longer than a few frames is done by another thread, which wants the processor.
            if pumped > 9:
                time.sleep(0.001)
        self.pump(2)

    def resize(self, width: int, height: int) -> None:
        from kivy.core.window import Window

        Window.size = (width, height)
        self.until(lambda: Window.size == (width, height) or Window.size == [width, height])
        self.pump(4)

    def touch(self, widget) -> None:
        """Put a finger on the middle of a widget and lift it; a file that is read for the next screen is waited for."""
        self.touch_and_go(widget)
        for thread in threading.enumerate():
            if thread.name == "on the way to another screen":
                thread.join(60)
        self.pump(2)

    def touch_and_go(self, widget) -> None:
        """Put a finger on the middle of a widget, lift it, and wait for nothing."""
        from kivy.core.window import Window

        x, y = widget.to_window(*widget.center)
        down = (x, Window.height - y, "left", [])
        Window.dispatch("on_mouse_down", *down)
        self.pump(2)
        Window.dispatch("on_mouse_up", *down)
        self.pump(2)

    def drag(self, places, each: Callable[[], object] = lambda: None) -> None:
        """Put a finger down at the first of these places (x, y from below), take it along the others, and lift it.

        `each` is called wherever the finger has come to.
        """
        from kivy.core.window import Window

        down, *moves = [(x, Window.height - y) for x, y in places]
        Window.dispatch("on_mouse_down", *down, "left", [])
        self.pump(2)
        each()
        for place in moves:
            Window.dispatch("on_mouse_move", *place, [])
            self.pump(1)
            each()
        Window.dispatch("on_mouse_up", *(moves or [down])[-1], "left", [])
        self.pump(2)

    def wheel(self, x: float, y: float, turned: str) -> None:
        """Turn a mouse wheel by one step over a place (y from below); `turned` is Kivy's name, such as `scrollup`."""
        from kivy.core.window import Window

        at = (x, Window.height - y, turned, [])
        Window.dispatch("on_mouse_down", *at)
        Window.dispatch("on_mouse_up", *at)
        self.pump(2)

    def key(self, name: str, *, held: int = 0) -> None:
        """Press and release a key; `held` more presses come first, as a held key sends them."""
        from kivy.core.window import Window

        code = KEY_CODES[name]
        for _ in range(held + 1):
            Window.dispatch("on_key_down", code, 0, None, [])
            self.pump(1)
        Window.dispatch("on_key_up", code, 0, None, [])
        self.pump(2)

    def draw(self) -> None:
        """Draw what stands in the window, as the program does at each frame."""
        from kivy.core.window import Window

        type(Window).on_draw(Window)

    def picture(self, path: Path) -> None:
        """Save what the window shows as a PNG."""
        from kivy.core.image import Image
        from kivy.core.window import Window
        from kivy.graphics.opengl import GL_RGBA, GL_UNSIGNED_BYTE, glReadPixels
        from kivy.graphics.texture import Texture

        self.pump(3)
        # The drawing buffer takes on a new size of the window only when something has been shown in it.
        for _ in range(2):
            self.draw()
            type(Window).flip(Window)
        self.draw()
        width, height = (int(side) for side in Window.size)
        pixels = glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE)
        texture = Texture.create(size=(width, height), colorfmt="rgba")
        texture.blit_buffer(pixels, colorfmt="rgba", bufferfmt="ubyte")
        Image(texture).save(str(path), flipped=True)


def walk(widget) -> Iterator:
    """Yield a widget and everything below it."""
    yield widget
    for child in widget.children:
        yield from walk(child)


def worded(widget) -> Iterator:
    """Yield all that shows words, or could, from a widget down."""
    yield from (one for one in walk(widget) if hasattr(one, "font_size"))
