"""A monkey at a real window of 800x480: touches, keys and a pedal on a cable, for so many minutes from a seed.

After every few deeds the weave screen is held against a model that shares nothing with it (`monkey_model`), worked out
from the journal on disk: the count, the feet, and every crossing of the cloth that is drawn. No exception may pass, in
no thread; every way leads home by Escape alone; memory must not grow.

Run: python -m tests.bench.bench_monkey [MINUTES [SEED]]
"""

from __future__ import annotations

import gc
import os
import random
import sys
import tempfile
import threading
import time
from collections import Counter, deque
from pathlib import Path

from companion.present.start import TIDY_UP
from companion.weaving.dressing_events import SleyPlanned
from tests.bench.monkey_model import colours_in, standing, untrue_row
from tests.screens.stage import Stage, virtual_display, walk

SIZE = (800, 480)
DEEDS_A_SITTING = 400
"""Then the window is closed and the program opened anew."""
SITTINGS_A_HOME = 6
"""Then the monkey gets a device of its own again, so that no journal grows for ever."""
PATIENCE_S = 30.0
MOST_BACKS = 25
"""Presses of Escape that lead home from anywhere."""
LONG_SITTINGS = 60
MOST_GROWTH_MB = 15
TYPED = "abcäö 123=;\x1b🧶"
KEYS = (32, 13, 8, 281, 280, 27, 97, 276, 275, 9, 127)


