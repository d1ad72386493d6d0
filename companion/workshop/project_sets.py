"""A set: drafts and warps that belong together, in a folder with a small file that a person can read and write.

`set.txt` has one thing to a line, in the order in which it is shown:

    title: Double-faced twill, four shafts and eight
    words: Weave the sample first.
    draft: cushion-four.wif
    draft: bolster-eight.txt
    warp: Blue shawl

A draft is a file of the same folder, a warp one on the shelf. A folder without `set.txt` is a set of all its drafts.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from companion.journal.errors import JournalError
from companion.journal.shelf import Shelf
from companion.journal.snapshots import warp_to_hand_on
from companion.journal.words_beside import read_words
from companion.record.project import Handout
from companion.weaving.errors import WeavingError
from companion.weaving.warp import Warp
from companion.workshop.draft_files import DraftFileError, name_of_draft, read_draft_file
from companion.workshop.dressing import reckon_with
from companion.workshop.looms import UNNAMED_LOOM
from companion.workshop.places import look_into
from companion.workshop.saved_sheets import handout_of

SET_FILE = "set.txt"
MOST_IN_A_SET = 200
"""More drafts in a folder are a library, not a set."""
_LARGEST_BYTES = 100_000
_MOST_OF_A_LINE = 30
"""Letters of a line that is told of."""


class ProjectSetError(ValueError):
    """A set that cannot be read: one clear line with file and line.

    `told_by_touch` has the reason and the cure without the file, which whoever touches the set has before them.
    """

    def __init__(self, line: str, told_by_touch: str = "") -> None:
        super().__init__(line)
        self.told_by_touch = told_by_touch or line


@dataclass(frozen=True, slots=True)
class SetMember:
    """A draft or a warp of a set: its name, the file it stands in (None for a warp), and how it is handed out."""

    name: str
    file: Path | None
    warp: Warp
    handout: Handout


@dataclass(frozen=True, slots=True)
class ProjectSet:
    """A set in its order; `words` are the teacher's."""

    title: str
    words: tuple[str, ...]
    members: tuple[SetMember, ...]


def read_set(folder: Path, shelf: Shelf) -> ProjectSet:
    """Return the set in a folder; raises ProjectSetError."""
    listed = folder / SET_FILE
    try:
        if not listed.is_file():
            drafts = look_into(folder).drafts
            lines = [(0, "draft", path.name) for path in drafts]
        else:
            lines = list(set_lines(listed))
    except (OSError, UnicodeDecodeError) as error:
        raise unreadable(folder, error) from error
    members = [
        set_member(folder, number, word, rest, shelf) for number, word, rest in lines if word in ("draft", "warp")
    ]
    if not members:
        raise ProjectSetError(f"{folder}: no draft is in this set; put WIF files there, or name them in {SET_FILE}")
    if len(members) > MOST_IN_A_SET:
        raise ProjectSetError(f"{folder}: {len(members)} drafts; a set has at most {MOST_IN_A_SET}")
    titles = [rest for _, word, rest in lines if word == "title"]
    return ProjectSet(
        titles[0] if titles else folder.resolve().name,
        tuple(rest for _, word, rest in lines if word == "words"),
        tuple(members),
    )


def unreadable(folder: Path, error: OSError | UnicodeDecodeError) -> ProjectSetError:
    """Return that the list of the set in a folder cannot be read, and how to mend it."""
    if isinstance(error, UnicodeDecodeError):
        told = f"{SET_FILE} is no text in UTF-8; save it as UTF-8"
    else:
        told = f"{error.strerror or 'cannot be read'}; give the folder of a set"
    return ProjectSetError(f"{folder}: {told}", told)


def set_lines(listed: Path) -> list[tuple[int, str, str]]:
    """Return the lines of the list of a set: number, word and what follows it; raises ProjectSetError, or OSError."""
    if listed.stat().st_size > _LARGEST_BYTES:
        large = f"too large for the list of a set; write one line for each of at most {MOST_IN_A_SET} drafts and warps"
        raise ProjectSetError(f"{listed}: {large}", f"Its {SET_FILE} is {large}")
    found = []
    for number, line in enumerate(listed.read_text(encoding="utf-8-sig").splitlines(), 1):
        word, colon, rest = (part.strip() for part in line.partition(":"))
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        if not colon or word.lower() not in ("title", "words", "draft", "warp") or not rest:
            said = f"{_quoted(line)} is no line of a set"
            mend = "write title, words, draft or warp, a colon, and which"
            raise ProjectSetError(
                f"{listed}, line {number}: {said}; {mend}", f"{said}: line {number} of {SET_FILE}; {mend}"
            )
        found.append((number, word.lower(), rest))
    return found


def _quoted(line: str) -> str:
    """Return a line as it is told of, not all of a long one."""
    told = line.strip()
    return repr(told if len(told) <= _MOST_OF_A_LINE else f"{told[:_MOST_OF_A_LINE]}…")


def set_member(folder: Path, number: int, word: str, rest: str, shelf: Shelf) -> SetMember:
    """Return the draft or warp that a line of a set stands for; raises ProjectSetError."""
    where = f"{folder / SET_FILE}, line {number}" if number else str(folder)
    if word == "warp":
        try:
            with shelf.open_to_read(rest) as journal:
                warp, words = warp_to_hand_on(journal), read_words(journal.path)
        except WeavingError as error:
            raise ProjectSetError(f"{where}: {rest}: {error}", f"{rest}: {error}") from error
        except JournalError as error:
            told = "; ".join(filter(None, (f"{rest} {error.what}", error.mend)))
            raise ProjectSetError(f"{where}: {error}", told) from error
        return SetMember(rest, None, warp, handout_of(words, warp, on_loom=True))
    if Path(rest).name != rest:
        told = f"{rest}: a draft of a set lies in its folder; copy it there and give its name"
        raise ProjectSetError(f"{where}: {told}", told)
    path = folder / rest
    try:
        draft = read_draft_file(path).draft
    except DraftFileError as error:
        raise ProjectSetError(f"{where}: {rest}: {error}", f"{rest}: {error}".replace(f"{folder}/", "")) from error
    name = name_of_draft(draft, path)
    warp = reckon_with(name, [draft], UNNAMED_LOOM)
    return SetMember(name, path, warp, handout_of(read_words(path), warp, on_loom=False))
