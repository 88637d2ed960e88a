"""Buttonholes: how long they are, and where they lie beside an edge.

A buttonhole is as long as the button is wide and thick (extension leaflets). It begins a little beyond the line on
which the button's shank pulls, and stays clear of the edge by the button's half and a little more (common practice, no
published source).
"""

from __future__ import annotations

from dataclasses import replace

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
from toilewright.cutting.extra.places import find_edge, unsewn
from toilewright.errors import Finding, InputError, Severity
from toilewright.geometry.path import Path
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import InnerLine
from toilewright.units import show_both

CLEAR = 6.0
"""mm from the rim of the button to the finished edge, at least (1/4 in; common practice, no published source)."""

PULL = 3.0
"""mm by which the buttonhole runs past the button's place towards the edge (1/8 in; common practice, no published
source)."""


def buttonhole(diameter: float, thickness: float) -> float:
    """Length of a buttonhole (mm).

    >>> buttonhole(15.0, 3.0)
    18.0
    """
    return diameter + thickness


def buttonhole_sum(options: Options) -> Sum:
    """The length of a buttonhole and, of an edge of that length, how far the buttons are apart."""
    diameter, thickness = length_of(options, "diameter"), length_of(options, "thickness")
    long = buttonhole(diameter, thickness)
    inset = diameter / 2 + CLEAR
    figures = [Figure("buttonhole", long, "length of the buttonhole: the button's diameter and its thickness"),
               Figure("inset", inset, "from the finished edge to the middle of the button")]
    if isinstance(options.get("edge"), float):
        figures.append(Figure("apart", _apart(length_of(options, "edge"), options), "from one button to the next"))
    return Sum(tuple(figures), (
        "Sew one on a scrap of the same layers, interfacing too, cut it open and try the button, before the garment.",
        f"Mark each {mm(long)} long; level ones begin {mm(PULL)} beyond the button's place, towards the edge.",
        "Sew the buttons on last, with a shank as high as the layers are thick."))


def _apart(edge: float, options: Options) -> float:
    count, first = int(length_of(options, "count")), length_of(options, "first")
    room = edge - first - length_of(options, "last")
    if count > 1 and room < (count - 1) * (length_of(options, "diameter") + CLEAR):
        raise InputError(f"{count} buttons do not fit on {show_both(max(room, 0.0))} of the edge; take fewer or "
                         "smaller ones.")
    return room / (count - 1) if count > 1 else 0.0


def build_buttonholes(garment: Garment, options: Options) -> Built:
    """Buttonholes as marks on the piece."""
    piece, edge = find_edge(garment, word_of(options, "edge"))
    path, length = piece.edge(edge).path, piece.sewn_length(edge)
    worked = buttonhole_sum({**options, "edge": length})
    count, inset = int(length_of(options, "count")), worked.of("inset") + length_of(options, "lap")
    level = word_of(options, "lie") == "level"
    lines = []
    for k in range(count):
        at = unsewn(piece, edge, length_of(options, "first") + k * worked.of("apart"))
        inwards, along = path.normal_at(at), path.tangent_at(at)
        place = path.point_at(at) + inwards * inset
        long = worked.of("buttonhole")
        way, start = (inwards, place - inwards * PULL) if level else (along, place - along * long / 2)
        lines.append(InnerLine(f"buttonhole {k + 1}", Path.line(start, start + way * long)))
    found = ()
    if piece.cut.mirrored:
        found = (Finding("buttonholes-on-both", f'"{piece.name}" is cut as a pair: sew the buttonholes on the side '
                         "that laps over, and the buttons on the other.", Severity.NOTE, piece.name),)
    return Built((), (), (replace(piece, lines=(*piece.lines, *lines)),), replace(worked, findings=found))


BUTTONHOLES = Kind(
    "buttonholes", "buttonholes beside an edge, marked on its piece",
    (Option("edge", Asks.EDGE, "the edge they lie beside", needed=True),
     Option("diameter", Asks.LENGTH, "of the button", 15.0, 4.0, 80.0),
     Option("thickness", Asks.LENGTH, "of the button", 3.0, 0.5, 40.0),
     Option("count", Asks.COUNT, "how many", 1.0, 1, 60),
     Option("first", Asks.LENGTH, "from the start of the edge to the first", 20.0, 0.0, 2000.0),
     Option("last", Asks.LENGTH, "from the last one to the end of the edge", 20.0, 0.0, 2000.0),
     Option("lap", Asks.LENGTH, "how far the finished edge lies inside this one", 0.0, 0.0, 200.0),
     Option("lie", Asks.CHOICE, "level, or along the edge", "level", words=("level", "along"))),
    ("extension leaflets: the diameter of the button and its thickness",
     "common practice, no published source: clear of the edge by half the button and 6 mm"),
    buttonhole_sum, build_buttonholes,
    (Example({"diameter": "15 mm", "thickness": "3 mm"}, {"buttonhole": 18.0},
             "extension leaflets: 15 mm + 3 mm = 18 mm"),),
    ("buttonhole",))

KINDS = (BUTTONHOLES,)
