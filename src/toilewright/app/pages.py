"""Pages from templates, with what every page needs: words, unit, look, the tape of steps."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from toilewright.app.since import tape_told
from toilewright.app.steps import Place
from toilewright.app.words import on_page, say
from toilewright.units import show_length

TEMPLATES = Path(__file__).parent / "templates"
UNITS = ("cm", "in")
THEMES = ("auto", "light", "dark")
WITHIN = {"make": "/", "body": "/bodies", "pattern": "/patterns", "thing": "/keeping", "devices": "/keeping"}
"""The place in which a page lies, by the first word of its address."""

_env = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined,
                   trim_blocks=True, lstrip_blocks=True)
_env.globals["w"] = say
_env.filters["on_page"] = on_page


def page(request: Request, template: str, status: int = 200, **context: Any) -> Response:
    """A whole page.

    Args:
        template: file in ``templates``.
        context: what the template shows; `place` (a :class:`Place`) puts the tape of steps of a make on top.
    """
    place = context.pop("place", None)
    tape = tape_told(request.app.state.table, place) if place else ()
    html = _env.get_template(template).render(**(common(request) | {"place": place, "tape": tape} | context))
    return HTMLResponse(html, status)


def fragment(request: Request, template: str, **context: Any) -> str:
    """A part of a page, to be put into one that stands already."""
    return _env.get_template(template).render(**(common(request) | context))


def common(request: Request) -> dict[str, Any]:
    """What every template may use."""
    unit = unit_of(request)
    return {"unit": unit, "theme": theme_of(request), "csrf": getattr(request.state, "csrf", ""),
            "path": request.url.path, "within": WITHIN.get(request.url.path.split("/")[1], ""),
            "length": lambda mm: show_length(mm, unit)}


def unit_of(request: Request) -> str:
    """The unit in which this device shows lengths; on a device that is new here, the one chosen last on any."""
    chosen = request.cookies.get("unit", "")
    table = getattr(getattr(request.scope.get("app"), "state", None), "table", None)
    if chosen not in UNITS and table is not None:
        chosen = table.room.setting("unit")
    return chosen if chosen in UNITS else "cm"


def theme_of(request: Request) -> str:
    """Light, dark, or as the system says."""
    chosen = request.cookies.get("theme", "")
    return chosen if chosen in THEMES else "auto"


def go(address: str) -> Response:
    """On to another page after a change."""
    return RedirectResponse(address, 303)


__all__ = ["Place", "common", "fragment", "go", "page", "unit_of"]
