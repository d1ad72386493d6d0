"""What was seen at the fell, as a person writes it after `--seen` and `--shuttles`, to evidence.

The page is assets/help/finding.md.
"""

from __future__ import annotations

from companion.cli.status import CommandError
from companion.draft.facing import Side
from companion.draft.laying_in import thrown_yarns
from companion.draft.model import Draft
from companion.weaving.finder import SeenRow
from companion.weaving.sides import ShuttleSides

UNKNOWN = "?"
_SIDES = {side.value: side for side in Side}


def seen_rows(text: str, draft: Draft) -> tuple[SeenRow, ...]:
    """Return the rows, newest first, of a text that has the newest last: `"sand, sea up 1 4 down 2"`.

    Raises CommandError that names the row.
    """
    if not text.strip():
        raise CommandError('--seen is empty; write rows with commas between, newest last, such as --seen "sand, ?"')
    rows = [_row(part, number, draft) for number, part in enumerate(text.split(","), 1)]
    return tuple(reversed(rows))


def shuttles_seen(text: str, draft: Draft) -> ShuttleSides:
    """Return where shuttles lie, of a text such as `"sand left, sea right"`.

    Raises CommandError that names the part.
    """
    seen: dict[int, Side] = {}
    thrown = thrown_yarns(draft)
    for number, part in enumerate(text.split(","), 1):
        where = f"--shuttles, part {number}"
        name, _, side = part.strip().rpartition(" ")
        if side.lower() not in _SIDES or not name:
            raise CommandError(f'{where}: say a shuttle and its side, such as --shuttles "sand left, sea right"')
        yarns = _yarns_called(name.strip(), where, draft)
        if len(yarns) > 1:
            several = ", ".join(str(yarn + 1) for yarn in sorted(yarns))
            raise CommandError(f"{where}: several yarns are called so; give one by its number: {several}")
        (yarn,) = yarns
        if yarn not in thrown:
            raise CommandError(
                f"{where}: {name.strip()!r:.40} is laid in at each pick and lies on no side; leave it out"
            )
        if seen.setdefault(yarn, _SIDES[side.lower()]) is not _SIDES[side.lower()]:
            raise CommandError(f"{where}: {name.strip()!r:.40} cannot lie on both sides at once")
    return tuple(seen.items())


def _row(text: str, number: int, draft: Draft) -> SeenRow:
    words = text.split()
    name: list[str] = []
    ends: dict[str, list[int]] = {"up": [], "down": []}
    listed: list[int] | None = None
    for word in words:
        if word.lower() in ends:
            listed = ends[word.lower()]
        elif listed is None:
            name.append(word)
        else:
            listed.append(_end(word, number, draft))
    if listed is None and not name:
        raise CommandError(f"--seen, row {number}: nothing in it; write ? for a row that you cannot tell")
    if (both := set(ends["up"]) & set(ends["down"])) != set():
        raise CommandError(f"--seen, row {number}: end {min(both) + 1} cannot lie up and down at once")
    return SeenRow(_yarns(" ".join(name), number, draft), tuple(ends["up"]), tuple(ends["down"]))


def _end(word: str, number: int, draft: Draft) -> int:
    if not word.isascii() or not word.isdigit() or not 1 <= int(word[:9]) <= draft.ends:
        raise CommandError(f"--seen, row {number}: {word!r:.40} is no end; give numbers from 1 to {draft.ends}")
    return int(word) - 1


def _yarns(text: str, number: int, draft: Draft) -> frozenset[int] | None:
    if text in ("", UNKNOWN):
        return None
    found: set[int] = set()
    for word in text.split("/"):
        found |= _yarns_called(word.strip(), f"--seen, row {number}", draft, mend="; or write ?")
    return frozenset(found)


def _yarns_called(word: str, where: str, draft: Draft, mend: str = "") -> set[int]:
    named = {index for index, yarn in enumerate(draft.yarns) if yarn.name.casefold() == word.casefold()}
    if named:
        return named
    if word.isascii() and word.isdigit() and 1 <= int(word[:9]) <= len(draft.yarns):
        return {int(word) - 1}
    coloured = {
        index for index, yarn in enumerate(draft.yarns) if "#{:02x}{:02x}{:02x}".format(*yarn.colour) == word.lower()
    }
    if coloured:
        return coloured
    known = ", ".join(f"{index + 1} {draft.yarns[index].name}" for index in draft.shuttles()[:12])
    raise CommandError(f"{where}: no weft is called {word!r:.40}; the wefts are {known}{mend}")
