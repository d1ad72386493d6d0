"""Fellside, a loom-side companion for handweavers.

For another program this is the front door: read a draft, say what the loom is, and ask how the loom weaves it.
`remap` here is the function; the room of that name is reached by its modules (`from companion.remap.proof import ...`).
Neither a window nor a serial port is loaded.
"""

from companion.draft.cloth import interlacement
from companion.draft.errors import DraftError
from companion.draft.masks import shafts_of, treadles_of
from companion.draft.model import Draft
from companion.draft.reading import read_draft
from companion.remap.aim import Aim
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Footing, Loom, Tie
from companion.remap.remapped import Remapping, Verdict
from companion.remap.remapping import remap

__version__ = "0.1.0"

__all__ = [
    "Action",
    "Aim",
    "Draft",
    "DraftError",
    "Footing",
    "Loom",
    "RemapError",
    "Remapping",
    "Tie",
    "Verdict",
    "__version__",
    "interlacement",
    "read_draft",
    "remap",
    "shafts_of",
    "treadles_of",
]
