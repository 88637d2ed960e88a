"""What the alterations of a round or erect upper back share: a cut from the centre, and the neck's gain taken up."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import AlterationError, Finding, Severity
from toilewright.fit.alterations.kinds import Change, Need, Option, Options, Picture, Size, too_much
from toilewright.fit.follow import allow_ease
from toilewright.fit.frame import down, need_edges, needed_piece, outward
from toilewright.fit.moves.centre import Opened, open_at_centre
from toilewright.fit.moves.darts import move_dart, swing_dart, widen_dart
from toilewright.fit.moves.edges import corner, ends_at, other_end
from toilewright.fit.moves.ring import Place, crossing, point_of
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart, Press
from toilewright.pattern.piece import Piece
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_both

TAKES_UP = ("neck dart", "shoulder dart", "ease")

HOW = Option("takes up", *TAKES_UP)

NEED = Need("bodice back", ("centre back", "neck", "shoulder", "armhole"))

HINGES = ("armhole", "princess seam")
"""Where the cut ends: on a princess seam the panel at the centre is opened alone."""

DART_LENGTH = 65.0
"""mm; of a new neck or shoulder dart (6 to 8 cm; common practice, no published source)."""

LEAST_DART = 1.0
"""mm; a dart that would be narrower is not sewn (our own choice)."""

STEEPEST = 0.25
"""How far the centre may open for each mm of the cut's length before the cloth no longer lies flat (our own choice)."""


def change_upper_back(garment: Garment, name: str, options: Options, share: float, by: float, usual: str,
                      asked: float | None = None) -> Change:
    """Cut from the centre back to the armhole, swing the neck part until the centre is longer by `by` mm, rule it on.

    What the neck gains grows the dart of the neck or the shoulder, or makes one, or is ease; what it loses is given
    back by such a dart, or else the neck is drawn in.

    Args:
        options: ``piece``, and ``takes up``: one of :data:`TAKES_UP`.
        share: of the way from the nape down to the underarm, where the cut lies.
        usual: the dart that is made where there is none.
        asked: the amount as the alteration signs it, where that is another than `by`.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, name, options, "bodice back")
    need_edges(piece, name, "centre back", "neck", "shoulder")
    cut, hinge = cut_to_armhole(piece, name, share)
    a, h = point_of(piece, cut), point_of(piece, hinge)
    most = STEEPEST * abs(h - a)
    if abs(by) > most:
        raise too_much(name, asked or by, piece.name, "turns the neck further than cloth lies flat",
                       most if (asked or by) > 0 else -most)
    opened = open_at_centre(piece, cut, hinge, by, "neck")
    how = _way(piece, name, options, opened.gained, usual)
    findings: tuple[Finding, ...] = ()
    if how == "ease":
        altered = opened.piece
        if by > 0:
            garment = allow_ease(garment, piece.name, "neck", opened.gained)
            findings = (Finding("neck-eased", f"The back neck is {show_both(opened.gained)} longer on each half; ease "
                                "it onto the facing, with the facing on top.", Severity.NOTE, piece.name, "neck"),)
    else:
        altered = _taken_up(piece, cut, hinge, by, how)
    nape = corner(piece, "centre back", "neck")
    near = (a + down(piece) * 30, h, corner(piece, "shoulder", other_end(piece, "shoulder", "neck")), nape,
            corner(altered, "centre back", "neck"))
    size = Size(a, a - down(piece) * by, -outward(piece, hinge.edge))
    picture = Picture(opened.carried.regions, (), (h,), (size,), near)
    grows = float(any(d.name == how for d in piece.darts))
    numbers = {"way": float(TAKES_UP.index(how)), "gained": opened.gained, "level": abs(a - nape), "grows": grows,
               "hinge": float(HINGES.index(hinge.edge))}
    return Change(garment.with_piece(altered), {piece.name: picture}, numbers, findings)


def hinge_of(change: Change) -> str:
    """The edge at which the cut of a change ends, for its card."""
    return HINGES[int(change.numbers["hinge"])]


def taken_up(change: Change, cut: str) -> str:
    """What is done with the neck's gain, as the end of a step of a card.

    Args:
        cut: where the cut of a new shoulder dart ends, e.g. ``down to the cut``.
    """
    how, long = TAKES_UP[int(change.numbers["way"])], f"{{{DART_LENGTH:.0f} mm}} long"
    if change.numbers["grows"]:
        return f"close the neck by it and let the {how} grow."
    return {"neck dart": f"fold that into a small dart half way along the neck, {long}.",
            "ease": "ease it onto the facing.",
            "shoulder dart": f"fold that into a dart half way along the neck, {cut}; slash from the middle of the "
                             f"shoulder to its point, close it, and make the dart that opens {long}."}[how]


def cut_to_armhole(piece: Piece, name: str, share: float) -> tuple[Place, Place]:
    """Where a line square to the grain meets the centre back and the armhole, or a princess seam.

    Args:
        share: of the way from the nape down to the underarm.

    Raises:
        AlterationError: it does not meet both.
    """
    way, nape = down(piece), corner(piece, "centre back", "neck")
    to = next((e for e in HINGES if piece.has_edge(e)), HINGES[0])
    need_edges(piece, name, to)
    level = nape + way * (share * dot(_underarm(piece) - nape, way))
    cut, hinge = crossing(piece, "centre back", level, way * 1j), crossing(piece, to, level, way * 1j)
    if cut is None or hinge is None:
        raise AlterationError(
            f'"{name}" on "{piece.name}" cuts from the centre back out to the {to}, {share:.0%} of the way down to the '
            "underarm, but the cut does not reach both edges; compare the names of the edges in the labels.")
    return cut, hinge


def _underarm(piece: Piece) -> Point:
    """A point at the level of the underarm: its corner, the bust line, or half way down the centre back."""
    if piece.has_edge("armhole"):
        return corner(piece, "armhole", other_end(piece, "armhole", "shoulder"))
    line, centre = piece.line("bust line"), piece.edge("centre back").path
    return centre.point_at(centre.length / 2) if line is None else line.start


def _way(piece: Piece, name: str, options: Options, gained: float, usual: str) -> str:
    """How the neck's gain or loss is taken up: as asked, by the dart that is there, by a new one if it is worth it."""
    there = {d.name: d.end - d.start for d in piece.darts if d.name in TAKES_UP}
    usual = usual if piece.has_edge("armhole") else "neck dart"  # a shoulder cut short by a princess seam holds none
    new = usual if gained >= WORTH_DOING else "ease"
    asked = options.get("takes up", next((n for n in ("shoulder dart", "neck dart") if n in there), new))
    if asked not in TAKES_UP:
        raise AlterationError(f'"{name}" cannot take up the neck by "{asked}"; it can by a neck dart, a shoulder dart, '
                              "or ease.")
    gone = asked != "ease" and there.get(asked, 0.0) + gained < LEAST_DART
    if gone and gained < 0 and "takes up" in options:
        raise AlterationError(f'"{name}" asks the {asked} of "{piece.name}" for {show_both(-gained)}, which it does '
                              'not hold; leave "takes up" out, and the neck is drawn in instead.')
    return "ease" if gone else asked


