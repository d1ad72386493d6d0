"""Public functions say what a caller must know beyond the types: what they raise, and what their arrays hold."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DTYPE = re.compile(r"\b(bool|u?int(8|16|32|64|p)|float(32|64))\b")
SHAPE = re.compile(r" x |\((\w+ )*\w+, |for each|for every|per |same shape|shape|one-dimensional")
RAISES = re.compile(r"\b([Rr]aise|[Rr]aises|\w+Error)\b")


def public_functions(tree: ast.Module) -> Iterator[tuple[ast.FunctionDef, str, str]]:
    """Yield each public function with what its docstring and its class's say, and what the module's says."""
    of_module = ast.get_docstring(tree) or ""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield node, str(ast.get_docstring(node)), of_module
        elif isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            of_class = ast.get_docstring(node) or ""
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef) and (inner.name[0] != "_" or inner.name == "__post_init__"):
                    yield inner, f"{ast.get_docstring(inner)} {of_class}", of_module


def raised_by(function: ast.FunctionDef) -> list[str]:
    """What stands behind the function's own `raise` words; those of functions within it are theirs."""
    found: list[str] = []
    left: list[ast.AST] = list(function.body)
    while left:
        node = left.pop()
        if isinstance(node, ast.Raise) and node.exc is not None:
            found.append(ast.unparse(node.exc))
        if not isinstance(node, ast.FunctionDef | ast.Lambda | ast.ClassDef):
            left += ast.iter_child_nodes(node)
    return found


def array_names(tree: ast.Module) -> set[str]:
    """The names that mean arrays in a module: numpy's own and the aliases that it makes or imports."""
    names = {"NDArray"}
    for node in tree.body:
        if (
            isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Name)
            and "NDArray" in ast.unparse(node.value)
        ):
            names.add(node.targets[0].id)
        elif isinstance(node, ast.ImportFrom):
            names |= {alias.name for alias in node.names if alias.name in {"Bools", "Ints", "Floats", "Costs"}}
    return names


def takes_or_returns_arrays(function: ast.FunctionDef, names: set[str]) -> bool:
    arguments = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
    annotations = [argument.annotation for argument in arguments] + [function.returns]
    words = " ".join(ast.unparse(annotation) for annotation in annotations if annotation is not None)
    return bool(names & set(re.findall(r"\w+", words)))


def unsaid_in(source: str, commands: bool = False) -> list[str]:
    """What public functions of a module leave unsaid. That `run` of a command may raise is said where commands are."""
    tree = ast.parse(source)
    arrays = array_names(tree)
    unsaid = []
    for function, said, of_module in public_functions(tree):
        raised = raised_by(function)
        if raised and not RAISES.search(said + of_module) and not (commands and function.name == "run"):
            unsaid.append(f"{function.name} raises {', '.join(raised)}")
        if takes_or_returns_arrays(function, arrays) and not (DTYPE.search(said) and SHAPE.search(said)):
            unsaid.append(f"{function.name}: shape and dtype of its arrays")
    return unsaid


def test_public_functions_say_what_they_raise_and_what_their_arrays_hold():
    unsaid = {
        str(path.relative_to(ROOT)): found
        for path in sorted((ROOT / "companion").rglob("*.py"))
        if (found := unsaid_in(path.read_text(encoding="utf-8"), commands=path.parent.name == "cli"))
    }
    assert unsaid == {}


def test_what_is_left_unsaid_is_found():
    raising = (
        'def half(n: int) -> int:\n    """Return the half."""\n    if n % 2:\n        raise ValueError(n)\n    return n'
    )
    assert unsaid_in(raising) == ["half raises ValueError(n)"]
    assert unsaid_in(raising.replace("half.", "half; raises ValueError.")) == []
    array = 'def rows(up: NDArray[np.bool_]) -> int:\n    """Return how many rows."""\n    return len(up)'
    assert unsaid_in(array) == ["rows: shape and dtype of its arrays"]
    assert unsaid_in(array.replace("rows.", "rows of `up` (picks x ends, bool).")) == []
