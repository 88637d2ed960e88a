"""Writes the DXF files of this folder with ezdxf (all but one to the layer numbers of ASTM D6673).

blocks-metric.dxf   R12, mm, a block for each piece and size; curves as turn and curve points, darts as inner lines
blocks-english.dxf  R2000, inches to 0.001; blocks placed turned and mirrored, size only in the block's name
plain.dxf           R2004, cm, no blocks: lines, splines and arcs on layers named by size
"""

from cmath import phase
from itertools import pairwise
from math import ceil, dist, radians, sqrt

import ezdxf
from sheet import COLOURS, HERE, MASTER, SIZES, captions, flat, marks


def ring(block, curves, layer, unit, digits, step):
    """A boundary as other programs write it: turn points at corners, curve points every `step` mm or so between."""
    def write(p):
        return tuple(round(v * unit, digits) for v in p)

    line = [write(p) for p in spread(curves, step)]
    line.pop()
    block.add_polyline2d(line, close=True, dxfattribs={"layer": layer})
    turns = {write(p) for p in corners(curves)}
    for p in line:
        block.add_point(p, dxfattribs={"layer": "2" if p in turns else "3"})


def spread(curves, step):
    """Points on each curve at most about `step` mm apart, and closer where a chord would be 0.15 mm off the curve."""
    points = [tuple(curves[0])]
    for before, c in pairwise(curves):
        around = [before[-2:], *(c[i:i + 2] for i in range(0, len(c), 2))]
        long = sum(dist(a, b) for a, b in pairwise(around))
        a, b, c2, d = (complex(*p) for p in around) if len(c) == 6 else (0j,) * 4
        bend = max(abs(a - 2 * b + c2), abs(b - 2 * c2 + d))
        points += flat([before[-2:], c], max(ceil(long / step), ceil(sqrt(0.75 * bend / 0.15))))[1:]
    return points


def corners(curves):
    """Joints of a ring where its direction turns by more than 4 degrees, or where a straight line begins or ends."""
    n = len(curves) - 1
    for k in range(n):
        into, out = curves[k if k else n], curves[k + 1]
        at = complex(*into[-2:])
        back = into[-4:-2] if len(into) == 6 else curves[(k if k else n) - 1][-2:]
        a, b = at - complex(*back), complex(*out[:2]) - at
        if len(into) == 2 or len(out) == 2 or abs(phase(b / a)) > radians(4):
            yield tuple(into[-2:])


def pieces(doc, system, unit, digits, step, sizes_as_text):
    for piece in MASTER["pieces"]:
        for size in SIZES:
            shape = piece[system][size]
            name = f"{piece['name'].upper().replace(' ', '_')}-{size}"
            block = doc.blocks.new(name)
            texts = [f"Piece Name: {piece['name'].upper()}", f"Quantity: {'1' if 'fold' in piece['note'] else '1,1'}",
                     "Annotation: CHOIR BLOUSE"]
            if sizes_as_text:
                texts.insert(1, f"Size: {size}")
            for k, text in enumerate(texts):
                block.add_text(text, height=6 * unit, dxfattribs={
                    "layer": "1", "insert": (60 * unit, (240 - 10 * k) * unit)})
            ring(block, shape["cut"], "1", unit, digits, step)
            ring(block, shape["seam"], "14", unit, digits, step)
            for dart in shape["darts"]:
                line = [tuple(v * unit for v in p) for p in dart]
                block.add_polyline2d(line, dxfattribs={"layer": "8"})
                block.add_point(line[1], dxfattribs={"layer": "13"})
            for notch in shape["notches"]:
                block.add_point([v * unit for v in notch[0]], dxfattribs={"layer": "4"})
            grain = [tuple(v * unit for v in p) for p in shape["grain"]]
            block.add_line(*grain, dxfattribs={"layer": "7"})
            for fold in shape["fold"]:
                block.add_line(*[tuple(v * unit for v in p) for p in fold], dxfattribs={"layer": "6"})
            yield name, piece, size


def metric():
    doc = ezdxf.new("R12")
    space = doc.modelspace()
    for name, _, _ in pieces(doc, "metric", 1.0, 4, 6.0, True):
        space.add_blockref(name, (0, 0))
    for k, text in enumerate(("Style Name: CHOIR BLOUSE", "Units: METRIC", "Sample Size: 10")):
        space.add_text(text, height=6, dxfattribs={"layer": "1", "insert": (0, -20 - 10 * k)})
    doc.saveas(HERE / "blocks-metric.dxf")


def english():
    doc = ezdxf.new("R2000")
    space = doc.modelspace()
    for k, (name, piece, size) in enumerate(pieces(doc, "inch", 1 / 25.4, 3, 8.0, False)):
        turned = piece["name"] == "Sleeve"
        space.add_blockref(name, (40 * (k // 4), 25 * SIZES.index(size)), dxfattribs={
            "xscale": -1 if piece["name"] == "Bodice back" else 1, "rotation": 30 if turned else 0})
    space.add_text("UNITS: ENGLISH", height=0.25, dxfattribs={"layer": "1", "insert": (0, -2)})
    doc.saveas(HERE / "blocks-english.dxf")


def plain():
    doc = ezdxf.new("R2004", setup=["linetypes"])
    doc.header["$INSUNITS"] = 5
    space = doc.modelspace()
    doc.layers.add("All sizes")
    for size in SIZES:
        ink = ezdxf.rgb2int(tuple(round(v * 255) for v in COLOURS[size]))
        doc.layers.add(f"Size {size}").dxf.true_color = ink
    for mark in marks("metric"):
        look = {"layer": f"Size {mark.size}" if mark.size else "All sizes"}
        start = mark.curves[0]
        for c in mark.curves[1:]:
            points = [(start[0] / 10, start[1] / 10), *((c[i] / 10, c[i + 1] / 10) for i in range(0, len(c), 2))]
            if len(points) == 2:
                space.add_line(*points, dxfattribs=look)
            else:
                space.add_open_spline(points, degree=3, dxfattribs=look)
            start = c[-2:]
    space.add_circle((3.0, 60.0), 1.5, dxfattribs={"layer": "All sizes"})
    space.add_lwpolyline([(5, 59, 0), (8, 59, 0.41421356237309503), (9, 60, 0), (9, 62, 0)], format="xyb",
                                  dxfattribs={"layer": "All sizes"})
    for word in captions("metric"):
        space.add_text(word.text, height=word.height / 10, rotation=word.angle, dxfattribs={
            "layer": f"Size {word.size}" if word.size else "All sizes", "insert": (word.x / 10, word.y / 10)})
    doc.saveas(HERE / "plain.dxf")


if __name__ == "__main__":
    metric()
    english()
    plain()
