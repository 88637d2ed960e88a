"""Draws the pieces that all files in this folder show, and writes their true coordinates to master.json.

A fitted choir blouse of our own invention: front on the fold with a bust dart in the side seam, back, sleeve, in four
sizes. Millimetres, y up, every piece from its own origin; a curve is [x, y] for a line to that point, or
[x1, y1, x2, y2, x, y] for a cubic. Run once; the other make_*.py files only read the result.
"""

import json
from pathlib import Path as File

from toilewright.geometry import Path, offset_ring, unit

SIZES = ("8", "10", "12", "14")
HERE = File(__file__).parent


def front(k):
    waist, side = 0j, complex(188 + 11 * k, 10)
    under = complex(226 + 11 * k, 212 + 2 * k)
    tip, neck = complex(176 + 3.5 * k, 386 + 4 * k), complex(70 + 1.8 * k, 424 + 4.5 * k)
    centre = complex(0, 344 + 3 * k)
    apex = complex(116 + 3.5 * k, 168 + 1.5 * k)
    low, high = side + (under - side) * 0.66, side + (under - side) * 0.80
    bulge = (low + high) / 2 + unit(low + high - 2 * apex) * 5
    edges = [
        Path.cubic(waist, waist + 70, side - 62 - 7j, side),
        Path.polyline([side, low, bulge, high, under]),
        Path.cubic(under, under - 52 - 2j, tip - complex(26 + k, 92 + k), tip),
        Path.line(tip, neck),
        Path.cubic(neck, neck - complex(7, 58), centre + complex(44 + k, 0), centre),
        Path.line(centre, waist),
    ]
    return {"edges": edges, "folds": [5], "darts": [(low, apex, high)],
            "notches": [(2, 0.45, 1)], "grain": (complex(48, 90), complex(48, 290))}


def back(k):
    waist, side = 0j, complex(196 + 11 * k, 8)
    under = complex(221 + 11 * k, 210 + 2 * k)
    tip, neck = complex(171 + 3.5 * k, 398 + 4 * k), complex(74 + 1.8 * k, 436 + 4.5 * k)
    centre = complex(0, 418 + 4 * k)
    apex = complex(92 + 4 * k, 168 + k)
    left, right = complex(80 + 3.5 * k, 0), complex(104 + 4.5 * k, 0)
    edges = [
        Path.polyline([waist, left, complex(92 + 4 * k, -3), right, side]),
        Path.line(side, under),
        Path.cubic(under, under - 48 - 1j, tip - complex(20 + k, 110 + k), tip),
        Path.cubic(tip, tip + (neck - tip) * 0.35 - 1.5j, tip + (neck - tip) * 0.7 - 1.5j, neck),
        Path.cubic(neck, neck - complex(10, 14), centre + complex(40 + k, 0), centre),
        Path.line(centre, waist),
    ]
    return {"edges": edges, "folds": [], "darts": [(left, apex, right)],
            "notches": [(2, 0.42, 2)], "grain": (complex(40, 80), complex(40, 280))}


def sleeve(k):
    wrist, width, reach = 112 + 4 * k, 158 + 8 * k, 405 + 3 * k
    crown = complex(6, reach + 136 + 3 * k)
    a, b = complex(-wrist, 0), complex(wrist, 0)
    fore, rear = complex(width, reach), complex(-width, reach)
    edges = [
        Path.line(a, b),
        Path.cubic(b, b + complex(6, 140), fore - complex(16, 150), fore),
        Path.joined([Path.cubic(fore, fore - complex(70, 2), crown + complex(82 + 2 * k, 0), crown),
                     Path.cubic(crown, crown - complex(76 + 2 * k, 0), rear + complex(78, 4), rear)]),
        Path.cubic(rear, rear + complex(16, -150), a + complex(-6, 140), a),
    ]
    return {"edges": edges, "folds": [], "darts": [], "notches": [(2, 0.26, 1), (2, 0.5, 1), (2, 0.76, 2)],
            "grain": (complex(0, 80), complex(0, 360))}


def numbers(path):
    """A path as start and curves, to a thousandth of a millimetre."""
    def xy(*points):
        return [round(v, 3) + 0.0 for p in points for v in (p.real, p.imag)]
    return [xy(path.nodes[0])] + [xy(*(h or ()), end) for end, h in zip(path.nodes[1:], path.handles, strict=True)]


def size(shape, allowance):
    """One size as printed: outline, seam line, dart legs, notch ticks from the cutting line inwards, grain, fold."""
    edges = shape["edges"]
    cut = offset_ring(edges, [0.0 if i in shape["folds"] else allowance for i in range(len(edges))], tolerance=0.002)
    ticks = []
    for edge, share, count in shape["notches"]:
        for j in range(count):
            s = edges[edge].length * share + (j - (count - 1) / 2) * 8
            foot, out = edges[edge].point_at(s), -1j * edges[edge].tangent_at(s)
            ticks.append(Path.line(foot + out * allowance, foot + out * (allowance - 6)))
    return {
        "cut": numbers(Path.joined(cut)), "seam": numbers(Path.joined(edges)),
        "darts": [numbers(Path.polyline(d)) for d in shape["darts"]],
        "notches": [numbers(t) for t in ticks], "grain": numbers(Path.line(*shape["grain"])),
        "fold": [numbers(edges[i]) for i in shape["folds"]],
    }


def main():
    drawn = (("Bodice front", front, "cut 1 on fold", (30, 60)), ("Bodice back", back, "cut 2", (350, 60)),
             ("Sleeve", sleeve, "cut 2", (850, 40)))
    # 10 mm is included in the metric sheets, 5/8 in in the others.
    master = {"unit": "mm", "sizes": list(SIZES), "sheet": [1070, 660], "allowances": {"metric": 10.0, "inch": 15.875},
              "pieces": [{"name": name, "note": note, "place": place,
                          "metric": {s: size(f(k), 10.0) for k, s in enumerate(SIZES)},
                          "inch": {s: size(f(k), 15.875) for k, s in enumerate(SIZES)}}
                         for name, f, note, place in drawn]}
    text = json.dumps(master, separators=(",", ":"))
    (HERE / "master.json").write_text(text.replace('"metric":', '\n"metric":').replace('"cut":', '\n"cut":') + "\n")


if __name__ == "__main__":
    main()
