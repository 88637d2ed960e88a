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
)
from toilewright.fit.alterations.lengths import at_hem
from toilewright.fit.alterations.lengths.crossing import HEM, NAME, away, check_room, cut_at, moved
from toilewright.fit.follow import opposite
from toilewright.fit.frame import down
from toilewright.fit.moves.ring import Place, point_of
from toilewright.fit.result import Card, Order
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.units import parse_length, show_both

UP, WAY_OF_HEM = Option("up", of="length"), Option("hem", "keep", "follow")


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Longer by `amount` mm at a marked line (shorter when negative), and so are the pieces sewn beside it.

    Options:
        piece: the piece; may be left out when only one piece has the line.
        line: the inner line to cut on; ``lengthen or shorten`` unless told otherwise; ``hem``: not cut, but let down
            or taken up at the hem.
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
    if line == HEM:
        return _at_hem(garment, at_hem.hemmed(garment, options.get("piece")), amount, follow)
    first = _first(garment, options.get("piece"), line, up is not None)
    todo: list[tuple[str, Point | None]] = [(first.name, None if up is None else _edge_at(first, up))]
    cuts: dict[str, tuple[Piece, Place, Place]] = {}
    while todo:
        name, at = todo.pop(0)
        if name in cuts:
            continue
        piece = garment.piece(name)
        one, other = cut_at(piece, line if up is None else "", at)
        cuts[name] = (piece, one, other)
        for place in (one, other):
            todo += _beside(garment, piece, place)
    check_room(list(cuts.values()), amount, follow)
    done: dict[str, Picture] = {}
    altered = garment
    for name, (piece, one, other) in cuts.items():
        longer, regions = moved(piece, one, other, amount, follow)
        altered = altered.with_piece(longer)
        a, b, by = point_of(piece, one), point_of(piece, other), away(piece, one, other) * amount
        done[name] = Picture(regions, sizes=(Size(b, b + by, unit(b - a)),))
    return Change(altered, done, {"pieces": float(len(done))}, _told(list(done)))


def _at_hem(garment: Garment, names: list[str], amount: float, follow: bool) -> Change:
    altered = garment
    for name in names:
        altered = altered.with_piece(at_hem.longer(garment.piece(name), amount, follow))
    pictures = {name: at_hem.picture_of(garment.piece(name), amount) for name in names}
    return Change(altered, pictures, {"pieces": float(len(names))}, _told(names))


def _told(names: list[str]) -> tuple[Finding, ...]:
    """What is said of the pieces that changed with the first one."""
    return (Finding("partners-follow", f"{' and '.join(names[1:])} changed with {names[0]}, so that the seams still "
                    "match.", Severity.NOTE),) if len(names) > 1 else ()


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


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by = f"{{{abs(amount):.1f} mm}}"
    names = " and ".join(change.pictures)
    follow = order.options.get("hem") == "follow"
    title = "Lengthen" if amount > 0 else "Shorten"
    if order.options.get("line") == HEM:
        return hem_card(f"{title} at the hem", names, amount, follow)
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
    return Card(title, ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


def hem_card(title: str, names: str, amount: float, follow: bool = False) -> Card:
    """How to lengthen or shorten at the hem."""
    by = f"{{{abs(amount):.1f} mm}}"
    check = (f"Every piece is {by} {'longer' if amount > 0 else 'shorter'} at the hem, along the grain.",
             "The seams beside the hem match.")
    return Card(title, ("paper", "tape", "ruler"), _hem_steps(names, by, amount, follow), check, SOURCE)


def _hem_steps(names: str, by: str, amount: float, follow: bool) -> tuple[str, ...]:
    way = "below" if amount > 0 else "above"
    last = ("Cut off what lies below it and its allowance." if amount < 0 else
            "Give it the hem's old allowance, turned as before.")
    if follow:
        return (f"On {names}, draw a line {by} {way} the hem, along the grain from every point of it.",
                f"Run the sides {'on at their slope down' if amount > 0 else 'as they are'} to it. {last}",
                "Make a tier or frill that is gathered onto the hem wider or narrower in proportion.")
    return (f"On {names}, trace the hem as it is, {by} {way} its place along the grain.",
            f"Draw the sides anew from about their middle to the ends of the traced hem. {last}")


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372"

ALTERATION = Alteration(
    NAME, ("lengthen", "shorten"), (-120.0, 150.0), SOURCE, 0,
    apply, _card, {"shorten": -1.0}, (PIECE, LINE, UP, WAY_OF_HEM),
    (Need(),))

