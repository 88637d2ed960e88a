"""One piece as plain values for the screen: SVG path data in the piece's own mm, y turned down."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from functools import lru_cache
from hashlib import blake2s
from itertools import pairwise
from typing import Any

from toilewright.cutting.allowances import cutting_line
from toilewright.draw.figure import Mark, Pen
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.marks import arrow, notch_ticks
from toilewright.output.path_data import short_data
from toilewright.output.words import cut_words
from toilewright.pattern.parts import Dart, Edge, EdgeKind, Notch
from toilewright.pattern.piece import Piece

Picture = dict[str, Any]

_SHARES = tuple(k / 16 for k in range(2, 15))
"""Heights at which a place for the label is looked for."""

_LETTER = 22.0
"""mm; height of a piece's name where there is room."""


def spot(p: Point) -> list[float]:
    """A point as [x, y], y down, to a hundredth of a mm."""
    return [round(p.real, 2) + 0.0, round(-p.imag, 2) + 0.0]


@lru_cache(maxsize=1024)
def piece_picture(piece: Piece, bought: Piece | None) -> Picture:
    """Everything that is drawn of a piece and said about it.

    Args:
        bought: the piece as it was bought; None when it is not another one.

    Returns:
        ``name``, ``version`` (another one as soon as anything in the picture differs), ``box`` [x, y, width, height],
        ``cut``, ``seam``, ``fold``, ``grain`` (path data), ``edges``, ``darts``, ``notches``, ``points``, ``lines``,
        ``label``, and ``bought`` with the old lines, or None. Lengths in mm as sewn. Do not change it: it is kept.
    """
    lines = cutting_line(piece)
    picture: Picture = {
        "name": piece.name,
        "box": _box(piece, lines, bought),
        "cut": short_data(c for c, e in zip(lines, piece.edges, strict=True) if e.kind is not EdgeKind.FOLD),
        "seam": short_data(e.path for e in piece.edges),
        "fold": short_data(e.path for e in piece.edges if e.kind is EdgeKind.FOLD),
        "grain": short_data(m.path for m in _grain(piece)),
        "edges": [_edge(piece, e, bought) for e in piece.edges],
        "darts": [_dart(piece, d, bought) for d in piece.darts],
        "notches": [_notch(piece, n) for n in piece.notches],
        "points": _points(piece, bought),
        "lines": [{"name": m.name, "d": short_data([m.path]), "length": round(m.path.length, 3)} for m in piece.lines],
        "label": {"cut": cut_words(piece), "cloth": piece.cut.cloth, **_label_place(bought or piece)},
        "bought": _old(bought) if bought else None,
    }
    text = json.dumps(picture, separators=(",", ":"))
    return {"version": blake2s(text.encode(), digest_size=8).hexdigest(), **picture}


@lru_cache(maxsize=64)
def _old(bought: Piece) -> Picture:
    """The lines of a piece as it was bought."""
    return {"seam": short_data(e.path for e in bought.edges),
            "cut": short_data(c for c, e in zip(cutting_line(bought), bought.edges, strict=True)
                        if e.kind is not EdgeKind.FOLD),
            "darts": short_data(_legs(bought, d) for d in bought.darts),
            "notches": short_data(m.path for n in bought.notches for m in notch_ticks(bought, n))}


def _box(piece: Piece, lines: Iterable[Path], bought: Piece | None) -> list[float]:
    boxes = [path.bounds for path in (*lines, *(cutting_line(bought) if bought else ()))]
    boxes += [(p.real, p.imag, p.real, p.imag) for p in (
        *(m.at for m in piece.landmarks), *(d.apex for d in piece.darts),
        *((piece.grain.start, piece.grain.end) if piece.grain else ()))]
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
    return [round(x0, 2), round(-y1, 2), round(x1 - x0, 2), round(y1 - y0, 2)]


