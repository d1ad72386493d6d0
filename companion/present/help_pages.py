"""The help of a page: what each thing on it does, read from the pages of assets/help.

A page of help has sections that are headed `## On the screen: NAME`, each with a line or two of what that page is for
and a list of the things on it: `- **Take out**: shows the newest pick`. A name with an ellipsis stands for all that fit
it (`… treadles`); one that begins with a small article (`the cloth`) is no word on the screen, and always told of.
Words in italics follow the settings (`press_words`). Nobody writes help anywhere else.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

EVERY_PAGE = "every page"
"""The section of what is on many pages."""
HELP_TOPIC = "Help"
"""The section of the help's own page."""
NEXT = "Next"
"""The thing that no page shows: what a foot or a key says."""
ANY = "…"
_HEADING = "## On the screen: "
_LINE = re.compile(r"- (?P<names>\*\*.+?\*\*(?:, \*\*.+?\*\*)*): (?P<words>.+)", re.DOTALL)
_ITALIC = re.compile(r"(?<!\*)\*([^*]+)\*(?!\*)")
_ARTICLES = ("the ", "a ", "an ")


@dataclass(frozen=True, slots=True)
class HelpLine:
    """What some things on a page do; `names` are their words there."""

    names: tuple[str, ...]
    words: str

    @property
    def always(self) -> bool:
        """Whether this is a thing that has no words on the screen."""
        return self.names[0].startswith(_ARTICLES)

    def name_of(self, thing: str) -> str | None:
        """Return which of the names is that of a thing, an exact one first; None where it is another thing."""
        if thing in self.names:
            return thing
        return next((name for name in self.names if ANY in name and _fits(name, thing)), None)


@dataclass(frozen=True, slots=True)
class HelpSection:
    """The help of one page: what it is for, and its things."""

    name: str
    about: str
    lines: tuple[HelpLine, ...]


@dataclass(frozen=True, slots=True)
class HelpPage:
    """What is shown: a headline, a line of what the page is for, and what each thing does."""

    title: str
    about: str
    rows: tuple[tuple[str, str], ...]


def read_sections(page: str) -> tuple[HelpSection, ...]:
    """Return the sections of a help page that are about pages on the screen; ValueError where a line is none."""
    parts = re.split(r"^(?=## )", page, flags=re.MULTILINE)
    return tuple(_section(part.removeprefix(_HEADING)) for part in parts if part.startswith(_HEADING))


def italics_in(section: HelpSection) -> frozenset[str]:
    """Return the words in italics in a section: each follows a setting."""
    texts = (section.about, *(line.words for line in section.lines))
    return frozenset(found for text in texts for found in _ITALIC.findall(text))


def help_page(
    sections: Mapping[str, HelpSection], topics: Iterable[str], things: Iterable[str], following: Mapping[str, str]
) -> HelpPage:
    """Return the help for a page whose `topics` are these, its own first, with these things to touch on it.

    `following` says what stands for each of the words in italics. KeyError where a topic has no section.
    """
    chosen = [sections[topic] for topic in topics if topic]
    own, common = chosen[0], sections[EVERY_PAGE]
    rows: dict[tuple[str, ...], str] = {line.names: line.words for line in own.lines if line.always}
    found: dict[HelpLine, list[str]] = {}
    for thing in dict.fromkeys(things):
        line = line_for(thing, (*chosen, common))
        if line is not None:
            found.setdefault(line, []).append(line.name_of(thing) or thing)
    told = {
        line: tuple(dict.fromkeys(found[line]))
        for section in (*chosen, common)
        for line in section.lines
        if line in found
    }
    return HelpPage(
        own.name,
        _put(own.about, following),
        (
            *((_begun(", ".join(names)), _begun(_put(words, following))) for names, words in rows.items()),
            *((_begun(", ".join(names)), _begun(_put(line.words, following))) for line, names in told.items()),
        ),
    )


def line_for(thing: str, sections: Iterable[HelpSection]) -> HelpLine | None:
    """Return the line about a thing, by its very words before any that only fits it; None where nothing is said."""
    for section in sections:
        lines = [line for line in section.lines if line.name_of(thing) is not None]
        if lines:
            return next((line for line in lines if thing in line.names), lines[0])
    return None


def _begun(said: str) -> str:
    return f"{said[:1].upper()}{said[1:]}"


def _section(text: str) -> HelpSection:
    name, _, rest = text.partition("\n")
    about, *items = re.split(r"^(?=- )", rest, flags=re.MULTILINE)
    return HelpSection(name.strip(), " ".join(about.split()), tuple(_line(item, name) for item in items))


def _line(item: str, name: str) -> HelpLine:
    # What comes after the list is no part of it.
    match = _LINE.match(" ".join(item.partition("\n\n")[0].split()))
    if match is None:
        raise ValueError(f"On the screen: {name}: {item.strip()!r} names no thing; write - **Name**: what it does")
    return HelpLine(tuple(re.findall(r"\*\*(.+?)\*\*", match["names"])), match["words"])


def _fits(name: str, thing: str) -> bool:
    return re.fullmatch(".+".join(map(re.escape, name.split(ANY))).replace(r"\ ", " "), thing) is not None


def _put(text: str, following: Mapping[str, str]) -> str:
    return _ITALIC.sub(lambda found: following[found[1]], text)
