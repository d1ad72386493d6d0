"""Frozen values to and from plain JSON values, led by their type hints.

One rule per kind of type, so that a new field or class of the core needs no line here: dataclasses become objects,
tuples and frozensets lists, enums their values, a union of dataclasses an object whose `is` names the class. A list
that repeats its items (a footing for every pick) is `{"each": items, "order": indices}`, a fraction of it. Reading is
strict: a missing field without a default, an unknown field or a wrong type raises PlainError with its place.
Weak: it knows only the types that the core uses, and says so (TypeError) on any other.
"""

from __future__ import annotations

import dataclasses
import math
import types
import typing
from collections.abc import Callable
from enum import Enum
from functools import cache
from typing import Any, NamedTuple, NewType, Union, get_args, get_origin

from companion.weaving.bounds import is_text

CLASS_KEY = "is"
ONCE_KEY = "each"
ORDER_KEY = "order"


class PlainError(ValueError):
    """A plain value that does not fit the type asked for."""


class _Coder(NamedTuple):
    """The two directions for one type."""

    to_plain: Callable[[Any], Any]
    from_plain: Callable[[Any], Any]


def to_plain(kind: Any, value: Any) -> Any:
    """Return `value`, of the type `kind`, as JSON-ready lists, objects, strings, numbers, booleans and None."""
    return _coder(kind).to_plain(value)


def from_plain(kind: Any, plain: Any) -> Any:
    """Return the value of the type `kind` that `to_plain` made `plain` from; raises PlainError."""
    return _coder(kind).from_plain(plain)


@cache
def _coder(kind: Any) -> _Coder:
    if isinstance(kind, NewType):
        return _coder(kind.__supertype__)
    if isinstance(kind, typing.TypeVar) or kind is Any:
        raise TypeError(f"no plain form for {kind}")
    origin = get_origin(kind)
    if origin in (Union, types.UnionType):
        return _union(get_args(kind))
    if origin is tuple:
        return _tuple(get_args(kind))
    if origin is frozenset:
        return _frozenset(get_args(kind)[0])
    if isinstance(kind, type):
        if kind in (int, float, str, bool):
            return _scalar(kind)
        if issubclass(kind, Enum):
            return _Coder(lambda member: member.value, lambda plain: _member(kind, plain))
        if issubclass(kind, tuple) and hasattr(kind, "_fields"):
            return _named_tuple(kind)
        if dataclasses.is_dataclass(kind):
            return _record(kind)
    raise TypeError(f"no plain form for {kind}")


def _scalar(kind: type) -> _Coder:
    def read(plain: Any) -> Any:
        if kind is float and type(plain) is int:
            return float(plain)
        if type(plain) is not kind:
            raise PlainError(f"{plain!r:.40} is not {kind.__name__}")
        if isinstance(plain, float) and not math.isfinite(plain):
            raise PlainError(f"{plain} is no measure")
        if isinstance(plain, str) and not is_text(plain):
            raise PlainError(f"{plain!a:.40} is no text")
        return plain

    return _Coder(kind, read)


def _member(kind: type[Enum], plain: Any) -> Enum:
    try:
        return kind(plain)
    except ValueError as error:
        raise PlainError(f"{plain!r:.40} is no {kind.__name__}") from error


def _list(plain: Any) -> list[Any]:
    if not isinstance(plain, list):
        raise PlainError(f"{plain!r:.40} is not a list")
    return plain


def _tuple(items: tuple[Any, ...]) -> _Coder:
    if len(items) == 2 and items[1] is Ellipsis:
        each = _coder(items[0])
        if _solid(items[0]) in (int, str, bool):
            return _Coder(list, lambda plain: _scalars(_solid(items[0]), _list(plain)))
        return _Coder(lambda value: _write_items(each, value), lambda plain: _read_items(each, plain))
    coders = [_coder(item) for item in items]

    def read(plain: Any) -> tuple[Any, ...]:
        if len(_list(plain)) != len(coders):
            raise PlainError(f"{len(plain)} values where {len(coders)} belong")
        return tuple(coder.from_plain(item) for coder, item in zip(coders, plain, strict=True))

    return _Coder(
        lambda value: [coder.to_plain(item) for coder, item in zip(coders, value, strict=True)],
        read,
    )


