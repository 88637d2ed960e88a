"""A pencil for readers: lines, curves and arcs become the paths of a drawing."""

from __future__ import annotations

import cmath
from math import ceil, pi, radians, sqrt, tan

from toilewright.geometry.path import Handles, Path
from toilewright.geometry.point import Point
from toilewright.intake.limits import MAX_REACH

_STEP = pi / 4
"""radians; an eighth of a circle as one cubic is off by 4.2 millionths of its radius (0.004 mm at 1 m)."""

STANDSTILL = 0.002
"""mm; what files round away (four decimals of a PDF point, three of a mm)."""


def within_reach(path: Path) -> bool:
    """Are all its points where a pattern can be? (False for a coordinate that is infinite or no number.)"""
    return (all(abs(p) < MAX_REACH for p in path.nodes)
            and all(abs(h[0]) < MAX_REACH and abs(h[1]) < MAX_REACH for h in path.handles if h))


def without_standstill(path: Path, shortest: float = STANDSTILL) -> Path:
    """The path without curves too short to be seen, whose direction is nothing but rounding (mm).

    Its ends stay where they are; a path that is nothing else is left as it is.
    """
    nodes, handles = [path.nodes[0]], []
    for end, bent in zip(path.nodes[1:], path.handles, strict=True):
        at = nodes[-1]
        if abs(end - at) > shortest or (bent and max(abs(h - at) for h in bent) > shortest):
            nodes.append(end)
            handles.append(bent)
    if not handles:
        return path
    nodes[-1] = path.nodes[-1]
    return Path(tuple(nodes), tuple(handles)) if len(handles) < len(path.handles) else path


class Pencil:
    """Collects the subpaths of one shape, point by point; `paths` are those with any length."""

    def __init__(self) -> None:
        """Start with an empty sheet."""
        self.paths: list[Path] = []
        self.first: Point = 0j
        self.at: Point = 0j
        self._nodes: list[Point] = []
        self._handles: list[Handles] = []

    def move(self, to: Point) -> None:
        """Lift the pen and set it down at a point."""
        self.lift()
        self.first = self.at = to

    def draw(self, to: Point, handles: Handles = None) -> None:
        """Draw a line, or a cubic curve with its two handles; nothing where nothing would show."""
        if to != self.at or (handles and handles != (to, to)):
            if not self._nodes:
                self._nodes.append(self.at)
            self._nodes.append(to)
            self._handles.append(handles)
        self.at = to

    def quadratic(self, handle: Point, to: Point) -> None:
        """Draw a quadratic curve, raised to a cubic exactly."""
        self.draw(to, (self.at + (handle - self.at) * 2 / 3, to + (handle - to) * 2 / 3))

    def arc(self, rx: float, ry: float, tilt: float, large: bool, sweep: bool, to: Point) -> None:
        """Draw an elliptical arc (`tilt` in degrees) as cubic curves of an eighth of a turn at most.

        End points to centre as in SVG 1.1, implementation notes F.6.5 and F.6.6 (from memory; checked
        against svgelements in the tests).
        """
        rx, ry = abs(rx), abs(ry)
        if to == self.at:
            return
        if rx == 0 or ry == 0:
            self.draw(to)
            return
        spin = cmath.rect(1.0, radians(tilt))
        half = (self.at - to) / 2 * spin.conjugate()
        x, y = half.real / rx, half.imag / ry
        size = x * x + y * y
        if size > 1:
            rx, ry, x, y, size = rx * sqrt(size), ry * sqrt(size), x / sqrt(size), y / sqrt(size), 1.0
        off = sqrt(max(1 / size - 1, 0.0)) * (1 if large != sweep else -1)
        centre = complex(y * off, -x * off)
        a, b = complex(x, y) - centre, -complex(x, y) - centre
        angle = cmath.phase(b / a)
        if sweep and angle < 0:
            angle += 2 * pi
        elif not sweep and angle > 0:
            angle -= 2 * pi
        middle = (self.at + to) / 2 + complex(centre.real * rx, centre.imag * ry) * spin
        self.turn(middle, rx, ry, spin, cmath.phase(a), angle, to)

    def turn(self, middle: Point, rx: float, ry: float, spin: Point, start: float, angle: float, to: Point) -> None:
        """Draw a part of an ellipse from its centre, radii, direction of the first axis, start and turn (radians)."""
        n = max(1, ceil(abs(angle) / _STEP - 1e-9))
        step = angle / n
        reach = 4 / 3 * tan(step / 4)

        def place(u: Point) -> Point:
            return middle + complex(u.real * rx, u.imag * ry) * spin

        for k in range(n):
            u, v = cmath.rect(1.0, start + k * step), cmath.rect(1.0, start + (k + 1) * step)
            end = to if k == n - 1 else place(v)
            self.draw(end, (place(u + u * 1j * reach), place(v - v * 1j * reach)))

    def close(self) -> None:
        """Draw a line back to where the pen was set down last, and lift it."""
        if self._nodes and abs(self.at - self.first) <= 1e-9 * (1 + abs(self.first)):
            self._nodes[-1] = self.first
        else:
            self.draw(self.first)
        self.lift()
        self.at = self.first

    def lift(self) -> None:
        """End the current subpath."""
        if self._handles:
            self.paths.append(Path(tuple(self._nodes), tuple(self._handles)))
        self._nodes, self._handles = [], []
