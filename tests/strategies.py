"""Random points, curves and paths of garment size, for property tests."""

from __future__ import annotations

from hypothesis import strategies as st

from toilewright.geometry import Affine, Cubic, Line, Path

REACH = 600.0


def coordinates(reach: float = REACH) -> st.SearchStrategy[float]:
    """Numbers a drawing can hold: hundredths of a millimetre, so that no two differ by next to nothing."""
    return st.integers(round(-reach * 100), round(reach * 100)).map(lambda n: n / 100)


def points(reach: float = REACH) -> st.SearchStrategy[complex]:
    return st.builds(complex, coordinates(reach), coordinates(reach))


def lines() -> st.SearchStrategy[Line]:
    return st.builds(Line, points(), points()).filter(lambda c: abs(c.end - c.start) > 0.5)


def cubics() -> st.SearchStrategy[Cubic]:
    """Any cubic: loops, cusps, points of inflection and handles without length happen."""
    return st.builds(Cubic, points(), points(), points(), points()).filter(lambda c: c.length > 0.5)


def calm_cubics() -> st.SearchStrategy[Cubic]:
    """Curves as patterns have them: handles near the thirds of the chord, so no loops and no cusps."""
    def build(start: complex, chord: complex, bend1: complex, bend2: complex) -> Cubic:
        return Cubic(start, start + chord * (1 / 3 + bend1), start + chord * (2 / 3 + bend2), start + chord)

    bends = st.builds(complex, st.floats(-0.15, 0.15), st.floats(-0.3, 0.3))
    return st.builds(build, points(), points(300).filter(lambda v: abs(v) > 10), bends, bends)


def near_cusps() -> st.SearchStrategy[Cubic]:
    """Cubics whose speed all but vanishes somewhere: the handles cross so that B'(t) is about 0 for one t."""
    def build(start: complex, c1: complex, c2: complex, t: float, off: complex) -> Cubic:
        u = 1 - t
        # B'(t) = 0 solved for the end point, then moved by a hair.
        end = c2 - (u * u * (c1 - start) + 2 * u * t * (c2 - c1)) / (t * t) + off
        return Cubic(start, c1, c2, end)

    hair = st.builds(complex, st.floats(-0.01, 0.01), st.floats(-0.01, 0.01))
    return st.builds(build, points(200), points(200), points(200), st.floats(0.3, 0.7), hair).filter(
        lambda c: c.length > 0.5)


def curves() -> st.SearchStrategy[Line | Cubic]:
    return st.one_of(lines(), cubics())


def paths(most: int = 5, calm: bool = False) -> st.SearchStrategy[Path]:
    """Open paths of lines and curves end to end."""
    def build(parts: list[Line | Cubic]) -> Path:
        moved, at = [], parts[0].start
        for part in parts:
            by = at - part.start
            moved.append(Line(at, part.end + by) if isinstance(part, Line)
                         else Cubic(at, part.c1 + by, part.c2 + by, part.end + by))
            at = moved[-1].end
        return Path.of(moved)

    return st.lists(st.one_of(lines(), calm_cubics() if calm else cubics()), min_size=1, max_size=most).map(build)


def rings(corners: int = 6) -> st.SearchStrategy[Path]:
    """Closed counter-clockwise rings without crossings: corners in order of bearing, sides lines or calm curves."""
    def build(radii: list[float], bows: list[float]) -> Path:
        import cmath
        n = len(radii)
        nodes = [cmath.rect(r, 2 * cmath.pi * k / n) for k, r in enumerate(radii)]
        handles = []
        for k in range(n):
            a, b = nodes[k], nodes[(k + 1) % n]
            side = (b - a) * -1j * bows[k]
            handles.append(None if abs(bows[k]) < 0.02 else (a + (b - a) / 3 + side, a + (b - a) * 2 / 3 + side))
        return Path((*nodes, nodes[0]), tuple(handles))

    return st.builds(build, st.lists(st.floats(120, 200), min_size=corners, max_size=corners),
                     st.lists(st.floats(-0.08, 0.12), min_size=corners, max_size=corners))


def affines() -> st.SearchStrategy[Affine]:
    """Maps that can be undone well, mirrored ones among them."""
    numbers = st.floats(-3, 3)
    return st.builds(Affine.from_matrix, numbers, numbers, numbers, numbers, coordinates(), coordinates()).filter(
        lambda m: abs(m.determinant) > 0.05)
