"""Turned ties and straps: a tube, sewn along its length and turned through, with its end caught in a seam.

A tie is cut twice its finished width and an allowance on either side, and as much longer than finished (arithmetic).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.cutting.extra.cautions import CORDS_SOURCES, cords
from toilewright.cutting.extra.kinds import (
    Asks,
    Built,
    Example,
    Figure,
    Kind,
    Option,
    Options,
    Sum,
    length_of,
    mm,
    word_of,
)
from toilewright.cutting.extra.places import find_edge, how_often
from toilewright.cutting.extra.strips import ALLOWANCE_OPTION, CLOTH_OPTION, LONGEST_TIE, NAME_OPTION, level, strip
from toilewright.errors import Finding, InputError, NameUnknown, UnitError
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, EdgeKind, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import parse_length, show_both

NARROW = 8.0
"""mm finished; a narrower tube is turned over a cord or a wire loop (common practice, no published source)."""

BESIDE = 5.0
"""mm; from a dart to a tie that is nowhere told to be sewn (our own choice)."""

_GRAINS = ("straight", "across", "bias")

_SHARED = (
    Option("grain", Asks.CHOICE, "how it lies on the cloth; bias bends and gives", "straight", words=_GRAINS),
    ALLOWANCE_OPTION,
    Option("wearer", Asks.CHOICE, "a child's garment has rules of its own for cords", "adult",
           words=("adult", "child")),
    Option("at", Asks.TEXT, 'a notch of that edge, or a length from its start; left out, its middle'),
    Option("count", Asks.COUNT, "how many; left out, one wherever the edge is", None, 1, 40),
    NAME_OPTION, CLOTH_OPTION)

_SOURCES = ("arithmetic: twice the finished width and two allowances; the finished length and two allowances",
            *CORDS_SOURCES)


def _width(default: float) -> Option:
    return Option("width", Asks.LENGTH, "finished width", default, 3.0, 300.0)


def _length(needed: bool) -> Option:
    return Option("length", Asks.LENGTH, "finished length", None, 20.0, LONGEST_TIE, needed=needed,
                  beyond=f"a turned tie is between {show_both(20.0)} and {show_both(LONGEST_TIE)} long, and a longer "
                         "one is better made of two")


def tube(options: Options) -> Sum:
    """What a tube is cut from its finished size."""
    width, length, allowance = (length_of(options, n) for n in ("width", "length", "allowance"))
    cut_width, cut_length = 2 * width + 2 * allowance, length + 2 * allowance
    return Sum((
        Figure("finished_width", width, "finished width"), Figure("finished_length", length, "finished length"),
        Figure("cut_width", cut_width, "cut width: twice the finished width and two allowances"),
        Figure("cut_length", cut_length, "cut length: the finished length and two allowances"),
    ), _steps(options, cut_width, cut_length), _warned(options, width, allowance))


def _steps(options: Options, cut_width: float, cut_length: float) -> tuple[str, ...]:
    width, allowance = length_of(options, "width"), length_of(options, "allowance")
    grain = word_of(options, "grain")
    lies = {"bias": "on the bias", "across": "across the cloth"}.get(grain, "along the straight grain")
    turned = ("Sew a cord or a wire loop to one end and pull it through" if width < NARROW
              else "Turn it through with a safety pin or a blunt needle")
    return (
        f"Cut {mm(cut_width)} by {mm(cut_length)}, {lies}.",
        f"Fold it lengthways, right sides together, and sew {mm(allowance)} from the raw edges"
        + (", stretching it a little so that the stitches give with it." if word_of(options, "grain") == "bias"
           else ".") + " Leave open the end that goes into a seam; sew the other one across.",
        "Trim the allowances to half and the corners slantwise, so that they do not show.",
        f"{turned}; push the corners out and press with the seam along one edge.")


def _warned(options: Options, width: float, allowance: float) -> tuple[Finding, ...]:
    if allowance <= width or allowance <= 6.0:
        return ()
    return (Finding("allowance-fills-tie", f"Allowances of {show_both(allowance)} do not lie flat inside a tie that is "
                    f"{show_both(width)} wide; trim them after sewing, or cut it with less.",
                    piece=word_of(options, "name") or None),)


# -- ties -------------------------------------------------------------------------------------------


def build_tie(garment: Garment, options: Options) -> Built:
    """A tie whose one end is caught in an edge."""
    piece, edge = find_edge(garment, word_of(options, "edge"))
    name = word_of(options, "name") or f"{edge} tie"
    worked = tube({**options, "name": name})
    places = [_place(piece, edge, word_of(options, "at"), length_of(options, "width"), "at")]
    count = int(options.get("count") or how_often(piece))
    tie = _tube_piece(name, options, count, ("free end", EdgeKind.SEAM))
    changed, seams = _sewn_in(garment, tie, [(piece, edge, places[0], "sewn end")])
    steps = (*worked.steps, f'Lay its open end on "{edge}" of "{piece.name}" between the two notches called '
             f'"{name} place", right sides together, baste it there, and sew the seam over it.')
    findings = (*worked.findings, cords(name, f"{piece.name} {edge}", word_of(options, "wearer") == "child"))
    return Built((tie,), (_along(tie), *seams), changed, replace(worked, steps=steps, findings=findings))


def build_strap(garment: Garment, options: Options) -> Built:
    """A strap between two edges."""
    first, edge = find_edge(garment, word_of(options, "edge"))
    second, other = find_edge(garment, word_of(options, "to"), "to")
    name = word_of(options, "name") or "strap"
    worked = tube({**options, "name": name})
    width = length_of(options, "width")
    places = [_place(first, edge, word_of(options, "at"), width, "at"),
              _place(second, other, word_of(options, "to at"), width, "to at")]
    count = int(options.get("count") or max(how_often(first), how_often(second)))
    strap = _tube_piece(name, options, count, ("other end", EdgeKind.SEAM))
    changed, seams = _sewn_in(garment, strap, [(first, edge, places[0], "sewn end"),
                                               (second, other, places[1], "other end")])
    steps = (*worked.steps[:1], worked.steps[1].split(" Leave open")[0] + " Leave both ends open.", *worked.steps[2:],
             f'Baste one end to "{edge}" of "{first.name}", try it on, and only then fix the other end to "{other}" of '
             f'"{second.name}": a strap is as long as her shoulder asks.')
    return Built((strap,), (_along(strap), *seams), changed, replace(worked, steps=steps))


def _tube_piece(name: str, options: Options, count: int, far: tuple[str, EdgeKind]) -> Piece:
    width, length, allowance = (length_of(options, n) for n in ("width", "length", "allowance"))
    grain = {"straight": "along"}.get(word_of(options, "grain"), word_of(options, "grain"))
    notches = tuple(Notch("tie fold", end, width) for end in (far[0], "sewn end"))
    return strip(name, length, 2 * width, ("long edge", far[0], "other long edge", "sewn end"),
                 (EdgeKind.SEAM, far[1], EdgeKind.SEAM, EdgeKind.SEAM), (allowance,) * 4, grain,
                 Cut(count, False, word_of(options, "cloth")), notches, (level("fold", length, width),))


def _along(tie: Piece) -> Seam:
    return Seam(f"{tie.name} tube", (EdgeRef(tie.name, "long edge"),), (EdgeRef(tie.name, "other long edge", True),))


def _place(piece: Piece, edge: str, at: str, width: float, option: str) -> tuple[float, float]:
    """Where the flat tie begins and ends on an edge (arc lengths, mm)."""
    length = piece.edge(edge).path.length
    middle = length / 2 if not at else _notch_or_length(piece, edge, at, option)
    if width > length + 1.0:
        raise InputError(f'A tie {show_both(width)} wide does not fit into "{edge}" of "{piece.name}", which is '
                         f"{show_both(length)} long; make it narrower.")
    last = max(length - width, 0.0)
    wish = min(max(middle - width / 2, 0.0), last)
    darts = piece.darts_on(edge)
    beside = [] if at else [x for d in darts for x in (d.start - width - BESIDE, d.end + BESIDE) if 0.0 <= x <= last]
    free = [x for x in (wish, *beside) if not any(d.start < x + width and x < d.end for d in darts)]
    if not free:
        raise InputError(f'"{option}" lies on a dart of "{edge}" of "{piece.name}"; move it beside that.' if at else
                         f'There is no room beside the darts of "{edge}" of "{piece.name}" for a tie '
                         f"{show_both(width)} wide; make it narrower, or take another edge.")
    start = min(free, key=lambda x: abs(x - wish))
    return start, min(start + width, length)


def _notch_or_length(piece: Piece, edge: str, at: str, option: str) -> float:
    notches = {n.name: n.at for n in piece.notches if n.edge == edge}
    if at.lower() in notches:
        return notches[at.lower()]
    length = piece.edge(edge).path.length
    try:
        place = parse_length(at)
    except UnitError:
        raise NameUnknown.among("notch", at, notches, f'"{edge}" of "{piece.name}"') from None
    if not 0 <= place <= length:
        raise InputError(f'"{option}" is {show_both(place)}, but "{edge}" of "{piece.name}" is {show_both(length)} '
                         "long; give a place on it, from its start.")
    return place


def _sewn_in(garment: Garment, tie: Piece, ends: Sequence[tuple[Piece, str, tuple[float, float], str]],
             ) -> tuple[tuple[Piece, ...], tuple[Seam, ...]]:
    """Placement notches on the partners, and the seams: both layers of the flat tie lie on the same stretch."""
    changed: dict[str, Piece] = {}
    seams = []
    for piece, edge, (start, end), tie_end in ends:
        now = changed.get(piece.name, piece)
        marks = tuple(Notch(f"{tie.name} place", edge, at) for at in (start, end)
                      if 1.0 < at < piece.edge(edge).path.length - 1.0)
        changed[piece.name] = replace(now, notches=(*now.notches, *marks))
        seams.append(Seam(f"{tie.name} to {piece.name} {edge}", (EdgeRef(piece.name, edge, False, 2, (start, end)),),
                          (EdgeRef(tie.name, tie_end),)))
    return tuple(changed.values()), tuple(seams)


TIE = Kind(
    "tie", "a turned tie, one end caught in an edge at a notch",
    (Option("edge", Asks.EDGE, "the edge it is sewn into, such as \"bodice front side seam\"", needed=True),
     _width(20.0), _length(True), *_SHARED),
    _SOURCES, tube, build_tie,
    (Example({"width": "2 cm", "length": "80 cm", "allowance": "1 cm"}, {"cut_width": 60.0, "cut_length": 820.0},
             "arithmetic: 2 x 2 cm + 2 x 1 cm; 80 cm + 2 x 1 cm"),))

STRAP = Kind(
    "strap", "a turned strap from one edge to another",
    (Option("edge", Asks.EDGE, "the edge that its first end is sewn to", needed=True),
     Option("to", Asks.EDGE, "the edge that its other end is sewn to", needed=True),
     _width(15.0), _length(True), *_SHARED,
     Option("to at", Asks.TEXT, "a notch of that edge, or a length from its start; left out, its middle")),
    _SOURCES, tube, build_strap,
    (Example({"width": "1.5 cm", "length": "40 cm", "allowance": "1 cm"}, {"cut_width": 50.0, "cut_length": 420.0},
             "arithmetic: 2 x 1.5 cm + 2 x 1 cm; 40 cm + 2 x 1 cm"),))

KINDS = (TIE, STRAP)