def _edge(piece: Piece, edge: Edge, bought: Piece | None) -> Picture:
    length = piece.sewn_length(edge.name)
    had = bought.sewn_length(edge.name) if bought and bought.has_edge(edge.name) else None
    return {"name": edge.name, "d": short_data([edge.path]), "kind": edge.kind.value, "length": round(length, 3),
            "allowance": round(edge.allowance, 3), "bought": None if had is None else round(had, 3),
            "mouths": [[round(d.start, 3), round(d.end, 3)] for d in piece.darts_on(edge.name)]}


def _grain(piece: Piece) -> Sequence[Mark]:
    return arrow(piece.grain.start, piece.grain.end, Pen.GRAIN) if piece.grain else ()


def _legs(piece: Piece, dart: Dart) -> Path:
    first, second = piece.feet(dart)
    return Path.polyline((first, dart.apex, second))


def _dart(piece: Piece, dart: Dart, bought: Piece | None) -> Picture:
    first, second = piece.feet(dart)
    old = next((d for d in bought.darts if d.name == dart.name), None) if bought else None
    return {"name": dart.name, "edge": dart.edge, "apex": spot(dart.apex), "feet": [spot(first), spot(second)],
            "legs": short_data([_legs(piece, dart)]), "mouth": short_data([Path.line(first, second)]),
            **_dart_measures(first, second, dart),
            "bought": _dart_measures(*bought.feet(old), old) if bought and old else None}


def _dart_measures(first: Point, second: Point, dart: Dart) -> Picture:
    return {"width": round(abs(second - first), 3), "leg": round(abs(first - dart.apex), 3)}


def _notch(piece: Piece, notch: Notch) -> Picture:
    path = piece.edge(notch.edge).path
    return {"name": notch.name, "edge": notch.edge, "count": notch.count, "at": spot(path.point_at(notch.at)),
            "place": round(piece.sewn_at(notch.edge, notch.at), 3),
            "d": short_data(m.path for m in notch_ticks(piece, notch))}


def _points(piece: Piece, bought: Piece | None) -> list[Picture]:
    """Landmarks and the points of darts; `moved` is how far one lies from where it was bought (mm)."""
    old = {m.name: m.at for m in bought.landmarks} if bought else {}
    old_apex = {d.name: d.apex for d in bought.darts} if bought else {}
    return [*({"name": m.name, "kind": "landmark", "at": spot(m.at), "origin": m.origin.value,
               "moved": _moved(old.get(m.name), m.at)} for m in piece.landmarks),
            *({"name": d.name, "kind": "dart", "at": spot(d.apex), "origin": "",
               "moved": _moved(old_apex.get(d.name), d.apex)} for d in piece.darts)]


def _moved(old: Point | None, new: Point) -> float:
    return 0.0 if old is None else round(abs(new - old), 3)


@lru_cache(maxsize=512)
def _label_place(piece: Piece) -> Picture:
    """Where a name fits: in the middle of the widest stretch inside, level or, in a narrow tall piece, upright."""
    x0, y0, x1, y1 = piece.outline.bounds
    turned = y1 - y0 > 3 * (x1 - x0)
    points = piece.outline.flatten(1.0)
    if turned:
        points = tuple(complex(p.imag, p.real) for p in points)
        x0, y0, x1, y1 = y0, x0, y1, x1
    wide, middle, level = max(((b - a) * (1 - 0.6 * abs(share - 0.5)), (a + b) / 2, y0 + share * (y1 - y0))
                              for share in _SHARES for a, b in _inside(points, y0 + share * (y1 - y0)))
    at = complex(middle, level)
    if turned:
        at = complex(at.imag, at.real)
    size = min(_LETTER, 1.2 * wide / (len(piece.name) + 2), 0.36 * (y1 - y0))
    return {"at": spot(at), "size": round(size, 2), "turned": turned}


def _inside(points: tuple[Point, ...], y: float) -> list[tuple[float, float]]:
    """The stretches of a level line that lie inside a closed polygon."""
    xs = sorted(a.real + (b.real - a.real) * (y - a.imag) / (b.imag - a.imag)
                for a, b in pairwise((*points, points[0])) if (a.imag <= y) != (b.imag <= y))
    return list(zip(xs[::2], xs[1::2], strict=False))
