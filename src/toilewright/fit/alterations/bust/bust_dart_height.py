"""Bust dart up or down: the dart as a whole moves along the centre front."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import Finding, Severity
from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.frame import bust_dart, bust_point, down, needed_piece, outward
from toilewright.fit.moves.edges import Redrawn, bend, match_length, redraw_edge, reline, sums
from toilewright.fit.moves.ring import Place, Region
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece

NAME = "bust dart height"

SEAM_LEFT = 25.0
"""mm of seam that must stay on both sides of the dart, so that it can be sewn (common practice)."""


BOX = 12.0
"""mm of paper around the dart that slide with it (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Bust dart lower by `amount` mm (higher when negative), parallel to the centre front.

    Width, angle and length of the dart stay, and so does the sewn length of its edge. The bust point of the piece moves
    with it, and the point of a waist dart that aims at it.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: there is no bust dart, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart = bust_dart(piece, NAME)
    by = down(piece) * amount
    _check(piece, dart, amount)
    aim = bust_point(piece, dart)
    moved = _moved(piece, dart, by)
    findings: tuple[Finding, ...] = ()
    below = next((d for d in moved.darts if d.name == "waist dart" and abs(d.apex - aim) < 60.0), None)
    if below is not None:
        moved = replace(moved, darts=tuple(replace(d, apex=d.apex + by) if d is below else d for d in moved.darts))
        findings = (Finding("waist-dart-follows", "The point of the waist dart moved with the bust point, so that it "
                            "still stops as far short of it.", Severity.NOTE, piece.name, below.edge),)
    return Change(garment.with_piece(moved), {piece.name: _picture(piece, dart, aim, by)}, {}, findings)


def _picture(piece: Piece, dart: Dart, aim: Point, by: Point) -> Picture:
    """A box around the dart, and where it slides."""
    out, low = outward(piece, dart.edge), down(piece)
    path = piece.edge(dart.edge).path
    margin = BOX
    start, end = max(dart.start - margin, 0.0), min(dart.end + margin, path.length)
    first, last = path.point_at(start), path.point_at(end)
    inner = dart.apex - out * margin
    corners = (inner + low * dot(last - inner, low), inner + low * dot(first - inner, low))
    box = Region(Place(dart.edge, start), Place(dart.edge, end), corners, Affine.shift(by))
    near = (first, last, first + by, last + by, *corners, *(c + by for c in corners), aim)
    return Picture((box,), (), (), (Size(inner, inner + by, -out),), near)


def _check(piece: Piece, dart: Dart, amount: float) -> None:
    path = piece.edge(dart.edge).path
    start_is_low = dot(path.end - path.start, down(piece)) < 0
    low_run, high_run = dart.start, path.length - dart.end
    if not start_is_low:
        low_run, high_run = high_run, low_run
    if amount > 0 and amount > low_run - SEAM_LEFT:
        raise too_much(NAME, amount, piece.name, "puts its lower leg past the end of the seam",
                       max(low_run - SEAM_LEFT, 0.0))
    if amount < 0 and -amount > high_run - SEAM_LEFT:
        raise too_much(NAME, amount, piece.name, "puts its upper leg into the armhole", -max(high_run - SEAM_LEFT, 0))


def _moved(piece: Piece, dart: Dart, by: Point) -> Piece:
    sewn = piece.sewn_length(dart.edge)
    path = piece.edge(dart.edge).path
    shift, stay = Affine.shift(by), Affine()
    before, mouth, after = path.cut_at((dart.start, dart.end))
    parts = (bend(before, stay, shift), mouth.moved(by), bend(after, shift, stay))
    old = (0.0, dart.start, dart.end, path.length)
    drawn = Redrawn(dart.edge, Path.joined(parts), old, sums(parts))
    point = piece.landmark("bust point")
    out = redraw_edge(piece, drawn, landmarks={} if point is None else {"bust point": point + by})
    out = replace(
        out, darts=tuple(replace(d, apex=d.apex + by) if d.name == dart.name else d for d in out.darts),
        lines=tuple(replace(m, path=m.path.moved(by)) if m.name == "bust line" else m for m in out.lines))
    low = next((e for e in ("waist", "hem") if out.has_edge(e) and _meet(out, dart.edge, e)), None)
    out = match_length(out, dart.edge, low, sewn) if low else out
    return reline(piece, _marks_as_sewn(piece, out, dart.edge), dart.edge)


def _marks_as_sewn(before: Piece, after: Piece, edge: str) -> Piece:
    """Notches of the edge where they were on the sewn seam, the dart having passed them by."""
    def opened(sewn: float) -> float:
        for d in after.darts_on(edge):
            if sewn > d.start:
                sewn += d.end - d.start
        return sewn

    return replace(after, notches=tuple(
        replace(n, at=opened(before.sewn_at(edge, old.at))) if n.edge == edge else n
        for old, n in zip(before.notches, after.notches, strict=True)))


def _meet(piece: Piece, edge: str, other: str) -> bool:
    names = [e.name for e in piece.edges]
    i = names.index(edge)
    return other in (names[i - 1], names[(i + 1) % len(names)])


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, way = f"{{{abs(amount):.1f} mm}}", "down" if amount > 0 else "up"
    steps = (
        "Rule a box around the bust dart on the front, its sides parallel to the grain and square to it, as far as the "
        "dart's point and the seam.",
        f"Cut the box out and slide it {by} {way}, keeping it parallel to the centre front. Fill the gap with paper "
        "and tape it.",
        "Fold the dart closed, redraw the side seam across it from the underarm to the waist, and cut the mouth while "
        "it is folded.",
        f"Move the point of a waist dart that aims at the bust point {by} {way} too, and redraw its legs.",
        "Walk the side seam against the back, the dart closed, and true the difference at the waist.")
    check = ("The dart is as wide and as long as before.", "The side seam measures what it did, the dart closed.")
    title = "Bust dart lower" if amount > 0 else "Bust dart higher"
    return Card(title, ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; the waist dart's point: common practice"

ALTERATION = Alteration(
    NAME, ("lower bust dart", "raise bust dart", "bust dart up or down", "bust dart down", "bust dart up"),
    (-50.0, 60.0), SOURCE, 2, apply, _card,
    {"raise bust dart": -1.0, "bust dart up": -1.0},
    needs=(Need("bodice front", (), ("bust dart",)),),
    instead='"full bust dartless" makes a bust dart where there is none')
