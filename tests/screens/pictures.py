"""Take a picture of every screen: `python -m tests.screens.pictures [FOLDER]`, by default into assets/pictures.

Starts its own virtual display; weaves the demo in a temporary folder, never the weaver's, at twelve seconds a pick.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path

from tests.screens.stage import Stage, virtual_display

LOOKS = ((1024, 600, "dark"), (800, 480, "light"), (800, 1280, "dark"))
PICKS_WOVEN = 150
PICK_MS = 12_000
AWAY_MS = 3 * 86_400_000


def main() -> None:
    """Take the pictures and say where they are."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parents[2] / "assets" / "pictures"
    folder.mkdir(parents=True, exist_ok=True)
    with virtual_display(1280, 1280) as display, tempfile.TemporaryDirectory() as home:
        os.environ.update(DISPLAY=display, KIVY_HOME=f"{home}/kivy", SDL_AUDIODRIVER="dummy", HOME=home)
        from companion.screens.environment import prepare

        prepare()
        for width, height, theme in LOOKS:
            os.environ["FELLSIDE_HOME"] = f"{home}/{width}x{height}"

            def snap(stage: Stage, name: str, suffix: str = f"{width}x{height}-{theme}.png") -> None:
                stage.picture(folder / f"{name}-{suffix}")

            _start_and_tie_up(width, height, theme, snap)
            _ways_and_cords(width, height, theme, snap)
            _at_the_looms(width, height, theme, snap)
            _at_the_dressing(width, height, theme, snap)
            _weave_some()
            _at_the_loom(width, height, theme, snap)
    print(f"{len(list(folder.glob('*.png')))} pictures in {folder.name}/")


def _open(name: str | None, theme: str):
    from companion.present.preferences import Preferences
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(theme=theme, sounds=False))
    return ScreenApp(name)


def _start_and_tie_up(width: int, height: int, theme: str, snap: Callable[[Stage, str], None]) -> None:
    program = _open(None, theme)
    with program, Stage(program.window) as stage:
        stage.resize(width, height)
        snap(stage, "start")

        def choose(words: str) -> None:
            while words not in {button.text for button in stage.app.place.ask.ids.answers.children}:
                stage.touch(stage.app.place.ask.button("More"))
            stage.touch(stage.app.place.ask.button(words))

        choose("A new warp")
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


def _ways_and_cords(width: int, height: int, theme: str, snap: Callable[[Stage, str], None]) -> None:
    program = _open(None, theme)
    with program, Stage(program.window) as stage:
        stage.resize(width, height)
        for words in ("A new warp", "demo double faced four shaft", "4 treadles", "Jack"):
            while words not in {button.text for button in stage.app.place.ask.ids.answers.children}:
                stage.touch(stage.app.place.ask.button("More"))
            stage.touch(stage.app.place.ask.button(words))
        stage.until(lambda: stage.app.place.signs.cards and all(one.harness for one in stage.app.place.signs.cards))
        stage.touch(stage.app.place.card("Two treadles"))
        snap(stage, "ways")
        stage.touch(stage.app.place.button("Weave it"))
        snap(stage, "cords")


def _at_the_looms(width: int, height: int, theme: str, snap: Callable[[Stage, str], None]) -> None:
    from companion.remap.loom.loom import Action, Loom
    from companion.remap.loom.tieup_text import parse_tieup
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.looms import save_looms

    tied = parse_tieup("1 2/3 4, 2 3/1 4, 3 4/1 2, 1 4/2 3, 1 3/2 4, 2 4/1 3", Action.COUNTERMARCHE)
    save_looms(app.looms_file(), [LoomProfile("Floor loom", Loom(4, 6, Action.COUNTERMARCHE), tied, 100, 60)])
    program = _open(None, theme)
    with program, Stage(program.window) as stage:
        stage.resize(width, height)
        for words, name in (("Your looms", "looms"), ("Floor loom", "loom-kept"), ("How it is tied", "loom-tied")):
            stage.touch(stage.app.place.ask.button(words))
            snap(stage, name)


def _at_the_dressing(width: int, height: int, theme: str, snap: Callable[[Stage, str], None]) -> None:
    from companion.draft.reading import read_draft
    from companion.draft.sley import Sley
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
        program = _open("Twill gamp", theme)
        with program, Stage(program.window) as stage:
            stage.resize(width, height)
            if name == "threading":
                snap(stage, "threads-hang")
            stage.app.place.go_on()
            stage.until(lambda: stage.app.place.ask is None)
            snap(stage, name)


def _at_the_draft(stage: Stage, snap: Callable[[Stage, str], None]) -> None:
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


def _at_the_loom(width: int, height: int, theme: str, snap: Callable[[Stage, str], None]) -> None:
    from companion.present.weave import WeaveButton
    from companion.workshop import app

    program = _open(app.DEMO_NAME, theme)
    with program, Stage(program.window) as stage:
        stage.resize(width, height)
        snap(stage, "resume")
        stage.touch(stage.app.place.ask.button("Yes, weave on"))
        snap(stage, "weave")
        for action in (WeaveButton.FAULT, WeaveButton.NOTE, WeaveButton.MEASURE, WeaveButton.FIND):
            stage.app.place.act(action)
            snap(stage, action.value.lower())
            stage.app.place.go_back()
        stage.app.place.act(WeaveButton.PAUSE)
        stage.until(lambda: stage.app.place.ask is not None)
        stage.touch(stage.app.place.ask.button("See the record"))
        stage.until(lambda: stage.app.place.where)
        while "the draft" not in stage.app.place.title:
            stage.app.place.turn(1)
        snap(stage, "record")


if __name__ == "__main__":
    main()
