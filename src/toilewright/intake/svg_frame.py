"""Where an SVG picture and the pictures inside it lie: units, viewBox and viewport."""

from __future__ import annotations

import cmath
import re
from collections.abc import Sequence
from math import radians

from lxml import etree

from toilewright.errors import Finding
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.intake.svg_path import numbers
from toilewright.intake.svg_style import length_mm, length_user

INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"

# Programs whose "pixels" are not the 96 to the inch of CSS: what they sign with, and theirs to the inch.
_OLD_PIXELS = ((re.compile(r"Adobe Illustrator"), 72.0), (re.compile(r"inkscape 0\.(?:[1-8]|9[01])", re.I), 90.0))


def page_frame(root: etree._Element) -> tuple[Affine, float, float, list[Finding]]:
    """The map from the root's user units to mm, the page's size, and what is uncertain about the scale."""
    box = numbers(root.get("viewBox", ""))
    box = box if len(box) == 4 and box[2] > 0 and box[3] > 0 else []
    sides = [length_mm(root.get(k)) for k in ("width", "height")]
    sure = all(s is not None and s[1] not in ("", "px") for s in sides)
    dpi = 96.0 if sure else _pixels(root)
    given = [s[0] * (96 / dpi if s[1] in ("", "px") else 1.0) if s and s[0] > 0 else None for s in sides]
    pixel = 25.4 / dpi
    if box:
        width, height = (g if g is not None else None for g in given)
        if width is None and height is None:
            width, height = box[2] * pixel, box[3] * pixel
        elif width is None or height is None:
            width, height = width or height * box[2] / box[3], height or width * box[3] / box[2]
        fit = _fitted(box, 0.0, 0.0, width, height, root.get("preserveAspectRatio", ""))
    else:
        width, height = (g if g is not None else default * pixel for g, default in zip(given, (300, 150), strict=True))
        fit = Affine.scale(pixel)
    findings = [] if sure else [Finding(
        "svg-scale", f"The SVG file does not give its size in mm, inches or points; {dpi:.0f} pixels to the inch were "
        "taken, so check the test square.")]
    return fit.then(Affine.from_matrix(1, 0, 0, -1, 0, height)), width, height, findings


def _pixels(root: etree._Element) -> float:
    """Pixels to the inch of the program that signed the file."""
    signed = [f"inkscape {root.get(INKSCAPE + 'version', '')}"]
    signed += [str(c.text) for c in root.itersiblings(etree.Comment, preceding=True)]
    return next((dpi for mark, dpi in _OLD_PIXELS if any(mark.search(s) for s in signed)), 96.0)


def _fitted(box: list[float], x: float, y: float, width: float, height: float, fit: str) -> Affine:
    """The map that puts a viewBox into its viewport."""
    sx, sy = width / box[2], height / box[3]
    if "none" not in fit:
        sx = sy = max(sx, sy) if "slice" in fit else min(sx, sy)
    share = {"Min": 0.0, "Max": 1.0}
    found = re.search(r"x(Min|Mid|Max)Y(Min|Mid|Max)", fit)
    ax, ay = (share.get(f, 0.5) for f in (found.groups() if found else ("Mid", "Mid")))
    return Affine.from_matrix(sx, 0, 0, sy, x + (width - box[2] * sx) * ax - box[0] * sx,
                              y + (height - box[3] * sy) * ay - box[1] * sy)


def viewport(item: etree._Element, placed: etree._Element, shifted: bool = False) -> Affine:
    """The map of a nested svg or a used symbol: `placed` carries its width and height."""
    x, y = (0.0, 0.0) if shifted else (length_user(item.get("x")), length_user(item.get("y")))
    box = numbers(item.get("viewBox", ""))
    if len(box) != 4 or box[2] <= 0 or box[3] <= 0:
        return Affine.shift(complex(x, y))
    width, height = (length_user(placed.get(k), length_user(item.get(k), side))
                     for k, side in (("width", box[2]), ("height", box[3])))
    return _fitted(box, x, y, width, height, item.get("preserveAspectRatio", ""))


def marker_map(marker: etree._Element, outline: Sequence[Path], at_start: bool, stroke_width: float) -> Affine:
    """The map that puts a marker's drawing on an end of a line (all in the line's user units)."""
    end = outline[0].start if at_start else outline[-1].end
    along = outline[0].start_tangent if at_start else outline[-1].end_tangent
    orient = marker.get("orient", "0").strip()
    if not orient.startswith("auto"):
        along = cmath.rect(1.0, radians((numbers(orient) or [0.0])[0]))
    elif at_start and orient == "auto-start-reverse":
        along = -along
    size = 1.0 if marker.get("markerUnits") == "userSpaceOnUse" else stroke_width
    box = numbers(marker.get("viewBox", ""))
    inner = Affine()
    if len(box) == 4 and box[2] > 0 and box[3] > 0:
        width, height = (length_user(marker.get(k), 3.0) for k in ("markerWidth", "markerHeight"))
        inner = _fitted(box, 0.0, 0.0, width, height, marker.get("preserveAspectRatio", ""))
    ref = inner(complex(length_user(marker.get("refX")), length_user(marker.get("refY"))))
    return inner.then(Affine.shift(-ref)).then(Affine(p=along * size)).then(Affine.shift(end))
