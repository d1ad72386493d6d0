"""Take a picture of every screen: `python -m tests.screens.pictures [FOLDER]`, by default into assets/pictures.

Starts its own virtual display; weaves a warp of its own in a temporary folder, never the weaver's.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

from tests.screens.stage import Stage, virtual_display

SIZES = ((1024, 600), (800, 480), (800, 1280))
PICKS_WOVEN = 150
AWAY_MS = 3 * 86_400_000


def main() -> None:
    """Take the pictures and say where they are."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parents[2] / "assets" / "pictures"
    folder.mkdir(parents=True, exist_ok=True)
    with virtual_display(1280, 1280) as display, tempfile.TemporaryDirectory() as home:
        os.environ.update(DISPLAY=display, KIVY_HOME=f"{home}/kivy", FELLSIDE_HOME=home, SDL_AUDIODRIVER="dummy")
        from companion.screens.environment import prepare

        prepare()
        _weave_some()
        for width, height in SIZES:
            _take(folder, width, height)
    print(f"{len(list(folder.glob('*.png')))} pictures in {folder.name}/")


def _weave_some() -> None:
    from companion import app
    from companion.cli.weave import demo_warp_name
    from companion.weaving.onward import onward

    with app.sit_down(demo_warp_name()) as loom:
        for _ in range(PICKS_WOVEN):
            loom.do(onward)


def _take(folder: Path, width: int, height: int) -> None:
    from companion import app
    from companion.loomside import LoomWorker
    from companion.present.weave import Action
    from companion.screens.loom_side import LoomSide
    from companion.screens.theme import DARK, LIGHT
    from companion.screens.window import FellsideWindow

    def loom_side(window: FellsideWindow) -> LoomSide:
        return LoomSide(
            worker.warp, worker.at_start, worker.submit, lambda _where: None, window.look, window.sizes, AWAY_MS
        )

    for theme in (DARK, LIGHT):
        with LoomWorker(lambda: app.sit_down(app.DEMO_NAME), lambda _told: None) as worker:
            window = FellsideWindow(loom_side, theme=theme)
            with Stage(window) as stage:
                stage.resize(width, height)

                def snap(name: str, stage=stage, theme=theme) -> None:
                    stage.picture(folder / f"{name}-{width}x{height}-{theme.name}.png")

                snap("resume")
                stage.touch(window.place.ask.button("Yes, weave on"))
                snap("weave")
                for action in (Action.FAULT, Action.MEASURE, Action.FIND):
                    window.place.act(action)
                    snap(action.value.lower())
                    window.place.go_back()


if __name__ == "__main__":
    main()
