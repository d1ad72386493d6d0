"""Shorthand: a draft as a person types it from a page, in lines of `word: what it is`. The grammar is one page of help.

The syntax is ours; it follows the written habits of the trade: numbers, brackets, x for times, and a few of its words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from companion.draft.errors import DraftError, ShorthandError
from companion.draft.masks import Shed, shed_of, treadle_set
from companion.draft.model import (
    MOST_SHAFTS,
    MOST_THREADS,
    MOST_TREADLES,
    Draft,
    Layout,
    Lifted,
    Section,
    ThreadingBlock,
    Treadled,
)
from companion.draft.shorthand_laid_in import read_laid_in
from companion.draft.shorthand_picks import Pick, PickReader
from companion.draft.shorthand_sequences import Cursor, Sequences, number_run
from companion.draft.shorthand_sizes import read_sizes
from companion.draft.shorthand_sley import SleyReader
from companion.draft.shorthand_tokens import SourceText, Statement, TokenKind
from companion.draft.shorthand_yarns import YarnReader
from companion.draft.wif_text import one_line
from companion.draft.written import read_length

LONGEST_CM = 100_000
LONGEST_NAME = 500
_TEXTS = ("title", "author", "note", "section", "block")
_PLAIN = (*_TEXTS, "reed")
_SIZES = ("warp spacing", "warp thickness", "weft spacing", "weft thickness")
WORDS = (
    *_TEXTS,
    *_SIZES,
    "shafts",
    "shed",
    "yarn",
    "warp",
    "weft",
    "threading",
    "tie-up",
    "tabby",
    "treadling",
    "lift plan",
    "sley",
    "reed",
)
"""The words that begin a statement."""
_MANY = ("note", "section", "block", "yarn")
"""The statements that may stand more than once."""
_SECTION = re.compile(
    r'\s*(?P<name>"(?:[^"]|"")*"|.*?)(?:\s+until\s+(?P<length>[0-9.½¼¾].*?|\S+\s*cm))?'
    r"(?:\s+laid\s+in\s+(?P<laid>\S.*?))?\s*",
    re.IGNORECASE | re.DOTALL,
)


def parse_shorthand(text: str) -> Draft:
    """Return the draft that a shorthand text writes down; raises ShorthandError, or DraftError without a place."""
    return _Reader(text).draft()


class _Reader:
    def __init__(self, text: str) -> None:
        self._source = SourceText(text)
        self._statements = self._source.statements(WORDS, _PLAIN)
        self._first: dict[str, Statement] = {}
        for statement in self._statements:
            if statement.word in self._first and statement.word not in _MANY:
                raise self._error(statement, f"{statement.word!r} stands twice", "delete one of the two")
            self._first.setdefault(statement.word, statement)
        self._yarns = YarnReader(self._source, self._statements)

    def draft(self) -> Draft:
        stated = self._stated_shafts()
        threading, blocks = self._threading(stated or MOST_SHAFTS)
        tieup = self._tieup(stated or MOST_SHAFTS)
        self._check_kinds()
        shafts = stated or _shafts_used(threading, tieup)
        picks, sections = self._picks(threading, tieup, shafts)
        lifting = (
            Lifted(tuple(shed_of(pick.moved) for pick in picks))
            if tieup is None
            else Treadled(tieup, tuple(treadle_set(pick.moved) for pick in picks))
        )
        sizes = {word: self._sizes(word, len(threading if "warp" in word else picks)) for word in _SIZES}
        return Draft(
            shafts=shafts,
            threading=threading,
            lifting=lifting,
            yarns=self._yarns.yarns,
            warp=self._yarns.of_warp(len(threading)),
            weft=tuple(0 if pick.yarn is None else pick.yarn for pick in picks),
            rising=self._rising(),
            sections=sections,
            title=self._text("title"),
            author=self._text("author"),
            notes=tuple(one_line(note.rest) for note in self._statements if note.word == "note"),
            warp_layout=Layout(sizes["warp spacing"], sizes["warp thickness"]),
            weft_layout=Layout(sizes["weft spacing"], sizes["weft thickness"]),
            sley=SleyReader(self._source, self._first.get("sley"), self._first.get("reed")).sley(len(threading)),
            blocks=blocks,
        )

    def _error(self, statement: Statement, what: str, mend: str = "") -> ShorthandError:
        return self._source.error(statement.line, statement.column, what, mend)

    def _cursor(self, statement: Statement) -> Cursor:
        return Cursor(self._source, statement.tokens)

    def _text(self, word: str) -> str:
        return one_line(self._first[word].rest) if word in self._first else ""

    def _threading(self, shafts: int) -> tuple[tuple[int | None, ...], tuple[ThreadingBlock, ...]]:
        if "threading" not in self._first:
            raise DraftError("there is no threading", mend="add a line such as: threading: (1 2 3 4)x20")
        numbers: list[int] = []
        blocks: list[ThreadingBlock] = []
        for statement in self._statements:
            if statement.word not in ("threading", "block"):
                continue
            here = Sequences[int](lambda at: number_run(at, "a shaft", shafts)).whole(self._cursor(statement))
            if statement.word == "block":
                blocks.append(ThreadingBlock(self._name(statement, statement.rest), len(here)))
            numbers += here
            if len(numbers) > MOST_THREADS:
                raise self._error(statement, f"up to here there are {len(numbers):,} ends", f"at most {MOST_THREADS:,}")
        if blocks and sum(block.ends for block in blocks) != len(numbers):
            raise self._error(self._first["block"], "ends stand outside the blocks", "begin the threading with a block")
        return tuple(shaft - 1 if shaft else None for shaft in numbers), tuple(blocks)

    def _tieup(self, most: int) -> tuple[Shed, ...] | None:
        if "tie-up" not in self._first:
            return None
        cursor = self._cursor(self._first["tie-up"])
        ties: list[Shed] = []
        while not cursor.at_end:
            if len(ties) == MOST_TREADLES:
                raise self._source.error_at(cursor.next, f"more than {MOST_TREADLES} treadles are tied")
            shafts: list[int] = []
            first = cursor.next
            while not cursor.at_end and cursor.next.text != ",":
                shafts.append(cursor.number("a shaft", most))
            if not shafts:
                raise self._source.error_at(first, "a treadle without shafts", "write 0 where nothing is tied")
            ties.append(shed_of(shaft for shaft in shafts if shaft))
            comma = cursor.next
            if cursor.takes(",") and cursor.at_end:
                raise self._source.error_at(comma, "a treadle is missing behind the comma")
        return tuple(ties)

    def _check_kinds(self) -> None:
        if "lift plan" in self._first:
            for other in ("treadling", "tie-up"):
                if other in self._first:
                    raise self._error(self._first[other], f"{other} and lift plan exclude each other", "keep one")
        elif "tie-up" not in self._first and "treadling" in self._first:
            raise self._error(self._first["treadling"], "a treadling without a tie-up", "add tie-up: 1 2, 3 4")
        elif "treadling" not in self._first and "section" in self._first:
            raise self._error(self._first["section"], "a section before treadling or lift plan", "write that first")

    def _stated_shafts(self) -> int | None:
        if "shafts" not in self._first:
            return None
        cursor = self._cursor(self._first["shafts"])
        first = cursor.next
        shafts = cursor.number("the number of shafts", MOST_SHAFTS)
        if not shafts:
            raise self._source.error_at(first, "a loom without shafts", f"write 1 to {MOST_SHAFTS}")
        cursor.finish()
        return shafts

    def _rising(self) -> bool:
        if "shed" not in self._first:
            return True
        cursor = self._cursor(self._first["shed"])
        word = cursor.take()
        if word.text.lower() not in ("rising", "sinking"):
            raise self._source.error_at(word, f"{word.text[:40]!r} is no shed", "write rising or sinking")
        cursor.finish()
        return word.text.lower() == "rising"

    def _sizes(self, word: str, threads: int) -> tuple[float, ...]:
        return read_sizes(self._source, self._first[word], threads) if word in self._first else ()

    def _picks(
        self, threading: tuple[int | None, ...], tieup: tuple[Shed, ...] | None, shafts: int
    ) -> tuple[list[Pick], tuple[Section, ...]]:
        reader = self._pick_reader(threading, tieup, shafts)
        tabby = self._tabby(reader)
        picks: list[Pick] = []
        sections: list[Section] = []
        for statement in self._statements:
            if statement.word not in ("treadling", "lift plan", "section"):
                continue
            cursor = self._cursor(statement)
            here = [self._thrown(pick, cursor) for pick in reader.read(cursor)]
            if statement.word == "section":
                sections.append(self._section(statement, len(here)))
            picks += here
            if len(picks) > MOST_THREADS:
                raise self._error(statement, f"up to here there are {len(picks):,} picks", f"at most {MOST_THREADS:,}")
        if sections and sum(section.picks for section in sections) != len(picks):
            raise self._error(self._first["section"], "picks stand before the first section", "begin with a section")
        return _with_tabby(picks, tabby), tuple(sections)

    def _pick_reader(
        self, threading: tuple[int | None, ...], tieup: tuple[Shed, ...] | None, shafts: int
    ) -> PickReader:
        most = shafts if tieup is None else len(tieup)
        drawn_in = tuple(shaft + 1 for shaft in threading if shaft is not None)
        possible = len(drawn_in) == len(threading) and max(drawn_in, default=0) <= most
        what = "shaft" if tieup is None else "treadle"
        return PickReader(what, most, self._yarns.named, drawn_in if possible else None, "tabby" in self._first)

    def _tabby(self, reader: PickReader) -> tuple[Pick, Pick] | None:
        if "tabby" not in self._first:
            return None
        cursor = self._cursor(self._first["tabby"])
        named = cursor.next.kind in (TokenKind.WORD, TokenKind.STRING)
        yarn = self._yarns.named(cursor, cursor.take()) if named else self._yarns.usual_weft(cursor)
        first, second = reader.one(cursor), reader.one(cursor)
        cursor.finish()
        return Pick(first, yarn), Pick(second, yarn)

    def _thrown(self, pick: Pick, cursor: Cursor) -> Pick:
        return Pick(pick.moved, self._yarns.usual_weft(cursor)) if pick.yarn is None and not pick.tabby else pick

    def _section(self, statement: Statement, picks: int) -> Section:
        match = _SECTION.fullmatch(statement.rest)
        name, length, laid = match.group("name", "length", "laid") if match else (statement.rest, None, None)
        until_cm = None if length is None else self._until(statement, length)
        try:
            laid_in = () if laid is None else read_laid_in(laid, self._yarns.yarns)
        except DraftError as error:
            raise self._error(
                statement, error.what, f"{error.mend}; a name that has such words stands in quotes"
            ) from error
        return Section(self._name(statement, name), picks, until_cm, laid_in)

    def _until(self, statement: Statement, length: str) -> float:
        try:
            cm = read_length(length)
        except ValueError:
            cm = 0.0
        if not 0 < cm <= LONGEST_CM:
            mend = "write such as: section: Body until 40 cm, or until 16 in"
            raise self._error(statement, f"{length[:40]!r} is no length to weave to", mend)
        return cm

    def _name(self, statement: Statement, written: str) -> str:
        if len(statement.rest) > LONGEST_NAME:
            raise self._error(statement, f"the name of the {statement.word} is too long", "write a short one")
        name = written.strip()
        quoted = len(name) > 1 and name[0] == name[-1] == '"'
        return one_line(name[1:-1].replace('""', '"') if quoted else name)


def _shafts_used(threading: tuple[int | None, ...], tieup: tuple[Shed, ...] | None) -> int:
    used = [shaft + 1 for shaft in threading if shaft is not None]
    return max([1, *used, *(tie.bit_length() for tie in tieup or ())])


def _with_tabby(picks: Sequence[Pick], tabby: tuple[Pick, Pick] | None) -> list[Pick]:
    """Return the picks with the tabby picks in turn: first, second, first, over the whole draft."""
    turn = 0
    whole = []
    for pick in picks:
        if pick.tabby and tabby is not None:
            whole.append(tabby[turn % 2])
            turn += 1
        else:
            whole.append(pick)
    return whole
