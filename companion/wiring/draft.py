"""A draft looked over, and changed, in the window before it is put on a loom; a changed one is kept in its own file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.sections import section_at, set_apart
from companion.draft.stretches import Stretch
from companion.draft.units import Units
from companion.present.asking import Asked
from companion.present.outcome_words import not_kept_words
from companion.present.plan_cloth import ask_plan
from companion.present.plan_width import ask_width_first
from companion.present.sections_asked import SectionsTold, ask_section
from companion.present.start import PutOnLoom, SquaresOf, Start
from companion.present.which_loom import ask_loom
from companion.screens.draft import DraftScreen
from companion.screens.flow_place import FlowPlace
from companion.weaving.cloth_plan import ClothWished
from companion.weaving.warp import LoomProfile
from companion.wiring.navigator import Navigator
from companion.wiring.squares import SquaresWay
from companion.workshop.bookmarks import Bookmark, Marked
from companion.workshop.changed_drafts import ChangedDraft
from companion.workshop.places import own_papers
from companion.workshop.plans_kept import keep_plan, plan_of


def look_over(
    ways: Navigator,
    stem: str,
    draft: Draft,
    put_on: Callable[[Draft, PutOnLoom, Path | None], None],
    looms: Callable[[], Sequence[LoomProfile]],
    *,
    file: Path | None = None,
    begun: bool = False,
) -> None:
    """Show the draft of the `file` called `stem`; then `put_on` one of the `looms`, or another, what became of it.

    `put_on` is told in which file that lies. One that is `begun` here is in no file yet, and gets one at once.
    """

    planned = plan_of(draft)

    def told(outcome: Path | OSError | None) -> None:
        ways.window.post(lambda: show_kept(outcome))

    def show_kept(outcome: Path | OSError | None) -> None:
        if isinstance(outcome, OSError):
            screen.say(not_kept_words(outcome))
        else:
            screen.title = stem.replace("-", " ") if outcome is None else outcome.stem

    def keep(changed: Draft) -> bool:
        """See that a changed draft is on disk; tell whether nothing is lost by going on."""
        try:
            changed_draft.keep_now(changed)
        except OSError as error:
            screen.say(not_kept_words(error))
            return False
        return True

    def ask_for_loom(changed: Draft) -> None:
        """Ask for the loom; first how wide the draft shall be, where it has not the ends that are planned."""
        asked = ask_width_first(replace(planned, draft=changed), ways.around.units)
        if asked is None:
            go_to_the_loom(changed)
        else:
            ways.push(lambda: FlowPlace(asked, ways.around, made_wide))

    def made_wide(wished: ClothWished) -> None:
        ways.pop()
        keep_planned(wished)
        go_to_the_loom(screen.draft)

    def go_to_the_loom(changed: Draft) -> None:
        if keep(changed):
            ways.push(lambda: FlowPlace(ask_loom(stem, looms()), ways.around, go_on))

    def go_on(start: Start) -> None:
        if isinstance(start, PutOnLoom):
            if planned.told:
                # The draft may have been changed since it was planned.
                see_kept(replace(planned, draft=screen.draft))
            put_on(screen.draft, start, lies_in())
        elif isinstance(start, SquaresOf):
            SquaresWay(ways, stem, screen.draft, show_square)
        else:
            ways.pop()

    def plan(now: Draft) -> None:
        wished = replace(planned, draft=now)
        asked = ask_plan(wished, f"Plan {stem.replace('-', ' ')}", ways.around.units, keep_planned)
        ways.push(lambda: FlowPlace(asked, ways.around, lambda _: ways.pop()))

    def keep_planned(wished: ClothWished) -> None:
        nonlocal planned
        planned = wished
        if wished.draft is not None and wished.draft != screen.draft:
            screen.take(wished.draft)
        see_kept(wished)

    def see_kept(wished: ClothWished) -> None:
        """See that the plan is found again with its draft; a convenience, which a full disk may refuse."""
        with suppress(OSError):
            keep_plan(wished)

    def section(now: Draft) -> None:
        try:
            asked = _ask_section_of(now, screen.stretch, ways.around.units)
        except DraftError as error:
            screen.say(str(error))
        else:
            ways.push(lambda: FlowPlace(asked, ways.around, told_section))

    def told_section(changed: Draft) -> None:
        ways.pop()
        screen.take(changed)

    def lies_in() -> Path | None:
        return changed_draft.path or file

    def mark() -> Bookmark | None:
        path = lies_in()
        return None if path is None else Bookmark(Marked.DRAFT, str(path))

    def show_square(name: str, square: Draft) -> None:
        look_over(ways, name, square, put_on, looms, begun=True)

    def go(changed: Draft) -> None:
        if keep(changed):
            ways.pop()

    changed_draft = ChangedDraft(stem, None if begun else draft, own_papers(), told)
    screen = DraftScreen(
        stem.replace("-", " "), draft, ways.around, ask_for_loom, go, changed_draft.keep, plan, section
    )
    ways.push(lambda: screen, mark=mark)
    if begun:
        changed_draft.keep(draft)


def _ask_section_of(draft: Draft, marked: Stretch, units: Units) -> Asked[Draft]:
    """Ask about the section that a pick is in, or that several are set apart as; raises DraftError."""
    if marked.number == 1:
        return ask_section(SectionsTold(draft, units), section_at(draft, marked.first))
    apart, index = set_apart(draft, marked.first, marked.last)
    return ask_section(SectionsTold(apart, units), index)
