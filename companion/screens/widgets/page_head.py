"""The head of a page: a line of what it is about and a few lines of more; as high on every page, whatever is said."""

from __future__ import annotations

from kivy.lang import Builder
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.grow_label import GrowLabel


class PageHead(BoxLayout):  # type: ignore[misc]
    """Holds a `HeadLine` and a `DetailLine`."""

    sizes = ObjectProperty(None, rebind=True)


class HeadLine(FitLabel):
    """What a page is about, at the theme's title size; what is long stands in words."""

    sizes = ObjectProperty(None, rebind=True)


class DetailLine(GrowLabel):
    """More about it, also where news is told that moves nothing: two lines, or three where need be."""

    sizes = ObjectProperty(None, rebind=True)


Builder.load_string("""
<PageHead>:
    orientation: 'vertical'
    size_hint_y: None
    height: self.sizes.word * 4.9 if self.sizes else 0
<HeadLine>:
    wanted_size: self.sizes.title if self.sizes else 1
    lesser_size: self.sizes.word if self.sizes else 1
    bold: True
    halign: 'center'
    valign: 'middle'
<DetailLine>:
    least_height: self.sizes.word * 2.4 if self.sizes else 0
    most_height: self.sizes.word * 3.65 if self.sizes else 0
    wanted_size: self.sizes.word if self.sizes else 1
    halign: 'center'
    valign: 'middle'
""")
