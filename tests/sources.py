"""The project's own sources, each read and parsed once in a run, for the tests that look at how it is written."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path


@cache
def parsed(path: Path) -> ast.Module:
    """Return the syntax tree of a module; whoever asks leaves it as it is."""
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """Return every node of a module's syntax tree, as `ast.walk` yields them."""
    return tuple(ast.walk(parsed(path)))
