"""Shapes of `present.loom_drawing` drawn on the canvas that is open."""

from __future__ import annotations

from collections.abc import Iterable

from kivy.graphics import Ellipse, Line, Mesh

from companion.present.loom_drawing import Disc, Shape, Stroke, Wedge


def draw_shapes(shapes: Iterable[Shape], left: float, bottom: float, unit: float) -> None:
    """Draw shapes with their corner at `left`, `bottom` (pixels), each of their units `unit` pixels long."""
    for shape in shapes:
        match shape:
            case Stroke(points, thick):
                flat = [value for x, y in points for value in (left + x * unit, bottom + y * unit)]
                Line(points=flat, width=max(thick * unit / 2, 1))
            case Disc((x, y), radius):
                corner = left + (x - radius) * unit, bottom + (y - radius) * unit
                Ellipse(pos=corner, size=(2 * radius * unit, 2 * radius * unit))
            case Wedge(corners):
                flat = [value for x, y in corners for value in (left + x * unit, bottom + y * unit, 0, 0)]
                Mesh(vertices=flat, indices=(0, 1, 2), mode="triangles")
