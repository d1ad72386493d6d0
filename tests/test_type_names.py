"""A type name has one meaning: whoever reads `Step` anywhere in companion/ need not ask which."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from tests.sources import nodes, parsed

ROOT = Path(__file__).resolve().parents[1]

EXCEPTIONS: dict[str, str] = {}
"""Names that may stand for more than one type, each with the reason."""


def types_made_in(module: ast.Module) -> Iterator[str]:
    """Yield the types that a module makes: classes, aliases and `NewType`s. Type variables name nothing."""
    for node in module.body:
        if isinstance(node, ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            target = node.targets[0] if isinstance(node, ast.Assign) else node.target
            if isinstance(target, ast.Name) and is_a_type_name(target.id) and not makes_type_variable(node.value):
                yield target.id


def is_a_type_name(name: str) -> bool:
    return name.lstrip("_")[:1].isupper() and not name.isupper()


def makes_type_variable(value: ast.expr) -> bool:
    return isinstance(value, ast.Call) and isinstance(value.func, ast.Name) and value.func.id == "TypeVar"


def types_imported_from_drivers(path: Path) -> Iterator[tuple[str, str]]:
    for node in nodes(path):
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "drivers":
            yield from ((alias.name, str(node.module)) for alias in node.names if is_a_type_name(alias.name))


def homes_of_types() -> dict[str, set[str]]:
    homes: dict[str, set[str]] = defaultdict(set)
    for path in sorted((ROOT / "companion").rglob("*.py")):
        for name in types_made_in(parsed(path)):
            homes[name].add(".".join(path.relative_to(ROOT).with_suffix("").parts))
        for name, module in types_imported_from_drivers(path):
            homes[name].add(module)
    return homes


def test_a_type_name_has_one_meaning():
    several = {name: sorted(homes) for name, homes in homes_of_types().items() if len(homes) > 1}
    assert {name: homes for name, homes in several.items() if name not in EXCEPTIONS} == {}
    assert EXCEPTIONS.keys() <= several.keys(), "an exception that is needed no longer"


def test_classes_and_aliases_count_and_type_variables_and_plain_values_do_not():
    source = 'class Run: ...\nPart = Run | None\n_Row = tuple[int, str]\nItem = TypeVar("Item")\nLIMIT = 3\nsmall = 1\n'
    assert list(types_made_in(ast.parse(source))) == ["Run", "Part", "_Row"]


def test_no_type_is_renamed_as_it_is_imported():
    for path in sorted((ROOT / "companion").rglob("*.py")):
        for node in nodes(path):
            if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in ("companion", "drivers"):
                assert not [alias.name for alias in node.names if is_a_type_name(alias.name) and alias.asname], path
