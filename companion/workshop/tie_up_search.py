"""The search for a tie-up while the screen lives on: told how far it is, and stopped by a touch."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import replace

from companion.draft.model import Draft
from companion.present.tie_up_choices import WeavingChoice, choices_of, with_spares_tied
from companion.remap.errors import RemapError
from companion.remap.remapped import Remapping
from companion.remap.remapping import remap
from companion.remap.search.answers import SearchProgress
from companion.weaving.warp import LoomProfile


class TieUpSearch:
    """The search for a tie-up in a thread of its own; `choices` or `problem` stands when it has ended.

    Where it takes long a first answer stands there before. Then the other ways are worked out in turn, each as
    thoroughly as the first.
    """

    def __init__(self, draft: Draft, profile: LoomProfile) -> None:
        self.draft = draft
        self.profile = profile
        self.choices: tuple[WeavingChoice, ...] = ()
        self.problem = ""
        self._stopped = threading.Event()
        self._left = threading.Event()

    def start(self, progressed: Callable[[SearchProgress], None], found: Callable[[], None]) -> None:
        """Begin; both are called from the search's thread, `found` whenever more is known to choose from."""
        threading.Thread(target=self._search, args=(progressed, found), name="tie-up search", daemon=True).start()

    def stop(self) -> None:
        """Let the search for this loom end soon with what it knows."""
        self._stopped.set()

    def leave(self) -> None:
        """Let everything end soon: nobody waits for it."""
        self._left.set()
        self._stopped.set()

    def _search(self, progressed: Callable[[SearchProgress], None], found: Callable[[], None]) -> None:
        def first(answer: Remapping) -> None:
            self.choices = choices_of(answer, self.profile)[:1]
            found()

        try:
            answer = remap(
                self.draft,
                self.profile.loom,
                present=self.profile.present,
                should_stop=self._stopped.is_set,
                progress=lambda progress: None if self.choices else progressed(progress),
                so_far=first,
            )
        except RemapError as error:
            self.problem = str(error)
            found()
            return
        self.choices = with_spares_tied(choices_of(answer, self.profile), self.draft)
        found()
        for number in range(1, len(self.choices)):
            if self._left.is_set():
                return
            self._work_out(number)
            found()

    def _work_out(self, number: int) -> None:
        choice = self.choices[number]
        if choice.answer is not None:
            return
        try:
            answer = remap(
                self.draft,
                choice.profile.loom,
                present=choice.profile.present,
                aim=choice.aim,
                face_down=choice.face_down,
                should_stop=self._left.is_set,
            )
            known = replace(choice, answer=answer)
        except RemapError as error:
            known = replace(choice, problem=str(error))
        choices = list(self.choices)
        choices[number] = known
        # Set whole: the window's thread reads it meanwhile.
        self.choices = tuple(choices)
