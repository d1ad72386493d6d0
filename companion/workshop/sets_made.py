"""Sets made and changed by touch: each a folder of its own among the papers, its list a text to write by hand too."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from companion.journal.disk import write_whole
from companion.journal.errors import JournalError
from companion.journal.shelf import Shelf, file_stem, free_name, tidy_name
from companion.journal.words_beside import keep_words, read_words
from companion.weaving.errors import WeavingError
from companion.weaving.sheet_words import tidy_paragraph
from companion.workshop.places import own_papers
from companion.workshop.project_sets import (
    SET_FILE,
    ProjectSetError,
    SetMember,
    set_lines,
    set_member,
    unreadable,
)


@dataclass(frozen=True, slots=True)
class Listed:
    """A line of a set: `draft` or `warp`, and which; what it is, or the `problem` with it."""

    kind: str
    which: str
    member: SetMember | None
    problem: str = ""


def sets_folder() -> Path:
    """Return the folder of the sets that are made by touch, each in a folder of its own."""
    return own_papers() / "Sets"


def sets_there() -> tuple[Path, ...]:
    """Return the folders of these sets, by name; raises OSError."""
    folder = sets_folder()
    if not folder.is_dir():
        return ()
    found = (path for path in folder.iterdir() if (path / SET_FILE).is_file())
    return tuple(sorted(found, key=lambda path: path.name.casefold()))


def make_set(title: str) -> Path:
    """Make an empty set with this title and return its folder; raises JournalError where there is one, or OSError."""
    title = tidy_name(title)
    folder = sets_folder() / file_stem(title)
    folder.mkdir(parents=True, exist_ok=True)
    if (folder / SET_FILE).exists():
        raise JournalError("exists already", place=folder, mend="choose another name")
    write_whole(folder / SET_FILE, f"title: {title}\n".encode())
    return folder


def add_draft(folder: Path, path: Path) -> None:
    """Put a copy of a draft, with the words for its sheet, into a set; raises OSError."""
    stem = free_name(path.stem, lambda stem: (folder / f"{stem}{path.suffix}").exists())
    target = folder / f"{stem}{path.suffix}"
    write_whole(target, path.read_bytes())
    keep_words(target, read_words(path))
    _add_line(folder, f"draft: {target.name}")


def add_warp(folder: Path, name: str) -> None:
    """Put a warp into a set, by its name; raises OSError."""
    _add_line(folder, f"warp: {name}")


def add_words(folder: Path, paragraph: str) -> None:
    """Let a set say these words of the teacher's too; raises OSError."""
    _add_line(folder, f"words: {tidy_paragraph(paragraph)}")


def rename_in_sets(name: str, new: str) -> tuple[str, ...]:
    """Let every set that lists the warp `name` list it as `new`; return the names of these sets. Raises OSError."""
    changed = []
    for folder in sets_there():
        lines = _text(folder)
        renamed = [f"warp: {new}" if _word_of(line) == ("warp", name) else line for line in lines]
        if renamed != lines:
            _write_lines(folder, renamed)
            changed.append(folder.name)
    return tuple(changed)


def called(folder: Path, title: str) -> None:
    """Give a set another title, in the place of the one it has; raises OSError."""
    lines = _text(folder)
    others = [line for line in lines if _word_of(line)[0] != "title"]
    at = next((at for at, line in enumerate(lines) if _word_of(line)[0] == "title"), 0)
    _write_lines(folder, [*others[:at], f"title: {title}", *others[at:]])


def take_out(folder: Path, listed: Listed) -> None:
    """Take a draft or warp off the list of a set; the file of a draft stays in the folder. Raises OSError."""
    _write_lines(folder, [line for line in _text(folder) if not _is(line, listed)])


def put_first(folder: Path, listed: Listed) -> None:
    """Put a draft or warp before all others in a set; raises OSError."""
    lines = _text(folder)
    moved = [line for line in lines if _is(line, listed)]
    others = [line for line in lines if not _is(line, listed)]
    place = next((at for at, line in enumerate(others) if _word_of(line)[0] in ("draft", "warp")), len(others))
    _write_lines(folder, [*others[:place], *moved, *others[place:]])


def look_at_set(folder: Path, shelf: Shelf) -> tuple[str, tuple[str, ...], tuple[Listed, ...]]:
    """Return title, words and what is in a set, empty as it may be; one that cannot be read has its problem.

    Raises ProjectSetError where the list itself cannot be read.
    """
    try:
        lines = set_lines(folder / SET_FILE)
    except (OSError, UnicodeDecodeError) as error:
        raise unreadable(folder, error) from error
    titles = [rest for _, word, rest in lines if word == "title"]
    members = tuple(_listed(folder, one, shelf) for one in lines if one[1] in ("draft", "warp"))
    return titles[0] if titles else folder.name, tuple(rest for _, word, rest in lines if word == "words"), members


def _listed(folder: Path, line: tuple[int, str, str], shelf: Shelf) -> Listed:
    number, word, rest = line
    try:
        return Listed(word, rest, set_member(folder, number, word, rest, shelf))
    except (ProjectSetError, WeavingError) as error:
        told = error.told_by_touch if isinstance(error, ProjectSetError) else str(error)
        return Listed(word, rest, None, told)


def _word_of(line: str) -> tuple[str, str]:
    word, _, rest = (part.strip() for part in line.partition(":"))
    return word.lower(), rest


def _is(line: str, listed: Listed) -> bool:
    return _word_of(line) == (listed.kind, listed.which)


def _text(folder: Path) -> list[str]:
    return (folder / SET_FILE).read_text(encoding="utf-8-sig").splitlines()


def _add_line(folder: Path, line: str) -> None:
    _write_lines(folder, [*_text(folder), line])


def _write_lines(folder: Path, lines: list[str]) -> None:
    write_whole(folder / SET_FILE, "".join(f"{line}\n" for line in lines).encode())
