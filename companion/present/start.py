"""The start flow: which warp to weave on, or which draft to put on which loom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from companion.present.asking import Answer, Answered, Asked
from companion.remap.loom import Action, Loom
from companion.weaving.warp import LoomProfile

PAGE = 5
"""Choices on one page: few enough to read and to hit from the bench."""
TREADLES = (4, 6, 8, 10, 12, 14)
"""Treadles that floor looms are commonly built with (common practice, no source)."""
_ACTIONS = {
    "Only raise shafts": Action.RISING,
    "Only sink shafts": Action.SINKING,
    "Raise some and sink the rest": Action.COUNTERMARCHE,
}


@dataclass(frozen=True, slots=True)
class Choice:
    """Something to choose: `key` names it to the program, `words` to the weaver."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class OpenWarp:
    """Weave on: the warp with this name."""

    name: str


@dataclass(frozen=True, slots=True)
class PutOnLoom:
    """Find out how a loom with these treadles weaves the draft with this key."""

    draft: str
    treadles: int
    action: Action

    def profile(self, shafts: int) -> LoomProfile:
        """Return the loom, of which nothing more is known, with as many shafts as the draft asks for."""
        return LoomProfile("loom", Loom(shafts, self.treadles, self.action))


@dataclass(frozen=True, slots=True)
class Settings:
    """Change the settings."""


@dataclass(frozen=True, slots=True)
class LookAtDraft:
    """See the draft with this key, and change it, before it is put on a loom."""

    draft: str


Start = OpenWarp | PutOnLoom | LookAtDraft | Settings


def ask_start(warps: Sequence[Choice], drafts: Sequence[Choice]) -> Asked[Start]:
    """Ask for a warp to weave on, last used first, or for a new one."""
    new: Answer[Start] = Answer("A new warp", partial(ask_draft, drafts), main=not warps)
    settings: Answer[Start] = Answer("Settings", partial(_chosen, Settings()))
    if not warps:
        return Asked("Nothing is on the loom yet", (new, settings), detail="Begin with a draft: your own, or the demo")
    return _page("Which warp?", warps, 0, lambda warp: _chosen(OpenWarp(warp.key)), (new, settings))


def ask_draft(drafts: Sequence[Choice]) -> Asked[Start]:
    """Ask which draft to weave."""
    if not drafts:
        return Asked("No draft was found", (), detail="Put a WIF file into Documents, Downloads or on a USB stick")
    return _page("Which draft?", drafts, 0, lambda draft: ask_loom(draft.key), ())


def ask_loom(draft: str) -> Asked[Start]:
    """Ask for the loom: its treadles, then what they do."""
    counts: list[Answer[Start]] = [
        Answer(f"{count} treadles", partial(_ask_action, draft, count), main=count == 6) for count in TREADLES
    ]
    levers: Answer[Start] = Answer("Levers, no treadles", partial(_chosen, PutOnLoom(draft, 1, Action.LEVERS)))
    look: Answer[Start] = Answer("Look at the draft", partial(_chosen, LookAtDraft(draft)))
    return Asked("How many treadles has your loom?", (*counts, levers, look))


def _ask_action(draft: str, treadles: int) -> Asked[Start]:
    return Asked(
        "What do its treadles do?",
        tuple(
            Answer(words, partial(_chosen, PutOnLoom(draft, treadles, action)), main=action is Action.RISING)
            for words, action in _ACTIONS.items()
        ),
        detail="A treadle pulls the shafts tied to it up, or down, or each its own way",
    )


def _chosen(start: Start) -> Answered[Start]:
    return Answered(start)


def _page(
    words: str,
    choices: Sequence[Choice],
    first: int,
    follow: Callable[[Choice], Asked[Start] | Answered[Start]],
    others: tuple[Answer[Start], ...],
) -> Asked[Start]:
    shown = choices[first : first + PAGE]
    answers = [
        Answer(choice.words, partial(follow, choice), main=index == first == 0) for index, choice in enumerate(shown)
    ]
    if len(choices) > PAGE:
        after = first + PAGE if first + PAGE < len(choices) else 0
        answers.append(Answer("More", partial(_page, words, choices, after, follow, others)))
    return Asked(words, (*answers, *others), detail=f"{len(choices)} to choose from" if len(choices) > PAGE else "")
