"""Lengthen or shorten at a marked line; what is sewn to the cut edges is cut at its own line too."""

from __future__ import annotations

from toilewright.errors import AlterationError, Finding, Severity
from toilewright.fit.alterations.kinds import (
    LINE,
    PIECE,
    Alteration,
    Change,
    Need,
    Option,
    Options,
    Picture,
    Size,
    chosen,
    too_much,
)
from toilewright.fit.follow import opposite
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import (
    Redrawn,
    bend,
    ends_at,
    free_stretch,
    redraw_across,
    redraw_edge,
    reline,
    towards,
)
from toilewright.fit.moves.ring import Carried, Place, Region, point_of
from toilewright.fit.moves.slash import slash_parallel
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.units import parse_length, show_both

NAME, HEM = "lengthen or shorten", "hem"

UP, WAY_OF_HEM = Option("up", of="length"), Option("hem", "keep", "follow")

LEAST_LEFT = 20.0
"""mm that must stay between the line and the nearest corner when the piece is shortened (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Longer by `amount` mm at a marked line (shorter when negative), and so are the pieces sewn beside it.

    Options:
        piece: the piece; may be left out when only one piece has the line.
        line: the inner line to cut on; ``lengthen or shorten`` unless told otherwise.
        up: where the piece shows no such line, how far above its lowest point to cut, square to the grain, with its
            unit: ``"10 cm"``.
        hem: ``keep``: the edge below the cut is as wide as before, and a piece that flares does so a little less (or
            more); ``follow``: the sides run on at their slope, the hem grows (or shrinks), and what is gathered onto
            it at its ratio.

    Raises:
        AlterationError: there is no such line, or no room.
    """
    line = options.get("line", NAME)
    up = _height(options)
    follow = chosen(NAME, options, WAY_OF_HEM) == "follow"
    first = _first(garment, options.get("piece"), line, up is not None)
    todo: list[tuple[str, Point | None]] = [(first.name, None if up is None else _edge_at(first, up))]
    done: dict[str, Picture] = {}
    findings: list[Finding] = []
    altered = garment
    while todo:
        name, at = todo.pop(0)
        if name in done:
            continue
        piece = garment.piece(name)
        one, other = _cut(piece, line if up is None else "", at)
        moved, regions = _moved(piece, one, other, amount, follow)
        altered = altered.with_piece(moved)
        a, b, by = point_of(piece, one), point_of(piece, other), _away(piece, one, other) * amount
        done[name] = Picture(regions, sizes=(Size(b, b + by, unit(b - a)),))
        for place in (one, other):
            todo += _beside(garment, piece, place)
    others = [n for n in done if n != first.name]
    if others:
        findings.append(Finding("partners-follow", f"{' and '.join(others)} changed with {first.name}, so that the "
                                "seams still match.", Severity.NOTE))
    return Change(altered, done, {"pieces": float(len(done))}, tuple(findings))


def _height(options: Options) -> float | None:
    """The height asked for (mm), or None."""
    if "up" not in options:
        return None
    said = options["up"]
    if not any(c.isalpha() or c == '"' for c in said):
        raise AlterationError(f'"{NAME}" with up = "{said}" does not say in which unit; write it like "10 cm".')
    return parse_length(said)


def _edge_at(piece: Piece, up: float) -> Point:
    """Where a cut square to the grain, `up` mm above the lowest point of the piece, meets its ring first."""
    way = down(piece)
    lowest = max((p for e in piece.edges for p in e.path.flatten(0.5)), key=lambda p: dot(p, way))
    level, along = lowest - way * up, way * 1j
    hits = [m.point for e in piece.edges for m in line_meetings(e.path, level - along * 3000, level + along * 3000)]
    if not hits:
        raise AlterationError(f'"{NAME}" {show_both(up)} above the lowest point of "{piece.name}" lies above the whole '
                              "piece; name a height within it.")
    return min(hits, key=lambda p: dot(p, along))


