"""All pictures of one kind on one sheet, each a third as large, named by the order they were taken in."""

from __future__ import annotations

from pathlib import Path

import numpy as np

_SHARE = 3
_ACROSS = 6
_GAP = 8
_PAPER = 128


def save_sheet(taken: dict[str, Path], path: Path) -> None:
    """Put these pictures, alike in size, on one sheet in rows of six."""
    from kivy.core.image import Image
    from kivy.graphics.texture import Texture

    small = [_smaller(Image(str(picture), nocache=True).texture) for picture in taken.values()]
    height, width, _ = small[0].shape
    rows = -(-len(small) // _ACROSS)
    sheet = np.full((rows * (height + _GAP) + _GAP, _ACROSS * (width + _GAP) + _GAP, 4), _PAPER, np.uint8)
    for number, one in enumerate(small):
        top = _GAP + number // _ACROSS * (height + _GAP)
        left = _GAP + number % _ACROSS * (width + _GAP)
        sheet[top : top + height, left : left + width] = one
    whole = Texture.create(size=(sheet.shape[1], sheet.shape[0]), colorfmt="rgba")
    whole.blit_buffer(np.flipud(sheet).tobytes(), colorfmt="rgba", bufferfmt="ubyte")
    Image(whole).save(str(path), flipped=True)


def _smaller(texture) -> np.ndarray:
    """Return a texture's pixels, each the mean of a square of them."""
    width, height = texture.size
    pixels = np.frombuffer(texture.pixels, np.uint8).reshape(height, width, 4)
    height, width = height // _SHARE * _SHARE, width // _SHARE * _SHARE
    squares = pixels[:height, :width].reshape(height // _SHARE, _SHARE, width // _SHARE, _SHARE, 4)
    return squares.mean(axis=(1, 3)).astype(np.uint8)
