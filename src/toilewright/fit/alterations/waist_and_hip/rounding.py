"""Room over a seat or an abdomen: cut across from the centre to the side, and down through the waist dart."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from toilewright.errors import AlterationError
from toilewright.fit.alterations.back.at_centre import change_at_centre, cut_across
from toilewright.fit.alterations.kinds import Change, Option, Options, Picture, Size, chosen, too_much
from toilewright.fit.alterations.waist_and_hip.side_shift import SIDE, hip_place
from toilewright.fit.frame import centre_of, down, needed_piece
from toilewright.fit.moves.edges import towards
from toilewright.fit.moves.ring import Place, Region, crossing, point_of
from toilewright.fit.moves.through_dart import open_through_dart
from toilewright.geometry.affine import Affine
from toilewright.geometry.meeting import ray_meeting
from toilewright.geometry.point import Point, dot, turn
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece

WIDTH, HEM = Option("width", "as much", "as it was"), Option("hem", "keep", "follow")

LEAST_DART = 6.0
"""mm; a narrower dart is not worth sewing (common practice)."""

STEEPEST = 0.16
"""How far the cut across may open for each mm of its length (our own choice)."""

MOST_DART = 40.0
"""mm; a wider dart makes a point of cloth and is better split (common practice)."""


def round_out(garment: Garment, name: str, usual: tuple[str, ...], lines: tuple[str, ...], share: float, amount: float,
              options: Options) -> Change:
    """The piece longer at its centre and wider at a level, both by `amount` mm; waist, side seam (and hem) as sewn.

    Args:
        usual: names of the pieces, the first that is there is altered.
        lines: inner lines that show the level.
        share: of the way from the waist to the hip, where the level is without them.

    Raises:
        AlterationError: an edge or the dart is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, name, options, next((n for n in usual if garment.has(n)), usual[0]))
    centre = _centre(piece, name)
    dart = _dart(piece, name, centre)
    level = _level(piece, centre, lines, share)
    cut, hinge = cut_across(piece, name, centre, SIDE, level)
    most = STEEPEST * abs(point_of(piece, cut) - point_of(piece, hinge))
    if abs(amount) > most:
        raise too_much(name, amount, piece.name, "swings the waist further than the piece lies flat",
                       most if amount > 0 else -most)
    widened, carried = piece, None
    if chosen(name, options, WIDTH) == "as much":
        widened, carried = _wider(piece, dart, centre, level, amount, chosen(name, options, HEM) == "keep")
    cut, hinge = cut_across(widened, name, centre, SIDE, level)
    change = change_at_centre(garment.with_piece(widened), name, widened, cut, hinge, amount, amount)
    left = _width(widened.dart(dart.name)) + change.numbers["gained"]
    grown = left - _width(dart)
    if left < LEAST_DART:
        raise too_much(name, amount, piece.name, "leaves nothing of the waist dart",
                       min(0.0, 0.95 * amount * (_width(dart) - LEAST_DART) / abs(grown)))
    if carried is None:
        return replace(change, numbers={"dart": grown, "wide": 0.0})
    picture = _picture(piece, dart, centre, level, carried, change.pictures[piece.name])
    return replace(change, pictures={piece.name: picture}, numbers={"dart": grown, "wide": 1.0})


def _width(dart: Dart) -> float:
    return dart.end - dart.start


def _centre(piece: Piece, name: str) -> str:
    centre = "crotch seam" if piece.has_edge("crotch seam") else centre_of(piece)
    if centre is None:
        raise AlterationError(f'"{name}" on "{piece.name}" needs the edge "centre front" or "centre back", which the '
                              "piece does not have; correct the names in the labels file.")
    return centre


def _dart(piece: Piece, name: str, centre: str) -> Dart:
    here = towards(piece, centre, "waist").end
    darts = sorted(piece.darts_on("waist"), key=lambda d: abs(sum(piece.feet(d)) / 2 - here))
    if not darts:
        raise AlterationError(f'"{name}" on "{piece.name}" needs a dart at the waist, and there is none; name it in '
                              'the labels file, or give width with "hip in or out".')
    return darts[0]


