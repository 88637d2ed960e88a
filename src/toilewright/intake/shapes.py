"""The same line found again at another place: strokes grouped by their shape and look."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from math import floor

from toilewright.geometry.point import Point
from toilewright.intake.drawing import Look, Stroke

SAME = 0.03
"""mm; two drawings of one line on two pages agree this well (numbers in files are rounded to 0.004 mm or finer)."""

Shape = tuple[Point, Point, Point, Point]


def shape_of(stroke: Stroke) -> Shape:
    """Vectors from its start to the joints at its end, middle and first third, and to the mean of all joints.

    They are equal for equal lines; the mean tells a front from a back that differs in its neck only.
    """
    nodes = stroke.path.nodes
    n = len(nodes)
    return nodes[-1] - nodes[0], nodes[n // 2] - nodes[0], nodes[n // 3] - nodes[0], sum(nodes) / n - nodes[0]


class Shapes:
    """Groups of strokes that are one shape; groups are numbered from 0."""

    def __init__(self) -> None:
        """Start empty."""
        self.members: list[list[Stroke]] = []
        self._cells: dict[tuple, list[tuple[int, Shape]]] = defaultdict(list)

    def add(self, stroke: Stroke) -> int:
        """Number of the stroke's group; a new one where it looks like no other."""
        shape = shape_of(stroke)
        found = self.find(len(stroke.path.nodes), stroke.look, shape)
        if found is None:
            found = len(self.members)
            self.members.append([])
            self._cells[_cell(len(stroke.path.nodes), stroke.look, shape[0] + 2 * shape[1])].append((found, shape))
        self.members[found].append(stroke)
        return found

    def find(self, nodes: int, look: Look, shape: Shape) -> int | None:
        """Number of the group of a shape with so many joints, or None."""
        for cell in _near(nodes, look, shape[0] + 2 * shape[1]):
            for number, known in self._cells.get(cell, ()):
                if all(abs(a - b) <= SAME for a, b in zip(shape, known, strict=True)):
                    return number
        return None


def _cell(nodes: int, look: Look, v: Point, dx: float = 0.0, dy: float = 0.0) -> tuple:
    return nodes, id(look), floor(v.real + dx), floor(v.imag + dy)


def _near(nodes: int, look: Look, v: Point) -> Iterator[tuple]:
    reach = 3 * SAME
    yield from {_cell(nodes, look, v, dx, dy) for dx in (-reach, reach) for dy in (-reach, reach)}
