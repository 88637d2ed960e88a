"""How it goes, and safety: one short page."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.pages import page
from toilewright.app.steps import STEPS


def _page(request: Request) -> Response:
    return page(request, "help.html", steps=[s.key for s in STEPS], keys=KEYS, cares=CARES)


KEYS = (("Tab",), ("Enter",), ("Esc",), ("PageUp", "PageDown"))
"""Keys that mean the same wherever they work."""

CARES = ("blades", "irons", "needles", "cords", "flame")
"""What can hurt somebody."""

ROUTES = [Route("/help", _page)]
