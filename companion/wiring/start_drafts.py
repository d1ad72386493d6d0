"""From the choice of drafts on: a draft read from its file, looked over, and put on a loom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from companion.draft.from_nothing import Begun
from companion.draft.model import Draft
from companion.present.new_draft import NEW_DRAFT
from companion.present.outcome_words import reading_words
from companion.present.start import PutOnLoom
from companion.screens.flow_place import FlowPlace
from companion.weaving.warp import LoomProfile
from companion.wiring.background import on_with
from companion.wiring.draft import look_over
from companion.wiring.navigator import Navigator
from companion.wiring.sheets import show_sheet_of_draft
from companion.wiring.squares import SquaresWay
from companion.wiring.tie_up import try_loom
from companion.workshop.draft_files import DraftFileError, name_of_draft, read_draft_file


class ChosenDraft:
    """What is done with a draft that was chosen; `weave` opens a warp by its name, `looms` are those to choose from.

    `back` asks for the loom of the draft with a key once more, when the weaver has come back to the start.
    """

    def __init__(
        self,
        ways: Navigator,
        weave: Callable[[str], None],
        looms: Callable[[], Sequence[LoomProfile]],
        back: Callable[[str], None],
    ) -> None:
        self._back = back
        self._ways = ways
        self._weave = weave
        self._looms = looms
        self._last: tuple[tuple[Path, int, int] | None, Draft] | None = None

    def put_on(self, side: FlowPlace, wanted: PutOnLoom) -> None:
        """Find out how a loom weaves the draft in the file that was chosen at `side`."""

        def use(name: str, draft: Draft) -> None:
            path, profile = Path(wanted.draft), wanted.profile(draft.shafts)
            try_loom(self._ways, name, draft, profile, self._weave, path, path, partial(self._back, wanted.draft))

        self._with_draft(side, wanted.draft, use)

    def look_at(self, side: FlowPlace, key: str) -> None:
        """Show the draft in the file `key`, to be changed before it is put on a loom."""
        self._with_draft(side, key, lambda name, draft: self._look_at_draft(key, name, draft))

    def look_at_squares(self, side: FlowPlace, key: str) -> None:
        """Let the weaver choose one of the squares of the draft in the file `key`."""
        self._with_draft(side, key, lambda _name, draft: self._look_at_squares(key, draft))

    def look_at_sheet(self, side: FlowPlace, key: str) -> None:
        """Show what is said on the sheet of the draft in the file `key`."""

        def use(name: str, draft: Draft) -> None:
            # The way back leads to the draft, as from its squares.
            self._look_at_draft(key, name, draft)
            show_sheet_of_draft(self._ways, Path(key))

        self._with_draft(side, key, use)

    def look_at_new(self, begun: Begun) -> None:
        """Show a draft that was begun from nothing."""
        look_over(
            self._ways,
            NEW_DRAFT,
            begun.draft(),
            put_on=lambda draft, wanted, path: self._try_loom(NEW_DRAFT, draft, wanted.profile(draft.shafts), path),
            looms=self._looms,
            begun=True,
        )

    def _with_draft(self, side: FlowPlace, key: str, use: Callable[[str, Draft], None]) -> None:
        """Read the draft file `key` and use it under its title; a file that cannot be read is told of."""
        path = Path(key)

        def read() -> Draft | DraftFileError:
            return self._read(path)

        def go_on(found: Draft | DraftFileError) -> None:
            if isinstance(found, Draft):
                use(name_of_draft(found, path), found)
            else:
                self._ways.message(f"{path.name}: {found}")

        on_with(self._ways, side, reading_words(path.name), read, go_on)

    def refusal(self, key: str) -> str:
        """Return why the draft in the file `key` cannot be taken; empty where it can. A large one takes seconds."""
        path = Path(key)
        found = self._read(path)
        return f"{path.name}: {found}" if isinstance(found, DraftFileError) else ""

    def _read(self, path: Path) -> Draft | DraftFileError:
        """Read a file, or have the draft that was read from it last, where it has not changed since."""
        mark = _mark_of(path)
        if self._last is not None and mark is not None and self._last[0] == mark:
            return self._last[1]
        try:
            draft = read_draft_file(path).draft
        except DraftFileError as error:
            return error
        self._last = mark, draft
        return draft

    def _look_at_draft(self, key: str, name: str, draft: Draft) -> None:
        look_over(
            self._ways,
            Path(key).stem,
            draft,
            put_on=lambda changed, wanted, path: try_loom(
                self._ways, name, changed, wanted.profile(changed.shafts), self._weave, Path(key), path
            ),
            looms=self._looms,
            file=Path(key),
        )

    def _look_at_squares(self, key: str, draft: Draft) -> None:
        SquaresWay(self._ways, Path(key).stem, draft, self.show_square)

    def show_square(self, name: str, square: Draft) -> None:
        """Show a square of a gamp that was made a draft; it is kept in a file of this name."""
        look_over(
            self._ways,
            name,
            square,
            put_on=lambda changed, wanted, path: self._try_loom(
                changed.title, changed, wanted.profile(changed.shafts), path
            ),
            looms=self._looms,
            begun=True,
        )

    def show_again(self, file: Path) -> None:
        """Show the draft in this file, as it was shown before the program ended; raises DraftFileError."""
        draft = read_draft_file(file).draft
        self._look_at_draft(str(file), name_of_draft(draft, file), draft)

    def search_again(self, file: Path, loom: LoomProfile) -> None:
        """Look once more for a tie-up of the draft in this file on this loom; raises DraftFileError."""
        draft = read_draft_file(file).draft
        try_loom(self._ways, name_of_draft(draft, file), draft, loom, self._weave, file, file)

    def _try_loom(self, name: str, draft: Draft, profile: LoomProfile, lies_in: Path | None) -> None:
        try_loom(self._ways, name, draft, profile, self._weave, lies_in=lies_in)


def _mark_of(path: Path) -> tuple[Path, int, int] | None:
    """Return what tells a file from what it was before; None where it is not there."""
    try:
        stat = path.stat()
    except OSError:
        return None
    return path, stat.st_mtime_ns, stat.st_size
