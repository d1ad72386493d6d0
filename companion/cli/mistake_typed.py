"""A mistake of dressing as it is typed: `m 5`, `m 13-16 mended repair heddle`, `m dent 3 an end too many`."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from companion.cli.typed import whole
from companion.present.dressing_words import look_at_words
from companion.present.mending_words import dent_mending_words, mending_words
from companion.remap.loom.loom import Action
from companion.weaving.decide import Command
from companion.weaving.dressing import Dressing, mistakes_of
from companion.weaving.dressing_commands import find_shed_wrong, note_mistake, put_shed_right
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_mending import dent_mending_of, mending_of
from companion.weaving.errors import WeavingError
from companion.weaving.trial_weave import trial_sheds
from companion.weaving.warp import Warp


class TypedMistake(NamedTuple):
    """Where a mistake is (`first` to `last`, indices of ends, dents when sleying, or sheds), and the words after it."""

    task: DressingTask
    first: int
    last: int
    words: str
    of_sheds: bool = False

    @property
    def asks(self) -> bool:
        """Whether only the way to mend it is asked for."""
        return not self.words

    def noted(self) -> Command:
        """Return the command that notes it: as mended where its words begin so."""
        state, _, how = self.words.partition(" ")
        mended = state.lower() == "mended"
        note = how.strip() if mended else self.words
        if self.of_sheds:
            return partial(put_shed_right if mended else find_shed_wrong, test=self.first, note=note)
        return partial(note_mistake, task=self.task, first=self.first, last=self.last, mended=mended, note=note)


def mistake_typed(warp: Warp, dressing: Dressing, rest: str) -> TypedMistake:
    """Return a mistake as it is typed after `m`; raises WeavingError for ends and dents that are not there."""
    number, _, words = rest.partition(" ")
    if number.lower() == "dent":
        number, _, words = words.strip().partition(" ")
        dent = _among(number, "a dent", mistakes_of(warp, dressing, DressingTask.SLEYING), "no dents are planned")
        return TypedMistake(DressingTask.SLEYING, dent, dent, words.strip())
    if number.lower() == "shed":
        number, _, words = words.strip().partition(" ")
        test = _among(number, "a shed", len(trial_sheds(warp)), "the test weave has no sheds")
        return TypedMistake(DressingTask.TEST_WEAVE, test, test, words.strip(), of_sheds=True)
    first, to, last = number.partition("-")
    ends = sorted((end_typed(warp, first), end_typed(warp, last if to else first)))
    return TypedMistake(DressingTask.THREADING, ends[0], ends[1], words.strip())


def mend_words(warp: Warp, dressing: Dressing, found: TypedMistake) -> str:
    """Return how it is mended."""
    if found.of_sheds:
        return look_at_words(trial_sheds(warp)[found.first], warp.loom.loom.action is Action.LEVERS)
    if found.task is DressingTask.SLEYING:
        return dent_mending_words(dent_mending_of(warp, dressing, found.first))
    return mending_words(mending_of(warp, dressing, found.first, found.last))


def end_typed(warp: Warp, word: str) -> int:
    """Return the end (index) that is typed; raises WeavingError."""
    return _among(word, "an end", warp.pieces[0].draft.ends, "the warp has no ends")


def _among(word: str, one: str, there: int, none: str) -> int:
    number = whole(word, one)
    if not there:
        raise WeavingError(none)
    if number > there:
        raise WeavingError(f"the warp has no {one.split()[-1]} {number}; give 1 to {there}")
    return number - 1
