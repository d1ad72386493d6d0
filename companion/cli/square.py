"""`fellside square`: the squares of a gamp, and one of them (or any rectangle of a draft) as a draft of its own."""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass
from pathlib import Path

from companion.cli.outputs import write_whole
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.spoken import tell
from companion.cli.status import DONE, CommandError
from companion.draft.colours import parse_colour
from companion.draft.errors import DraftError
from companion.draft.gamp import Area, Gamp, GampStretch, area_of, gamp_of, stretch_called
from companion.draft.masks import print_shed, shafts_of
from companion.draft.model import Draft, Yarn
from companion.draft.shorthand_print import print_shorthand
from companion.draft.square import Finish, square_of
from companion.draft.tabby import tabby_sheds
from companion.draft.units import counted
from companion.draft.wif_write import write_wif
from companion.journal.errors import JournalError
from companion.journal.snapshots import progress_of
from companion.present.square_words import marks_told, named_marks, with_mark
from companion.present.trade_words import names_in
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.state import MarkedSquare
from companion.workshop import app

SUMMARY = "the squares of a gamp, and one of them as a draft of its own"
_AREA = re.compile(r"\s*(\d{1,6})(?:\s*-\s*(\d{1,6}))?\s*,\s*(\d{1,6})(?:\s*-\s*(\d{1,6}))?\s*", re.ASCII)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the draft, the square, its size and finish, and where it is written."""
    parser.add_argument("file", metavar="FILE or NAME", help="a draft, or a warp with what is marked on it")
    parser.add_argument("--piece", type=int, metavar="N", help="of a warp: which piece (default: the one on the loom)")
    parser.add_argument("--block", metavar="B", help="the threading's block, by number or name")
    parser.add_argument("--section", metavar="S", help="the treadling's section, by number or name")
    parser.add_argument("--area", metavar="9-40,1-32", help="these ends and picks, in place of block and section")
    parser.add_argument(
        "--ends", type=int, metavar="N", help="repeat it to N ends besides the selvedges (default: once)"
    )
    parser.add_argument(
        "--picks", type=int, metavar="N", help="repeat it to N picks besides the borders (default: once)"
    )
    parser.add_argument(
        "--balanced", action="store_true", help="let both edges mirror each other; one thread more may do"
    )
    parser.add_argument("--selvedge", type=int, default=0, metavar="N", help="add N ends at each side")
    parser.add_argument(
        "--border", type=int, default=0, metavar="N", help="add N picks of plain weave before and after"
    )
    parser.add_argument(
        "--colour",
        "--color",
        action="append",
        metavar="YARN=COLOUR",
        help="another colour for a yarn, as red=navy or red=#26326e",
    )
    parser.add_argument("--out", metavar="NEW", help="write the draft: NEW.wif, or NEW.txt for shorthand")
    parser.add_argument("--overwrite", action="store_true", help="write over NEW if it is there")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Print the squares; where one is asked for, say what it is and write it."""
    seen = _seen(arguments)
    draft, marked = seen.draft, seen.marked
    gamp = gamp_of(draft)
    asked = any(part is not None for part in (arguments.block, arguments.section, arguments.area))
    if not asked:
        if arguments.out is not None:
            raise CommandError("which square? give --block and --section, or --area; without --out they are listed")
        if arguments.json:
            print(json.dumps(_gamp_document(draft, gamp, marked)))
        else:
            tell(_gamp_lines(seen, gamp), arguments.trade, names_in(draft))
        return DONE
    try:
        area = _area(arguments, draft, gamp)
        square = with_mark(square_of(draft, area, _finish(arguments)), marked, area)
    except DraftError as error:
        raise CommandError(f"{arguments.file}: {error}") from error
    if arguments.out is not None:
        _write(arguments.out, square, arguments.overwrite)
    if arguments.json:
        print(json.dumps(_document(area, square, arguments.out)))
    else:
        tell(_lines(area, square, arguments.out), arguments.trade, (*names_in(draft), *names_in(square)))
    return DONE


@dataclass(frozen=True, slots=True)
class _SquaresSeen:
    """The draft whose squares are asked for, the marks on its cloth, and those on other pieces of the warp.

    `lying`: the picks (indices) that lie in the cloth, where the piece is the one on the loom. `elsewhere`: pieces
    (counted from 1) with marks of their own.
    """

    draft: Draft
    marked: tuple[MarkedSquare, ...] = ()
    lying: Set[int] | None = None
    elsewhere: tuple[int, ...] = ()


def _seen(arguments: argparse.Namespace) -> _SquaresSeen:
    shelf = app.shelf()
    if not arguments.file or not names_a_warp(arguments.file, shelf):
        if arguments.piece is not None:
            raise CommandError("--piece is of a warp; a draft is one piece")
        return _SquaresSeen(load_draft(arguments.file))
    try:
        with shelf.open_to_read(arguments.file) as journal:
            pieces, now = journal.warp.pieces, progress_of(journal).now
    except (JournalError, WeavingError) as error:
        raise CommandError(error_words(error, arguments.units)) from error
    number = now.piece if arguments.piece is None else arguments.piece - 1
    if not 0 <= number < len(pieces):
        raise CommandError(f"--piece {arguments.piece}: this warp has {counted(len(pieces), 'piece')}")
    return _SquaresSeen(
        pieces[number].draft,
        tuple(one for one in now.squares if one.piece == number),
        set(now.cloth.newest_first()) if number == now.piece else None,
        tuple(sorted({one.piece + 1 for one in now.squares} - {number + 1})),
    )


