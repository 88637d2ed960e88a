"""Pieces as DXF in the layers of ASTM D6673 (withdrawn 2019, still the common interchange; from memory).

One block a piece, R12 entities, millimetres. Layers: 1 boundary (here: the cutting line), 2 turn points, 3 curve
points, 4 notches, 6 mirror (fold) line, 7 grain, 8 internal lines, 13 drill holes, 14 sew line, 15 annotation.
Curves are polylines whose chords stay within 0.02 mm.
"""

from __future__ import annotations

import logging
import os
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from math import degrees

import ezdxf

from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.marks import drill_marks, notch_feet, side_marks
from toilewright.files import replacing
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn
from toilewright.output.layout import rows_of
from toilewright.output.piece_figure import along
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.tolerance import CORNER

BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INTERNAL, DRILL, SEW, NOTE = (
    "1", "2", "3", "4", "6", "7", "8", "13", "14", "15")
_LAYERS = (BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INTERNAL, DRILL, SEW, NOTE)


def write_dxf(garment: Garment, path: str | os.PathLike[str], size: str, title: str = "") -> None:
    """Write every piece of a garment as a block, and one insert of each, side by side.

    Args:
        size: size name for the annotations.
        title: style name for the annotations.
    """
    with _same_bytes(), replacing(path) as temporary:
        document = ezdxf.new("R12", units=0)
        document.header["$MEASUREMENT"] = 1
        for layer in _LAYERS:
            document.layers.add(layer)
        shifts, _, _ = rows_of([p.outline.bounds for p in garment.pieces], 2000.0, 60.0)
        model = document.modelspace()
        for piece, shift in zip(garment.pieces, shifts, strict=True):
            name = re.sub(r"[^A-Z0-9_-]+", "_", f"{piece.name}-{size}".upper())
            _piece(document.blocks.new(name), piece, size)
            model.add_blockref(name, (shift.real, shift.imag), dxfattribs={"layer": BOUNDARY})
        _notes(model, (f"STYLE NAME: {title}", f"SAMPLE SIZE: {size}", "UNITS: METRIC"), -20j, 8.0)
        document.saveas(temporary)


@contextmanager
def _same_bytes() -> Iterator[None]:
    """While a document is made and saved: no dates in it, and no warning that R12 cannot say its unit.

    The annotation says the unit; the same pieces give the same file.
    """
    log = logging.getLogger("ezdxf")
    level, dated = log.level, ezdxf.options.write_fixed_meta_data_for_testing
    log.setLevel(logging.ERROR)
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        log.setLevel(level)
        ezdxf.options.write_fixed_meta_data_for_testing = dated


def _piece(block, piece: Piece, size: str) -> None:
    cut = Path.joined(cutting_line(piece))
    _polyline(block, cut, BOUNDARY)
    _turn_and_curve_points(block, cut)
    _polyline(block, piece.outline, SEW)
    for edge in piece.edges:
        if edge.kind is EdgeKind.FOLD:
            _line(block, edge.path.start, edge.path.end, MIRROR)
    for foot, _ in (f for notch in piece.notches for f in notch_feet(piece, notch)):
        block.add_point(_xyz(foot), dxfattribs={"layer": NOTCH})
    for dart in piece.darts:
        first, second = piece.feet(dart)
        _polyline(block, Path.polyline((first, dart.apex, second)), INTERNAL)
    for mark in drill_marks(piece):
        block.add_point(_xyz(mark.at[0]), dxfattribs={"layer": DRILL})
    for side in side_marks(piece):
        _notes(block, (side.name.upper(),), side.at[0], 5.0)
    for line in piece.lines:
        _polyline(block, line.path, INTERNAL)
        words = along(line.path, line.name.upper(), 0.3)
        block.add_text(words.text, height=words.height, rotation=degrees(words.angle),
                       dxfattribs={"layer": NOTE}).set_placement(_xyz(words.at))
    if piece.grain:
        _line(block, piece.grain.start, piece.grain.end, GRAIN)
    x0, y0, x1, y1 = piece.outline.bounds
    words = (f"PIECE NAME: {piece.name.upper()}", f"SIZE: {size}", f"QUANTITY: {piece.cut.count}",
             f"MATERIAL: {piece.cut.cloth.upper()}", "UNITS: METRIC")
    _notes(block, words, complex((x0 * 2 + x1) / 3, (y0 + 2 * y1) / 3), min(6.0, (y1 - y0) / 12))


def _xyz(p: Point) -> tuple[float, float]:
    return (p.real, p.imag)


def _line(space, a: Point, b: Point, layer: str) -> None:
    space.add_line(_xyz(a), _xyz(b), dxfattribs={"layer": layer})


def _polyline(space, path: Path, layer: str) -> None:
    points = path.flatten()
    if path.closed:
        points = points[:-1]
    space.add_polyline2d([_xyz(p) for p in points], close=path.closed, dxfattribs={"layer": layer})


def _turn_and_curve_points(space, ring: Path) -> None:
    """Joints with a corner are turn points, all other joints of the drawn curve are curve points."""
    curves = ring.curves
    for i, node in enumerate(ring.nodes[:-1]):
        bend = abs(turn(curves[i - 1].derivative(1.0), curves[i].derivative(0.0)))
        space.add_point(_xyz(node), dxfattribs={"layer": TURN if bend > CORNER else CURVE})


def _notes(space, words: Iterable[str], at: Point, height: float) -> None:
    for i, text in enumerate(words):
        space.add_text(text, height=height, dxfattribs={"layer": NOTE}).set_placement(
            _xyz(at - 1j * i * height * 1.7))