def _level(piece: Piece, centre: str, lines: tuple[str, ...], share: float) -> Point:
    """A point at the level of the cut."""
    drawn = next((line for line in map(piece.line, lines) if line is not None), None)
    if drawn is not None:
        return (drawn.start + drawn.end) / 2
    top, way = towards(piece, centre, "waist").end, down(piece)
    return top + way * share * dot(piece.edge(SIDE).path.point_at(hip_place(piece)) - top, way)


def _places(piece: Piece, dart: Dart) -> tuple[Place, Place]:
    """The middle of the dart's mouth, and the place on the hem straight below it."""
    mouth = Place("waist", (dart.start + dart.end) / 2)
    foot = crossing(piece, "hem", point_of(piece, mouth), down(piece))
    return mouth, foot or Place("hem", piece.edge("hem").path.length / 2)


def _wider(piece: Piece, dart: Dart, centre: str, level: Point, by: float, keep: bool) -> tuple[Piece, Affine]:
    """The piece wider by `by` mm at the level, and how its side part was moved."""
    mouth, foot = _places(piece, dart)
    high, low = point_of(piece, mouth), point_of(piece, foot)
    times = dot(high - low, -down(piece)) / dot(level - low, -down(piece)) if keep else 1.0
    widened, carried = open_through_dart(piece, dart.name, foot, by * times, centre, hinged=keep)
    return widened, next(r.move for r in carried.regions if r.move is not None)


def _picture(piece: Piece, dart: Dart, centre: str, level: Point, side: Affine, shown: Picture) -> Picture:
    """Four parts: beside the centre below the cut, which stays; the side; and both above, swung up with the waist."""
    mouth, foot = _places(piece, dart)
    cut, hinge = crossing(piece, centre, level, down(piece) * 1j), crossing(piece, SIDE, level, down(piece) * 1j)
    if cut is None or hinge is None:
        return shown
    a, h, high, low = (point_of(piece, p) for p in (cut, hinge, mouth, foot))
    middle = ray_meeting(a, h - a, high, low - high) or (a + h) / 2
    swing = next(r.move for r in shown.regions if r.move is not None)
    moves = {frozenset((centre, "hem")): None, frozenset(("hem", SIDE)): side,
             frozenset((SIDE, "waist")): side.then(swing), frozenset(("waist", centre)): swing}
    names = [e.name for e in piece.edges]
    around = sorted((cut, foot, hinge, mouth), key=lambda p: (names.index(p.edge), p.at))
    regions = tuple(Region(p, q, (middle,), moves[frozenset((p.edge, q.edge))])
                    for p, q in zip(around, (*around[1:], around[0]), strict=True))
    sizes = (*shown.sizes, Size(middle, side(middle), down(piece)))
    return Picture(regions, (), (h, low) if abs(turn(1, side.p)) > 1e-9 else (h,), sizes)


def steps_of(piece: str, amount: float, options: Options, numbers: Mapping[str, float]) -> tuple[str, ...]:
    """What both cards say."""
    by, more = f"{{{abs(amount):.1f} mm}}", amount > 0
    dart, wide = f"{{{abs(numbers['dart']):.1f} mm}}", bool(numbers["wide"])
    keep = options.get("hem", "keep") == "keep"
    down_to = "to the hem seam line, where a paper hinge is left" if keep else "through the hem"
    return (
        f"On the {piece}, draw a line across at the fullest part, square to the grain, from the centre to the side seam"
        + (", and one down along the grain from the middle of the waist dart to the hem." if wide else "."),
        "Cut across from the centre to the seam line of the side, not through it, and leave a paper hinge there"
        + (f"; cut down through the dart {down_to}." if wide else "."),
        (f"Draw the part at the side out until the upright cut stands open by {by} where the lines cross. "
         if more else f"Lap the upright cut by {by} where the lines cross. ") * wide
        + (f"Raise the waist until the cut across stands open by {by} at the centre. Tape." if more else
           f"Lap the cut across by {by} at the centre. Tape."),
        "Rule the centre straight on from below the cut, and draw the waist out to it.",
        f"Make the waist dart {dart} {'wider' if more else 'narrower'}, so that the waist is sewn as before."
        + (f" A dart of more than {{{MOST_DART:.0f} mm}} is better made as two." if more else ""))
