"""Straight strips as pieces: their grain, their joins, and how many widths of the cloth they take."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from math import ceil, pi

from toilewright.cutting.extra.kinds import Asks, Option
from toilewright.errors import InputError
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Grain, InnerLine, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

ALLOWANCE = 10.0
"""mm; of strips and small pieces, narrower than a garment's own seams (common practice, no published source)."""

CLOTH_WIDTH = 1400.0
"""mm between the selvedges, where nothing else is said: what dress cloth mostly is (common practice, no published
source)."""

LONGEST_TIE = 5000.0
"""mm; nobody turns a longer tube."""

ALLOWANCE_OPTION = Option("allowance", Asks.LENGTH, "cloth beyond the seam line", ALLOWANCE, 0.0, 60.0)
CLOTH_OPTION = Option("cloth", Asks.TEXT, "which cloth it is cut from: self, lining, or a name of her own", "self")
NAME_OPTION = Option("name", Asks.TEXT, "what the piece is called")
WIDTH_OF_CLOTH = Option("cloth width", Asks.LENGTH, "usable width of the cloth, between the selvedges", CLOTH_WIDTH,
                        200.0, 5000.0)


def grain_of(way: str, middle: Point, reach: float, breadth: float) -> Grain:
    """A grain arrow in the middle of a strip that lies along x.

    Args:
        way: ``along`` or ``straight`` the strip, ``across`` it, or ``bias``.
        reach, breadth: of the strip (mm).
    """
    if way == "bias":
        arm = cmath.rect(0.35 * breadth * 2 ** 0.5, pi / 4)
    else:
        arm = 1j * 0.3 * breadth if way == "across" else 0.3 * reach + 0j
    return Grain(middle - arm, middle + arm)


def strip(name: str, length: float, height: float, names: Sequence[str], kinds: Sequence[EdgeKind],
          allowances: Sequence[float], way: str, cut: Cut, notches: Sequence[Notch] = (),
          lines: Sequence[InnerLine] = (), lean: float = 0.0) -> Piece:
    """A strip along x with its lower left corner at 0; edges from the bottom, counter-clockwise.

    Args:
        way: of the grain, as in :func:`grain_of`.
        lean: how far the upper edge lies to the right of the lower one: of a bias strip whose ends follow the threads,
            its height (mm).
    """
    over = complex(lean, height)
    corners = (0j, complex(length, 0), length + over, over)
    edges = tuple(Edge(edge, Path.line(corners[i], corners[(i + 1) % 4]), kinds[i], allowances[i])
                  for i, edge in enumerate(names))
    return Piece(name, edges, notches=tuple(notches), lines=tuple(lines), cut=cut,
                 grain=grain_of(way, (length + over) / 2, length, height))


def level(name: str, length: float, y: float) -> InnerLine:
    """A line along a strip at height y (mm)."""
    return InnerLine(name, Path.line(complex(0, y), complex(length, y)))


def widths_for(total: float, cloth_width: float, allowance: float, in_steps_of: int = 1) -> int:
    """How many widths of the cloth, seamed to each other, make a strip.

    Args:
        total: length of the strip, seam to seam (mm).
        allowance: at each end of a width (mm).
        in_steps_of: the number is a multiple of this, so that its joins meet those of what it is sewn to.

    Raises:
        InputError: the cloth is too narrow for anything.

    >>> widths_for(3000, 1400, 10), widths_for(1380, 1400, 10), widths_for(1381, 1400, 10)
    (3, 1, 2)
    """
    room = cloth_width - 2 * allowance
    if room < 50.0:
        raise InputError(f"A cloth {show_both(cloth_width)} wide leaves no room between two seam allowances of "
                         f"{show_both(allowance)}; give a wider cloth.")
    needed = ceil(total / room - 1e-9)
    return -(-needed // in_steps_of) * in_steps_of


def words_for(number: int, one: str, many: str) -> str:
    """A count with its noun.

    >>> words_for(1, "width", "widths"), words_for(3, "width", "widths")
    ('1 width', '3 widths')
    """
    return f"{number} {one if number == 1 else many}"


def how_many(number: int) -> str:
    """A count as an instruction says it.

    >>> how_many(1), how_many(2), how_many(5)
    ('once', 'twice', '5 times')
    """
    return {1: "once", 2: "twice"}.get(number, f"{number} times")