def _first(garment: Garment, name: str | None, line: str, placed: bool) -> Piece:
    having = [p for p in garment.pieces if p.line(line) is not None]
    if name is not None:
        if not garment.has(name):
            raise AlterationError(f'"{NAME}" is asked on "{name}", which this pattern does not have; it can be made on '
                                  f"{_listed(having)}.")
        piece = garment.piece(name)
        if piece.line(line) is None and not placed:
            lines = ", ".join(f'"{m.name}"' for m in piece.lines) or "none"
            raise AlterationError(f'"{name}" has no line called "{line}" (its lines: {lines}); name one of them, or '
                                  'say how far above its lowest point to cut: up = "10 cm".')
        return piece
    if placed:
        raise AlterationError(f'"{NAME}" with a height says where to cut, but not in which piece; add  piece = "...".')
    if not having:
        raise AlterationError(f'No piece of this pattern shows a line called "{line}"; name the piece, and how far '
                              'above its lowest point to cut: up = "10 cm".')
    sewn = {r.piece for r in _reached(garment, having[0].name)}
    if any(p.name not in sewn and p is not having[0] for p in having):
        raise AlterationError(f'Several pieces have a line called "{line}"; say which piece: {_listed(having)}.')
    return having[0]


def _reached(garment: Garment, name: str) -> list:
    piece = garment.piece(name)
    return [r for e in piece.edges for r in opposite(garment, name, e.name)]


def _listed(pieces: list[Piece]) -> str:
    return ", ".join(f'"{p.name}"' for p in pieces) or "no piece"


def _beside(garment: Garment, piece: Piece, place: Place) -> list[tuple[str, Point | None]]:
    """The pieces sewn to a cut edge, and where the cut comes out on them if they show no line of their own."""
    share = piece.sewn_at(place.edge, place.at) / piece.sewn_length(place.edge)
    found = []
    for seam in garment.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(mine) != 1 or len(theirs) != 1 or (mine[0].piece, mine[0].edge) != (piece.name, place.edge):
                continue
            ref = theirs[0]
            path = garment.piece(ref.piece).edge(ref.edge).path
            at = share if mine[0].reverse == ref.reverse else 1 - share
            found.append((ref.piece, path.point_at(at * path.length)))
    return found


def _cut(piece: Piece, line: str, at: Point | None) -> tuple[Place, Place]:
    """The two places where the cut crosses the ring."""
    drawn = piece.line(line)
    if drawn is not None:
        start, along = drawn.start, unit(drawn.end - drawn.start)
        middle = (drawn.start + drawn.end) / 2
    elif at is not None:
        start, along = at, down(piece) * 1j
        centre = sum(e.path.start for e in piece.edges) / len(piece.edges)
        along = along if dot(centre - at, along) > 0 else -along
        middle = at + along
    else:
        raise AlterationError(f'"{piece.name}" has no line called "{line}"; name one that it has.')
    hits = [(dot(m.point - middle, along), Place(e.name, m.on_first))
            for e in piece.edges for m in line_meetings(e.path, start - along * 3000, start + along * 3000)]
    left = max((h for h in hits if h[0] <= 0), key=lambda h: h[0], default=None)
    right = min((h for h in hits if h[0] > 1e-3), key=lambda h: h[0], default=None)
    if left is None or right is None:
        raise AlterationError(f'The line "{line}" of "{piece.name}" does not lie across the piece; draw it from edge '
                              "to edge.")
    for place in (left[1], right[1]):
        for d in piece.darts_on(place.edge):
            if d.start - 1 < place.at < d.end + 1:
                raise AlterationError(f'The line "{line}" of "{piece.name}" runs into the mouth of its "{d.name}"; '
                                      "choose a line that clears it.")
    return left[1], right[1]


def _moved(piece: Piece, one: Place, other: Place, amount: float, follow: bool) -> tuple[Piece, tuple[Region, ...]]:
    way = _away(piece, one, other)
    room = min(_room(piece, p) for p in (one, other))
    if amount < 0 and -amount > room:
        raise too_much(NAME, amount, piece.name, "folds out more than lies beside the line", -max(room, 0.0))
    stays = _upper(piece, one, other, way)
    carried = slash_parallel(piece, one, other, way * amount, stays)
    if follow:
        return _run_on(piece, carried, (one, other), way * amount), carried.regions
    out = carried.piece
    for place in (one, other):
        gap = carried.at(place.edge, place.at), carried.at(place.edge, place.at, after=True)
        out = redraw_edge(out, redraw_across(out, place.edge, *gap))
    return reline(piece, out, *{one.edge, other.edge}), carried.regions


