"""The arrows go one way, and the pure rooms load neither the window nor the serial port."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from functools import cache
from graphlib import TopologicalSorter
from itertools import pairwise
from pathlib import Path

import pytest

from tests.sources import nodes

ROOT = Path(__file__).resolve().parents[1]
ROOMS = ("draft", "remap", "weaving", "journal", "present", "record", "screens", "workshop", "wiring", "cli")
PURE = ("draft", "remap", "weaving")

MAY_IMPORT = {
    "draft": set(),
    "remap": {"draft"},
    "weaving": {"draft", "remap"},
    "journal": {"draft", "remap", "weaving"},
    "present": {"draft", "remap", "weaving"},
    "record": {"draft", "remap", "weaving", "present"},
    "screens": {"draft", "remap", "weaving", "present"},
    "workshop": {"draft", "remap", "weaving", "journal", "record", "present"},
    "wiring": {"draft", "remap", "weaving", "journal", "record", "present", "screens", "workshop"},
    "cli": {"draft", "remap", "weaving", "journal", "record", "present", "screens", "workshop", "wiring"},
}
"""For each room the rooms it may import, besides itself."""

IMPURE_MODULES = {"os", "time", "random", "sqlite3", "socket", "subprocess", "threading", "pathlib", "tempfile"}


REMAP_FLOORS = ("loom", "search", "feet", "stages")
"""The groups of the remap room from below; what stands in the room itself is above them all, `errors` below."""


MAY_IMPORT_DRIVERS = {"wiring", "cli", "workshop"}
"""Rooms that may speak to pedals; a screen hears of them through what is wired to it."""
AT_THE_ROOT = {"__init__.py": {"draft", "remap"}, "__main__.py": {"cli"}}
"""The modules that stand in no room, and the rooms each may import: the front door shows the core and nothing else."""


@cache
def imports_of(path: Path) -> set[str]:
    names: set[str] = set()
    for node in nodes(path):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            assert node.level == 0, f"{path}: relative import"
            names |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def dotted(path: Path) -> str:
    """Return the name that a module is imported by; the file of a package is the package."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def files_of(room: str) -> list[Path]:
    return sorted((ROOT / "companion" / room).rglob("*.py"))


def every_module() -> list[Path]:
    return sorted((ROOT / "companion").rglob("*.py"))


def room_of(path: Path) -> str:
    """Return the room of a module, or its own file name where it stands at the root."""
    return path.relative_to(ROOT / "companion").parts[0]


def test_every_module_imports_only_the_rooms_below_its_own():
    for path in every_module():
        room = room_of(path)
        allowed = AT_THE_ROOT[room] if room in AT_THE_ROOT else MAY_IMPORT[room] | {room}
        for name in imports_of(path):
            parts = name.split(".")
            if parts[0] == "companion" and len(parts) > 1:
                assert parts[1] in allowed, f"{path.relative_to(ROOT)} imports {name}"


def test_every_module_stands_in_a_room_or_at_the_root_where_it_must():
    assert {room_of(path) for path in every_module()} == {*ROOMS, *AT_THE_ROOT}
    assert set(ROOMS) == set(MAY_IMPORT)


def test_the_rooms_are_listed_from_below():
    for number, room in enumerate(ROOMS):
        assert MAY_IMPORT[room] <= set(ROOMS[:number]), room


def test_drivers_are_reached_only_from_where_things_are_wired():
    for path in every_module():
        reached = any(name.split(".")[0] == "drivers" for name in imports_of(path))
        assert not reached or room_of(path) in MAY_IMPORT_DRIVERS, path


def test_no_two_modules_import_each_other_by_whatever_way():
    modules = {dotted(path): path for path in [*every_module(), *sorted((ROOT / "drivers").rglob("*.py"))]}
    below = {module: (imports_of(path) & modules.keys()) - {module} for module, path in modules.items()}
    assert list(TopologicalSorter(below).static_order())


@pytest.mark.parametrize("floor", REMAP_FLOORS)
def test_in_the_remap_room_a_group_imports_only_itself_and_the_groups_below(floor):
    allowed = {"errors", *REMAP_FLOORS[: REMAP_FLOORS.index(floor) + 1]}
    for path in sorted((ROOT / "companion" / "remap" / floor).glob("*.py")):
        for name in imports_of(path):
            parts = name.split(".")
            if parts[:2] == ["companion", "remap"] and len(parts) > 2:
                assert parts[2] in allowed, f"{path.relative_to(ROOT)} imports {name}"


