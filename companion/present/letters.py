"""Writing without a keyboard: the keys of a board drawn on the screen, and what becomes of the words with each.

The letters stand as on the keyboards of the three common arrangements (common practice, no source); where another one
has room, the signs and accents of the language that it is made for are on it, or on the second page.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

MOST_LETTERS = 200
"""A note is as long as this and no longer: some four lines on the screen."""


class KeyboardLayout(Enum):
    """How the letters are arranged, by the first six of them."""

    QWERTY = "qwerty"
    QWERTZ = "qwertz"
    AZERTY = "azerty"


class KeyAction(Enum):
    """What a key of the board does."""

    LETTER = "letter"
    SHIFT = "shift"
    PAGE = "page"
    SPACE = "space"
    DELETE = "delete"


@dataclass(frozen=True, slots=True)
class LetterKey:
    """One key: its `words`, the share of its row that it takes (a letter is 1), and the `letter` that it writes."""

    words: str
    press: KeyAction = KeyAction.LETTER
    letter: str = ""
    share: float = 1.0


Rows = tuple[tuple[LetterKey, ...], ...]
"""The board from its top row to its bottom row."""

_LETTERS = {
    KeyboardLayout.QWERTY: ("qwertyuiop", "asdfghjkl'", "zxcvbnm"),
    KeyboardLayout.QWERTZ: ("qwertzuiopü", "asdfghjklöä", "yxcvbnmß"),
    KeyboardLayout.AZERTY: ("azertyuiop", "qsdfghjklm", "wxcvbné"),
}
_SIGNS = {
    KeyboardLayout.QWERTY: ("1234567890", "-/:;()+×%&", '!?"#*@'),
    KeyboardLayout.QWERTZ: ("1234567890", "-/:;()+×%&", "!?\"#*@'"),
    KeyboardLayout.AZERTY: ("1234567890", "-/:;()+×%'", "!?èàçùêô"),
}


@dataclass(frozen=True, slots=True)
class Writing:
    """What stands written: `Writing("Beat ch")`. `capital`: the next letter is one; `signs`: the second page shows."""

    text: str = ""
    capital: bool = True
    signs: bool = False

    def pressed(self, key: LetterKey) -> Writing:
        """Return what stands after a key of the board."""
        match key.press:
            case KeyAction.LETTER | KeyAction.SPACE:
                return self.typed(key.letter)
            case KeyAction.DELETE:
                return self.deleted()
            case KeyAction.SHIFT:
                return replace(self, capital=not self.capital)
            case KeyAction.PAGE:
                return replace(self, signs=not self.signs)

    def typed(self, letters: str) -> Writing:
        """Return what stands after these letters from any keyboard; what is no letter or too many is left out."""
        text = (self.text + "".join(letter for letter in letters if letter.isprintable()))[:MOST_LETTERS]
        return replace(self, text=text, capital=False)

    def deleted(self) -> Writing:
        """Return what stands without its last letter."""
        text = self.text[:-1]
        return replace(self, text=text, capital=not text)


def rows_of(layout: KeyboardLayout, writing: Writing) -> Rows:
    """Return the board as it stands now: letters or signs, capitals or not."""
    rows = (_SIGNS if writing.signs else _LETTERS)[layout]
    upper, middle, lower = ([_letter(letter, writing.capital) for letter in row] for row in rows)
    side = 1.5
    return (
        tuple(upper),
        tuple(middle),
        (LetterKey("Aa", KeyAction.SHIFT, share=side), *lower, LetterKey("Delete", KeyAction.DELETE, share=side + 0.5)),
        (
            LetterKey("abc" if writing.signs else "123", KeyAction.PAGE, share=side),
            LetterKey(",", letter=","),
            LetterKey("space", KeyAction.SPACE, letter=" ", share=4),
            LetterKey(".", letter="."),
        ),
    )


def _letter(letter: str, capital: bool) -> LetterKey:
    # The sharp s has no capital that one key could write.
    shown = letter.upper() if capital and len(letter.upper()) == 1 else letter
    return LetterKey(shown, letter=shown)
