"""Threads as one texture, as large as fits."""

from __future__ import annotations

from companion.screens.widgets.cloth_picture import ClothPicture


class ThreadsPicture(ClothPicture):
    """Shows `image`, a `Picture` of threads; nothing where it is None."""

    def _load(self, *_: object) -> None:
        if self.image is None:
            self.canvas.clear()
        else:
            super()._load()
