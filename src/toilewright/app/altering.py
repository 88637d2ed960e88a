"""What the alterations screen shows: each alteration with its fate, the pieces, the room left, the seams."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from toilewright.app.choosing import alteration, told
from toilewright.app.pictures import garment_picture
from toilewright.app.piece_pictures import spot
from toilewright.app.words import on_page, say
from toilewright.body.tape import Wish
from toilewright.errors import ToilewrightError
from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.amounts import auto_amount
from toilewright.fit.levels import bodice_pieces, bust_point, fronts_first, upward
from toilewright.fit.sides import ease_on_both
from toilewright.make.handles import handles
from toilewright.make.outcome import Sized
from toilewright.make.recipe import made_at
from toilewright.make.trying import Asked, Fate, Trial, Tried, try_alterations
from toilewright.pattern.garment import Garment
from toilewright.units import MM_PER_INCH, show_length
from toilewright.workroom.documents import BodyDoc, MakeDoc, WishRow
from toilewright.workroom.recipes import replaces_standing

STEPS, FINE = {"cm": 5.0, "in": MM_PER_INCH / 4}, {"cm": 1.0, "in": MM_PER_INCH / 8}
"""mm; by how much a press of plus or minus changes an amount, and with Shift."""

_GRIPS = {"cm": 1.0, "in": MM_PER_INCH / 16}
"""mm; to what a grip in the picture slides."""

_POINTED = 5.0
"""mm; nearer than this a dart points where it should (no tape tells it better)."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One alteration in the list.

    Attributes:
        id: of its row.
        standing: one that she always needs, as kept with her body.
        always: one of this make that stands in the place of a standing one.
    """

    id: str
    row: WishRow
    standing: bool = False
    always: bool = False


def listed(make: MakeDoc, body: BodyDoc) -> tuple[Listed, ...]:
    """Standing alterations first, those of this make after them; a standing one that was changed for this make is shown
    as changed only."""
    own = {made_at(row.name, row.options) for row in make.alterations if replaces_standing(row)}
    always = {made_at(row.name, row.options) for row in body.alterations}
    standing = [Listed(r.id, replace(r, on=r.on and r.name not in make.without), True)
                for r in body.alterations if make.standing and made_at(r.name, r.options) not in own]
    return (*standing, *(Listed(r.id, r, False, replaces_standing(r) and made_at(r.name, r.options) in always)
                         for r in make.alterations))


def plain_list(make: MakeDoc, body: BodyDoc) -> list[dict[str, Any]]:
    """The list as the browser sees it."""
    return [{"id": one.id, "name": one.row.name, "amount": one.row.amount, "options": one.row.options,
             "said": told(one.row.options), "on": one.row.on, "standing": one.standing, "always": one.always}
            for one in listed(make, body)]


def tried(sized: Sized, rows: Sequence[tuple[str, Wish, bool]], refused: Mapping[str, str], unit: str,
          known: Mapping[str, str], chosen: str = "") -> dict[str, Any]:
    """Everything that the screen shows of a row of alterations.

    Args:
        rows: (id, wish, is it a standing one) of those that are switched on.
        refused: by id, why its amount could not be read.
        known: versions of the pieces that the screen has.
        chosen: id of the one whose handles are wanted, or "".
    """
    trial = try_alterations(sized, [Asked(*row) for row in rows if row[0] not in refused])
    garment = trial.altered.garment
    return {
        "picture": garment_picture(garment, trial.altered.bought, unit, known),
        "rows": {t.key: _row(t, unit) for t in trial.tried} | {
            key: {"fate": Fate.REFUSED, "why": on_page(why, unit)} for key, why in refused.items()},
        "seams": {"all": len(trial.altered.walks), "off": [
            {"name": w.seam, "note": on_page(w.note, unit)} for w in trial.altered.walks if not w.sews]},
        "ease": [{"place": e.place, "ease": show_length(e.ease.value, unit), "enough": e.enough,
                  "verdict": e.verdict} for e in ease_on_both(trial.altered.halves, sized.body) if e.ease is not None],
        "findings": [{"severity": f.severity, "text": on_page(f.text, unit)} for f in trial.altered.findings
                     if f.code != "does-not-sew"],
        **_pointing(sized, garment, unit),
        "handles": _handles(sized, trial, chosen, unit) if chosen else None,
    }


def _row(t: Tried, unit: str) -> dict[str, Any]:
    found: dict[str, Any] = {"fate": t.fate, "why": on_page(t.why, unit)}
    if t.amount is not None:
        known = t.amount
        found |= {"amount": round(known.value, 3), "shown": show_length(abs(known.value), unit),
                  "origin": say(f"parts.origin_{known.origin.name.lower()}"), "reason": known.reason,
                  "spread": show_length(known.spread, unit) if known.spread else ""}
    if t.done is not None:
        found |= {"changed": list(t.done.changed),
                  "findings": [{"severity": f.severity, "text": on_page(f.text, unit)} for f in t.done.findings]}
    return found


def _pointing(sized: Sized, garment: Garment, unit: str) -> dict[str, Any]:
    """Where the bust dart points against her bust point, and where that lies; nothing where it cannot be told."""
    try:
        off = auto_amount("bust dart height", garment, sized.body).value
    except ToilewrightError:
        return {"dart": "", "aim": None}
    key = "right" if abs(off) < _POINTED else "high" if off > 0 else "low"
    return {"dart": say(f"alter.dart_{key}", by=show_length(abs(off), unit)), "aim": _aim(garment, off)}


def _aim(garment: Garment, off: float) -> dict[str, Any] | None:
    """Her bust point on the front: `off` mm below the one that the piece shows."""
    for piece in fronts_first(bodice_pieces(garment)):
        shown = bust_point(piece)
        if shown is not None:
            down = shown.at - off * upward(piece)
            return {"piece": piece.name, "at": spot(down)}
    return None


def _handles(sized: Sized, trial: Trial, chosen: str, unit: str) -> list[dict[str, Any]]:
    made = [t for t in trial.tried if t.done is not None]
    # Orders as they were made, in the trade's order; making them again in that order is the same.
    rows = sorted(made, key=lambda t: trial.altered.done.index(t.done))
    at = next((i for i, t in enumerate(rows) if t.key == chosen), None)
    if at is None:
        return []
    orders = [t.done.order for t in rows if t.done]
    one = alteration(orders[at].name)
    least, most = _range(one)
    return [{"id": f"{chosen}|{i}", "piece": h.piece, "at": [round(h.at.real, 2), round(-h.at.imag, 2)],
             "along": [round(h.along.real, 4), round(-h.along.imag, 4)], "label": say(
                 "alter.handle", point=h.name, name=one.name), "amount": orders[at].amount.value, "step": _GRIPS[unit],
             "min": least, "max": most}
            for i, h in enumerate(handles(sized.before, orders, at, trial.altered.garment))]


def _range(one: Alteration) -> tuple[float, float]:
    """How far a handle goes: well beyond what is usual, for the pieces themselves say what does not fit."""
    least, most = one.sane
    return (min(0.0, least * 1.5), most * 1.5)
