"""SVG path data and basic shapes as our paths, still in the file's own units (y down)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from math import pi

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.pencil import Pencil

_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_COMMAND = re.compile(r"([MmZzLlHhVvCcSsQqTtAa])([^MmZzLlHhVvCcSsQqTtAa]*)")
_STRANGE = re.compile(r"[^-+\d.eE\s,]")
_NEXT = re.compile(r"[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


def numbers(text: str) -> list[float]:
    """All numbers in a string, whatever stands between them.

    >>> numbers("1,2-3.5e1 .5.25")
    [1.0, 2.0, -35.0, 0.5, 0.25]
    """
    return [float(n) for n in _NUMBER.findall(text)]


def path_data(text: str) -> list[Path]:
    """The subpaths of a ``d`` attribute; like a browser, it stops at the first error."""
    pencil = Pencil()
    mirror: Point | None = None
    last = ""
    for verb, args in _verbs(text):
        kind, base = verb.upper(), (pencil.at if verb.islower() else 0j)
        if kind == "M":
            pencil.move(base + complex(args[0], args[1]))
        elif kind == "Z":
            pencil.close()
        elif kind == "L":
            pencil.draw(base + complex(args[0], args[1]))
        elif kind == "H":
            pencil.draw(complex(base.real + args[0], pencil.at.imag))
        elif kind == "V":
            pencil.draw(complex(pencil.at.real, base.imag + args[0]))
        elif kind == "A":
            pencil.arc(args[0], args[1], args[2], bool(args[3]), bool(args[4]), base + complex(args[5], args[6]))
        else:
            mirror = _bend(pencil, kind, base, args, mirror if last and last in _FAMILY[kind] else None)
        last = kind
    pencil.lift()
    return pencil.paths


_FAMILY = {"C": "CS", "S": "CS", "Q": "QT", "T": "QT"}


def _bend(pencil: Pencil, kind: str, base: Point, args: list[float], mirror: Point | None) -> Point:
    """Draw C, S, Q or T; returns the handle that a following S or T mirrors."""
    points = [base + complex(x, y) for x, y in zip(args[::2], args[1::2], strict=True)]
    if kind in "ST":
        points.insert(0, 2 * pencil.at - mirror if mirror is not None else pencil.at)
    if kind in "CS":
        pencil.draw(points[2], (points[0], points[1]))
        return points[1]
    pencil.quadratic(points[0], points[1])
    return points[0]


def _verbs(text: str) -> Iterator[tuple[str, list[float]]]:
    """Single drawing commands with their numbers; repeated number groups repeat the command."""
    first = _COMMAND.search(text)
    if not first or text[:first.start()].strip():
        return
    for verb, rest in _COMMAND.findall(text):
        strange = _STRANGE.search(rest)
        rest = rest[:strange.start()] if strange else rest
        values = _arc_numbers(rest) if verb in "Aa" else numbers(rest)
        count = _TAKES[verb.upper()]
        if count == 0:
            yield verb, []
        else:
            for k in range(0, len(values) - count + 1, count):
                yield verb, values[k:k + count]
                verb = {"M": "L", "m": "l"}.get(verb, verb)
        if strange or len(values) % (count or 1) or bool(values) != bool(count):
            return


def _arc_numbers(text: str) -> list[float]:
    """The numbers of arcs, whose two flags may stand without a gap: "5 5 0 019 9" holds seven."""
    values: list[float] = []
    at = 0
    while found := (_FLAG if len(values) % 7 in (3, 4) else _NEXT).match(text, at):
        values.append(float(found.group(1)))
        at = found.end()
    return values


def shape_paths(kind: str, get: Mapping[str, float], points: str = "") -> list[Path]:
    """The outline of a basic shape: rect, circle, ellipse, line, polyline or polygon.

    Args:
        kind: the element's name.
        get: its numeric attributes in user units; missing ones are left out.
        points: the ``points`` attribute of polylines and polygons.
    """
    pencil = Pencil()
    if kind == "rect":
        _rect(pencil, get)
    elif kind in ("circle", "ellipse"):
        rx, ry = get.get("rx", get.get("r", 0.0)), get.get("ry", get.get("r", 0.0))
        centre = complex(get.get("cx", 0.0), get.get("cy", 0.0))
        if rx > 0 and ry > 0:
            pencil.move(centre + rx)
            pencil.turn(centre, rx, ry, 1 + 0j, 0.0, 2 * pi, centre + rx)
    elif kind == "line":
        pencil.move(complex(get.get("x1", 0.0), get.get("y1", 0.0)))
        pencil.draw(complex(get.get("x2", 0.0), get.get("y2", 0.0)))
    else:
        values = numbers(points)
        for k, (x, y) in enumerate(zip(values[::2], values[1::2], strict=False)):
            (pencil.draw if k else pencil.move)(complex(x, y))
        if kind == "polygon":
            pencil.close()
    pencil.lift()
    return pencil.paths


def _rect(pencil: Pencil, get: Mapping[str, float]) -> None:
    x, y, w, h = (get.get(k, 0.0) for k in ("x", "y", "width", "height"))
    if w <= 0 or h <= 0:
        return
    rx, ry = get.get("rx", get.get("ry", 0.0)), get.get("ry", get.get("rx", 0.0))
    rx, ry = min(rx, w / 2), min(ry, h / 2)
    pencil.move(complex(x + rx, y))
    for corner, out, back in ((x + w + 1j * y, complex(rx), 1j * ry), (x + w + 1j * (y + h), 1j * ry, complex(-rx)),
                              (x + 1j * (y + h), complex(-rx), -1j * ry), (x + 1j * y, -1j * ry, complex(rx))):
        pencil.draw(corner - out)
        if rx > 0 and ry > 0:
            pencil.arc(rx, ry, 0.0, False, True, corner + back)
    pencil.close()

