"""Elastic casings: the edge turned down, or a strip sewn on, with the elastic that goes through."""

from __future__ import annotations

from dataclasses import replace

from toilewright.cutting.extra.already import sewn_already
from toilewright.cutting.extra.cautions import cords
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
from toilewright.cutting.extra.places import Run, find_run, with_notches
from toilewright.cutting.extra.strips import ALLOWANCE_OPTION, CLOTH_OPTION, NAME_OPTION, strip
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, EdgeKind, Notch
from toilewright.pattern.piece import Piece

EASE = 5.0
"""mm that a casing is wider than its elastic, so that it can be drawn through and does not curl (common practice, no
published source)."""

TURN = 10.0
"""mm turned under at the raw edge of a casing (common practice, no published source)."""

SHORTER = 0.08
"""Part of the body by which elastic is cut shorter (common practice, no published source: elastics differ much)."""

UNSURE = 0.05
"""Part of the body by which that may be off: another elastic holds at another length; tried on before it is joined."""

OVERLAP = 20.0
"""mm by which the ends of the elastic lie on each other (common practice, no published source)."""

OPENING = 40.0
"""mm left open to thread the elastic, and as much as it is wide (common practice, no published source)."""


def casing_sum(options: Options) -> Sum:
    """Width of the casing, opening, and length of the elastic where the body is known."""
    elastic, ease = length_of(options, "elastic"), length_of(options, "ease")
    depth = elastic + ease
    figures = [Figure("casing", depth, "width of the casing: the elastic and its ease"),
               Figure("turned", depth + TURN, "to add above the edge for one that is turned down"),
               Figure("strip", depth + 2 * length_of(options, "allowance"), "width to cut of one that is sewn on"),
               Figure("opening", OPENING + elastic, "opening to thread it")]
    steps = ["Sew the casing close to both its edges, leaving the opening at a seam at the back.",
             "Draw the elastic through with a safety pin, its other end pinned down."]
    if isinstance(options.get("round"), float):
        body = length_of(options, "round")
        figures.append(Figure("elastic_length", body * (1 - SHORTER) + OVERLAP,
                              "length to cut the elastic: the body less 8 %, and what its ends overlap",
                              spread=UNSURE * body))
        steps.insert(1, f"Cut the elastic {mm(body * (1 - SHORTER) + OVERLAP)} long, give or take {mm(UNSURE * body)}: "
                        "elastics differ.")
        steps.append("Close it with a pin and try it on: sit, bend and breathe before its ends are sewn.")
    else:
        steps.append("Lay the elastic round her, as tight as it is to be, to find its length; add "
                     f"{mm(OVERLAP)} for its ends.")
    steps.append("Overlap the ends, sew them in a square, and close the opening.")
    return Sum(tuple(figures), tuple(steps))


def build_casing(garment: Garment, options: Options) -> Built:
    """The casing on an edge: cut on, or a strip of its own."""
    run = find_run(garment, word_of(options, "edge"))
    name = word_of(options, "name") or f"{run.name.replace('.', ' ')} casing"
    worked = casing_sum(options)
    figures = (*worked.figures, Figure("edge", run.length, "length of the edge, off the altered pieces"))
    found = [*sewn_already(garment, run, "cased-edge-is-sewn", f'"{name}" takes the place of what is sewn there, so '
                           "leave that out", name),
             cords(name, run.name, word_of(options, "wearer") == "child")]
    opening = (run.length - worked.of("opening")) / 2
    if word_of(options, "way") == "folded":
        changed = _turned_down(garment, run, worked.of("turned"))
        steps = (f"Fold {mm(worked.of('turned'))} above the line of the edge to the inside, {mm(TURN)} of "
                 "it turned under.",
                 *worked.steps)
        return Built((), (), changed, Sum(figures, steps, tuple(found)), decides=run.edges)
    allowance = length_of(options, "allowance")
    marks = (Notch(f"{name} mark", "sewn edge", run.length / 2),
             *(Notch("opening", "outer edge", at) for at in (opening, opening + worked.of("opening"))))
    piece = strip(name, run.length, worked.of("casing"), ("sewn edge", "end", "outer edge", "other end"),
                  (EdgeKind.SEAM,) * 4, (allowance,) * 4, "along",
                  Cut(run.copies, False, word_of(options, "cloth")), marks)
    seams = [Seam(f"{name} to {run.name}", run.refs, (EdgeRef(name, "sewn edge"),))]
    if run.closed:
        seams.append(Seam(f"{name} joins", (EdgeRef(name, "end"),), (EdgeRef(name, "other end", True),)))
    return Built((piece,), tuple(seams), with_notches(garment, run, [run.length / 2], f"{name} mark"),
                 Sum(figures, worked.steps, tuple(found)))


def _turned_down(garment: Garment, run: Run, depth: float) -> tuple[Piece, ...]:
    changed = []
    for piece in map(garment.piece, run.pieces):
        mine = {r.edge for r in run.refs if r.piece == piece.name}
        changed.append(replace(piece, edges=tuple(
            replace(e, kind=EdgeKind.HEM, allowance=depth) if e.name in mine else e for e in piece.edges)))
    return tuple(changed)


CASING = Kind(
    "casing", "a casing for elastic, turned down or sewn on",
    (Option("edge", Asks.EDGE, "the edge that is drawn in: a waist, a sleeve hem", needed=True),
     Option("elastic", Asks.LENGTH, "width of the elastic", 20.0, 3.0, 120.0),
     Option("ease", Asks.LENGTH, "that the casing is wider", EASE, 0.0, 30.0),
     Option("round", Asks.LENGTH, "the body where it sits, for the length of the elastic", None, 50.0, 2500.0),
     Option("way", Asks.CHOICE, "folded down from the edge, or a strip sewn on (applied)", "folded",
            words=("folded", "applied")),
     Option("wearer", Asks.CHOICE, "a child's garment has rules of its own for cords", "adult",
            words=("adult", "child")),
     ALLOWANCE_OPTION, NAME_OPTION, CLOTH_OPTION),
    ("arithmetic: the elastic and its ease; 1 cm turned under",
     "common practice, no published source: elastic 8 % shorter than the body, give or take 5 %"),
    casing_sum, build_casing,
    (Example({"elastic": "2 cm", "ease": "5 mm", "round": "78 cm"}, {"casing": 25.0, "elastic_length": 737.6},
             "arithmetic: 2 cm + 5 mm; 78 cm less 8 %, and 2 cm for the ends"),),
    ("elastic", "elastic casing"))

KINDS = (CASING,)
