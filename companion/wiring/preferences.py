"""The settings of this weaver: asked for in the window, kept in their file, and in force at once."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace

from companion.draft.cloth import Surface
from companion.present.outcome_words import settings_not_kept_words
from companion.present.preferences import LeaveSettings, Preferences, SettingsOutcome, Teach
from companion.present.settings_asked import SETTINGS, ask_preferences, ask_words
from companion.screens.flow_place import FlowPlace
from companion.screens.sounds import Sounds
from companion.screens.theme import DARK, THEMES
from companion.wiring.ear import Ear, key_meanings, pedal_settings
from companion.wiring.navigator import Navigator
from companion.wiring.teach import teach
from companion.workshop.bookmarks import Bookmark, Marked
from companion.workshop.places import asset
from companion.workshop.preference_file import load_preferences, preference_file, save_preferences
from companion.workshop.voice import Voice, can_speak
from drivers.discovery import find_ports
from drivers.events import Press
from drivers.keys import KeyLesson


class PreferencesWay:
    """`now` are the settings in force; `sounds` and `voice` follow them, the pedal and the window's looks too."""

    def __init__(self, ways: Navigator, ear: Ear) -> None:
        self._ways = ways
        self._window = ways.window
        self._ear = ear
        self.now = load_preferences(preference_file())
        self.sounds = Sounds(asset, self.now.sounds)
        self.voice = Voice(self.now.voice)
        self._change_looks()

    def close(self) -> None:
        """Fall silent."""
        self.voice.close()

    def listen(self, today: str | None = None) -> None:
        """Listen to the pedal of the settings, or to the one on the serial port named for today."""
        self._ear.listen_to(today or self.now.pedal, self._window, pedal_settings(self.now))

    def ask(self) -> None:
        """Put the settings on the screen; they stay there while they are changed."""
        self._ways.push(self._place, mark=Bookmark(Marked.SETTINGS))

    def _place(self, page: int = 0) -> FlowPlace:
        ports = [port.name for port in find_ports()]
        asked = ask_preferences(self.now, ports, can_speak())
        place = FlowPlace(asked, self._ways.around, self._set, can_cancel=False)
        if place.ask is not None:
            place.ask.turn(page)
        return place

    def turn_cloth(self, surface: Surface) -> None:
        """Remember which surface is drawn at the fell."""
        self.keep_quietly(replace(self.now, cloth=surface))

    def keep_quietly(self, wanted: Preferences) -> None:
        """Remember settings that change nothing of what is on the screen already."""
        self.now = wanted
        # Where it cannot be kept it holds for today: too little a thing to stop a weaver for.
        with suppress(OSError):
            save_preferences(preference_file(), self.now)

    def _set(self, wanted: SettingsOutcome) -> None:
        match wanted:
            case Teach():
                teach(self._ways, self._taught)
            case LeaveSettings():
                self._ways.pop()
            case Preferences():
                self._keep(wanted)

    def _taught(self, lesson: KeyLesson) -> None:
        def codes(wanted: Press) -> tuple[int, ...]:
            return tuple(code for code, press in lesson.meanings.items() if press is wanted)

        # Out of the lesson to the settings.
        self._ways.pop()
        self._keep(replace(self.now, next_keys=codes(Press.ADVANCE), back_keys=codes(Press.BACK)))

    def _keep(self, wanted: Preferences) -> None:
        before, self.now = self.now, wanted
        if wanted.pedal != before.pedal or pedal_settings(wanted) != pedal_settings(before):
            self.listen()
        self.sounds = Sounds(asset, wanted.sounds)
        self.voice.close()
        self.voice = Voice(wanted.voice)
        self._change_looks()
        shown = self._window.place
        page = shown.ask.page_at(SETTINGS) if isinstance(shown, FlowPlace) and shown.ask is not None else 0
        place = self._ways.replace(lambda: self._place(page), mark=Bookmark(Marked.SETTINGS))
        if wanted.trade != before.trade:
            # Each word is chosen by itself, and most weavers who change one look at the others.
            place.lead_on(ask_words(wanted))
        try:
            save_preferences(preference_file(), wanted)
        except OSError as error:
            line = settings_not_kept_words(error)
            self._ways.message(line)

    def _change_looks(self) -> None:
        kept = self.now
        self._window.letters, self._window.units, self._window.facing = kept.letters, kept.units, kept.facing
        self._window.wish = kept.wish
        self._window.over_under = kept.over_under
        self._window.change_looks(THEMES.get(kept.theme, DARK), kept.mirrored, kept.text_scale, kept.trade)
        self._window.motion = kept.motion
        self._ear.believe_after(kept.shortest_pick_ms)
        self._ear.listen_to_keys(self._window, key_meanings(kept), double_tap=kept.double_tap is not None)
