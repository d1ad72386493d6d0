"""The flow that changes the settings, one thing at a touch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.units import Units
from companion.present.asking import Answer, Answered, Asked
from companion.present.button_words import DONE
from companion.present.cautions import PEDAL_CAUTIONS
from companion.present.feet_wish import ask_feet_wish, wish_button
from companion.present.letters import KeyboardLayout
from companion.present.preferences import (
    DARK,
    LARGE_TEXT,
    LIGHT,
    USUAL_TEXT,
    LeaveSettings,
    Preferences,
    SettingsOutcome,
    Teach,
)
from companion.present.trade_words import Trade
from companion.present.weave import WeaveButton
from companion.remap.loom.feet_wish import FeetWish

SETTINGS = "Settings"
SHORTEST_PICKS_MS = (150, 250, 400, 600)


def ask_preferences(now: Preferences, ports: Sequence[str], can_speak: bool) -> Asked[SettingsOutcome]:
    """Ask what to change; every button says how things stand, and a touch changes it.

    `ports` are the serial ports that a pedal may be on, `can_speak` whether a voice is there.
    """
    large = now.text_scale == LARGE_TEXT
    voice = (_switched("Voice", now.voice, replace(now, voice=not now.voice)),) if can_speak else ()
    inches = now.units is Units.INCH
    facing = now.facing
    double_tap = "nothing" if now.double_tap is None else now.double_tap.value
    return Asked(
        SETTINGS,
        (
            _set(f"Screen: {now.theme}", replace(now, theme=LIGHT if now.theme == DARK else DARK)),
            _set(f"Hand: {'left' if now.mirrored else 'right'}", replace(now, mirrored=not now.mirrored)),
            _set(
                f"Text: {'large' if large else 'usual'}",
                replace(now, text_scale=USUAL_TEXT if large else LARGE_TEXT),
            ),
            _switched("Sounds", now.sounds, replace(now, sounds=not now.sounds)),
            _set(
                f"Advance: {'the treadles' if now.advance_by_treadles else 'pedal or touch'}",
                replace(now, advance_by_treadles=not now.advance_by_treadles),
            ),
            Answer(f"Beat counts: {_beat_in_brief(now)}", partial(_ask_beat, now)),
            *voice,
            Answer(f"Pedal: {_pedal_in_brief(now)}", partial(_mind_cautions, now, tuple(ports))),
            Answer(f"Double tap: {double_tap}", partial(_ask_double_tap, now)),
            Answer(f"Double press: {now.shortest_pick_ms / 1000:g} s", partial(_ask_shortest_pick, now)),
            # Put into the weaver's own words like all else, it says which these are.
            Answer("Words: colour, shaft, fault", partial(ask_words, now)),
            _set(
                f"Measure: {'inches' if inches else 'cm'}",
                replace(now, units=Units.METRIC if inches else Units.INCH),
            ),
            Answer(
                f"First end: {facing.first_end.value}, first pick {facing.first_pick.value}",
                partial(_ask_facing, now),
            ),
            Answer(wish_button(now.wish), partial(ask_feet_wish, now.wish, partial(_wished, now))),
            _switched("Motion", now.motion, replace(now, motion=not now.motion)),
            Answer(f"Keyboard: {now.letters.value}", partial(_ask_letters, now)),
            _switched("Over, under", now.over_under, replace(now, over_under=not now.over_under)),
            _set(
                f"Dressing: {'front to back' if now.front_to_back else 'back to front'}",
                replace(now, front_to_back=not now.front_to_back),
            ),
        ),
        foot=(Answer(DONE, partial(_answered, LeaveSettings()), main=True),),
        detail=pedal_words(now),
        topic="Settings",
    )


def pedal_words(now: Preferences) -> str:
    """Return which pedal listens: `pedal on footboard`, and the keys of one that acts as a keyboard."""
    turned = " read the other way round" if now.bare_switch and now.inverted else ""
    heard = [f"the pedal on {_port_words(now.pedal)}{turned}"] if now.pedal else []
    if now.next_keys or now.back_keys:
        heard.append("a pedal that acts as a keyboard, as taught")
    return f"Listening: {', and '.join(heard)}" if heard else "Listening: keys and touch, no pedal of its own"


def _pedal_in_brief(now: Preferences) -> str:
    on_port = {
        (False, False): "one on a board",
        (False, True): "two on a board",
        (True, False): "a bare switch",
        (True, True): "two bare switches",
    }[now.bare_switch, now.two_pedals]
    heard = [*([on_port] if now.pedal else []), *(["keyboard"] if now.next_keys or now.back_keys else [])]
    return ", ".join(heard) or "none"


def _beat_in_brief(now: Preferences) -> str:
    if not now.beater:
        return "no"
    return "with the treadles" if now.beater_with_treadles else "by time"


def _switched(what: str, on: bool, other: Preferences) -> Answer[SettingsOutcome]:
    return _set(f"{what}: {'on' if on else 'off'}", other)


def _wished(now: Preferences, wish: FeetWish) -> Answered[SettingsOutcome]:
    return Answered(replace(now, tabby=wish.tabby, first_foot=wish.first_foot))


def _ask_facing(now: Preferences) -> Asked[SettingsOutcome]:
    return Asked(
        "Where is your first end?",
        tuple(
            Answer(f"At the {side.value}", partial(_ask_first_pick, now, side), main=side is now.facing.first_end)
            for side in (Side.RIGHT, Side.LEFT)
        ),
        detail="as you sit at the loom; drafts, cloth and counts of ends follow it",
    )


def _ask_first_pick(now: Preferences, side: Side) -> Asked[SettingsOutcome]:
    return Asked(
        "Where does a draft have its first pick?",
        tuple(
            _set(at.value.capitalize(), replace(now, facing=Facing(side, at)), main=at is now.facing.first_pick)
            for at in FirstPick
        ),
        detail="at the bottom it runs as the cloth runs on the loom",
    )


def ask_words(now: Preferences) -> Asked[SettingsOutcome]:
    """Ask for one word at a time; each button says how it stands, and its name is never put into other words."""
    trade = now.trade

    def choice(words: str, other: Trade) -> Answer[SettingsOutcome]:
        return Answer(words, partial(_answered, replace(now, trade=other)), own=True)

    return Asked(
        "Which words?",
        (
            choice(
                f"Spelling: {'American' if trade.american else 'British'}", replace(trade, american=not trade.american)
            ),
            choice(
                f"Shafts: called {'harnesses' if trade.harness else 'shafts'}",
                replace(trade, harness=not trade.harness),
            ),
            choice(
                f"Faults: called {'mistakes' if trade.mistake else 'faults'}", replace(trade, mistake=not trade.mistake)
            ),
        ),
        detail="on the screens, on paper, and in the voice",
    )


def _ask_letters(now: Preferences) -> Asked[SettingsOutcome]:
    return Asked(
        "Which keyboard on the screen?",
        tuple(_set(one.value, replace(now, letters=one), main=one is now.letters) for one in KeyboardLayout),
        detail="Named by its first six letters",
    )


def _ask_double_tap(now: Preferences) -> Asked[SettingsOutcome]:
    return Asked(
        "What is a double tap?",
        (
            *(
                _set(button.value, replace(now, double_tap=button), main=button is now.double_tap)
                for button in WeaveButton
            ),
            _set("Nothing", replace(now, double_tap=None), main=now.double_tap is None),
        ),
        detail="With a double tap, a single one is heard a moment later",
    )


def _ask_shortest_pick(now: Preferences) -> Asked[SettingsOutcome]:
    return Asked(
        "How soon can a pick follow?",
        tuple(
            _set(f"{ms / 1000:g} s", replace(now, shortest_pick_ms=ms), main=ms == now.shortest_pick_ms)
            for ms in SHORTEST_PICKS_MS
        ),
        detail="A second press sooner than that is not counted, by touch, key or pedal",
    )


def _mind_cautions(now: Preferences, ports: tuple[str, ...]) -> Asked[SettingsOutcome]:
    go_on: Answer[SettingsOutcome] = Answer("Go on", partial(_ask_pedal, now, ports), main=True)
    return Asked("Before a pedal is wired", (), lines=PEDAL_CAUTIONS, foot=(go_on,), topic="Pedal")


def _ask_beat(now: Preferences) -> Asked[SettingsOutcome]:
    sensed, by_time = (replace(now, beater=True, beater_with_treadles=with_treadles) for with_treadles in (True, False))
    return Asked(
        "Does the beat count the pick?",
        (
            _set("Yes, treadles are sensed", sensed, main=now == sensed),
            _set("Yes, by time alone", by_time, main=now == by_time),
            _set("No", replace(now, beater=False), main=not now.beater),
        ),
        detail="With a switch at the beater; by time alone a beat is now and then taken for a pick",
    )


def _ask_pedal(now: Preferences, ports: tuple[str, ...]) -> Asked[SettingsOutcome]:
    taught = bool(now.next_keys or now.back_keys)
    return Asked(
        "Which pedal?",
        (
            Answer("One that acts as a keyboard", partial(_answered, Teach())),
            *(
                Answer(_port_words(port), partial(_ask_wiring, replace(now, pedal=port)), port == now.pedal, own=True)
                for port in ports
            ),
            _set("No pedal", replace(now, pedal="", next_keys=(), back_keys=()), main=not (now.pedal or taught)),
        ),
        detail=pedal_words(now),
    )


def _ask_wiring(now: Preferences) -> Asked[SettingsOutcome]:
    def board(two: bool) -> Answer[SettingsOutcome]:
        words = "A board with two pedals" if two else "A board with one pedal"
        return _set(words, replace(now, bare_switch=False, two_pedals=two, inverted=False), main=is_now(False, two))

    def switch(two: bool) -> Answer[SettingsOutcome]:
        words = "Two bare switches" if two else "A bare switch"
        wired = replace(now, bare_switch=True, two_pedals=two)
        return Answer(words, partial(_ask_way_round, wired), main=is_now(True, two))

    def is_now(bare: bool, two: bool) -> bool:
        return (bare, two) == (now.bare_switch, now.two_pedals)

    return Asked(
        "What hangs on it?",
        (board(False), board(True), switch(False), switch(True)),
        detail="One pedal: tap for next, hold for back. Two: next and back",
    )


def _ask_way_round(now: Preferences) -> Asked[SettingsOutcome]:
    return Asked(
        "Which way round does it read?",
        (
            _set("The usual way", replace(now, inverted=False), main=not now.inverted),
            _set("The other way round", replace(now, inverted=True), main=now.inverted),
        ),
        detail="The other way, where a pedal at rest weaves by itself: fellside pedal --switch shows it",
    )


def _port_words(port: str) -> str:
    return port.rsplit("/", 1)[-1]


def _set(words: str, preferences: Preferences, main: bool = False) -> Answer[SettingsOutcome]:
    return Answer(words, partial(_answered, preferences), main)


def _answered(result: SettingsOutcome) -> Answered[SettingsOutcome]:
    return Answered(result)
