"""`fellside find`: every pick that may lie newest in the cloth, from what is seen there."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from companion.cli.seen import seen_rows, shuttles_seen
from companion.cli.sources import load_draft, names_a_warp
from companion.cli.spoken import tell
from companion.cli.status import DONE, NO_SUCH_ANSWER, CommandError
from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.journal.errors import JournalError
from companion.journal.snapshots import progress_of
from companion.present.trade_words import names_in
from companion.weaving.errors import WeavingError
from companion.weaving.finder import MOST_ROWS, Evidence, positions, rows_to_be_sure
from companion.weaving.pick_table import PickTable, pick_table
from companion.weaving.questions import Ask, PlaceQuestion, best_question
from companion.weaving.sides import speak_against
from companion.weaving.state import State
from companion.weaving.uniqueness import rows_that_tell
from companion.weaving.warp import Piece
from companion.workshop import app

SUMMARY = "find the place from what is seen at the fell"
SHOWN = 20
"""How many positions are printed; --json has them all."""
MOST_SINCE_CHANGE = 1_000
"""How many picks of one weft may be counted where the cloth can hold more in a row than the treadling lists."""

_EPILOG = """\
rows: newest last, a comma between; in a row the weft (its name, its number, #rrggbb, several with / between, or ?),
then ends that lie over it, then ends that lie under it, counted from 1 at your first end: sea up 1 4 down 2 3
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the draft, the rows seen, and what else the weaver may know."""
    parser.epilog = _EPILOG
    parser.add_argument("file", metavar="FILE or NAME", help="the draft that is woven, or the name of a warp")
    parser.add_argument("--seen", metavar="ROWS", help='such as "sand, ?, sea up 1 4 down 2", the newest row last')
    parser.add_argument("--since-change", type=int, metavar="N", help="exactly N newest picks have one weft")
    parser.add_argument(
        "--treadle", type=int, metavar="T", help="treadle T was pressed last (of the draft; of the loom, for a warp)"
    )
    parser.add_argument(
        "--shuttles",
        metavar="SIDES",
        help='where shuttles lie, such as "sand left, sea right"; places they fit come first',
    )
    parser.add_argument("--near", type=int, metavar="PICK", help="rank by nearness to this pick")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def run(arguments: argparse.Namespace) -> int:
    """Print the positions that fit, the best next question, and the rows that make sure; 1 where none fits."""
    piece, now = _piece(arguments.file)
    draft = piece.draft
    if draft.picks == 0:
        raise CommandError(f"{arguments.file}: the draft has no picks, so there is no place to find")
    table = pick_table(piece, now)
    evidence = _evidence(arguments, draft, table.pressed.shape[1], woven=now is not None)
    found = positions(table, evidence, None if arguments.near is None else arguments.near - 1)
    answer = _Answer(
        table,
        found,
        against=speak_against(table, evidence.sides, found),
        tell=rows_that_tell(table.look[: table.picks]),
        question=best_question(table, found, treadles=True, known=evidence),
        sure=rows_to_be_sure(table, found),
    )
    if arguments.json:
        print(json.dumps(_document(answer, sides_seen=bool(evidence.sides))))
    else:
        tell(_lines(draft, answer, arguments.facing), arguments.trade, names_in(draft))
    return DONE if len(found) else NO_SUCH_ANSWER


@dataclass(frozen=True, slots=True)
class _Answer:
    """What there is to say: the places found, which of them a shuttle speaks against, and how they are told apart."""

    table: PickTable
    found: NDArray[np.int64]
    against: NDArray[np.bool_]
    tell: NDArray[np.int64]
    question: PlaceQuestion | None
    sure: int | None

    def places(self) -> Iterator[tuple[int, bool]]:
        """Yield each pick found (index), and whether a shuttle speaks against it."""
        return zip(self.table.pick[self.found].tolist(), self.against.tolist(), strict=True)


def _piece(name: str) -> tuple[Piece, State | None]:
    """Return the piece to look at; for a warp, the one on the loom, and how its journal stands."""
    shelf = app.shelf()
    try:
        if not names_a_warp(name, shelf):
            draft = load_draft(name)
            return Piece(draft.title or name, draft), None
        with shelf.open_to_read(name) as journal:
            now = progress_of(journal).now
            return journal.warp.pieces[now.piece], now
    except (JournalError, WeavingError) as error:
        raise CommandError(str(error)) from error


def _evidence(arguments: argparse.Namespace, draft: Draft, treadles: int, woven: bool) -> Evidence:
    if all(said is None for said in (arguments.seen, arguments.since_change, arguments.treadle, arguments.shuttles)):
        raise CommandError('say what you know: --seen "…", --since-change N, --treadle T or --shuttles "…"')
    since, near = arguments.since_change, arguments.near
    over_again = woven or any(section.until_cm is not None for section in draft.sections)
    most = max(draft.picks, MOST_SINCE_CHANGE) if over_again else draft.picks
    if since is not None and not 1 <= since <= most:
        what = "" if over_again else ", the picks of the draft"
        raise CommandError(f"--since-change {since}: give a number from 1 to {most}{what}")
    if near is not None and not 1 <= near <= draft.picks:
        raise CommandError(f"--near {near}: give a number from 1 to {draft.picks}, the picks of the draft")
    if arguments.treadle is not None and not 1 <= arguments.treadle <= treadles:
        mend = (
            f"give 1 to {treadles}, the treadles in use"
            if treadles
            else "no treadle is used, only levers or a lift plan"
        )
        raise CommandError(f"--treadle {arguments.treadle}: {mend}")
    return Evidence(
        rows=() if arguments.seen is None else seen_rows(arguments.seen, draft),
        since_change=arguments.since_change,
        treadle=None if arguments.treadle is None else arguments.treadle - 1,
        sides=() if arguments.shuttles is None else shuttles_seen(arguments.shuttles, draft),
    )


def _document(answer: _Answer, sides_seen: bool) -> dict[str, object]:
    positions_found: list[dict[str, object]] = []
    for pick, against in answer.places():
        entry: dict[str, object] = {
            "newest": pick + 1,
            "next": _next(answer.table, pick),
            "rows": int(answer.tell[pick]),
        }
        if (lap := answer.table.lying.lap_after(pick)) is not None:
            entry["next_lap"] = lap + 1
        positions_found.append(entry | ({"shuttles_against": against} if sides_seen else {}))
    question = answer.question
    return {
        "picks": answer.table.picks,
        "positions": positions_found,
        "rows_to_be_sure": answer.sure,
        "question": None
        if question is None
        else {
            "ask": question.ask.name.lower(),
            "row": question.row + 1,
            "end": None if question.end is None else question.end + 1,
            "left_on_average": round(question.left_on_average, 3),
            "left_at_worst": question.left_at_worst,
        }
        | ({} if question.yarn is None else {"yarn": question.yarn + 1}),
    }


def _next(table: PickTable, pick: int) -> int | None:
    return pick + 2 if pick + 1 < table.picks else None


def _lines(draft: Draft, answer: _Answer, facing: Facing) -> list[str]:
    number, question = len(answer.found), answer.question
    if not number:
        return ["No pick of this draft looks like that. Write ? for the row you are least sure of."]
    lines = [f"{number} of {answer.table.picks} picks may lie newest:"]
    for pick, against in islice(answer.places(), SHOWN):
        weft = draft.yarns[draft.weft[pick]].name
        then = _next(answer.table, pick)
        lap, tell = answer.table.lying.lap_after(pick), answer.tell[pick]
        lines.append(
            f"  pick {pick + 1:>6}  {weft}; {f'next is pick {then}' if then else 'the last one'}"
            f"{'' if lap is None else f', or {lap + 1} in another lap'}; "
            f"{tell} {'row tells' if tell == 1 else 'rows tell'} it from every other"
            f"{'; a shuttle should lie on the other side' if against else ''}"
        )
    if number > SHOWN:
        lines.append(f"  and {number - SHOWN} more; --json lists them all")
    if number > 1 and answer.sure is not None:
        lines.append(f"The newest {answer.sure} rows tell these apart.")
    elif number > 1:
        lines.append(f"Even {MOST_ROWS} rows do not tell all of these apart.")
    if question is not None:
        asked = _asked(draft, question, facing)
        lines.append(f"Most useful to say next: {asked} That leaves {question.left_on_average:.1f} on average.")
    return lines


def _asked(draft: Draft, question: PlaceQuestion, facing: Facing) -> str:
    row = "the newest row" if question.row == 0 else f"row {question.row + 1}, counted from the newest"
    match question.ask:
        case Ask.WEFT:
            return f"which weft is {row}?"
        case Ask.SINCE_CHANGE:
            return "how many picks since the shuttle changed (--since-change)?"
        case Ask.END:
            end = 1 if question.end is None else question.end + 1
            where = f"does end {end} from the {facing.first_end.value} lie over the weft in {row}"
            return f"{where} (up {end}) or under it (down {end})?"
        case Ask.TREADLE:
            return "which treadle was pressed last (--treadle)?"
        case Ask.SIDE:
            name = draft.yarns[0 if question.yarn is None else question.yarn].name
            return f"on which side does the {name} shuttle lie (--shuttles)?"
        case Ask.ROW | Ask.SECTION | Ask.REPEAT | Ask.LENGTH | Ask.POINT:
            raise AssertionError("asked at the loom only")
