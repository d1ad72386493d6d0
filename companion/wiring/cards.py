"""A tie-up card saved from the screen that shows the tie-up, which says there where it lies."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import replace

from companion.draft.model import Draft
from companion.present.outcome_words import SAVING, card_words, no_card_words
from companion.remap.remapped import Remapping
from companion.screens.tie_up import TieUpScreen
from companion.weaving.sheet_words import NOTHING_SAID, SheetWords
from companion.wiring.navigator import Navigator
from companion.workshop.places import own_papers
from companion.workshop.saved_cards import save_card


def save_card_of(
    ways: Navigator,
    screen: TieUpScreen,
    name: str,
    draft: Draft,
    answer: Callable[[], Remapping],
    words: SheetWords = NOTHING_SAID,
) -> None:
    """Save the card of a draft where papers are kept, beside the screen, which tells what came of it.

    `answer` is worked out there too; `words` are the teacher's, for the sheet beside it.
    """
    around = ways.around

    def say(line: str) -> None:
        screen.signs = replace(screen.signs, detail=line)

    def save() -> None:
        # A long treadling takes a while to be laid out on paper.
        try:
            page = save_card(name, draft, answer(), around.facing, around.units, own_papers(), words, around.look.trade)
        except OSError as error:
            line = no_card_words(error)
        else:
            line = card_words(page)
        ways.window.post(lambda: say(line))

    say(SAVING)
    threading.Thread(target=save, name="save card", daemon=True).start()
