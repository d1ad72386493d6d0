"""What the weaver has set: looks, hand, text size, pedal; and the flow that changes it, one thing at a touch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from companion.draft.cloth import Surface
from companion.draft.facing import FROM_LEFT, Facing, FirstPick, Side
from companion.draft.units import Units
from companion.present.asking import Answer, Answered, Asked
from companion.present.button_words import DONE
from companion.present.cautions import PEDAL_CAUTIONS
from companion.present.letters import KeyboardLayout
from companion.present.trade_words import Trade
from companion.present.weave import WeaveButton

DARK, LIGHT = "dark", "light"
USUAL_TEXT, LARGE_TEXT = 1.0, 1.3
SHORTEST_PICKS_MS = (150, 250, 400, 600)


@dataclass(frozen=True, slots=True)
class Preferences:
    """The settings; the defaults suit a first start. `pedal` is the name of a serial port, empty for none.

    `double_tap` is what a double tap of the pedal stands for, None for nothing.
    `bare_switch`, `two_pedals` and `inverted` say what hangs on that port: switches on its control lines instead of a
    board, a second pedal for back, switches that read as pressed when they are not.
    `letters` are those of the keyboard on the screen, `cloth` is the surface drawn at the fell, `trade` whose words the
    screens and the voice say, `units` what they measure in, `facing` how this weaver reads drafts and counts ends.
    `next_keys` and `back_keys` are key codes of a pedal that acts as a keyboard, beside the usual ones.
    `shortest_pick_ms`: an advance by touch, key or pedal sooner after the last one is taken for a double press.
    `beater`: a switch at the beater hangs on the contact after the pedals, and a beat weaves the pick;
    `beater_with_treadles`: only where sensors under the treadles have felt the right ones.
    `advance_by_treadles`: where sensors feel the treadles, a pick is woven when the feet come off the right ones.
    """

    theme: str = DARK
    mirrored: bool = False
    text_scale: float = USUAL_TEXT
    pedal: str = ""
    bare_switch: bool = False
    two_pedals: bool = False
    inverted: bool = False
    sounds: bool = True
    advance_by_treadles: bool = False
    voice: bool = False
    double_tap: WeaveButton | None = None
    letters: KeyboardLayout = KeyboardLayout.QWERTY
    cloth: Surface = Surface.FACE
    trade: Trade = Trade.BRITISH
    units: Units = Units.METRIC
    facing: Facing = FROM_LEFT
    next_keys: tuple[int, ...] = ()
    back_keys: tuple[int, ...] = ()
    shortest_pick_ms: int = 250
    beater: bool = False
    beater_with_treadles: bool = False


@dataclass(frozen=True, slots=True)
class Teach:
    """Teach the program the keys of a pedal."""


def ask_preferences(now: Preferences, ports: Sequence[str], can_speak: bool) -> Asked[Preferences | Teach]:
    """Ask what to change; `ports` are the serial ports that a pedal may be on, `can_speak` whether a voice is there."""
    other_theme = LIGHT if now.theme == DARK else DARK
    large = now.text_scale == LARGE_TEXT
    speak = _set("No voice" if now.voice else "Speak the feet", replace(now, voice=not now.voice))
    voice = (speak,) if can_speak else ()
    return Asked(
        "Settings",
        (
            _set(f"{other_theme.capitalize()} screen", replace(now, theme=other_theme)),
            _set("Right-handed" if now.mirrored else "Left-handed", replace(now, mirrored=not now.mirrored)),
            _set("Usual text" if large else "Large text", replace(now, text_scale=USUAL_TEXT if large else LARGE_TEXT)),
            _set("No sounds" if now.sounds else "Sounds", replace(now, sounds=not now.sounds)),
            _set(
                "Advance by pedal or touch" if now.advance_by_treadles else "Advance by the treadles",
                replace(now, advance_by_treadles=not now.advance_by_treadles),
            ),
            Answer("Beat", partial(_ask_beat, now)),
            *voice,
            Answer("Double tap", partial(_ask_double_tap, now)),
            Answer("Double press", partial(_ask_shortest_pick, now)),
            _other_trade(now),
            _other_units(now),
            Answer("How I read", partial(_ask_facing, now)),
            Answer("Pedal", partial(_mind_cautions, now, tuple(ports))),
            Answer("Keyboard", partial(_ask_letters, now)),
        ),
        foot=(Answer(DONE, partial(_answered, now), main=True),),
        detail=f"pedal: {now.pedal or 'none'}",
    )


def _other_trade(now: Preferences) -> Answer[Preferences | Teach]:
    if now.trade is Trade.NORTH_AMERICAN:
        return _set("Say shaft, as in Britain", replace(now, trade=Trade.BRITISH), own=True)
    return _set("Say harness, as in America", replace(now, trade=Trade.NORTH_AMERICAN), own=True)


def _other_units(now: Preferences) -> Answer[Preferences | Teach]:
    if now.units is Units.INCH:
        return _set("Measure in cm", replace(now, units=Units.METRIC))
    return _set("Measure in inches", replace(now, units=Units.INCH))


def _ask_facing(now: Preferences) -> Asked[Preferences | Teach]:
    return Asked(
        "Where is your first end?",
        tuple(
            Answer(f"At the {side.value}", partial(_ask_first_pick, now, side), main=side is now.facing.first_end)
            for side in (Side.RIGHT, Side.LEFT)
        ),
        detail="as you sit at the loom; drafts, cloth and counts of ends follow it",
    )


def _ask_first_pick(now: Preferences, side: Side) -> Asked[Preferences | Teach]:
    return Asked(
        "Where has a draft its first pick?",
        tuple(
            _set(at.value.capitalize(), replace(now, facing=Facing(side, at)), main=at is now.facing.first_pick)
            for at in FirstPick
        ),
        detail="at the bottom it runs as the cloth runs on the loom",
    )


def _ask_letters(now: Preferences) -> Asked[Preferences | Teach]:
    return Asked(
        "Which keyboard on the screen?",
        tuple(_set(one.value, replace(now, letters=one), main=one is now.letters) for one in KeyboardLayout),
        detail="Named by its first six letters",
    )


def _ask_double_tap(now: Preferences) -> Asked[Preferences | Teach]:
    return Asked(
        "What is a double tap?",
        (
            *(_set(button.value, replace(now, double_tap=button)) for button in WeaveButton),
            _set("Nothing", replace(now, double_tap=None), main=True),
        ),
        detail="With a double tap, a single one is heard a moment later",
    )


def _ask_shortest_pick(now: Preferences) -> Asked[Preferences | Teach]:
    return Asked(
        "How soon can a pick follow?",
        tuple(
            _set(f"{ms / 1000:g} s", replace(now, shortest_pick_ms=ms), main=ms == now.shortest_pick_ms)
            for ms in SHORTEST_PICKS_MS
        ),
        detail="A second press sooner than that is not counted, by touch, key or pedal",
    )


def _mind_cautions(now: Preferences, ports: tuple[str, ...]) -> Asked[Preferences | Teach]:
    go_on: Answer[Preferences | Teach] = Answer("Go on", partial(_ask_pedal, now, ports), main=True)
    return Asked("Before a pedal is wired", (), lines=PEDAL_CAUTIONS, foot=(go_on,))


def _ask_beat(now: Preferences) -> Asked[Preferences | Teach]:
    return Asked(
        "Does a beat weave the pick?",
        (
            _set("Yes, treadles are sensed", replace(now, beater=True, beater_with_treadles=True)),
            _set("Yes, by time alone", replace(now, beater=True, beater_with_treadles=False)),
            _set("No", replace(now, beater=False), main=True),
        ),
        detail="With a switch at the beater; by time alone a beat is now and then taken for a pick",
    )


def _ask_pedal(now: Preferences, ports: tuple[str, ...]) -> Asked[Preferences | Teach]:
    return Asked(
        "Which pedal?",
        (
            Answer("One that acts as a keyboard", partial(_answered, Teach())),
            *(Answer(_port_words(port), partial(_ask_wiring, replace(now, pedal=port))) for port in ports),
            _set("No pedal", replace(now, pedal=""), main=not ports),
        ),
    )


def _ask_wiring(now: Preferences) -> Asked[Preferences | Teach]:
    def board(two: bool) -> Answer[Preferences | Teach]:
        words = "A board with two pedals" if two else "A board with one pedal"
        return _set(words, replace(now, bare_switch=False, two_pedals=two, inverted=False), main=not two)

    def switch(two: bool) -> Answer[Preferences | Teach]:
        words = "Two bare switches" if two else "A bare switch"
        return Answer(words, partial(_ask_way_round, replace(now, bare_switch=True, two_pedals=two)))

    return Asked(
        "What hangs on it?",
        (board(False), board(True), switch(False), switch(True)),
        detail="One pedal: tap for next, hold for back. Two: next and back",
    )


def _ask_way_round(now: Preferences) -> Asked[Preferences | Teach]:
    return Asked(
        "Which way round does it read?",
        (
            _set("The usual way", replace(now, inverted=False), main=True),
            _set("The other way round", replace(now, inverted=True)),
        ),
        detail="The other way, where a pedal at rest weaves by itself: fellside pedal --switch shows it",
    )


def _port_words(port: str) -> str:
    return port.rsplit("/", 1)[-1]


def _set(words: str, preferences: Preferences, main: bool = False, own: bool = False) -> Answer[Preferences | Teach]:
    return Answer(words, partial(_answered, preferences), main, own=own)


def _answered(result: Preferences | Teach) -> Answered[Preferences | Teach]:
    return Answered(result)