@pytest.mark.parametrize("room", PURE)
def test_a_pure_room_has_no_clock_file_or_chance(room):
    for path in files_of(room):
        tops = {name.split(".")[0] for name in imports_of(path)}
        assert not tops & IMPURE_MODULES, path
        called = {
            node.func.id for node in nodes(path) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        }
        assert not called & {"open", "print", "input"}, path


def test_only_screens_import_kivy_and_only_drivers_import_serial():
    for path in sorted((ROOT / "companion").rglob("*.py")) + sorted((ROOT / "drivers").rglob("*.py")):
        tops = {name.split(".")[0] for name in imports_of(path)}
        relative = path.relative_to(ROOT).parts
        if relative[:2] != ("companion", "screens"):
            assert "kivy" not in tops, path
        if relative[0] != "drivers":
            assert "serial" not in tops, path


def test_drivers_know_nothing_of_weaving():
    for path in sorted((ROOT / "drivers").rglob("*.py")):
        assert not any(name.split(".")[0] == "companion" for name in imports_of(path)), path


def test_loading_the_core_loads_neither_kivy_nor_serial():
    modules = [
        dotted(path)
        for room in ("draft", "remap", "weaving", "journal", "record", "present")
        for path in files_of(room)
        if path.name != "__init__.py"
    ]
    script = "import sys\n" + "".join(f"import {module}\n" for module in modules)
    script += "assert not {'kivy', 'serial'} & set(sys.modules), 'the core loads a window or a port'"
    done = subprocess.run(
        [sys.executable, "-c", script], check=False, cwd=ROOT, capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr


def test_one_module_of_companion_shifts_bits():
    for path in sorted((ROOT / "companion").rglob("*.py")):
        shifts = any(
            isinstance(node, ast.BinOp | ast.AugAssign) and isinstance(node.op, ast.LShift | ast.RShift)
            for node in nodes(path)
        )
        assert shifts == (path == ROOT / "companion" / "draft" / "masks.py"), path


SIGNS = re.compile(r"^ ?(picks )?(cm|m|g|kg|yd|oz|lb|tex|per cm|per inch)\b")
MAY_SAY_UNITS = {
    "draft/units.py": "the module itself",
    "draft/shorthand_print.py": "shorthand is a file format, and its lengths are in cm",
    "weaving/warp.py": "a yarn of 0 tex has no yards per pound",
    "cli/on_shelf.py": "a size as it is typed after --yarn",
}
"""Modules that put a unit behind a number, besides the one that is for it, each with the reason."""


def test_one_module_of_companion_puts_units_behind_numbers():
    found = set()
    for path in sorted((ROOT / "companion").rglob("*.py")):
        for node in nodes(path):
            if isinstance(node, ast.JoinedStr):
                for number, sign in pairwise(node.values):
                    behind = isinstance(number, ast.FormattedValue) and isinstance(sign, ast.Constant)
                    if behind and SIGNS.match(str(sign.value)):
                        found.add(path.relative_to(ROOT / "companion").as_posix())
    assert found == set(MAY_SAY_UNITS)


SHOWN = re.compile(r"[A-Za-z]{2,} [a-z]|^[A-Z][a-z]+$")
NOT_SHOWN = {
    "Fellside": "the name of the program, and of its folder",
    "Roboto": "a font",
    "fellside began": "a mark that a touch carries",
    "fellside void": "a mark that a touch carries",
    "on the way to another screen": "a thread",
    "no display: start it in a desktop session, or use --text": "said in the terminal, where no screen is",
}
"""Strings of screens and of the ways between them that look like words and are not shown there, with the reason."""


@pytest.mark.parametrize("room", ["screens", "wiring"])
def test_screens_and_ways_bring_no_words_of_their_own(room):
    for path in files_of(room):
        silent = {id(node.value) for node in nodes(path) if isinstance(node, ast.Expr)}
        for call in nodes(path):
            if isinstance(call, ast.Call) and ast.unparse(call.func) == "threading.Thread":
                silent |= {id(word.value) for word in call.keywords}
            if isinstance(call, ast.Call) and ast.unparse(call.func) in ("Builder.load_string", "TypeVar"):
                silent |= {id(rules) for rules in call.args}
        said = {
            node.value
            for node in nodes(path)
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in silent
        }
        assert not [words for words in said - NOT_SHOWN.keys() if SHOWN.search(words)], path.relative_to(ROOT)
