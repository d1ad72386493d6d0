"""The search for a tie-up while the screen lives on: told how far it is, and stopped by a touch."""

from __future__ import annotations

import threading
from collections.abc import Callable

from companion.draft.model import Draft
from companion.remap.answers import Progress
from companion.remap.errors import RemapError
from companion.remap.remapped import Remapping
from companion.remap.remapping import remap
from companion.weaving.warp import LoomProfile


class TieUpSearch:
    """The search for a tie-up in a thread of its own; `answer` or `problem` stands when it has ended."""

    def __init__(self, draft: Draft, profile: LoomProfile) -> None:
        self.draft = draft
        self.profile = profile
        self.answer: Remapping | None = None
        self.problem = ""
        self._stopped = threading.Event()

    def start(self, progressed: Callable[[Progress], None], ended: Callable[[], None]) -> None:
        """Begin; both are called from the search's thread."""
        threading.Thread(target=self._search, args=(progressed, ended), name="tie-up search", daemon=True).start()

    def stop(self) -> None:
        """Let the search end soon with what it knows."""
        self._stopped.set()

    def _search(self, progressed: Callable[[Progress], None], ended: Callable[[], None]) -> None:
        try:
            self.answer = remap(
                self.draft,
                self.profile.loom,
                present=self.profile.present,
                should_stop=self._stopped.is_set,
                progress=progressed,
            )
        except RemapError as error:
            self.problem = str(error)
        ended()