def _write_items(each: _Coder, values: tuple[Any, ...]) -> Any:
    order = {value: place for place, value in enumerate(dict.fromkeys(values))}
    if 2 * len(order) >= len(values):
        return [each.to_plain(value) for value in values]
    return {ONCE_KEY: [each.to_plain(value) for value in order], ORDER_KEY: [order[value] for value in values]}


def _read_items(each: _Coder, plain: Any) -> tuple[Any, ...]:
    if not isinstance(plain, dict):
        return tuple(each.from_plain(item) for item in _list(plain))
    if plain.keys() != {ONCE_KEY, ORDER_KEY}:
        raise PlainError(f"{plain!r:.40} is not a list")
    once = [each.from_plain(item) for item in _list(plain[ONCE_KEY])]
    order = _scalars(int, _list(plain[ORDER_KEY]))
    if order and not 0 <= min(order) <= max(order) < len(once):
        raise PlainError(f"a list that repeats an item beyond its {len(once)}")
    return tuple(once[place] for place in order)


def _solid(kind: Any) -> Any:
    return _solid(kind.__supertype__) if isinstance(kind, NewType) else kind


def _scalars(kind: type, plain: list[Any]) -> tuple[Any, ...]:
    # A treadling has thousands of them: looked at by type, not one call for each.
    if set(map(type, plain)) - {kind}:
        raise PlainError(f"a list with more than {kind.__name__} in it")
    if kind is str and not all(map(is_text, plain)):
        raise PlainError("a list with something in it that is no text")
    return tuple(plain)


def _named_tuple(kind: Any) -> _Coder:
    hints = typing.get_type_hints(kind)
    inner = _tuple(tuple(hints[name] for name in kind._fields))
    return _Coder(inner.to_plain, lambda plain: kind(*inner.from_plain(plain)))


def _frozenset(item: Any) -> _Coder:
    each = _coder(item)
    return _Coder(
        lambda value: sorted(each.to_plain(item) for item in value),
        lambda plain: frozenset(each.from_plain(item) for item in _list(plain)),
    )


def _union(members: tuple[Any, ...]) -> _Coder:
    solid = [member for member in members if member is not types.NoneType]
    inner = _coder(solid[0]) if len(solid) == 1 else _tagged(solid)
    if len(solid) == len(members):
        return inner
    return _Coder(
        lambda value: None if value is None else inner.to_plain(value),
        lambda plain: None if plain is None else inner.from_plain(plain),
    )


def _tagged(members: list[Any]) -> _Coder:
    by_name = {member.__name__: member for member in members}

    def write(value: Any) -> Any:
        name = type(value).__name__
        return {CLASS_KEY: name, **_coder(by_name[name]).to_plain(value)}

    def read(plain: Any) -> Any:
        name = plain.get(CLASS_KEY) if isinstance(plain, dict) else None
        if not isinstance(name, str) or name not in by_name:
            raise PlainError(f"{plain!r:.40} is none of {', '.join(by_name)}")
        fields = {key: value for key, value in plain.items() if key != CLASS_KEY}
        return _coder(by_name[name]).from_plain(fields)

    return _Coder(write, read)


def _record(kind: Any) -> _Coder:
    hints = typing.get_type_hints(kind)
    fields = [field for field in dataclasses.fields(kind) if field.init]
    # Looked up when first used, not here: a class may hold itself.
    names = {field.name: hints[field.name] for field in fields}
    needed = {
        field.name
        for field in fields
        if field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
    }

    def write(value: Any) -> dict[str, Any]:
        return {name: _coder(hint).to_plain(getattr(value, name)) for name, hint in names.items()}

    def read(plain: Any) -> Any:
        if not isinstance(plain, dict):
            raise PlainError(f"{plain!r:.40} is not a {kind.__name__}")
        if strange := plain.keys() - names.keys():
            raise PlainError(f"{kind.__name__} has no field {min(strange)}")
        if missing := needed - plain.keys():
            raise PlainError(f"{kind.__name__} lacks its field {min(missing)}")
        values = {}
        for name, item in plain.items():
            try:
                values[name] = _coder(names[name]).from_plain(item)
            except PlainError as error:
                raise PlainError(f"{kind.__name__}.{name}: {error}") from error
        return kind(**values)

    return _Coder(write, read)