def _run_on(piece: Piece, carried: Carried, cut: tuple[Place, Place], by: Point) -> Piece:
    """The sides continued at their slope instead of redrawn across the step; the edge between them goes along."""
    if not all(_meet(piece, HEM, p.edge) for p in cut):
        raise AlterationError(f'"{NAME}" with hem = "follow" on "{piece.name}" needs the edge "{HEM}" below the line, '
                              'from side to side; use hem = "keep" there.')
    drawn, ends = [], {}
    for place in cut:
        edge = _continued(piece, carried, place, by)
        drawn.append(edge)
        end = edge.path.end if ends_at(piece, place.edge, HEM) else edge.path.start
        ends[ends_at(piece, HEM, place.edge)] = end
    hem = carried.piece.edge(HEM).path
    moved = bend(hem, Affine.shift(ends[False] - hem.start), Affine.shift(ends[True] - hem.end))
    hem_drawn = Redrawn(HEM, moved, (0.0, hem.length), (0.0, moved.length))
    return reline(piece, redraw_edge(carried.piece, *drawn, hem_drawn), *{p.edge for p in cut})


def _continued(piece: Piece, carried: Carried, place: Place, by: Point) -> Redrawn:
    """One side: its upper part, run on straight (or cut short) until it is as much longer, then its lower part."""
    at_end = ends_at(piece, place.edge, HEM)
    path = towards(piece, place.edge, HEM)
    at = place.at if at_end else path.length - place.at
    upper, lower = path.split(at)
    along = path.tangent_at(at)
    run = dot(by, by) / dot(along, by)
    if run > 0:
        head = Path.joined((upper, Path.line(upper.end, upper.end + along * run)))
    else:
        for _ in range(4):
            head = upper.split(upper.length + run)[0]
            run *= dot(by, by) / dot(head.end - upper.end, by)
        head = upper.split(upper.length + run)[0]
    fresh = Path.joined((head, lower.moved(head.end - upper.end)))
    whole = carried.piece.edge(place.edge).path.length
    gap = sorted(carried.at(place.edge, place.at, after) for after in (False, True))
    kept = min(at, head.length)
    if at_end:
        return Redrawn(place.edge, fresh, (0.0, kept, gap[1], whole), (0.0, kept, head.length, fresh.length))
    rest, total = fresh.length - head.length, fresh.length
    return Redrawn(place.edge, fresh.reversed(), (0.0, gap[0], whole - kept, whole), (0.0, rest, total - kept, total))


def _meet(piece: Piece, edge: str, other: str) -> bool:
    names = [e.name for e in piece.edges]
    if edge not in names:
        return False
    i = names.index(edge)
    return other in (names[i - 1], names[(i + 1) % len(names)])


def _away(piece: Piece, one: Place, other: Place) -> Point:
    """Unit direction square to the cut, towards the hem."""
    along = unit(point_of(piece, other) - point_of(piece, one)) * 1j
    return along if dot(along, down(piece)) > 0 else -along


def _upper(piece: Piece, one: Place, other: Place, way: Point) -> str:
    """The edge farthest up that is not cut: it stays."""
    whole = [e for e in piece.edges if e.name not in (one.edge, other.edge)]
    if not whole:
        raise AlterationError(f'The cut on "{piece.name}" leaves no edge whole; give the piece corners in the labels '
                              "file.")
    return min(whole, key=lambda e: dot(e.path.start + e.path.end, way)).name


def _room(piece: Piece, place: Place) -> float:
    ends = free_stretch(piece, place.edge, place.at)
    return max(place.at - ends[0], ends[1] - place.at) - LEAST_LEFT


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by = f"{{{abs(amount):.1f} mm}}"
    names = " and ".join(change.pictures)
    follow = order.options.get("hem") == "follow"
    sides = ("Run the side edges on at their slope across the step, draw the hem out to them"
             if follow else "Redraw the side edges across the step")
    sides += ", and dart legs from their ends to their points."
    if amount > 0:
        steps = (f"Cut {names} apart on the line.",
                 f"Lay paper underneath, rule a line along the grain across the cut, and move the parts {by} apart "
                 "along it; tape.",
                 sides)
    else:
        steps = (f"Rule a second line {by} from the first one on {names}, and fold the one onto the other; tape.",
                 sides)
    if follow:
        steps = (*steps, "Make a tier or frill that is gathered onto the hem wider or narrower in proportion.")
    check = (f"Every piece is {by} {'longer' if amount > 0 else 'shorter'} along the grain.",
             "The sides run straight on from above the line." if follow else
             "Its width above and below the line is what it was.", "The seams beside the line match.")
    return Card("Lengthen" if amount > 0 else "Shorten", ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372"

ALTERATION = Alteration(
    NAME, ("lengthen", "shorten"), (-120.0, 150.0), SOURCE, 0,
    apply, _card, {"shorten": -1.0}, (PIECE, LINE, UP, WAY_OF_HEM),
    (Need(),))

