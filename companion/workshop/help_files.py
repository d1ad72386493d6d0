"""The help of every page on the screen, read from the pages in assets/help that a weaver may read as well."""

from __future__ import annotations

from functools import cache

from companion.present.help_pages import HelpSection, read_sections
from companion.workshop.places import asset


@cache
def help_sections() -> dict[str, HelpSection]:
    """Return the help of each page by its name; ValueError where two have one name."""
    sections: dict[str, HelpSection] = {}
    for path in sorted(asset("help").glob("*.md")):
        for section in read_sections(path.read_text(encoding="utf-8")):
            if section.name in sections:
                raise ValueError(f"{path.name}: there is help for {section.name!r} already")
            sections[section.name] = section
    return sections
