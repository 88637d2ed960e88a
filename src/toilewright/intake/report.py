"""What was read, as plain values for machines."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.intake.raw import RawPattern, RawPiece


def read_report(raw: RawPattern) -> dict[str, object]:
    """The reading as plain values: lengths in mm, areas in mm^2.

    ``sizes`` (names, smallest first), ``pieces`` (name, how it is cut, and under ``sizes`` its measures in each
    size), ``allowance_mm``, ``line`` (cutting or seam), ``test_square_mm`` (its side as measured, before scaling),
    ``test_square`` (its width and height as measured, and the side that its caption gives it), ``scale``, ``findings``.
    Areas and perimeters are those of the printed line without its notches; half a piece where it is drawn on a fold.
    """
    square = raw.test_square
    return {
        "sizes": list(raw.sizes),
        "pieces": [_piece([p for p in by_size if p]) for by_size in raw.pieces],
        "allowance_mm": raw.allowance if raw.allowance is None else round(raw.allowance, 3),
        "line": raw.line,
        "test_square_mm": square and round((square.width + square.height) / 2, 3),
        "test_square": square and {"width_mm": round(square.width, 3), "height_mm": round(square.height, 3),
                                   "nominal_mm": square.nominal},
        "scale": round(raw.scale, 6),
        "findings": [f.as_dict() for f in raw.findings],
    }


def _piece(made: Sequence[RawPiece]) -> dict[str, object]:
    first = made[0]
    return {
        "name": first.name,
        "on_fold": first.fold is not None,
        "cut_count": first.cut_count,
        "mirrored": first.mirrored,
        "grain": any(p.grain for p in made),
        "sizes": {p.size: _measures(p) for p in made},
    }


def _measures(piece: RawPiece) -> dict[str, object]:
    x0, y0, x1, y1 = piece.outline.bounds
    return {
        "width_mm": round(x1 - x0, 3),
        "height_mm": round(y1 - y0, 3),
        "area_mm2": round(abs(piece.outline.area()), 2),
        "perimeter_mm": round(piece.outline.length, 3),
        "darts": len(piece.darts),
        "notches": len(piece.notches),
    }
