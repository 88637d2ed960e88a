"""Corners and notches on the cloth step: how the allowance is cut there, tried on the pieces first."""

from __future__ import annotations

import msgspec
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.changes import Rows, asked_for
from toilewright.app.corner_forms import CUTS, NOTCHES, corner_name, cut_words, same_corner
from toilewright.app.screens.extras import answered, kept
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.errors import InputError, NameUnknown
from toilewright.pattern.parts import CornerCut
from toilewright.workroom.store import Thing


class _Corner(msgspec.Struct, frozen=True):
    """How one corner is to be cut.

    Attributes:
        at: the two edges that meet there, such as "hem/side seam".
        first: which of the two comes first; "" to leave it to the trade.
    """

    piece: str
    at: str
    cut: str
    first: str = ""


class _Notches(msgspec.Struct, frozen=True):
    """How notches are cut; "" to leave it to the pattern."""

    cut: str


async def _set_corner(request: Request) -> Response:
    """Keep how a corner is cut; what was said of the same corner before is replaced."""
    return await answered(request, _cornered, await asked_for(request, _Corner))


def _cornered(table: Table, make_id: str, asked: _Corner, unit: str, by: str) -> Thing:
    if not (asked.piece.strip() and asked.at.strip() and asked.cut):
        raise InputError(say("extras.corner_missing"))
    if asked.cut not in CUTS:
        raise NameUnknown.among("way to cut a corner", asked.cut, CUTS)
    said = {"piece": asked.piece, "at": asked.at, "cut": asked.cut,
            "first": "" if asked.cut == CornerCut.MITRED else asked.first}
    there = next((r for r in table.make(make_id).document.corners if same_corner(r, asked.piece, asked.at)), None)
    rows: Rows = [(["corners", "+"], said)]
    if there:
        rows = [(["corners", there.id, name], value) for name, value in {**said, "on": True}.items()]
    words = say("extras.said_corner", corner=corner_name(asked.piece, asked.at), cut=cut_words(asked.cut))
    return kept(table, make_id, rows, words, unit, by)


async def _set_notches(request: Request) -> Response:
    """Keep how notches are cut."""
    return await answered(request, _notched, await asked_for(request, _Notches))


def _notched(table: Table, make_id: str, asked: _Notches, unit: str, by: str) -> Thing:
    if asked.cut and asked.cut not in NOTCHES:
        raise NameUnknown.among("way to cut notches", asked.cut, NOTCHES)
    words = say("extras.said_notches", cut=say(f"extras.notches_{asked.cut}" if asked.cut else "extras.notches_usual"))
    return kept(table, make_id, [(["notches"], asked.cut)], words, unit, by)


ROUTES = [
    Route("/make/{id}/extras/corner", _set_corner, methods=["POST"]),
    Route("/make/{id}/extras/notches", _set_notches, methods=["POST"]),
]
