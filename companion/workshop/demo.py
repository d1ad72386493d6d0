"""The demo: a draft that comes along, on a loom that is dressed and tied for it."""

from __future__ import annotations

from companion.draft.facing import Facing
from companion.workshop import app
from companion.workshop.dressing import dress


def put_demo_on_shelf(facing: Facing | None) -> str:
    """Put the demo on the shelf where no warp of its name is there yet, and return its name; raises JournalError.

    With `facing` its shuttles begin as its check advises.
    """
    if not app.shelf().path(app.DEMO_NAME).is_file():
        drafts = [app.demo_draft()]
        answers = app.answers_for(drafts, app.DEMO_LOOM)
        app.put_on_shelf(dress(app.DEMO_NAME, drafts, app.DEMO_LOOM, answers, facing=facing), tied=True, dressed=True)
    return app.DEMO_NAME
