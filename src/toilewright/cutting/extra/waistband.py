"""Waistbands: straight, or shaped by the waist seam that they are sewn to, with an overlap for the button or hook.

A shaped band turns as the waist does with its darts closed: as a piece of a ring, whose outer arc is the waist seam and
whose inner one is shorter by the angle of that turn times the width (geometry).
"""

from __future__ import annotations

from dataclasses import replace
from math import pi

from toilewright.cutting.extra.already import sewn_already
from toilewright.cutting.extra.circle_skirt import arc
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
from toilewright.cutting.extra.places import Run, find_run, turning, with_notches
from toilewright.cutting.extra.strips import ALLOWANCE_OPTION, CLOTH_OPTION, NAME_OPTION, level, strip
from toilewright.errors import InputError
from toilewright.geometry.path import Path
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Grain, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

OVERLAP = 30.0
"""mm; beyond the opening, under the button or hook (common practice, no published source)."""

NAMES = ("waist", "end", "top", "other end")


def band_sum(options: Options) -> Sum:
    """What a straight band is cut from the length of its waist."""
    waist = length_of(options, "edge") if isinstance(options.get("edge"), float) else length_of(options, "waist")
    return _work(waist, 0.0, options)


def _work(waist: float, turned: float, options: Options) -> Sum:
    width, overlap, allowance = (length_of(options, n) for n in ("width", "overlap", "allowance"))
    one = word_of(options, "pieces") == "one"
    length = waist + overlap
    figures = [Figure("waist", waist, "waist seam"), 
               Figure("sewn_length", length, "length of the band with its overlap"),
               Figure("finished_width", width, "finished width"),
               Figure("cut_length", length + 2 * allowance, "length to cut"),
               Figure("cut_width", (2 if one else 1) * width + 2 * allowance, "width to cut")]
    if turned:
        figures.append(Figure("top_length", waist + turned * width,
                              "upper edge of the shaped band, without its overlap"))
    side = word_of(options, "overlap side")
    made = ("Fold it lengthways, right sides together, and sew across both ends, along the overlap too." if one else
            "Sew outside and inside together along the top and both ends, and along the overlap's waist edge.")
    return Sum(tuple(figures), (
        "Fuse or baste the interfacing to the half that is seen." if word_of(options, "interfacing") == "yes" else
        "A band without interfacing rolls; that is right only for soft cloth.",
        f"Sew it to the waist, right sides together, mark to mark; {mm(overlap)} stand out at the {side} end.", made,
        "Turn it, press, and fell or stitch the inside over the seam. Put the button or hook on last, with the band on "
        "her."))


def build_band(garment: Garment, options: Options) -> Built:
    """The band on the waist seam."""
    run = find_run(garment, word_of(options, "edge"))
    name = word_of(options, "name") or ("waistband" if not garment.has("waistband") else f"{run.name} band")
    shaped = word_of(options, "shape") == "shaped"
    one = word_of(options, "pieces") == "one"
    turned = turning(garment, run) if shaped else 0.0
    if shaped and one:
        raise InputError('A shaped band has no fold to be cut on; say pieces = "two", or shape = "straight".')
    if shaped and turned > -0.02:
        raise InputError(f'"{run.name}" is straight with its darts closed, so there is nothing to shape a band by; '
                         'say shape = "straight".')
    worked = _work(run.length, turned, options)
    piece = _shaped(name, run, turned, options) if shaped else _straight(name, run, options, one)
    piece = replace(piece, cut=Cut((1 if one else 2) * run.copies, shaped, word_of(options, "cloth")))
    start = length_of(options, "overlap") if word_of(options, "overlap side") == "left" else 0.0
    whole = piece.edge("waist").path.length
    seam = Seam(f"{name} to {run.name}", run.refs, (EdgeRef(name, "waist", False, 1, (start, start + run.length)),))
    pieces = [piece]
    if word_of(options, "interfacing") == "yes":
        cut = Cut(run.copies, False, "interfacing")
        own = _straight(name, run, options, False) if one else piece
        pieces.append(replace(own, name=f"{name} interfacing", cut=cut, notches=(),
                              edges=tuple(replace(e, allowance=0.0) for e in own.edges)))
    places = [run.length * k / 4 for k in (1, 2, 3)]
    changed = with_notches(garment, run, places, f"{name} mark")
    found = sewn_already(garment, run, "second-band", f'"{name}" takes the place of what is sewn there, so leave that '
                         "out", name)
    figures = (*worked.figures, Figure("band_edge", whole, "waist edge of the band, its overlap in it"))
    return Built(tuple(pieces), (seam,), changed, replace(worked, figures=figures, findings=found),
                 tuple((p.name, name) for p in pieces[1:]))


