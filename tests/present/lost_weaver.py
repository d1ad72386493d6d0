"""A weaver who has lost the place and knows only her cloth: she answers every page of the find flow truly, by touch.

What she sees is worked out from the draft's own lists. She reads a length off a tape with an error, touches a picture
of the piece beside what she means, and miscounts its repeats by one at times. She answers "Not sure" where a row lies
below the beginning of her cloth, or where she cannot know on which side a shuttle lies. Of pictures side by side she
takes the first that looks like her cloth and is of her section and the repeat that she has counted: where even these
are alike she may be `mistaken`.

A touch is every finger put down after "No, find my place": each key of a number pad, each page turned, each picture.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from companion.draft.masks import is_raised
from companion.present.asking import Answered, Asked
from companion.present.button_words import DONE
from companion.present.piece_map import PieceMap
from companion.weaving.clues import clues_of
from companion.weaving.narrowing import ON_A_PAGE, STEPS
from companion.weaving.pick_table import pick_table

AT_ONCE, PAD = (1, 2, 3), range(1, 8)
SHOWN = ("Is this your cloth?", "Which of these is your cloth?")
TAPE_ERROR = 0.015
EYE_PICKS, FINGER_DP, PICTURE_DP = 2.0, 8.0, (780, 300)
MISCOUNTED = 0.05
ROWS_COMPARED = 16


@dataclass
class LostWeaver:
    """Her cloth ends at the pick `pick` (index), `further` picks on from where the journal has it."""

    warp: object
    pick: int
    further: int | None = None
    chance: random.Random = field(default_factory=lambda: random.Random(1))
    touches: int = 0
    asked_for: list = field(default_factory=list)
    mistaken: bool = False

    def find(self, asked):
        """Answer until the place is told; return what the flow ends in."""
        while isinstance(asked, Asked):
            self.asked_for.append(asked.words)
            asked = self._follow(asked, self._answer(asked))
            assert self.touches < 60, self.asked_for
        assert isinstance(asked, Answered)
        return asked

    def _follow(self, asked, words):
        if isinstance(words, tuple):
            self.touches += 1
            return asked.pointed.leads_to(*words)
        if isinstance(words, list):
            for word in words:
                asked = self._follow(asked, word)
            return asked
        self.touches += 1
        strips, answers = list(asked.strips), list(asked.answers)
        if words in answers:
            # Whatever stands on a later page is a touch further for each page.
            self.touches += answers.index(words) // ON_A_PAGE
            self.mistaken = asked.words in SHOWN and words.rows[0] != self.pick
            return words.leads_to()
        if words in strips:
            return words.leads_to()
        every = (*strips, *answers, *asked.pad, *asked.foot)
        return next(answer for answer in every if answer.words == words).leads_to()

    def _answer(self, asked):
        words = asked.words
        if words == "Where does your cloth end?":
            return self._at_once(asked)
        if asked.strips:
            return self._row_in(asked) or self._none_or_not_sure(asked)
        if words in SHOWN:
            return next(filter(self._looks_like_mine, asked.answers), "None of these")
        if words.startswith("How far is your cloth"):
            return self._off(asked)
        if words.startswith("How did it come"):
            return asked.answers[0]
        if asked.pointed is not None:
            return self._pointed(asked)
        if asked.pad:
            return self._typed(asked)
        return self._in_words(asked)

    def _at_once(self, asked):
        """Say how far off the cloth is where that is on the pad or on its next page; else look at the row."""
        off = self.further or 0
        way, far = ("further" if off > 0 else "back"), abs(off)
        if 0 < far <= max(PAD):
            few = f"{far} {way}"
            return few if far in AT_ONCE else ["4+ off", few]
        return self._row_in(asked) or self._none_or_not_sure(asked)

    def _off(self, asked):
        off = self.pick - asked.rows[0]
        if abs(off) > STEPS:
            return "Further still" if off > 0 else "Further back"
        return f"{off} further" if off > 0 else f"{-off} back" if off else "This is it"

    def _pointed(self, asked):
        """Touch the picture on a 7-inch panel where she sees her fell: eye and finger err."""
        wanted = asked.by_number
        drawn = PieceMap(wanted.least - 1, wanted.most - wanted.least + 1)
        seen = self.pick + round(self.chance.gauss(0, EYE_PICKS))
        repeats = int(self._clues.repeats[self.pick])
        if repeats > 1 and self.chance.random() < MISCOUNTED:
            section = self._clues.section == self._clues.section[self.pick]
            seen += self.chance.choice((-1, 1)) * -(-int(section.sum()) // repeats)
        across, down = drawn.place_of(min(max(seen, wanted.least - 1), wanted.most - 1))
        wide, high = PICTURE_DP
        off_across, off_down = (self.chance.gauss(0, FINGER_DP) for _ in range(2))
        return min(max(across + off_across / wide, 0), 1), min(max(down + off_down / high, 0), 1)

    def _looks_like_mine(self, answer):
        """Tell whether a picture looks like her cloth, and its repeat is hers, which she has counted."""
        pick = answer.rows[0]
        compared = answer.rows[:ROWS_COMPARED]
        clues = self._clues
        if (clues.section[pick], clues.repeat[pick]) != (clues.section[self.pick], clues.repeat[self.pick]):
            return False
        mine = range(self.pick, self.pick - min(ROWS_COMPARED, self.pick + 1), -1)
        return len(mine) == len(compared) and all(map(self._alike, compared, mine))

    def _alike(self, pick, other):
        return self._look(pick) == self._look(other)

    def _row_in(self, asked):
        return next((answer for answer in asked.strips if self._look(answer.rows[0]) == self._look(self.pick)), None)

    def _none_or_not_sure(self, asked):
        return "None of these" if any(answer.words == "None of these" for answer in asked.foot) else "Not sure"

    def _typed(self, asked):
        if asked.words.startswith("Which repeat"):
            return [*str(self._clues.repeat[self.pick] + 1), DONE]
        cm = self._clues.cm[self.pick] * (1 + self.chance.gauss(0, TAPE_ERROR))
        return [*f"{cm:.0f}", DONE]

    def _in_words(self, asked):
        words, piece = asked.words, self._piece
        offered = {answer.words: answer for answer in asked.answers}
        if words.startswith("In which section"):
            section = piece.section_at(self.pick)
            picks, name = piece.section_picks(section), piece.sections[section].name or f"section {section + 1}"
            return offered.get(name) or offered[f"{name}, picks {picks.start + 1} to {picks.stop}"]
        if words.startswith("Which repeat"):
            return offered[str(self._clues.repeat[self.pick] + 1)]
        if words.startswith("How many picks since"):
            weft, since = piece.draft.weft, 1
            while since <= self.pick and weft[self.pick - since] == weft[self.pick]:
                since += 1
            return offered.get(str(since)) or offered.get("More than 20", "Not sure")
        if words.startswith("Where does"):
            return "Not sure"
        row = 0 if "the newest row" in words else int(words.split("the row ")[1].split()[0])
        if row > self.pick:
            return "Not sure"
        if words.startswith("Which weft"):
            return offered[piece.draft.yarns[piece.draft.weft[self.pick - row]].name]
        end = int(words.split("end ")[1].split()[0]) - 1
        return "Over the weft" if self._is_up(self.pick - row, end) else "Under the weft"

    @property
    def _piece(self):
        return self.warp.pieces[0]

    @property
    def _clues(self):
        return clues_of(self._piece, pick_table(self._piece))

    def _look(self, pick):
        draft = self._piece.draft
        colour = draft.yarns[draft.weft[pick]].colour
        return colour, tuple(self._is_up(pick, end) for end in range(draft.ends))

    def _is_up(self, pick, end):
        shaft = self._piece.draft.threading[end]
        return shaft is not None and is_raised(self._piece.sheds[pick], shaft)
