"""The help inside: what each thing on the page in the window does, and which key or pedal does it too."""

from __future__ import annotations

from companion.present.help_pages import EVERY_PAGE, NEXT, HelpPage, help_page
from companion.present.press_words import following
from companion.present.trade_words import in_trade_words
from companion.screens.help import HelpScreen, things_on
from companion.screens.place import Place
from companion.wiring.ear import key_meanings
from companion.wiring.navigator import Navigator
from companion.wiring.preferences import PreferencesWay
from companion.workshop.help_files import help_sections
from drivers.events import Press
from drivers.keys import key_names


class HelpWay:
    """Shows the help over the page that the weaver looks at, and leads back to that very page."""

    def __init__(self, ways: Navigator, kept: PreferencesWay) -> None:
        self._ways = ways
        self._kept = kept

    def show(self) -> None:
        """Show the help for what is on the screen now."""
        beneath = self._ways.window.place
        page = self.page_for(beneath)
        self._ways.look_aside(lambda: HelpScreen(page, beneath, self._ways.around))

    def page_for(self, place: Place) -> HelpPage:
        """Return the help for this place as it is now, in the weaver's own words."""
        now = self._kept.now
        meanings = key_meanings(now)
        keys = (key_names(meanings, press) for press in (Press.ADVANCE, Press.BACK))
        things = [*things_on(place), *([NEXT] if place.hears_next else [])]
        sections = {
            name: in_trade_words(section, now.trade)
            for name, section in help_sections().items()
            if name in place.topics or name == EVERY_PAGE
        }
        return help_page(sections, place.topics, things, following(now, *keys))
