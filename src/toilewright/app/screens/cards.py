"""The cards: every alteration by hand at the table, one card each."""

from __future__ import annotations

import hashlib
import tempfile
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.pages import page, unit_of
from toilewright.app.printing import saved_name
from toilewright.app.waiting import waiting
from toilewright.app.words import say
from toilewright.errors import ToilewrightError
from toilewright.fit.result import Card

_ONE, _TWO = (560.0, 420.0), (275.0, 340.0)
"""px; the room of a picture that stands alone, and of each of two."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One card in her words and her unit.

    Attributes:
        key: another one as soon as anything on the card changes, so that no old tick stays.
        pictures: with what stands below them.
        pens: which lines and tints the pictures use, for the key below them.
    """

    key: str
    title: str
    need: tuple[str, ...]
    pictures: tuple[tuple[Markup, str], ...]
    pens: tuple[str, ...]
    steps: tuple[str, ...]
    check: tuple[str, ...]
    source: str


def _page(request: Request) -> Response:
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    place, thing = table.place(make_id, "cards"), table.make(make_id)
    try:
        outcome = table.outcome(make_id, unit=unit)
    except ToilewrightError as problem:
        return waiting(request, table, place, "cards.before_this", problem)
    from toilewright.make.deliver import stops_of

    return page(request, "cards.html", place=place, thing=thing, stops=stops_of(outcome),
                cards=[shown(d.card, unit) for d in outcome.altered.done],
                skipped=[(name, known.reason) for name, known in outcome.skipped])


def shown(card: Card, unit: str) -> Shown:
    """A card as it stands on the page."""
    from toilewright.app.figures import figure_svg
    from toilewright.output.cards import in_her_unit

    def said(text: str) -> str:
        return in_her_unit(text, unit)

    figures = card.figures[:2]
    room = _ONE if len(figures) == 1 else _TWO
    used = {m.pen.value.replace(" ", "-") for f in figures for m in f.marks}
    words = tuple(map(said, (card.title, *card.steps, *card.check)))
    key = hashlib.sha256("\n".join(words).encode()).hexdigest()[:12]
    return Shown(
        key, said(card.title), tuple(map(said, card.need)),
        tuple((figure_svg(f, say("cards.picture", title=f.title), room, show=said), f.title) for f in figures),
        tuple(p for p in ("as-altered", "as-bought", "cut-here", "added-paper") if p in used),
        tuple(map(said, card.steps)), tuple(map(said, card.check)), card.source)


def _pdf(request: Request) -> Response:
    """The cards on paper, in the unit of this device."""
    from toilewright.make.deliver import must_sew
    from toilewright.make.extra_cards import cards_of
    from toilewright.output.cards import write_cards

    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    outcome = table.outcome(make_id, unit=unit)
    must_sew(outcome)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "cards.pdf"
        write_cards(cards_of(outcome), path, unit)
        data = path.read_bytes()
    name = saved_name(outcome.sized.make.title, "cards.pdf")
    return Response(data, media_type="application/pdf", headers={"content-disposition": f'inline; filename="{name}"'})


ROUTES = [Route("/make/{id}/cards", _page), Route("/make/{id}/cards.pdf", _pdf)]
