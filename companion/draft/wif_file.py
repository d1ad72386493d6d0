"""The sections of a Weaving Information File by name: settings, numbered tables, and what is kept word for word."""

from __future__ import annotations

from companion.draft.deviations import Tolerated
from companion.draft.errors import DraftError, SourceLocation
from companion.draft.model import ForeignSection
from companion.draft.wif_text import KeyValueLine, RawSection, canonical, decode, one_line, sections_in
from companion.draft.wif_values import measure, numbered, whole, without_comment, yes_or_no

OUR_YARNS = "PRIVATE FELLSIDE YARNS"
"""Our private table of yarn names: `2=madder`."""
OUR_SECTIONS = "PRIVATE FELLSIDE SECTIONS"
"""Our private table of sections, `number=picks,centimetres or nothing,name`: `2=8,40.0,Body`."""
OUR_SLEY = "PRIVATE FELLSIDE SLEY"
"""Our private settings of the sley plan: the reed in dents per cm, the dents where the spacing does not say the same,
and whether the spacing was worked out from the plan."""
OUR_LAID_IN = "PRIVATE FELLSIDE LAID IN"
"""Our private table of wefts laid in at each pick, `number=section,yarn,centimetres or nothing`: `1=2,3,36.0`."""
OUR_BLOCKS = "PRIVATE FELLSIDE BLOCKS"
"""Our private table of the threading's blocks, `number=ends,name`: `2=24,Point`."""

SETTINGS = {
    "TEXT": {"TITLE", "AUTHOR"},
    "WEAVING": {"SHAFTS", "TREADLES", "RISING SHED"},
    "WARP": {"THREADS", "COLOR", "UNITS", "SPACING", "THICKNESS"},
    "WEFT": {"THREADS", "COLOR", "UNITS", "SPACING", "THICKNESS"},
    OUR_SLEY: {"REED", "DENTS", "SPACING"},
}
"""The keys that are understood, by section; other keys of these sections are kept word for word."""

TABLES = (
    "NOTES",
    "TIEUP",
    "COLOR TABLE",
    "THREADING",
    "WARP THICKNESS",
    "WARP SPACING",
    "WARP COLORS",
    "TREADLING",
    "LIFTPLAN",
    "WEFT THICKNESS",
    "WEFT SPACING",
    "WEFT COLORS",
    OUR_YARNS,
    OUR_SECTIONS,
    OUR_LAID_IN,
    OUR_BLOCKS,
)
"""The sections of numbered lines that are understood."""

_UNDERSTOOD = {"WIF", "CONTENTS", "COLOR PALETTE", *SETTINGS, *TABLES}


class WifFile:
    """The sections of one file, and the list of what was tolerated in it. Raises DraftError when it is no WIF file."""

    def __init__(self, data: bytes) -> None:
        self.tolerated = Tolerated()
        self._known: dict[str, RawSection] = {}
        self._foreign: list[ForeignSection] = []
        for section in sections_in(decode(data, self.tolerated), self.tolerated):
            self._place(section)
        self._settings: dict[str, dict[str, KeyValueLine]] = {}
        self._check_head()

    def _place(self, section: RawSection) -> None:
        name = canonical(section.name)
        if name not in _UNDERSTOOD:
            self._foreign.append(ForeignSection(section.name, _without_blank_end(section.lines)))
        elif name in self._known:
            self.tolerated.note("the section stands more than once; read as one", section.place)
            self._known[name].lines += section.lines
            self._known[name].entries += section.entries
        else:
            self._known[name] = section

    def _check_head(self) -> None:
        if not self._known:
            raise DraftError("no section of a WIF file is in it", mend="give a WIF or shorthand file")
        version = self.text("WIF", "VERSION")
        if "WIF" not in self._known:
            self.tolerated.note("the section [WIF] is missing")
        elif version not in ("1.0", "1.1"):
            self.tolerated.note("the WIF version is neither 1.0 nor 1.1", self.place("WIF", "Version"))
        if "CONTENTS" not in self._known:
            self.tolerated.note("the section [CONTENTS] is missing")
        else:
            self._check_contents()

    def _check_contents(self) -> None:
        listed: dict[str, bool] = {}
        for entry in self._known["CONTENTS"].entries:
            try:
                listed[canonical(entry.key)] = yes_or_no(without_comment(entry.value), entry.place)
            except DraftError:
                self.tolerated.note("a line that is neither yes nor no is passed over", entry.place)
        there = {*self._known, *(canonical(section.name) for section in self._foreign)}
        contents = self.place("CONTENTS")
        for name in sorted(there - {"WIF", "CONTENTS"}):
            if not listed.get(name, False):
                self.tolerated.note("sections stand in the file that [CONTENTS] does not list; read", contents)
        for name, listed_there in listed.items():
            if listed_there and name not in there:
                self.tolerated.note("sections are listed in [CONTENTS] that are not in the file", contents)

    def has(self, section: str) -> bool:
        """Tell whether the section stands in the file."""
        return section in self._known

    def place(self, section: str, key: str = "") -> SourceLocation:
        """Return where a key stands, or the section that it is missing from."""
        entry = self.setting(section, canonical(key)) if key else None
        if entry is not None:
            return entry.place
        raw = self._known.get(section)
        return SourceLocation(section=section, key=key, line=raw.place.line if raw else None)

    def entries(self, section: str) -> list[KeyValueLine]:
        """Return the lines of a section; none when it is missing."""
        raw = self._known.get(section)
        return raw.entries if raw else []

    def table(self, section: str, most: int, what: str, *, first: int = 1) -> dict[int, KeyValueLine]:
        """Return a numbered section by number from `first`; raises DraftError."""
        return numbered(self.entries(section), most, what, self.tolerated, first=first)

    def setting(self, section: str, key: str) -> KeyValueLine | None:
        """Return the first line with this key, or None where it is missing or empty."""
        if section not in self._settings:
            found: dict[str, KeyValueLine] = {}
            for entry in self.entries(section):
                name = canonical(entry.key)
                if name in found:
                    self.tolerated.note("a key stands twice; the first counts", entry.place)
                elif entry.value:
                    found[name] = entry
            self._settings[section] = found
        return self._settings[section].get(key)

    def number(self, section: str, key: str, most: int) -> int | None:
        """Return a whole number that is set, or None; raises DraftError."""
        entry = self.setting(section, key)
        return None if entry is None else whole(without_comment(entry.value), entry.place, most)

    def measure(self, section: str, key: str, most: float) -> float | None:
        """Return a measure that is set, or None; raises DraftError."""
        entry = self.setting(section, key)
        return None if entry is None else measure(without_comment(entry.value), entry.place, most, self.tolerated)

    def text(self, section: str, key: str) -> str:
        """Return a text that is set, or nothing."""
        entry = self.setting(section, key)
        return "" if entry is None else one_line(entry.value)

    def kept(self) -> tuple[ForeignSection, ...]:
        """Return what is not understood, word for word: whole sections, then keys of the sections of settings."""
        extras = []
        for name, understood in SETTINGS.items():
            lines = tuple(
                f"{entry.key}={entry.value}"
                for entry in self.entries(name)
                if entry.key and canonical(entry.key) not in understood
            )
            if lines:
                extras.append(ForeignSection(name, lines))
        return (*self._foreign, *extras)


def _without_blank_end(lines: list[str]) -> tuple[str, ...]:
    last = len(lines)
    while last and not lines[last - 1].strip():
        last -= 1
    return tuple(lines[:last])
