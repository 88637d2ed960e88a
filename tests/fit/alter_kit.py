"""What the tests of alterations share: dresses, orders, the other hand, and what must always hold."""

from dataclasses import replace
from functools import cache

import pytest
from shapely.geometry import Polygon

from toilewright.blocks.concert import concert_dress
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.geometry.affine import Affine
from toilewright.known import Known, Origin
from toilewright.pattern.truing import dart_legs

# Alteration, least and most amount that fits every size (mm), options, may be undone.
CASES = (
    ("high round back", 2.0, 25.0, {}, False),
    ("high round back", 4.0, 25.0, {"takes up": "shoulder dart"}, False),
    ("high round back", 2.0, 25.0, {"takes up": "ease"}, False),
    ("forward shoulder", -12.0, 15.0, {}, True),
    ("forward shoulder", -10.0, 15.0, {"neck": "parallel"}, False),
    ("bust dart height", -20.0, 40.0, {}, True),
    ("bust dart point", -30.0, 10.0, {}, True),
    ("bust dart point", -15.0, 10.0, {"way": "in"}, False),
    ("full bust", -8.0, 35.0, {}, False),
    ("lengthen or shorten", -15.0, 60.0, {"piece": "bodice front"}, True),
    ("lengthen or shorten", -60.0, 120.0, {"piece": "skirt back"}, True),
    ("lengthen or shorten", -40.0, 80.0, {"piece": "sleeve"}, True),
    ("waist in or out", -60.0, 80.0, {}, True),
    ("hip in or out", -50.0, 70.0, {}, True),
    ("hip in or out", -50.0, 70.0, {"hem": "follow"}, True),
    ("lengthen or shorten", -60.0, 120.0, {"piece": "skirt front", "hem": "follow"}, True),
    ("lengthen or shorten", -40.0, 80.0, {"piece": "sleeve", "hem": "follow"}, True),
)


@cache
def dress(size="4"):
    return concert_dress().at(size)


def order(name, amount, **options):
    return Order(name, Known(amount, Origin.ASKED), options)


def altered(garment, name, amount, **options):
    return alter(garment, [order(name, amount, **options)])


def made(garment, name, amount, **options):
    return altered(garment, name, amount, **options).garment


def other_hand(garment, move=None):
    """Every piece mirrored in an upright line, and then moved."""
    move = move or Affine()

    def turned(refs):
        return tuple(replace(r, reverse=not r.reverse) for r in refs)

    return replace(
        garment, pieces=tuple(p.mirrored(0j, 1j).mapped(move) for p in garment.pieces),
        seams=tuple(replace(s, a=turned(s.a), b=turned(s.b)) for s in garment.seams))


def gap(one, other):
    """How far two pieces of the same names are apart, edge by edge, at even shares of their lengths (mm)."""
    worst = 0.0
    assert {e.name for e in one.edges} == {e.name for e in other.edges}
    for a in one.edges:
        b, n = other.edge(a.name), 24
        worst = max(worst, *(abs(a.path.point_at(a.path.length * k / n) - b.path.point_at(b.path.length * k / n))
                             for k in range(n + 1)))
    assert {d.name for d in one.darts} == {d.name for d in other.darts}
    for a in one.darts:
        worst = max(worst, abs(a.apex - other.dart(a.name).apex))
    return worst


def assert_whole(piece):
    """Closed (the piece itself sees to that), counter-clockwise, no crossing, dart legs equal."""
    polygon = Polygon([(p.real, p.imag) for p in piece.outline.flatten(0.05)[:-1]])
    assert polygon.is_valid, piece.name
    assert piece.area > 0
    for dart in piece.darts:
        first, second = dart_legs(piece, dart)
        assert first == pytest.approx(second, abs=1e-3), (piece.name, dart.name)
