"""What alterations at the side seam share: which pieces take part, and a side seam that moves and tapers to nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Options, too_much
from toilewright.fit.follow import opposite
from toilewright.fit.frame import centre_of, down
from toilewright.fit.moves.bow import bowed
from toilewright.fit.moves.edges import (
    Redrawn,
    bend,
    corner,
    ends_at,
    redraw_edge,
    reline,
    shift_end,
    sums,
    towards,
)
from toilewright.fit.moves.ring import crossing
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, turn
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

SIDE = "side seam"

STEEPEST = 0.25
"""mm of shift for each mm of side seam to the next level: more makes a bulge (common practice)."""

USUAL_HIP_DEPTH = 200.0
"""mm below the waist, along the side seam, where neither a hip line nor a hip notch is drawn (common practice)."""


def rounds(garment: Garment, name: str, options: Options, *edges: str) -> list[list[Piece]]:
    """The pieces that go round the body together, by the side seams that join them.

    Raises:
        AlterationError: there are none.
    """
    able = [p for p in garment.pieces if p.has_edge(SIDE) and all(p.has_edge(e) for e in edges)]
    groups: list[list[Piece]] = []
    for piece in able:
        beside = {r.piece for r in opposite(garment, piece.name, SIDE)}
        home = next((g for g in groups if any(q.name in beside for q in g)), None)
        if home is None:
            groups.append([piece])
        else:
            home.append(piece)
    wanted = options.get("piece")
    if wanted is not None:
        groups = _joined_at_waist(garment, groups, wanted)
    if not groups:
        what = " and ".join(f'"{e}"' for e in (*edges, SIDE))
        raise AlterationError(f'"{name}" needs pieces with the edges {what}'
                              + (f' that belong to "{wanted}"' if wanted else "")
                              + "; correct the names of the edges in the labels file.")
    return groups


def girth_out(garment: Garment, name: str, options: Options, amount: float, reach: Callable[[Piece], float],
              out: Callable[[Piece, float], Piece]) -> tuple[Garment, list[Piece], float]:
    """Skirts or trousers with a girth larger by `amount` mm, evenly at all side edges.

    Args:
        reach: mm of a piece's side seam over which the shift tapers, where that is shortest.
        out: a piece with its side seam moved by so many mm.

    Returns:
        the garment; the pieces that the picture shows, as they were; and the shift at each of their side edges (mm).

    Raises:
        AlterationError: the edges are missing, or the amount does not fit.
    """
    groups = rounds(garment, name, options, "waist", "hem")
    most, least = min((STEEPEST * reach(p) * side_edges(g), p.name) for g in groups for p in g)
    if abs(amount) > most:
        raise too_much(name, amount, least, "makes a bulge in the side seam", most if amount > 0 else -most)
    for group in groups:
        by = amount / side_edges(group)
        garment = shift_group(garment, group, lambda p, by=by: out(p, by))
    # The dress before a wrap skirt that comes with it: its picture stands for both.
    main = next((g for g in groups if not g[0].name.startswith("wrap")), groups[0])
    return garment, main, amount / side_edges(main)


def _joined_at_waist(garment: Garment, groups: list[list[Piece]], wanted: str) -> list[list[Piece]]:
    kept = [g for g in groups if any(p.name == wanted for p in g)]
    reached = {r.piece for g in kept for p in g if p.has_edge("waist")
               for seam in garment.seams for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a))
               if any(m.piece == p.name and m.edge == "waist" for m in mine) for r in theirs}
    return kept + [g for g in groups if g not in kept and any(p.name in reached for p in g)]


def side_edges(group: Sequence[Piece]) -> int:
    """How many side edges of cloth go round: two for a piece on the fold or cut as a pair."""
    return sum(2 if p.on_fold or p.cut.count >= 2 else 1 for p in group)


def shift_group(garment: Garment, group: Sequence[Piece], shift: Callable[[Piece], Piece]) -> Garment:
    """Every piece of a round shifted."""
    for piece in group:
        garment = garment.with_piece(shift(piece))
    return garment


def hip_place(piece: Piece) -> float:
    """Arc length from the start of the side seam to the hip level (mm)."""
    path = piece.edge(SIDE).path
    line = piece.line("hip line")
    if line is not None:
        return min((path.nearest(p) for p in (line.start, line.end)), key=lambda found: found[1])[0]
    notch = next((n.at for n in piece.notches if n.edge == SIDE and n.name == "hip notch"), None)
    if notch is not None:
        return notch
    depth = min(USUAL_HIP_DEPTH, 0.6 * path.length)
    return path.length - depth if ends_at(piece, SIDE, "waist") else depth


def half_way_place(piece: Piece) -> float:
    """Arc length from the start of the side seam to the level half way between waist and hip (mm)."""
    hip = piece.edge(SIDE).path.point_at(hip_place(piece))
    drawn, way = piece.landmark("centre waist"), down(piece)
    top = corner(piece, "waist", centre_of(piece) or SIDE) if drawn is None else drawn
    level = crossing(piece, SIDE, hip - way * dot(hip - top, way) / 2, way * 1j)
    return hip_place(piece) / 2 if level is None else level.at


def waist_out(piece: Piece, by: float, higher: float = 0.0) -> Piece:
    """The waist longer by `by` mm at the side, the side seam longer by `higher` mm.

    The shift tapers to nothing at the underarm of a bodice, at the hip of a skirt; along the waist at its nearest dart,
    or, when it goes higher, at the centre, with the darts lifted by their share. Two lengths fix the corner, so that
    taking in undoes letting out.
    """
    at_end = ends_at(piece, SIDE, "waist")
    length = piece.edge(SIDE).path.length
    hip = hip_place(piece) if piece.has_edge("hem") else None
    reach = length if hip is None else (length - hip if at_end else hip)
    along, low = towards(piece, "waist", SIDE).end_tangent, towards(piece, SIDE, "waist").end_tangent
    here = corner(piece, "waist", SIDE)
    waist, side = piece.edge("waist").path.length + by, _sewn(piece, length) + higher

    def drawn(shift: Point) -> tuple[Redrawn, Redrawn, float, float]:
        seam = _tapered(piece, shift, reach, at_end)
        tilt = (turn(piece.edge(SIDE).path.end_tangent, seam.path.end_tangent) if at_end
                else turn(piece.edge(SIDE).path.start_tangent, seam.path.start_tangent))
        move = Affine.turn(tilt, here).then(Affine.shift(shift))
        line = _lifted(piece, shift, move) if higher else shift_end(piece, "waist", SIDE, move)
        return seam, line, waist - line.path.length, side - _sewn_as(piece, seam)

    shift = _settled(drawn, along, low, (by, higher))
    seam, line, *_ = drawn(shift)
    marks = {m.name: m.at + shift for m in piece.landmarks if abs(m.at - here) < 1e-3}
    out = redraw_edge(piece, seam, line, landmarks=marks)
    if higher:
        out = replace(out, darts=tuple(
            replace(new, apex=old.apex + out.feet(new)[0] - piece.feet(old)[0]) if old.edge == "waist" else new
            for old, new in zip(piece.darts, out.darts, strict=True)))
    return reline(piece, out, SIDE)


def _lifted(piece: Piece, by: Point, move: Affine) -> Redrawn:
    """The waist moved by a vector at the side, evenly less to nothing at its other end; darts go along as they are.

    Args:
        move: carries its end at the side, and the direction there.
    """
    path, at_end, darts = piece.edge("waist").path, ends_at(piece, "waist", SIDE), piece.darts_on("waist")
    parts = path.cut_at(sorted(s for d in darts for s in (d.start, d.end)))
    bounds = sums(parts)
    sewn, gone, fresh = piece.sewn_length("waist"), 0.0, []
    spans = list(zip(parts, bounds, bounds[1:], strict=False))
    for part, low, high in (spans if at_end else reversed(spans)):
        first = Affine.shift(by * gone / sewn)
        if any(abs(d.start - low) < 1e-6 and abs(d.end - high) < 1e-6 for d in darts):
            fresh.append(part.mapped(first))
            continue
        gone += part.length
        last = move if gone > sewn - 1e-6 else Affine.shift(by * gone / sewn)
        fresh.append(bend(part, first, last) if at_end else bend(part, last, first))
    fresh = fresh if at_end else fresh[::-1]
    return Redrawn("waist", Path.joined(fresh), bounds, sums(fresh))


def _sewn(piece: Piece, length: float) -> float:
    return length - sum(d.end - d.start for d in piece.darts_on(SIDE))


def _sewn_as(piece: Piece, seam: Redrawn) -> float:
    return seam.path.length - sum(seam.at(d.end) - seam.at(d.start) for d in piece.darts_on(SIDE))


def _settled(drawn: Callable[[Point], tuple[Redrawn, Redrawn, float, float]], along: Point, low: Point,
             first: tuple[float, float]) -> Point:
    """The shift for which both misses vanish (Newton's rule, slopes by small differences, kept once found)."""
    x, y = first
    start = along * x + low * y
    _, _, a, b = drawn(start)
    _, _, ax, bx = drawn(start + along * 0.1)
    _, _, ay, by_ = drawn(start + low * 0.1)
    xx, xy, yx, yy = (ax - a) / 0.1, (ay - a) / 0.1, (bx - b) / 0.1, (by_ - b) / 0.1
    area = xx * yy - xy * yx
    for _ in range(12):
        x -= (a * yy - b * xy) / area
        y -= (b * xx - a * yx) / area
        _, _, a, b = drawn(along * x + low * y)
        if abs(a) + abs(b) < 1e-3:
            break
    return along * x + low * y


def _tapered(piece: Piece, by: Point, reach: float, at_end: bool) -> Redrawn:
    """The side seam moved by a vector at the waist, evenly less up to `reach` mm from it, darts thought closed.

    Past a dart the shift turns with it, so that its legs stay equal and its angle what it was.
    """
    path = piece.edge(SIDE).path
    length = path.length
    darts = piece.darts_on(SIDE)
    still = length - reach if at_end else reach
    places = sorted({s for d in darts for s in (d.start, d.end)} | ({still} if 1e-6 < still < length - 1e-6 else set()))
    parts = path.cut_at(places)
    bounds = sums(parts)
    spans = list(zip(parts, bounds, bounds[1:], strict=False))
    sewn = reach - sum(d.end - d.start for d in darts if (d.start >= still if at_end else d.end <= still))
    gone, vector, fresh = 0.0, by, []
    for part, low, high in (reversed(spans) if at_end else spans):
        dart = next((d for d in darts if abs(d.start - low) < 1e-6 and abs(d.end - high) < 1e-6), None)
        near, far = (part.end, part.start) if at_end else (part.start, part.end)
        if dart is not None:
            left = 1 - gone / sewn
            start = near + vector * left
            vector *= _turned(near - dart.apex, far - dart.apex)
            end = far + vector * left
            fresh.append(Path.line(end, start) if at_end else Path.line(start, end))
            continue
        if gone >= sewn - 1e-6:
            fresh.append(part)
            continue
        first, last = (Affine.shift(vector * max(0.0, 1 - s / sewn)) for s in (gone, gone + part.length))
        fresh.append(bend(part, last, first) if at_end else bend(part, first, last))
        gone += part.length
    if at_end:
        fresh.reverse()
    return Redrawn(SIDE, Path.joined(fresh), bounds, sums(fresh))


def _turned(a: Point, b: Point) -> Point:
    q = b / a
    return q / abs(q)


def side_out(piece: Piece, at: float, by: Point, span: tuple[float, float] | None = None, follow: bool = False,
             ) -> Piece:
    """The side seam moved by a vector at one place, tapering to nothing at both ends of a span.

    Args:
        at: arc length from the start of the side seam (mm).
        span: arc lengths; from end to end when not given.
        follow: down to the hem it moves as one, and the hem with it.
    """
    low = by if follow else 0j
    drawn = [bowed(piece, SIDE, at, by, (0j, low) if ends_at(piece, SIDE, "hem") else (low, 0j), span)]
    if follow:
        drawn.append(shift_end(piece, "hem", SIDE, Affine.shift(by)))
    return reline(piece, redraw_edge(piece, *drawn), SIDE)
