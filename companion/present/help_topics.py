"""The names of the help for the screens that are no questions; a question names its own (`Asked.topic`).

Each is the heading of a section in assets/help.
"""

from __future__ import annotations

WEAVING = "Weaving"
DRESSING = "Dressing"
CORDS = "Cords to tie"
TIE_UP = "A tie-up"
SIDE_BY_SIDE = "Ways side by side"
MESSAGE = "A message"
RECORD = "The record"
SQUARES = "Squares"
HOW_TIED = "How it is tied"
DRAFT = "A draft"
CHANGING = "Changing a draft"
