"""What the window shows: one place at a time."""

from __future__ import annotations

from collections.abc import Callable

from companion.screens.theme import Sizes


class Place:
    """A widget that the window can show; what a place has no use for does nothing there.

    `leave` is given by whoever shows the place: it goes back to where the weaver came from, where `can_leave`. `settle`
    is given too: the place calls it when something else lies under the finger from now on. `has_help`: the weaver may
    ask what the things on it do.
    """

    has_help: bool = True
    can_leave: bool = False
    leave: Callable[[], None] = staticmethod(lambda: None)
    settle: Callable[[], None] = staticmethod(lambda: None)

    def take_way_back(self, leave: Callable[[], None] | None) -> None:
        """Take what leads back to where the weaver came from; None for a place from which no way leads back."""
        self.can_leave = leave is not None
        self.leave = leave or (lambda: None)

    def go_out(self) -> None:
        """Go back to where the weaver came from; `leave` may be given after a button was made for this."""
        self.leave()

    def go_on(self) -> None:
        """The weaver says "next"."""

    def go_back(self) -> None:
        """The weaver says "back"."""
        self.leave()

    def escape(self) -> None:
        """The weaver wants out of what was begun; never anything that changes cloth or loom."""
        self.go_back()

    @property
    def topics(self) -> tuple[str, ...]:
        """The names of the help for what is on the screen now: its own first, then that of what it belongs to."""
        return ()

    @property
    def hears_next(self) -> bool:
        """Whether "next" by foot or key gives the answer that stands out."""
        return False

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""

    def say(self, line: str) -> None:
        """Show a line for the weaver."""

    def show_pedal(self, words: str) -> None:
        """Show how it stands with the pedal."""

    def feel(self, down: frozenset[int], at_s: float) -> None:
        """Sensors feel these treadles (indices from 0) down since `at_s` (monotonic seconds)."""

    def feel_beat(self, at_s: float) -> None:
        """The beater came at `at_s` (monotonic seconds)."""

    def hear_key(self, code: int) -> bool:
        """Take a key for itself, whatever it usually means; tell whether it did."""
        return False

    def hear_text(self, text: str) -> bool:
        """Take letters from a real keyboard, where a place takes any; tell whether it did."""
        return False
