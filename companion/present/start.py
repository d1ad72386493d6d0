"""What the start leads to and looks up, as values; `which_warp`, `which_draft` and `which_loom` ask for it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from companion.draft.from_nothing import Begun
from companion.present.asking import Asked
from companion.present.fell import Picture
from companion.remap.loom.loom import Action, Loom
from companion.weaving.warp import LoomProfile

TIDY_UP = "Tidy up"
SETS_OF_PROJECTS = "Sets"


@dataclass(frozen=True, slots=True)
class MenuItem:
    """Something to choose: `key` names it to the program, `words` to the weaver, `detail` says more about it.

    What `detail` says is parted by `BETWEEN`, what matters most first. `picture` shows some of its cloth.
    """

    key: str
    words: str
    detail: str = ""
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Folder:
    """What a folder holds; `ways` lead to other folders, `problem` says why it could not be looked into."""

    name: str
    where: str
    folders: tuple[MenuItem, ...] = ()
    drafts: tuple[MenuItem, ...] = ()
    ways: tuple[MenuItem, ...] = ()
    problem: str = ""


@dataclass(frozen=True, slots=True)
class OpenWarp:
    """Weave on: the warp with this name."""

    name: str


@dataclass(frozen=True, slots=True)
class PutOnLoom:
    """Find out how the weaver's `own` loom, or any with these treadles, weaves the draft with this key."""

    draft: str
    treadles: int
    action: Action
    own: LoomProfile | None = None

    def profile(self, shafts: int) -> LoomProfile:
        """Return the loom; one of which nothing more is known has as many shafts as the draft asks for."""
        return self.own or LoomProfile("loom", Loom(shafts, self.treadles, self.action))


@dataclass(frozen=True, slots=True)
class Settings:
    """Change the settings."""


@dataclass(frozen=True, slots=True)
class WeaveDemo:
    """Weave the demo, which comes along with its loom."""


@dataclass(frozen=True, slots=True)
class LookAtDraft:
    """See the draft with this key, and change it, before it is put on a loom."""

    draft: str


@dataclass(frozen=True, slots=True)
class SquaresOf:
    """Choose a square of the draft with this key, to be a draft of its own."""

    draft: str


@dataclass(frozen=True, slots=True)
class SheetOf:
    """See what is said on the sheet of the draft with this key, and save it."""

    draft: str


@dataclass(frozen=True, slots=True)
class OwnLooms:
    """See and change the looms that the weaver owns."""


@dataclass(frozen=True, slots=True)
class SeeSets:
    """See the sets of drafts and warps, and make more of them."""


@dataclass(frozen=True, slots=True)
class TidyUp:
    """Rename, copy and throw away warps, and put back what was thrown away."""


@dataclass(frozen=True, slots=True)
class PutCopyBack:
    """Put the copy with this key in the place of the journal that cannot be opened, and weave on it."""

    copy: str


@dataclass(frozen=True, slots=True)
class BeginDraft:
    """See and change the draft that was begun from nothing, before it is put on a loom."""

    begun: Begun


Start = (
    OpenWarp
    | WeaveDemo
    | PutOnLoom
    | LookAtDraft
    | SquaresOf
    | SheetOf
    | BeginDraft
    | OwnLooms
    | TidyUp
    | SeeSets
    | Settings
    | PutCopyBack
)


@dataclass(frozen=True, slots=True)
class Around:
    """What the start looks up, each as it is when asked: drafts, a folder by its path (empty for home), the looms.

    The loom that was used last comes first among these. `opened` reads the draft with a key and asks on; one that
    cannot be read is refused on the list that it was chosen from.
    """

    drafts: Callable[[], Sequence[MenuItem]]
    folder: Callable[[str], Asked[Start]]
    looms: Callable[[], Sequence[LoomProfile]]
    opened: Callable[[str], Asked[Start]]
