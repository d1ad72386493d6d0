"""Write the pictures of the help page on looms: `python -m tests.present.draw_looms`. They are those of the screen."""

from __future__ import annotations

from pathlib import Path

from companion.present.loom_drawing import ACROSS, Disc, Stroke, Wedge, loom_drawing
from companion.remap.loom.loom import Action

FOLDER = Path(__file__).parents[2] / "assets" / "help" / "pictures"
NAMES = {
    Action.RISING: "jack",
    Action.SINKING: "counterbalance",
    Action.COUNTERMARCHE: "countermarche",
    Action.LEVERS: "table-loom",
}


def main() -> None:
    """Write the four pictures."""
    FOLDER.mkdir(exist_ok=True)
    for action in Action:
        path(action).write_text(picture(action), encoding="utf-8")


def path(action: Action) -> Path:
    return FOLDER / f"{NAMES[action]}.svg"


def picture(action: Action) -> str:
    """The drawing as SVG, dark on white, on any page."""
    size = round(ACROSS)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{2 * size}" height="{2 * size}" viewBox="0 0 {size} {size}">',
        f'<rect width="{size}" height="{size}" fill="#fff"/>',
        *map(_svg, loom_drawing(action)),
    ]
    return "\n".join((*parts, "</svg>\n"))


def _svg(shape: Stroke | Disc | Wedge) -> str:
    match shape:
        case Stroke(points, thick):
            return (
                f'<polyline points="{_points(points)}" fill="none" stroke="#111" stroke-width="{thick:g}"'
                ' stroke-linecap="round"/>'
            )
        case Disc((x, y), radius):
            return f'<circle cx="{x:g}" cy="{ACROSS - y:g}" r="{radius:g}" fill="#111"/>'
        case Wedge(corners):
            return f'<polygon points="{_points(corners)}" fill="#111"/>'


def _points(points) -> str:
    return " ".join(f"{x:g},{ACROSS - y:g}" for x, y in points)


if __name__ == "__main__":
    main()
