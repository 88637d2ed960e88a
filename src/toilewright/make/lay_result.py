"""A lay as plain values for machines; every length in mm, x along the selvedge from the cut end, y across.

Where the cloth is folded, y is 0 on the fold. A double layer is two entries with one outline: copy by copy the upper
and the lower layer, which come out as the two hands of a pair. A piece on the fold is one entry with half its outline,
whose fold edge lies exactly on y = 0.
"""

from __future__ import annotations

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.lay.order import turns_of
from toilewright.cutting.lay.pieces import area_of
from toilewright.cutting.lay.plan import Laid, Lay, Layer
from toilewright.cutting.lay.reading import other_hand
from toilewright.make.laying import Laying
from toilewright.make.result import Plain


def laying_result(laying: Laying) -> Plain:
    """All lays of one cutting-out: the first cloth's at the top, the others below ``other_cloths``."""
    first, *others = laying.lays
    return {"title": laying.title, **lay_result(first), "other_cloths": [lay_result(lay) for lay in others]}


def lay_result(lay: Lay) -> Plain:
    """One lay."""
    return {
        "cloth": _cloth(lay),
        "length_mm": round(lay.length, 3),
        "used_percent": round(100 * used_area(lay) / (lay.length * lay.cloth.width), 2) if lay.length else 0.0,
        "sections": [{"start_mm": round(s.start, 3), "length_mm": round(s.length, 3),
                      "layers": "open" if s.fold_depth is None else "folded",
                      "fold_depth_mm": s.fold_depth and round(s.fold_depth, 6)} for s in lay.sections],
        "pieces": [_piece(one, turn) for one, turn in zip(lay.laid, turns_of(lay.laid), strict=True)],
        "certificate": {"passed": lay.certificate.passed,
                        "checks": [{"name": c.name, "passed": c.passed, "said": c.said}
                                   for c in lay.certificate.checks]},
        "how": lay.how, "seed": lay.seed, "repeatable": lay.repeatable, "notes": list(lay.notes),
    }


def used_area(lay: Lay) -> float:
    """Cloth that goes into pieces (mm^2)."""
    return sum(abs(area_of(one.outline)) * (2 if one.layer is Layer.BOTH else 1) for one in lay.laid)


def _cloth(lay: Lay) -> Plain:
    cloth: Cloth = lay.cloth
    depth = next((s.fold_depth for s in lay.sections if s.fold_depth is not None), None)
    return {
        "name": cloth.name, "width_mm": round(cloth.width, 6), "layers": "open" if depth is None else "folded",
        "fold": (Fold.OPEN if depth is None else cloth.fold).value, "fold_depth_mm": depth and round(depth, 6),
        "direction": "one way" if cloth.one_way else "two way", "sided": cloth.sided,
        "length_mm": cloth.length, "grain_tolerance_deg": cloth.grain_tolerance,
        "repeat_mm": {"along": cloth.repeat.along, "across": cloth.repeat.across,
                      "first_along": cloth.repeat.first_along, "first_across": cloth.repeat.first_across},
        "border_mm": cloth.border, "flaws": [_points(flaw) for flaw in cloth.flaws],
        "outline": None if cloth.outline is None else _points(cloth.outline),
    }


def _piece(one: Laid, turn: int) -> Plain:
    return {"name": one.piece.name, "copy": one.copy, "make": one.piece.make, "cloth_layer": one.layer.value,
            "section": one.section, "outline": _points(one.outline), "grain_deg": one.pose.turn,
            "on_fold": one.piece.on_fold, "mirrored": other_hand(one), "order": turn}


def _points(outline: tuple[complex, ...]) -> list[list[float]]:
    return [[round(p.real, 6), round(p.imag, 6)] for p in outline]
