"""Take a picture of every screen: `python -m tests.screens.pictures [FOLDER]`, by default into assets/pictures.

With `--sheets` every window, both themes and both hands are shown, and FOLDER (needed then) gets contact sheets too:
one for each window, theme and hand, with all screens on it. Starts its own virtual display; weaves the demo in a
temporary folder, never the weaver's, at twelve seconds a pick.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import product
from pathlib import Path

from tests.screens.contact_sheet import save_sheet
from tests.screens.stage import Stage, virtual_display

PICKS_WOVEN = 150
PICK_MS = 12_000
AWAY_MS = 3 * 86_400_000


@dataclass(frozen=True)
class Shown:
    """One way to show every screen."""

    width: int
    height: int
    theme: str
    mirrored: bool = False
    text_scale: float = 1.0

    @property
    def suffix(self) -> str:
        """Return what tells its pictures from others: `800x480-light`."""
        return f"{self.width}x{self.height}-{self.theme}{'-left' if self.mirrored else ''}"


USUAL = (Shown(1024, 600, "dark"), Shown(800, 480, "light"), Shown(800, 1280, "dark"))
WINDOWS = ((800, 480), (1024, 600), (1280, 800), (800, 1280))
Snap = Callable[[Stage, str], None]


def all_ways() -> Iterator[Shown]:
    """Yield every window, theme and hand."""
    for (width, height), theme, mirrored in product(WINDOWS, ("dark", "light"), (False, True)):
        yield Shown(width, height, theme, mirrored)


def main() -> None:
    """Take the pictures and say where they are."""
    words = [word for word in sys.argv[1:] if word != "--sheets"]
    sheets = len(words) < len(sys.argv) - 1
    if sheets and not words:
        sys.exit("name a folder for the contact sheets: they do not belong among the pictures of the guide")
    folder = Path(words[0]) if words else Path(__file__).parents[2] / "assets" / "pictures"
    folder.mkdir(parents=True, exist_ok=True)
    with virtual_display(1280, 1280) as display, tempfile.TemporaryDirectory() as home:
        os.environ.update(DISPLAY=display, KIVY_HOME=f"{home}/kivy", SDL_AUDIODRIVER="dummy", HOME=home)
        from companion.screens.environment import prepare

        prepare()
        for shown in all_ways() if sheets else USUAL:
            os.environ["FELLSIDE_HOME"] = f"{home}/{shown.suffix}"
            taken: dict[str, Path] = {}

            def snap(stage: Stage, name: str, shown: Shown = shown, taken: dict[str, Path] = taken) -> None:
                taken[name] = folder / f"{name}-{shown.suffix}.png"
                stage.picture(taken[name])

            show_every_screen(shown, snap)
            if sheets:
                save_sheet(taken, folder / f"sheet-{shown.suffix}.png")
    print(f"{len(list(folder.glob('*.png')))} pictures in {folder.name}/")


def show_every_screen(shown: Shown, snap: Snap) -> None:
    """Show one screen after another as a weaver comes to them; FELLSIDE_HOME is new."""
    _start_and_tie_up(shown, snap)
    _ways_and_cords(shown, snap)
    _at_the_looms(shown, snap)
    _what_is_handed_on(shown, snap)
    _at_the_dressing(shown, snap)
    _weave_some()
    _at_the_loom(shown, snap)


def _open(name: str | None, shown: Shown):
    from companion.present.preferences import Preferences
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop.preference_file import load_preferences, preference_file, save_preferences

    kept = load_preferences(preference_file())
    looks = Preferences(shown.theme, shown.mirrored, shown.text_scale, sounds=False, units=kept.units, trade=kept.trade)
    save_preferences(preference_file(), looks)
    return ScreenApp(name)


def _start_and_tie_up(shown: Shown, snap: Snap) -> None:
    program = _open(None, shown)
    with program, Stage(program.window) as stage:
        stage.resize(shown.width, shown.height)
        snap(stage, "start")

        def choose(words: str) -> None:
            ask = stage.app.place.ask
            while words not in {button.text for button in (*ask.ids.answers.children, *ask.foot.buttons)}:
                stage.touch(ask.button("More"))
            stage.touch(ask.button(words))

        choose("Open a draft")
        # Their cloths come from a thread of their own.
        stage.until(lambda: all(row.image is not None for row in stage.app.place.ask.ids.answers.children))
        snap(stage, "drafts")
        choose("demo double faced four shaft")
        snap(stage, "loom")
        choose("Look at the draft")
        _at_the_draft(stage, snap)
        choose("6 treadles")
        snap(stage, "loom-kind")
        choose("Jack")
        stage.until(lambda: stage.app.place.signs.accept)
        snap(stage, "tie-up")
        stage.touch(stage.app.place.button("Tell more"))
        snap(stage, "new-warp")


def _ways_and_cords(shown: Shown, snap: Snap) -> None:
    from companion.present.first_look import THREADED

    program = _open(None, shown)
    with program, Stage(program.window) as stage:
        stage.resize(shown.width, shown.height)
        for words in ("Open a draft", "demo double faced four shaft", "4 treadles", "Jack"):
            ask = stage.app.place.ask
            while words not in {button.text for button in (*ask.ids.answers.children, *ask.foot.buttons)}:
                stage.touch(ask.button("More"))
            stage.touch(ask.button(words))
        stage.until(lambda: stage.app.place.signs.cards and all(one.harness for one in stage.app.place.signs.cards))
        stage.touch(stage.app.place.card("Two treadles"))
        snap(stage, "ways")
        stage.touch(stage.app.place.button("Set up the loom"))
        snap(stage, "new-warp")
        stage.touch(stage.app.place.ask.button(THREADED))
        snap(stage, "cords")


def _at_the_looms(shown: Shown, snap: Snap) -> None:
    from companion.remap.loom.loom import Action, Loom
    from companion.remap.loom.tieup_text import parse_tieup
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.looms_file import save_looms

    tied = parse_tieup("1 2/3 4, 2 3/1 4, 3 4/1 2, 1 4/2 3, 1 3/2 4, 2 4/1 3", Action.COUNTERMARCHE)
    save_looms(app.looms_file(), [LoomProfile("Floor loom", Loom(4, 6, Action.COUNTERMARCHE), tied, 100, 60)])
    program = _open(None, shown)
    with program, Stage(program.window) as stage:
        stage.resize(shown.width, shown.height)
        for words, name in (("Your looms", "looms"), ("Floor loom", "loom-kept"), ("How it is tied", "loom-tied")):
            stage.touch(stage.app.place.ask.button(words))
            snap(stage, name)


def _what_is_handed_on(shown: Shown, snap: Snap) -> None:
    program = _open(None, shown)
    with program, Stage(program.window) as stage:
        stage.resize(shown.width, shown.height)
        stage.touch(stage.app.place.ask.button("Sets"))
        snap(stage, "sets")
        stage.touch(stage.app.place.ask.button("Back"))
        for words in ("Open a draft", "eight by eight gamp four shaft", "Its squares"):
            ask = stage.app.place.ask
            while words not in {button.text for button in (*ask.ids.answers.children, *ask.foot.buttons)}:
                stage.touch(ask.button("More"))
            stage.touch(ask.button(words))
        stage.until(lambda: hasattr(stage.app.place, "table"))
        snap(stage, "squares")
        stage.touch(stage.app.place.square("Straight on Straight"))
        snap(stage, "square")


def _at_the_dressing(shown: Shown, snap: Snap) -> None:
    from companion.draft.reading import read_draft
    from companion.draft.sley import Sley
    from companion.present.dress import DressButton
    from companion.remap.loom.loom import Loom
    from companion.weaving.decide import pause, resume
    from companion.weaving.dressing_commands import begin_task, go_on_dressing, plan_sley
    from companion.weaving.dressing_events import DressingTask
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.dressing import dress
    from companion.workshop.places import asset

    draft = read_draft(asset("drafts/twill-gamp-eight-shaft.txt").read_bytes())
    profile = LoomProfile("Floor loom", Loom(8, 10))
    app.put_on_shelf(dress("Twill gamp", [draft], profile, app.answers_for([draft], profile)), tied=True)
    steps = (
        (partial(plan_sley, sley=Sley((1, 1, 2, 2, 0) * (draft.ends // 6) + (draft.ends % 6,), 4.0)),),
        (
            partial(begin_task, task=DressingTask.THREADING),
            partial(go_on_dressing, task=DressingTask.THREADING, count=24),
        ),
        (partial(begin_task, task=DressingTask.SLEYING), partial(go_on_dressing, task=DressingTask.SLEYING, count=20)),
        (partial(begin_task, task=DressingTask.TEST_WEAVE),),
    )
    for commands, name in zip(steps, ("", "threading", "sleying", "test-weave"), strict=True):
        with app.sit_down("Twill gamp") as loom:
            for command in (resume, *commands, pause):
                loom.do(command)
        if not name:
            continue
        program = _open("Twill gamp", shown)
        with program, Stage(program.window) as stage:
            stage.resize(shown.width, shown.height)
            if name == "threading":
                snap(stage, "threads-hang")
            stage.app.place.go_on()
            stage.until(lambda: stage.app.place.ask is None)
            snap(stage, name)
            if name == "threading":
                stage.app.place.act(DressButton.MISTAKE)
                snap(stage, "wrong")


def _at_the_draft(stage: Stage, snap: Snap) -> None:
    from companion.present.draft_sheet import Quarter, Square

    draft = stage.app.place
    snap(stage, "draft")
    for words in ("See back", "Floats"):
        stage.touch(draft.button(words))
    snap(stage, "draft-back-floats")
    for words in ("See face", "Edit"):
        stage.touch(draft.button(words))
    draft.ids.picture.aimed = Square(Quarter.TIE_UP, 2, 1)
    snap(stage, "draft-edit")
    draft.ids.picture.aimed = None
    for words in ("Done", "Weave it"):
        stage.touch(draft.button(words))


def _weave_some() -> None:
    from companion.cli.weave import demo_warp_name
    from companion.weaving.onward import onward
    from companion.workshop import app
    from companion.workshop.loomside import AtTheLoom

    end_ms = app.now_ms() - AWAY_MS
    times_ms = iter(range(end_ms - PICKS_WOVEN * PICK_MS, end_ms, PICK_MS))
    with AtTheLoom(app.shelf().open(demo_warp_name()), lambda: next(times_ms)) as loom:
        for _ in range(PICKS_WOVEN):
            loom.do(onward)


def _at_the_loom(shown: Shown, snap: Snap) -> None:
    from companion.present.weave import WeaveButton
    from companion.workshop import app

    program = _open(app.DEMO_NAME, shown)
    with program, Stage(program.window) as stage:
        stage.resize(shown.width, shown.height)
        snap(stage, "resume")
        stage.touch(stage.app.place.ask.button("Yes, weave on"))
        snap(stage, "weave")
        names = ("fault", "note", "measure", "find", "undo")
        buttons = (WeaveButton.FAULT, WeaveButton.NOTE, WeaveButton.MEASURE, WeaveButton.FIND, WeaveButton.UNDO)
        for action, name in zip(buttons, names, strict=True):
            stage.app.place.act(action)
            snap(stage, name)
            if name == "note":
                stage.touch(stage.app.place.ask.button("In your own words"))
                snap(stage, "write")
                stage.app.place.go_back()
            stage.app.place.go_back()
        ids = stage.app.place.weave.ids
        for part, name in (("shuttle_part", "bobbin"), ("place_part", "elsewhere")):
            stage.touch(ids[part])
            snap(stage, name)
            stage.app.place.go_back()
        stage.touch(ids.now)
        snap(stage, "tie-up-now")
        stage.app.place.go_back()
        stage.app.place.act(WeaveButton.PAUSE)
        stage.until(lambda: stage.app.place.ask is not None)
        snap(stage, "pause")
        stage.touch(stage.app.place.ask.button("Settings"))
        snap(stage, "settings")
        stage.touch(stage.app.place.ask.button("Back"))
        stage.touch(stage.app.place.ask.button("See the record"))
        stage.until(lambda: stage.app.place.where)
        while "the draft" not in stage.app.place.title:
            stage.app.place.turn(1)
        snap(stage, "record")


if __name__ == "__main__":
    main()
