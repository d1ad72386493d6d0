"""The loom that a command asks for: one of the weaver's own, by name, and options that override parts of it."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from dataclasses import dataclass, replace

from companion.cli.status import CommandError
from companion.draft.masks import common, every_shaft, shafts_of, union
from companion.draft.model import MOST_THREADS, Draft
from companion.present.loom_kinds import KINDS
from companion.remap.aim import Aim
from companion.remap.loom.feet_wish import FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.remap.loom.tieup_text import parse_tieup
from companion.remap.remapped import Remapping
from companion.remap.search.fewest import MOST_TREADLES
from companion.remap.spare_treadles import with_plain_weave
from companion.weaving.warp import NO_NAME, LoomProfile
from companion.workshop import app
from companion.workshop.looms import Looms, LoomsError, loom_named
from companion.workshop.looms_file import load_looms

PRESENT_WORDS = '"1 3,2 4,…"'


@dataclass(frozen=True, slots=True)
class Usual:
    """What a loom is taken to have where neither options nor a profile say: mostly what the draft asks for."""

    shafts: int
    treadles: int | None = None


def add_loom_arguments(
    parser: argparse._ActionsContainer, actions: Iterable[Action] = Action, owned: bool = True
) -> None:
    """Declare the loom's options; `owned`: it may be one of the weaver's looms, by name."""
    if owned:
        parser.add_argument("--loom", metavar="NAME", help="one of your looms (see fellside looms), as it is tied now")
    parser.add_argument("--treadles", type=int, metavar="N", help="treadles of the loom (not for levers)")
    parser.add_argument("--shafts", type=int, metavar="N", help="shafts of the loom")
    actions = tuple(actions)
    ways = [action.value for action in actions]
    parser.add_argument("--action", choices=ways, help=_kinds(actions))
    parser.add_argument("--reach", type=int, choices=(1, 2), help="adjacent treadles under one foot (default 1)")
    places, feet = [place.value for place in TabbyPlace], [foot.value for foot in FirstFoot]
    parser.add_argument("--tabby", choices=places, help="where tabby's treadles lie (default: as loom or settings say)")
    parser.add_argument("--first-foot", choices=feet, help="which foot starts (default: as loom or settings say)")
    parser.add_argument("--present", metavar=PRESENT_WORDS, help="the tie-up now on the loom: change few ties")


def _kinds(actions: Iterable[Action]) -> str:
    kinds = ", ".join(f"{action.value}: {KINDS[action]}" for action in actions)
    return f"what a treadle does to its shafts (default rising; {kinds})"


def add_aim(parser: argparse._ActionsContainer) -> None:
    """Declare what a tie-up is chosen for."""
    parser.add_argument(
        "--aim",
        choices=[aim.value for aim in Aim],
        help="what comes first (default feet; few ties where the tie-up now on the loom is known)",
    )


def add_plain_weave(parser: argparse._ActionsContainer) -> None:
    """Declare that treadles to spare are tied for plain weave."""
    parser.add_argument(
        "--plain-weave", action="store_true", help="tie two free treadles for plain weave, for headings and hems"
    )


def tied_for_plain_weave(draft: Draft, answer: Remapping, profile: LoomProfile) -> Remapping:
    """Return the answer with plain weave on two treadles that it leaves free; raises CommandError without room."""
    tied = with_plain_weave(draft, answer, profile.present)
    if tied is not None:
        return tied
    if answer.tabby is None:
        raise CommandError("--plain-weave: this threading weaves no plain weave")
    raise CommandError("--plain-weave: no two treadles are free for it, or it is tied already; leave it out")


def aim_of(arguments: argparse.Namespace) -> Aim | None:
    """Return what the tie-up is to be chosen for, None where nobody says."""
    return None if arguments.aim is None else Aim(arguments.aim)


def known_looms() -> Looms:
    """Return the weaver's looms; raises CommandError where their file cannot be used."""
    try:
        return load_looms(app.looms_file())
    except LoomsError as error:
        raise CommandError(str(error)) from error


