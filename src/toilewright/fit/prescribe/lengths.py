"""How much longer or shorter: bodice by its back, sleeve by the arm, skirt and trousers by the height of the waist."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from toilewright.fit.levels import bodice_pieces
from toilewright.fit.prescribe.against import Words, against
from toilewright.fit.prescribe.case import LENGTH_EASE, Case, Rule
from toilewright.known import Known

NAME = "lengthen or shorten"

_BY_PIECE = {
    "sleeve": ("sleeve length", "this sleeve measures from the top of its head"),
    "skirt": ("skirt length", "this skirt measures down the centre"),
    "trouser": ("outside leg", "this leg measures down the side"),
}


def _ways(case: Case) -> Sequence[Mapping[str, str]]:
    """Each run of pieces that is lengthened together, by the piece that tells its length."""
    found = []
    tells = "bodice front" if case.taken("neck shoulder point to waist") and case.flat.get("front length") else (
        "bodice back")
    for begins in (tells, "sleeve", "skirt front", "trouser front"):
        if any(p.name == begins and p.line(NAME) is not None for p in case.garment.pieces):
            found.append({"piece": begins})
    return found


def _lengthen(case: Case) -> Known:
    name = case.options.get("piece", "")
    if not name or any(name == p.name for p in bodice_pieces(case.garment)):
        return _front(case) if "front" in name else _back(case)
    flat, its = next((v for begins, v in _BY_PIECE.items() if name.startswith(begins)), ("", ""))
    if not case.said(flat) or (flat == "skirt length" and case.taken("waist height") is None):
        raise case.cannot(f'how long "{name}" should be is a matter of taste',
                          "measure on yourself where it is to end and write the amount")
    hers = "from the shoulder to the wrist your arm measures" if flat == "sleeve length" else (
        "from the waist to the floor you measure")
    return against(flat, Words(hers, its, "lengthen it", "shorten it"))(case)


def _back(case: Case) -> Known:
    by_neck_point = case.taken("neck shoulder point to waist back") is not None
    flat = "back length" if by_neck_point else "centre back length"
    start = "the shoulder neck point" if by_neck_point else "the nape"
    return against(flat, Words(f"from {start} down the back to the waist you measure", "this back measures",
                               "lengthen it", "shorten it"), LENGTH_EASE)(case)


def _front(case: Case) -> Known:
    return against("front length", Words("from the shoulder neck point over the bust to the waist you measure",
                                         "this front measures", "lengthen it", "shorten it"), LENGTH_EASE)(case)


RULES = (Rule(NAME, ("neck shoulder point to waist back", "back neck point to waist", "neck shoulder point to waist"),
              _lengthen, _ways),)
