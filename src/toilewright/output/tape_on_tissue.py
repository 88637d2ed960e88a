"""Where the tape runs on a piece laid flat.

A run is written in words, such as ``level bust line`` or ``between neck point, bust dart``; ``make/takings.toml`` lists
them. The piece stands upright.
"""

from __future__ import annotations

from toilewright.fit.flat.laid import level_of, wrap_centre
from toilewright.fit.flat.lower import KNEE_BELOW_WAIST
from toilewright.fit.levels import centre_edge, crossings, depth_below, place
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.piece import Piece

_HAIR = 1e-3


def tape_runs(piece: Piece, run: str) -> tuple[Path, ...]:
    """The lines that the tape covers on an upright piece; none where the piece does not show them.

    >>> from toilewright.blocks.concert import concert_dress
    >>> front = concert_dress().at("5").piece("bodice front")
    >>> [round(p.length, 1) for p in tape_runs(front, "between neck point, bust point")]
    [268.0]
    """
    way, _, rest = run.partition(" ")
    words = [w.strip() for w in rest.split(",") if w.strip()]
    return _WAYS[way](piece, words)


def _level(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    level = level_of(piece, *words)
    return () if level is None else _straight(piece, level - _HAIR)


def _straight(piece: Piece, level: float, low: float = float("-inf"), high: float = float("inf")) -> tuple[Path, ...]:
    xs = crossings(piece.outline.flatten(), level)
    if len(xs) < 2:
        return ()
    return (Path.line(complex(max(min(xs), low), level), complex(min(max(xs), high), level)),)


def _within(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    level, sides = level_of(piece, words[0]), _about_centre(piece)
    return () if level is None or sides is None else _straight(piece, level, *sides[0])


def _beyond(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    sides, centre = _about_centre(piece), wrap_centre(piece)
    if sides is None or centre is None:
        return ()
    if words[0] == "waist":
        return _straight(piece, centre.imag - 1.0, *sides[1])
    level = centre.imag - KNEE_BELOW_WAIST if words[0] == "knee" else level_of(piece, words[0])
    return () if level is None else _straight(piece, level, *sides[1])


def _about_centre(piece: Piece) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The part of a wrap on her side of its centre, and the part beyond it (x from, x to)."""
    centre, side = wrap_centre(piece), place(piece, "side waist")
    if centre is None or side is None:
        return None
    left, right = (float("-inf"), centre.real), (centre.real, float("inf"))
    return (right, left) if side.real > centre.real else (left, right)


def _edge(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    return (piece.edge(words[0]).path,) if piece.has_edge(words[0]) else ()


def _waistward(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    """Along a centre edge down to the waist, where the piece itself goes on below it."""
    level = None if piece.has_edge("waist") else level_of(piece, "waist line")
    if level is None or not piece.has_edge(words[0]):
        return _edge(piece, words)
    path = piece.edge(words[0]).path
    top = max((path.start, path.end), key=lambda z: z.imag)
    return (Path.line(top, complex(top.real, level)),)


def _sewn(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    if not piece.has_edge(words[0]):
        return ()
    path = piece.edge(words[0]).path
    stops = sorted(s for d in piece.darts_on(words[0]) for s in (d.start, d.end))
    return _parts(path, [0.0, *stops, path.length])


def _inside(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    """Along an edge from the centre of a wrap to its side, darts left out."""
    centre, side = wrap_centre(piece), place(piece, "side waist")
    if centre is None or side is None or not piece.has_edge(words[0]):
        return ()
    path = piece.edge(words[0]).path
    ends = sorted(path.nearest(z)[0] for z in (centre, side))
    stops = sorted(s for d in piece.darts_on(words[0]) for s in (d.start, d.end))
    return _parts(path, [ends[0], *stops, ends[1]])


def _parts(path: Path, stops: list[float]) -> tuple[Path, ...]:
    """Every other stretch between the stops: from the first to the second, from the third to the fourth ..."""
    found = []
    for start, end in zip(stops[::2], stops[1::2], strict=True):
        if end - start > 1.0:
            rest = path.split(start)[1] if start > _HAIR else path
            found.append(rest.split(end - start)[0] if end < path.length - _HAIR else rest)
    return tuple(found)


def _between(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    one, other = (_spot(piece, w) for w in words[:2])
    return () if one is None or other is None else (Path.line(one, other),)


def _over(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    one, other = (_spot(piece, w) for w in words[:2])
    if one is None or other is None or not piece.has_edge(words[2]):
        return ()
    if piece.has_edge("princess seam"):
        seam = piece.edge("princess seam").path
        parts = [p for p in seam.split(seam.nearest(other)[0]) if p.length > 1.0]
        lower = min(parts, key=lambda p: min(p.start.imag, p.end.imag))
        return Path.line(one, other), lower
    return (Path.polyline((one, other, other - 1j * depth_below(piece, other))),)


def _out(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    at, centre = _spot(piece, words[0]), centre_edge(piece)
    if at is None or centre is None:
        return ()
    path = piece.edge(centre).path
    return (Path.line(at, complex(path.point_at(path.nearest(at)[0]).real, at.imag)),)


def _down(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    at, low = _spot(piece, words[0]), _height(piece, words[1])
    if at is not None and piece.has_edge(words[1]):
        # A corner lies on the outline, so the way down begins a hair below it.
        low = at.imag - depth_below(piece, at - _HAIR * 1j)
    return () if at is None or low is None else (Path.line(at, complex(at.real, low)),)


def _half(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    """Straight across half way down the armhole ("half way armhole")."""
    tip, under = place(piece, "shoulder tip"), place(piece, "underarm")
    return () if tip is None or under is None else _straight(piece, (tip.imag + under.imag) / 2)


def _centre(piece: Piece, words: list[str]) -> tuple[Path, ...]:
    name = centre_edge(piece)
    return () if name is None else (piece.edge(name).path,)


def _spot(piece: Piece, name: str) -> Point | None:
    dart = next((d for d in piece.darts if d.name == name), None)
    return dart.apex if dart else place(piece, name) or piece.landmark(name)


def _height(piece: Piece, name: str) -> float | None:
    """Height of a place or a line."""
    spot = _spot(piece, name)
    return level_of(piece, name) if spot is None else spot.imag


_WAYS = {"level": _level, "within": _within, "beyond": _beyond, "edge": _edge, "waistward": _waistward, "sewn": _sewn,
         "inside": _inside, "between": _between, "over": _over, "out": _out, "down": _down, "half": _half,
         "centre": _centre}