class Monkey:
    """Works one program after another and keeps count of what it did and saw."""

    def __init__(self, folder: Path, seed: int, minutes: float) -> None:
        self.folder, self.random = folder, random.Random(seed)
        self.ends_at = time.monotonic() + 60 * minutes
        self.did, self.saw = Counter(), Counter()
        self.trail = deque(maxlen=30)
        self.broken = []
        self.memory_mb = []
        threading.excepthook = lambda what: self.broken.append(f"in thread {what.thread.name}: {what.exc_value!r}")

    @property
    def time_is_up(self) -> bool:
        return time.monotonic() > self.ends_at

    def live(self) -> None:
        sitting = 0
        while not self.time_is_up:
            if sitting % SITTINGS_A_HOME == 0:
                self._move_in(self.folder / f"home-{sitting}")
            self._sit(sitting)
            sitting += 1

    def _move_in(self, home: Path) -> None:
        from companion.cli.weave import demo_warp_name
        from companion.draft.wif_write import write_wif
        from companion.present.preferences import Preferences
        from companion.workshop import app
        from companion.workshop.preference_file import preference_file, save_preferences
        from tests.drivers.wired import WiredBoard
        from tests.journal.warps import small_warp
        from tests.screens.warps import twill_draft
        from tests.weaving.world import two_stage_warp

        (home / "Documents").mkdir(parents=True)
        (home / "Documents" / "towel.wif").write_bytes(write_wif(twill_draft()))
        os.environ.update(HOME=str(home), FELLSIDE_HOME=str(home / "fellside"))
        demo_warp_name()
        app.shelf().create("Blue shawl", small_warp(), at_ms=0).close()
        app.shelf().create("Two ties", two_stage_warp(), at_ms=0).close()
        self.board = WiredBoard(home / "footboard")
        save_preferences(preference_file(), Preferences(pedal=self.board.port, sounds=False))

    def _sit(self, sitting: int) -> None:
        from companion.wiring.ear import USUAL_GUARD
        from companion.wiring.screen_app import ScreenApp
        from companion.workshop import app

        # Every second sitting the guards stand aside and nothing is drawn, so that far more comes through.
        guarded = sitting % 2 == 1
        last = app.shelf().last_used()
        program = ScreenApp(last if self.random.random() < 0.6 else None, guard=USUAL_GUARD if guarded else None)
        with program, Stage(program.window, settle_s=0.3 if guarded else 0.0, shown=guarded) as stage:
            stage.resize(*SIZE)
            self.stage, self.is_off = stage, False
            stop, stage.app.stop = stage.app.stop, self._switch_off
            for deed in range(DEEDS_A_SITTING):
                self._do_something()
                if self.broken:
                    raise AssertionError(self.broken)
                if deed % 10 == 9:
                    self._look()
                if deed % 100 == 99:
                    self._go_home()
                if self.time_is_up or self.is_off:
                    break
            stage.app.stop = stop
        gc.collect()
        self.memory_mb.append(resident_mb())
        self.saw["sittings"] += 1

    def _switch_off(self, *_) -> None:
        self.is_off = True
        self.saw["times switched off"] += 1

    # --- Deeds --------------------------------------------------------------------------------------------------------

    def _do_something(self) -> None:
        if self._is_tidying():
            # The model knows one warp, by its name: none is thrown away here.
            self.stage.app.place.go_back()
            self.stage.pump(3)
            return
        deeds = (
            (self._touch_anywhere, 40),
            (self._touch_a_button, 30),
            (self._drag, 4),
            (self._key, 16),
            (self._type, 3),
            (self._pedal, 5),
            (self._plug, 1),
            (self._put_away, 1),
        )
        (deed,) = self.random.choices([deed for deed, _ in deeds], [weight for _, weight in deeds])
        self.trail.append(f"{deed.__name__[1:]} {deed() or ''}".strip())
        self.did[deed.__name__[1:].replace("_", " ")] += 1

    def _is_tidying(self) -> bool:
        ask = getattr(self.stage.app.place, "ask", None)
        return ask is not None and ask.asked.words == TIDY_UP

    def _touch_anywhere(self) -> str:
        return self._touch(self.random.uniform(0, SIZE[0] - 1), self.random.uniform(0, SIZE[1] - 1))

    def _touch_a_button(self) -> str:
        from kivy.uix.behaviors import ButtonBehavior

        buttons = [one for one in walk(self.stage.app.root) if isinstance(one, ButtonBehavior) and min(one.size) > 0]
        if not buttons:
            return "none there"
        button = self.random.choice(buttons)
        x, y = button.to_window(*button.center)
        return f"{getattr(button, 'text', '')!r} {self._touch(x, SIZE[1] - y)}"

    def _touch(self, x: float, y: float) -> str:
        from kivy.core.window import Window

        place = type(self.stage.app.place).__name__
        Window.dispatch("on_mouse_down", x, y, "left", [])
        self.stage.pump(1)
        Window.dispatch("on_mouse_up", x, y, "left", [])
        self.stage.pump(2)
        return f"at {x:.0f},{y:.0f} on {place}"

    def _drag(self) -> None:
        places = [(self.random.uniform(0, SIZE[0] - 1), self.random.uniform(1, SIZE[1])) for _ in range(4)]
        self.stage.drag(places)

    def _key(self) -> str:
        from kivy.core.window import Window

        code = self.random.choice(KEYS)
        for _ in range(self.random.choice((1, 1, 1, 4))):
            Window.dispatch("on_key_down", code, 0, None, [])
            self.stage.pump(1)
        Window.dispatch("on_key_up", code, 0, None, [])
        self.stage.pump(2)
        return str(code)

    def _type(self) -> str:
        from kivy.core.window import Window

        text = "".join(self.random.choices(TYPED, k=self.random.randint(1, 12)))
        for letter in text:
            Window.dispatch("on_textinput", letter)
        self.stage.pump(2)
        return repr(text)

    def _pedal(self) -> str:
        if not self.board.plugged_in:
            return "pulled out"
        if self.random.random() < 0.1:
            self.board.write(bytes(self.random.randrange(256) for _ in range(self.random.randint(1, 80))))
            return "noise"
        milliseconds = self.random.choice((100, 200, 900))
        self.board.press(milliseconds)
        self.stage.pump(3)
        return f"for {milliseconds} ms"

    def _plug(self) -> None:
        self.board.pull_out() if self.board.plugged_in else self.board.plug_in()
        self.stage.pump(2)

    def _put_away(self) -> None:
        self.stage.app.dispatch("on_pause")
        self.stage.pump(1)
        self.stage.app.dispatch("on_resume")
        self.stage.pump(1)

    # --- Looks --------------------------------------------------------------------------------------------------------

    def _look(self) -> None:
        """Wait until the screen says what the journal says; the worker may still be at the last few deeds."""
        place = self.stage.app.place
        self.saw[f"looks at {type(place).__name__}"] += 1
        if type(place).__name__ != "LoomPlace" or place.weave.parent is None:
            return
        end = time.monotonic() + PATIENCE_S
        while untrue := self._untrue(place):
            assert time.monotonic() < end, untrue
            self.stage.pump(2)
            if self.stage.app.place is not place or place.weave.parent is None:
                return
        self.saw["weave screens that were true"] += 1

    def _untrue(self, place) -> str:
        from companion.workshop import app

        weave = place.weave
        with app.shelf().open_to_read(place._warp.name) as journal:
            warp, entries = journal.warp, list(journal.entries())
        now = standing(warp, entries)
        piece = warp.pieces[now.piece]
        count = weave.ids.count.text
        at_end = now.finished or now.next_pick >= piece.picks
        if at_end != (not count.startswith("pick ")):
            return f"{count!r} stands there, {now} is true"
        if not at_end:
            if not count.startswith(f"pick {now.next_pick + 1} of {piece.picks}"):
                return f"{count!r} stands there, pick {now.next_pick + 1} is next"
            feet = piece.footings[now.next_pick] if piece.footings else None
            shown = [weave.ids.left_foot.treadles.split(), weave.ids.right_foot.treadles.split()]
            if feet and shown != [words(feet.left), words(feet.right)]:
                return f"feet {shown} stand there, {feet} is true"
        if any(isinstance(entry.event, SleyPlanned) for entry in entries):
            # Ends that lie in dents are not as wide as the model cuts the picture.
            self.saw["cloths in dents, not looked at"] += 1
            return ""
        drawn = colours_in(weave.cloth, round(1 / weave.cloth_marked_share))
        below = weave.surface in ("Back of the cloth", "Face of the cloth, below on the loom")
        mirrored = self.stage.app.surroundings.facing.first_end.value == "right"
        if wrong := untrue_row(piece, now, drawn, mirrored, below):
            return f"{warp.name}: {wrong}; {now} is true ({weave.surface!r}, mirrored {mirrored})"
        self.saw["rows that were true"] += len(drawn)
        return ""

    def _go_home(self) -> None:
        for backs in range(MOST_BACKS):
            if self._is_home():
                self.saw["ways home"] += 1
                self.saw["most backs home"] = max(self.saw["most backs home"], backs)
                return
            self.stage.app.place.escape()
            self.stage.pump(3)
        raise AssertionError(f"{MOST_BACKS} times Escape does not lead home from {type(self.stage.app.place).__name__}")

    def _is_home(self) -> bool:
        """Tell the pick or the thread at hand, a pause, and the choice of warps from all the rest."""
        place = self.stage.app.place
        asked = place.ask.asked if getattr(place, "ask", None) is not None else None
        if type(place).__name__ in ("LoomPlace", "DressingPlace"):
            ways = () if asked is None else (*asked.answers, *asked.foot)
            return (asked is None and place.write is None and place.cords is None) or any(
                answer.words == "Another warp" for answer in ways
            )
        return asked is not None and asked.words in ("Which warp?", "Nothing is on the loom yet")