def _area(arguments: argparse.Namespace, draft: Draft, gamp: Gamp) -> Area:
    if arguments.area is None:
        block = None if arguments.block is None else stretch_called(gamp.blocks, arguments.block, "block")
        section = None if arguments.section is None else stretch_called(gamp.sections, arguments.section, "section")
        return area_of(gamp, draft, block, section)
    if arguments.block is not None or arguments.section is not None:
        raise CommandError("--area stands in place of --block and --section; give the one or the others")
    match = _AREA.fullmatch(arguments.area)
    if match is None:
        raise CommandError(f"--area {arguments.area:.40}: write ends, a comma, picks, such as 9-40,1-32")
    first_end, last_end, first_pick, last_pick = (None if number is None else int(number) for number in match.groups())
    return Area((first_end or 0) - 1, last_end or first_end or 0, (first_pick or 0) - 1, last_pick or first_pick or 0)


def _finish(arguments: argparse.Namespace) -> Finish:
    yarns = {}
    for words in arguments.colour or ():
        name, equals, colour_words = words.rpartition("=")
        colour = parse_colour(colour_words.strip())
        if not equals or colour is None:
            raise CommandError(f"--colour {words:.40}: write a yarn, =, and a colour: red=navy or red=#26326e")
        plain = re.fullmatch(r"[A-Za-z]+", colour_words.strip())
        yarns[name.strip()] = Yarn(plain[0].lower() if plain else name.strip(), colour)
    return Finish(
        arguments.ends, arguments.picks, arguments.balanced, arguments.selvedge, arguments.border, yarns or None
    )


def _write(out: str, square: Draft, overwrite: bool) -> None:
    forms = {".wif": lambda: write_wif(square), ".txt": lambda: print_shorthand(square).encode("utf-8")}
    form = forms.get(Path(out).suffix.lower())
    if form is None:
        raise CommandError(f"{out}: give a name that ends in .wif, or in .txt for shorthand")
    if Path(out).exists() and not overwrite:
        raise CommandError(f"{out}: is there already; give another name or --overwrite")
    write_whole(out, form())


def _gamp_lines(seen: _SquaresSeen, gamp: Gamp) -> Iterator[str]:
    read = "" if gamp.named else "; what the draft does not name was found by reading what it repeats"
    yield (
        f"{counted(len(gamp.blocks), 'block')} of the threading by {counted(len(gamp.sections), 'section')} of the "
        f"treadling, {counted(len(gamp.blocks) * len(gamp.sections), 'square')}{read}"
    )
    for what, threads, stretches in (("block", "ends", gamp.blocks), ("section", "picks", gamp.sections)):
        for number, one in enumerate(stretches, 1):
            yield f"  {what} {number}  {one.name}: {threads} {one.first + 1} to {one.last}"
    yield from (f"  {line}" for line in marks_told(seen.draft, seen.marked, seen.lying))
    yield from (f"  piece {piece} has marks too: --piece {piece} shows them" for piece in seen.elsewhere)


def _lines(area: Area, square: Draft, out: str | None) -> Iterator[str]:
    yield (
        f"{square.title}: {counted(square.shafts, 'shaft')}, "
        + (f"{counted(square.treadles, 'treadle')}, " if square.treadles else "")
        + f"{counted(square.ends, 'end')}, {counted(square.picks, 'pick')}"
    )
    yield f"  from ends {area.first_end + 1} to {area.last_end}, picks {area.first_pick + 1} to {area.last_pick}"
    sheds = tabby_sheds(square.threading)
    plain = "none on this threading" if sheds is None else " and ".join(map(print_shed, sheds))
    yield f"  plain weave, by shafts: {plain}"
    if out is not None:
        yield f"  written: {out}"


def _stretches(stretches: Iterable[GampStretch]) -> list[dict[str, object]]:
    return [
        {"number": number, "name": one.name, "first": one.first + 1, "last": one.last}
        for number, one in enumerate(stretches, 1)
    ]


def _gamp_document(draft: Draft, gamp: Gamp, marked: tuple[MarkedSquare, ...]) -> dict[str, object]:
    return {
        "named": gamp.named,
        "blocks": _stretches(gamp.blocks),
        "sections": _stretches(gamp.sections),
        "marked": [
            {
                "name": name,
                "ends": [one.area.first_end + 1, one.area.last_end],
                "picks": [one.area.first_pick + 1, one.area.last_pick],
                "star": one.starred,
                "words": one.text,
            }
            for name, one in named_marks(draft, marked)
        ],
    }


def _document(area: Area, square: Draft, out: str | None) -> dict[str, object]:
    sheds = tabby_sheds(square.threading)
    return {
        "area": {
            "name": area.name,
            "ends": [area.first_end + 1, area.last_end],
            "picks": [area.first_pick + 1, area.last_pick],
        },
        "draft": {
            "title": square.title,
            "shafts": square.shafts,
            "treadles": square.treadles,
            "ends": square.ends,
            "picks": square.picks,
        },
        "plain_weave": None if sheds is None else [list(shafts_of(shed)) for shed in sheds],
        "notes": list(square.notes),
        "out": out,
    }