def _taken_up(piece: Piece, cut: Place, hinge: Place, by: float, how: str) -> Piece:
    """Opened with the dart at the neck, which takes up what the neck gains; a shoulder dart is swung there and back."""
    old = next((d for d in piece.darts if d.name == how), None)
    at_neck, shoulder = Place("neck", piece.edge("neck").path.length / 2), how == "shoulder dart"
    onto = Place("shoulder", old.start if old else piece.edge("shoulder").path.length / 2)
    name = "turned dart" if shoulder else how
    ready = swing_dart(piece, how, at_neck, name, "centre back") if old and shoulder else piece
    opened = open_at_centre(ready, cut, hinge, by, "neck")
    out = _evened(widen_dart(opened.piece, name, opened.gained), name) if old else _with_dart(
        opened, name, (point_of(piece, cut) + point_of(piece, hinge)) / 2 if shoulder else None)
    if not shoulder:
        return out
    out = swing_dart(out, name, onto, how, "centre back")
    return out if old else shortened(out, how)


def _with_dart(opened: Opened, name: str, point: Point | None) -> Piece:
    """A dart as wide as the neck has grown: where the neck is nearest to a point, else half way along and square."""
    piece = opened.piece
    path = piece.edge("neck").path
    middle = path.length / 2 if point is None else min(max(path.nearest(point)[0], path.length / 4), path.length * 0.75)
    aim = path.point_at(middle) + path.normal_at(middle) * DART_LENGTH if point is None else point
    press = Press.TO_END if ends_at(piece, "neck", "centre back") else Press.TO_START
    half = opened.gained / 2
    dart = Dart(name, "neck", middle - half, middle + half, aim, press)
    return _evened(replace(piece, darts=(*piece.darts, dart)), name)


def _evened(piece: Piece, name: str) -> Piece:
    """The dart's point put square over the middle of its mouth, so that both legs are equal."""
    dart = piece.dart(name)
    first, second = piece.feet(dart)
    middle, square = (first + second) / 2, unit(second - first) * 1j
    return move_dart(piece, name, middle + square * dot(dart.apex - middle, square))


def shortened(piece: Piece, name: str) -> Piece:
    """The dart no longer than it should be, its width kept."""
    dart = piece.dart(name)
    middle = sum(piece.feet(dart)) / 2
    return move_dart(piece, name, middle + (dart.apex - middle) * min(1.0, DART_LENGTH / abs(dart.apex - middle)))
