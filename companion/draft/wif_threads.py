"""The threads of a Weaving Information File: palette and colours, spacing and thickness, names of yarns."""

from __future__ import annotations

from companion.draft.colours import name_colours, print_colour
from companion.draft.errors import DraftError
from companion.draft.model import MOST_THREAD_CM, MOST_YARNS, Colour, Layout, Yarn
from companion.draft.wif_file import OUR_YARNS, WifFile
from companion.draft.wif_text import KeyValueLine, one_line, quoted
from companion.draft.wif_values import measure, whole, without_comment

MOST_COLOUR = 999_999_999
DEFAULT_WARP = Yarn("warp", Colour(236, 228, 208))
"""Stands for a warp without colours."""
DEFAULT_WEFT = Yarn("weft", Colour(52, 74, 110))
"""Stands for a weft without colours; unlike the warp, so that the weave can be seen."""

_CM_PER_UNIT = {"CENTIMETERS": 1.0, "INCHES": 2.54, "DECIPOINTS": 2.54 / 720}


class Palette:
    """The yarns of a file; grows by the default yarns where a thread has no colour."""

    def __init__(self, file: WifFile) -> None:
        self._file = file
        low, high = _range_of(file)
        self._low, self._span = low, high - low
        table = file.table("COLOR TABLE", MOST_YARNS, "colour", first=0)
        names = file.table(OUR_YARNS, MOST_YARNS, "yarn")
        entries = file.number("COLOR PALETTE", "ENTRIES", MOST_YARNS)
        if entries is not None and entries != len(table):
            file.tolerated.note(
                "the palette has not as many colours as it says", file.place("COLOR PALETTE", "Entries")
            )
        self._numbers = {number: index for index, number in enumerate(sorted(table))}
        if 0 in table:
            file.tolerated.note("colours are numbered from 0; a thread of colour 0 has that colour", table[0].place)
        if table and max(table) + (0 in table) != len(table):
            file.tolerated.note("numbers of colours are left out", file.place("COLOR TABLE"))
        colours = [self._colour(table[number]) for number in self._numbers]
        by_colour = name_colours(colours)
        self.yarns = [
            Yarn(one_line(names[number].value) if number in names else by_colour[index], colours[index])
            for number, index in self._numbers.items()
        ]
        self._made: dict[Yarn, int] = {}

    def _colour(self, entry: KeyValueLine) -> Colour:
        parts = [whole(part.strip(), entry.place, MOST_COLOUR) for part in without_comment(entry.value).split(",")]
        if len(parts) != 3:
            raise DraftError(
                f"{quoted(entry.value)} is no colour", place=entry.place, mend="write red, green and blue: 120,30,0"
            )
        for part in parts:
            if not self._low <= part <= self._low + self._span:
                raise DraftError(
                    f"{part} is outside the palette's range {self._low},{self._low + self._span}",
                    place=entry.place,
                    mend="set Range in [COLOR PALETTE]",
                )
        return Colour(*(((part - self._low) * 510 + self._span) // (2 * self._span) for part in parts))

    def of_threads(self, direction: str, threads: int, most: int, default: Yarn) -> tuple[int, ...]:
        """Return the yarn of each thread; `direction` is `"WARP"` or `"WEFT"`; raises DraftError."""
        table = self._file.table(f"{direction} COLORS", most, "thread")
        given = self._file.setting(direction, "COLOR")
        usual = None if given is None else self._yarn(given)
        yarns = []
        for thread in range(1, threads + 1):
            yarn = self._yarn(table[thread]) if thread in table else None
            yarns.append(usual if yarn is None else yarn)
        if None in yarns:
            made = self._make(default)
            self._file.tolerated.note("threads without a colour are given one", self._file.place(direction, "Color"))
            return tuple(made if yarn is None else yarn for yarn in yarns)
        return tuple(yarn for yarn in yarns if yarn is not None)

    def _yarn(self, entry: KeyValueLine) -> int | None:
        """Return the yarn that a colour line names: a number of the palette, or red, green and blue."""
        parts = without_comment(entry.value).split(",")
        if len(parts) == 3:
            self._file.tolerated.note("a colour is written out instead of named by its number", entry.place)
            colour = self._colour(entry)
            return self._make(Yarn(print_colour(colour), colour))
        if len(parts) not in (1, 4):
            raise DraftError(f"{quoted(entry.value)} is no colour", place=entry.place, mend="write its palette number")
        if len(parts) == 4:
            self._file.tolerated.note("a colour is written out beside its number", entry.place)
        if not parts[0].strip():
            return None
        number = whole(parts[0].strip(), entry.place, MOST_YARNS)
        if number and number not in self._numbers:
            raise DraftError(
                f"colour {number} is not in the palette", place=entry.place, mend=f"add line {number} to [COLOR TABLE]"
            )
        return self._numbers.get(number)

    def _make(self, yarn: Yarn) -> int:
        if yarn not in self._made:
            self._made[yarn] = len(self.yarns)
            self.yarns.append(yarn)
        return self._made[yarn]


def _range_of(file: WifFile) -> tuple[int, int]:
    form = file.setting("COLOR PALETTE", "FORM")
    if form is not None and without_comment(form.value).upper() != "RGB":
        raise DraftError(f"{quoted(form.value)} is no form of colours", place=form.place, mend="only Form=RGB is known")
    entry = file.setting("COLOR PALETTE", "RANGE")
    if entry is None:
        if file.has("COLOR TABLE"):
            file.tolerated.note(
                "the range of the colours is missing; 0,255 is meant", file.place("COLOR PALETTE", "Range")
            )
        return 0, 255
    parts = without_comment(entry.value).split(",")
    if len(parts) != 2:
        raise DraftError(f"{quoted(entry.value)} is no range", place=entry.place, mend="write two numbers: 0,255")
    low, high = (whole(part.strip(), entry.place, MOST_COLOUR) for part in parts)
    if low >= high:
        raise DraftError(f"the range {low},{high} is empty", place=entry.place, mend="write the smaller number first")
    return low, high


def layout(file: WifFile, direction: str, threads: int, most: int) -> Layout:
    """Return how the threads of the warp or weft lie, in centimetres; raises DraftError."""
    unit = file.setting(direction, "UNITS")
    name = "" if unit is None else without_comment(unit.value).upper()
    if unit is not None and name not in _CM_PER_UNIT:
        raise DraftError(
            f"{quoted(unit.value)} is no unit", place=unit.place, mend="write Decipoints, Inches or Centimeters"
        )
    sizes = []
    for what in ("SPACING", "THICKNESS"):
        one = _sizes(file, direction, what, threads, most)
        if one and unit is None:
            file.tolerated.note("sizes without their unit are passed over", file.place(direction, "Units"))
            one = ()
        sizes.append(tuple(size * _CM_PER_UNIT[name] for size in one))
    return Layout(spacing_cm=sizes[0], thickness_cm=sizes[1])


def _sizes(file: WifFile, direction: str, what: str, threads: int, most: int) -> tuple[float, ...]:
    table = file.table(f"{direction} {what}", most, "thread")
    usual = file.measure(direction, what, MOST_THREAD_CM)
    sizes = []
    for thread in range(1, threads + 1):
        entry = table.get(thread)
        value = "" if entry is None else without_comment(entry.value)
        sizes.append(
            usual if entry is None or not value else measure(value, entry.place, MOST_THREAD_CM, file.tolerated)
        )
    if None in sizes and (table or usual is not None):
        missing = f"threads without {what.lower()} have no default; {what.lower()} passed over"
        file.tolerated.note(missing, file.place(direction, what.capitalize()))
    return tuple(size for size in sizes if size is not None) if None not in sizes else ()