def _notches(name: str, run: Run, start: float) -> tuple[Notch, ...]:
    ends = tuple(Notch(f"{name} overlap", "waist", at) for at in (start, start + run.length))
    return (*(Notch(f"{name} mark", "waist", start + run.length * k / 4) for k in (1, 2, 3)),
            *(n for n in ends if n.at > 1.0))


def _start(options: Options) -> float:
    return length_of(options, "overlap") if word_of(options, "overlap side") == "left" else 0.0


def _straight(name: str, run: Run, options: Options, one: bool) -> Piece:
    width, allowance = length_of(options, "width"), length_of(options, "allowance")
    length = run.length + length_of(options, "overlap")
    marks = [n for n in _notches(name, run, _start(options)) if n.at < length - 1.0]
    return strip(name, length, (2 if one else 1) * width, NAMES, (EdgeKind.SEAM,) * 4, (allowance,) * 4, "along", Cut(),
                 marks, (level("fold", length, width),) if one else ())


def _shaped(name: str, run: Run, turned: float, options: Options) -> Piece:
    """Part of a ring: the waist on its outer arc below, the top on its inner one."""
    width, allowance, overlap = (length_of(options, n) for n in ("width", "allowance", "overlap"))
    radius = run.length / -turned
    if radius <= width + 20.0:
        raise InputError(f"A band {show_both(width)} wide cannot turn as sharply as this waist does; make it "
                         f"narrower, at most {show_both(max(radius - 20.0, 0.0))}.")
    angle = (run.length + overlap) / radius
    first, last = -pi / 2 - angle / 2, -pi / 2 + angle / 2
    waist, top = arc(0j, radius, first, last), arc(0j, radius - width, last, first)
    paths = (waist, Path.line(waist.end, top.start), top, Path.line(top.end, waist.start))
    edges = tuple(Edge(n, p, EdgeKind.SEAM, allowance) for n, p in zip(NAMES, paths, strict=True))
    middle = -1j * (radius - width / 2)
    marks = tuple(n for n in _notches(name, run, _start(options)) if n.at < waist.length - 1.0)
    return Piece(name, edges, notches=marks, grain=Grain(middle - 0.3 * width, middle + 0.3 * width))


BAND = Kind(
    "waistband", "a waistband with its overlap and interfacing",
    (Option("edge", Asks.EDGE, 'the waist it is sewn to, such as "wrap skirt waist"', needed=True),
     Option("waist", Asks.LENGTH, "waist seam, where only the sum is wanted", None, 200.0, 3000.0),
     Option("width", Asks.LENGTH, "finished width", 35.0, 10.0, 150.0),
     Option("overlap", Asks.LENGTH, "beyond the opening, under the button or hook", OVERLAP, 0.0, 300.0),
     Option("overlap side", Asks.CHOICE, "at which end of the waist seam, in the order in which it is walked", "right",
            words=("left", "right")),
     Option("pieces", Asks.CHOICE, "one folded along its top, or two, outside and inside", "one", words=("one", "two")),
     Option("shape", Asks.CHOICE, "straight, or shaped by the waist seam", "straight", words=("straight", "shaped")),
     Option("interfacing", Asks.CHOICE, "a piece for it", "yes", words=("yes", "no")),
     ALLOWANCE_OPTION, NAME_OPTION, CLOTH_OPTION),
    ("arithmetic: the waist and the overlap; twice the width where it is folded; two allowances",
     "common practice, no published source: 3 cm of overlap"),
    band_sum, build_band,
    (Example({"waist": "70 cm", "width": "3 cm", "overlap": "3 cm", "allowance": "1 cm"},
             {"cut_length": 750.0, "cut_width": 80.0}, "arithmetic: 70 + 3 + 2 x 1 cm; 2 x 3 + 2 x 1 cm"),),
    ("band",))

KINDS = (BAND,)