def profile_of(arguments: argparse.Namespace, usual: Usual) -> LoomProfile:
    """Return the loom that `--loom` names, or one without a name, with the options that override it.

    Raises as `overridden` does.
    """
    profile = overridden(arguments, usual, None if arguments.loom is None else loom_named_in(arguments))
    profile = profile.wishing(arguments.wish)
    return replace(profile, loom=replace(profile.loom, wish=_wish(arguments, profile.loom.wish)))


def overridden(arguments: argparse.Namespace, usual: Usual, owned: LoomProfile | None) -> LoomProfile:
    """Return the `owned` loom, or one without a name, with the options that override it; raises CommandError.

    Raises RemapError for a present tie-up that cannot be read.

    A loom of which only some treadles or shafts are asked for keeps the cords of these.
    """
    loom = _loom(arguments, usual, owned)
    if arguments.present is not None:
        present = parse_tieup(arguments.present, loom.action)
        if owned is None and arguments.shafts is None:
            # Where cords hang there is a shaft, whether the draft uses it or not.
            loom = replace(loom, shafts=max((loom.shafts, *_named(present))))
    elif owned is not None and owned.present is not None and owned.loom.action is loom.action:
        present = _cut_to(owned.present, loom)
    else:
        present = None
    return LoomProfile(NO_NAME, loom, present) if owned is None else replace(owned, loom=loom, present=present)


def loom_named_in(arguments: argparse.Namespace) -> LoomProfile:
    """Return the weaver's loom that `--loom` names; raises CommandError that names those there are."""
    try:
        return loom_named(known_looms(), arguments.loom)
    except LoomsError as error:
        raise CommandError(f"--loom: {error}") from error


def heddles_of(text: str, shafts: int) -> tuple[int, ...]:
    """Return the heddles on each shaft: `120,120,80,80`, or one number for all; raises CommandError."""
    words = [word.strip() for word in text.split(",")]
    if not all(word.isascii() and word.isdigit() and int(word[:9]) <= MOST_THREADS for word in words):
        raise CommandError(f"--heddles {text:.40}: give whole numbers with commas between, shaft 1 first")
    return (int(words[0]),) * shafts if len(words) == 1 else tuple(map(int, words))


def _loom(arguments: argparse.Namespace, usual: Usual, owned: LoomProfile | None) -> Loom:
    base = Loom(usual.shafts, usual.treadles or 0) if owned is None else owned.loom
    action = base.action if arguments.action is None else Action(arguments.action)
    shafts = base.shafts if arguments.shafts is None else arguments.shafts
    reach = base.reach if arguments.reach is None else arguments.reach
    if action is Action.LEVERS:
        return Loom(shafts, 0, action, reach)
    wish = _wish(arguments, base.wish)
    treadles = base.treadles if arguments.treadles is None else arguments.treadles
    if arguments.treadles is None and (usual.treadles is None if owned is None else not base.treadles):
        raise CommandError(
            f"how many treadles has the loom? give --treadles N, from 1 to {MOST_TREADLES}, or --loom NAME"
        )
    return Loom(shafts, treadles, action, reach, wish)


def _wish(arguments: argparse.Namespace, other: FeetWish) -> FeetWish:
    """Return what is wished of the feet: as the options say, else as `other` does."""
    return FeetWish(
        other.tabby if arguments.tabby is None else TabbyPlace(arguments.tabby),
        other.first_foot if arguments.first_foot is None else FirstFoot(arguments.first_foot),
    )


def _named(present: TieUp) -> tuple[int, ...]:
    return shafts_of(union(shed for tie in present for shed in (tie.up, tie.down)))


def _cut_to(present: TieUp, loom: Loom) -> TieUp:
    shafts = every_shaft(max(loom.shafts, 0))
    return tuple(Tie(common(tie.up, shafts), common(tie.down, shafts)) for tie in present[: max(loom.treadles, 0)])
