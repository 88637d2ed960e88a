"""Armholes: which pieces have one, and an underarm corner that moves along the seam below it."""

from __future__ import annotations

from collections.abc import Mapping

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Options
from toilewright.fit.alterations.sleeve.head import CAP, UNDERARMS, lines_follow
from toilewright.fit.moves.edges import corner, ends_at, redraw_edge, reline, run_on, shift_end, towards
from toilewright.geometry.affine import Affine
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

ARMHOLE, SIDE = "armhole", "side seam"


def armholes(garment: Garment, name: str, options: Options, where: str = "both") -> list[Piece]:
    """The pieces with an armhole above a side seam, fronts first.

    Args:
        where: ``front``, ``back`` or ``both``; ``piece`` of the options names one of them instead.

    Raises:
        AlterationError: there are none.
    """
    found = [p for p in garment.pieces if p.has_edge(ARMHOLE) and p.has_edge(SIDE)
             and (p.name == options["piece"] if "piece" in options else where == "both" or where in p.name)]
    if not found:
        who = f'"{options["piece"]}"' if "piece" in options else "a piece" if where == "both" else f"a {where} piece"
        raise AlterationError(f'"{name}" needs {who} with the edges "{ARMHOLE}" and "{SIDE}"; correct the names in '
                              "the labels file.")
    return sorted(found, key=lambda p: "front" not in p.name)


def lowest_mark(piece: Piece, edge: str, side: str) -> float:
    """Arc length from an edge's corner with its side to the nearest balance mark on it; half the edge without one."""
    length = piece.edge(edge).path.length
    at_end = ends_at(piece, edge, side)
    marks = [length - n.at if at_end else n.at for n in piece.notches if n.edge == edge]
    return min((s for s in marks if s > 10.0), default=length / 2)


def lowered(piece: Piece, edge: str, side: str, by: float) -> Piece:
    """The corner of an edge moved down along its side by `by` mm (up when negative), drawn anew to its first mark."""
    seam = run_on(piece, side, edge, -by)
    here = corner(piece, edge, side)
    goal = seam.path.end if ends_at(piece, side, edge) else seam.path.start
    fresh = shift_end(piece, edge, side, Affine.shift(goal - here), lowest_mark(piece, edge, side))
    marks = {m.name: goal for m in piece.landmarks if abs(m.at - here) < 1e-3}
    return reline(piece, redraw_edge(piece, seam, fresh, landmarks=marks), edge, side)


def free_side(piece: Piece, edge: str, side: str) -> float:
    """mm of a side from its corner with an edge to the first dart on it."""
    length = towards(piece, side, edge).length
    at_end = ends_at(piece, side, edge)
    return min((length - d.end if at_end else d.start for d in piece.darts_on(side)), default=length)


def sleeve_follows(garment: Garment, before: list[Piece]) -> tuple[Garment, dict[str, float]]:
    """The sleeve's underarm so much lower (or higher) that its head has grown as its armholes have.

    Args:
        garment: with the armholes altered.
        before: the pieces whose armholes were altered, as they were.

    Returns:
        the garment, and for the card: ``sleeve`` 1 when there is one, and what it has ``grown`` (mm).
    """
    grown = sum(garment.piece(p.name).sewn_length(ARMHOLE) - p.sewn_length(ARMHOLE) for p in before)
    sleeve = _sleeve(garment, before)
    if sleeve is None:
        return garment, {"sleeve": 0.0, "grown": grown}
    return garment.with_piece(_grown(sleeve, grown)), {"sleeve": 1.0, "grown": grown}


def sleeve_steps(numbers: Mapping[str, float]) -> tuple[str, ...]:
    """What the card says of the sleeve."""
    if not numbers["sleeve"]:
        return ()
    by, more = f"{{{abs(numbers['grown']):.1f} mm}}", numbers["grown"] > 0
    return (f"The armhole has {'grown' if more else 'lost'} {by} in all. On the sleeve, move both underarm corners "
            f"{'down' if more else 'up'} along the underarm seams, and draw the head from its balance marks to them, "
            "until it has changed by as much.",)


def _sleeve(garment: Garment, pieces: list[Piece]) -> Piece | None:
    """The sleeve in one piece that is sewn into these armholes."""
    wanted = {(p.name, ARMHOLE) for p in pieces}
    for seam in garment.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(theirs) == 1 and theirs[0].edge == CAP and wanted <= {(r.piece, r.edge) for r in mine}:
                sleeve = garment.piece(theirs[0].piece)
                if all(sleeve.has_edge(e) for e in UNDERARMS):
                    return sleeve
    return None


def _grown(sleeve: Piece, by: float) -> Piece:
    """The sleeve with its head longer by `by` mm (the secant rule)."""
    def at(down: float) -> Piece:
        return lines_follow(sleeve, lowered(lowered(sleeve, CAP, UNDERARMS[0], down), CAP, UNDERARMS[1], down))

    x0, x1, y0 = 0.0, 0.6 * by, -by
    out = at(x1)
    for _ in range(12):
        y1 = out.sewn_length(CAP) - sleeve.sewn_length(CAP) - by
        if abs(y1) < 1e-4 or y1 == y0:
            break
        x0, x1, y0 = x1, x1 - y1 * (x1 - x0) / (y1 - y0), y1
        out = at(x1)
    return out