def words(treadles) -> list[str]:
    """Return treadles as a foot's sign shows them; a foot that rests shows a dash."""
    return [str(treadle + 1) for treadle in treadles] or ["–"]


def resident_mb() -> float:
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def main() -> None:
    minutes = float(sys.argv[1]) if len(sys.argv) > 1 else 1.0
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else time.time_ns() % 10**9
    print(f"seed {seed}, {minutes:g} minutes, window {SIZE[0]}x{SIZE[1]}", flush=True)
    with virtual_display(1280, 1280) as display, tempfile.TemporaryDirectory() as folder:
        os.environ.update(DISPLAY=display, KIVY_HOME=f"{folder}/kivy", SDL_AUDIODRIVER="dummy", LC_ALL="C.UTF-8")
        from companion.screens.environment import prepare

        prepare()
        from kivy.config import Config

        Config.set("graphics", "maxfps", "0")
        monkey = Monkey(Path(folder), seed, minutes)
        began = time.monotonic()
        try:
            monkey.live()
        except BaseException:
            print("what came before:", *monkey.trail, sep="\n  ", flush=True)
            raise
        finally:
            print(f"{sum(monkey.did.values()):,} deeds in {(time.monotonic() - began) / 60:.1f} minutes:")
            for what in (monkey.did, monkey.saw):
                print("  " + ", ".join(f"{name} {number:,}" for name, number in what.most_common()))
            print("  memory after each sitting, MB:", " ".join(f"{mb:.0f}" for mb in monkey.memory_mb), flush=True)
        # Each screen that is seen for the first time costs something once: the last third must stand still.
        settled = monkey.memory_mb[-(len(monkey.memory_mb) // 3) :]
        if len(monkey.memory_mb) >= LONG_SITTINGS:
            assert settled[-1] - settled[0] < MOST_GROWTH_MB, "memory grows"


if __name__ == "__main__":
    main()
