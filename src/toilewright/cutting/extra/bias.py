"""Bias strips and bindings: strips cut one by one or as one continuous strip from a square, and sewn round an edge.

A continuous strip: the square is cut along its diagonal, its halves are sewn into a parallelogram, that is marked in
rows as wide as the strip, and sewn into a tube whose rows are set off by one. What comes out is as long as the square's
area over the width of the strip (extension leaflets; a square of 12 in cut 2 in wide gives 72 in), less what its two
seams take.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, pi, sqrt

from toilewright.cutting.extra.already import sewn_already
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
from toilewright.cutting.extra.strips import (
    CLOTH_OPTION,
    NAME_OPTION,
    WIDTH_OF_CLOTH,
    level,
    strip,
    words_for,
)
from toilewright.errors import Finding, InputError, Severity
from toilewright.geometry.path import Path
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Grain, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

LAYERS = {"single": 4, "double": 6}
"""Widths of the finished binding in its strip: folded in on both sides and over the edge; or folded in half first."""

TURN_OF_CLOTH = 3.0
"""mm that the folds of an ordinary cloth take up across the strip (common practice, no published source)."""

STRETCH = 0.03
"""Part of the edge by which a binding is cut shorter where the edge hollows, so that it lies flat there (common
practice, no published source: try it on a scrap)."""

HOLLOW = pi / 4
"""radians; a line that turns inwards by less than this is sewn as a straight one."""

SEAM_ALLOWANCE = 6.0
"""mm; of the seams inside a continuous strip, and of its joins (1/4 in; common practice, no published source)."""


def strip_length(square: float, width: float) -> float:
    """Length of the continuous strip from a square (mm), by area.

    >>> strip_length(12, 2)
    72.0
    """
    return square * square / width


def square_for(length: float, width: float) -> float:
    """Side of the square that gives a continuous strip of that length (mm), by area.

    >>> square_for(72, 2)
    12.0
    """
    return sqrt(length * width)


def strip_across(cloth_width: float, width: float) -> float:
    """How much of a strip each diagonal across the cloth gives (mm): its length at 45 degrees, less one strip width,
    which its join takes.

    >>> round(strip_across(1400, 50), 1)
    1929.9
    """
    return cloth_width * sqrt(2) - width


def cut_width(finished: float, fold: str, turn: float) -> float:
    """Width to cut a binding from its finished width (mm).

    >>> cut_width(10, "single", 3), cut_width(10, "double", 3)
    (43, 63)
    """
    return LAYERS[fold] * finished + turn


def bias_sum(options: Options) -> Sum:
    """A strip's width, its length, the square or the strips that it is cut from."""
    width = _cut_width(options)
    cloth_width = length_of(options, "cloth width")
    figures = [Figure("cut_width", width, "width to cut the strip")]
    if "square" in options:
        square = length_of(options, "square")
        if width > square:
            raise InputError(f"A strip {show_both(width)} wide cannot be cut from a square of {show_both(square)}; "
                             "give a larger square or a narrower strip.")
        length = strip_length(square, width)
        figures.append(Figure("square", square, "side of the square"))
    else:
        length = _length_needed(options)
    side, each = square_for(length, width), strip_across(cloth_width, width)
    if each < width:
        raise InputError(f"A cloth {show_both(cloth_width)} wide gives no strip {show_both(width)} wide on the bias; "
                         "give a wider cloth or a narrower strip.")
    number = max(1, ceil(length / each - 1e-9))
    figures += [
        Figure("length", length, "length of the strip"),
        Figure("square_for_length", side, "side of the square for that length, by area"),
        Figure("square_to_cut", _square_to_cut(length, width), "side of the square to cut, with what its seams take"),
        Figure("longest_strip", cloth_width * sqrt(2), "longest strip at 45 degrees across that cloth"),
        Figure("each_strip", each, "what each single strip gives, less one strip width for its join"),
        Figure("strips", number, "single strips", length=False),
        Figure("joins", number - 1, "joins between them", length=False),
        Figure("joins_take", (number - 1) * width, "what the joins take")]
    return Sum(tuple(figures), _cutting_steps(options, width, number, _square_to_cut(length, width)))


def _cut_width(options: Options) -> float:
    if "finished" in options:
        return cut_width(length_of(options, "finished"), word_of(options, "fold"), length_of(options, "turn"))
    if "width" in options:
        return length_of(options, "width")
    raise InputError('Say how wide the strip is: "width" as it is cut, or "finished" as the binding is seen.')


def _length_needed(options: Options) -> float:
    for name in ("length", "edge"):
        if isinstance(options.get(name), (int, float)):
            return length_of(options, name)
    raise InputError('Say "square" for the length that it gives, or "length" for the square and the strips it takes.')


def _square_to_cut(length: float, width: float) -> float:
    """Side of the square with what is lost in it (mm).

    Both seams run along a whole side and take two allowances each; one row is lost where the tube is set off.
    """
    lost = 2 * SEAM_ALLOWANCE
    return lost + sqrt(lost * lost + (length + width) * width)


def _cutting_steps(options: Options, width: float, number: int, square: float) -> tuple[str, ...]:
    if "square" in options or word_of(options, "way") == "continuous":
        side = length_of(options, "square") if "square" in options else square
        return (
            f"Cut a square of {mm(side)} on the straight grain, and cut it in two along a diagonal.",
            f"Lay the two triangles right sides together along two straight sides, their points standing out, sew with "
            f"{mm(SEAM_ALLOWANCE)} and press open: a parallelogram.",
            f"Draw lines {mm(width)} apart on its wrong side, beginning at a long bias side.",
            "Bring the two ends right sides together, set off by one row, so that the first line meets the second one; "
            f"sew with {mm(SEAM_ALLOWANCE)}, press open, and cut round and round along the line.")
    joined = "" if number == 1 else (
        f" Join the {number} strips: right sides together at a right angle, their ends on the thread, the seam from "
        "notch to notch; press it open and cut the ears off.")
    return (f"Fold one corner of the cloth over until its end lies along its selvedge: the fold is the bias. Cut "
            f"{words_for(number, 'strip', 'strips')} {mm(width)} wide parallel to it.{joined}",)


# -- a binding on a garment -------------------------------------------------------------------------


def build_binding(garment: Garment, options: Options) -> Built:
    """A binding round an edge: the strip, sewn to it, and the edge cut off at its own line."""
    run = find_run(garment, word_of(options, "edge"))
    finished, fold = _finished(options), word_of(options, "fold")
    name = word_of(options, "name") or f"{run.name.replace('.', ' ')} binding"
    share = _share(options, turning(garment, run))
    length = run.length * (1 - share)
    whole = run.copies * (length + _cut_width(options))
    worked = bias_sum({**{k: v for k, v in options.items() if k != "square"}, "length": whole})
    number = max(1, ceil(length / worked.of("each_strip") - 1e-9))
    continuous = word_of(options, "way") == "continuous"
    if continuous:
        piece, seams = _square(f"{name} square", worked.of("square_to_cut"), word_of(options, "cloth")), ()
    else:
        joined = run.closed or number > 1
        piece = _strip(name, length / number, number * run.copies, finished, options, joined)
        seams = (Seam(f"{name} to {run.name}", run.refs, (EdgeRef(name, "sewn edge", True, number),),
                      (-1.5 * share * run.length, 0.0)), *(_joins(name) if joined else ()))
    figures = (Figure("edge", run.length, "length of the edge, off the altered pieces"),
               Figure("stretched", run.length - length, "by how much the strip is cut shorter, then stretched"),
               Figure("sewn_length", length, "length of the strip, seam to seam"),
               Figure("strips_for_each", number, "strips for each edge", length=False),
               Figure("edges", run.copies, "edges that are bound", length=False),
               *(replace(f, says="length of the strip in all, with what its ends take") if f.name == "length" else f
                 for f in worked.figures if f.name not in ("strips", "joins", "joins_take")))
    return Built((piece,), seams, _bound(garment, run, name, number), Sum(
        figures, (*worked.steps, *_sewing_steps(run, share, finished, fold)),
        _findings(garment, run, name, continuous)), decides=run.edges)


def _finished(options: Options) -> float:
    if "finished" in options:
        return length_of(options, "finished")
    return max(2.0, (_cut_width(options) - length_of(options, "turn")) / LAYERS[word_of(options, "fold")])


def _share(options: Options, turned: float) -> float:
    if "stretch" in options:
        return length_of(options, "stretch")
    return STRETCH if turned < -HOLLOW else 0.0


def _strip(name: str, length: float, count: int, finished: float, options: Options, joined: bool) -> Piece:
    fold, turn = word_of(options, "fold"), length_of(options, "turn")
    height = (LAYERS[fold] - 2) * finished + turn
    ends = (EdgeKind.SEAM, 10.0)
    lines = (level("fold", length, height / 2),) if fold == "double" else ()
    notches = (Notch(f"{name} mark", "sewn edge", length / 2),)
    return strip(name, length, height, ("sewn edge", "end", "inner edge", "other end"),
                 (EdgeKind.SEAM, ends[0], EdgeKind.SEAM, ends[0]), (finished, ends[1], finished, ends[1]), "bias",
                 Cut(count, False, word_of(options, "cloth")), notches, lines, height if joined else 0.0)


def _joins(name: str) -> tuple[Seam, ...]:
    return (Seam(f"{name} joins", (EdgeRef(name, "end"),), (EdgeRef(name, "other end", True),)),)


def _bound(garment: Garment, run: Run, name: str, number: int) -> tuple[Piece, ...]:
    """The edges without allowance, with a mark at the middle of each strip."""
    marks = [run.length * (2 * k + 1) / (2 * number) for k in range(number)]
    marked = {p.name: p for p in with_notches(garment, run, marks, f"{name} mark")}
    pieces = []
    for piece in (marked.get(n, garment.piece(n)) for n in run.pieces):
        mine = {r.edge for r in run.refs if r.piece == piece.name}
        pieces.append(replace(piece, edges=tuple(replace(e, allowance=0.0) if e.name in mine else e
                                                 for e in piece.edges)))
    return tuple(pieces)


def _findings(garment: Garment, run: Run, name: str, continuous: bool) -> tuple[Finding, ...]:
    found = [*sewn_already(garment, run, "bound-edge-is-sewn", "a bound edge needs no facing and no seam, so leave out "
                           "what is sewn there", name)]
    if continuous:
        found.append(Finding("continuous-strip", f'"{name}" is cut as a square and becomes a strip only at the '
                             "machine, so its seam is not walked; its length is by arithmetic.", Severity.NOTE, name))
    return tuple(found)


def _sewing_steps(run: Run, share: float, finished: float, fold: str) -> tuple[str, ...]:
    flat = (f" Stretch it to the edge by {mm(share * run.length)} in all, most where the edge hollows most"
            if share > 0 else " Sew it on without stretching")
    first = "Fold it in half lengthways, wrong sides together, and press. " if fold == "double" else ""
    end = "Join its ends on the thread before the last stretch is sewn." if run.closed else \
        "Turn its two ends in before it is folded over."
    return (f'{first}Lay it raw edge to raw edge on the right side of "{run.name}", which is cut off at its own line, '
            f"marks together, and sew {mm(finished)} in.{flat}. {end}",
            "Fold it over the edge to the inside, covering the stitches, and fell it by hand or stitch in the ditch.")


# -- a square as a piece ----------------------------------------------------------------------------


def _square(name: str, side: float, cloth: str) -> Piece:
    """The square that a continuous strip comes out of, on the straight grain (mm)."""
    corners = (0j, complex(side, 0), complex(side, side), complex(0, side))
    edges = tuple(Edge(f"side {i + 1}", Path.line(corners[i], corners[(i + 1) % 4]), EdgeKind.FREE, 0.0)
                  for i in range(4))
    return Piece(name, edges, grain=Grain(complex(side / 2, 0.3 * side), complex(side / 2, 0.7 * side)),
                 cut=Cut(1, False, cloth))


BIAS = Kind(
    "bias", "a bias strip, and the binding of an edge with it",
    (Option("edge", Asks.EDGE, "the edge that is bound: neck, armhole, hem", needed=True),
     Option("finished", Asks.LENGTH, "width of the binding as it is seen", None, 2.0, 60.0),
     Option("fold", Asks.CHOICE, "single: both sides folded in; double: folded in half first, for thin cloth", "single",
            words=("single", "double")),
     Option("turn", Asks.LENGTH, "what the folds of the cloth take up", TURN_OF_CLOTH, 0.0, 20.0),
     Option("stretch", Asks.SHARE, "by which part it is cut shorter than the edge; left out, 3 % where that hollows, "
            "else nothing", None, 0.0, 0.15),
     Option("way", Asks.CHOICE, "strips one by one, or one continuous strip", "single", words=("single", "continuous")),
     Option("width", Asks.LENGTH, "width of the strip as it is cut", None, 5.0, 300.0),
     Option("square", Asks.LENGTH, "side of the square to cut from", None, 20.0, 3000.0),
     Option("length", Asks.LENGTH, "length of strip that is wanted", None, 10.0, 100_000.0),
     WIDTH_OF_CLOTH, NAME_OPTION, CLOTH_OPTION),
    ("extension leaflets: the length is the area over the width of the strip; 12 in square at 2 in gives 72 in",
     "arithmetic: a diagonal of the cloth is its width times the root of two; a join takes one strip width",
     "common practice, no published source: four widths of the finished binding single, six double, and what the folds "
     "take; 3 % shorter round a hollow"),
    bias_sum, build_binding,
    (Example({"square": "12 in", "width": "2 in"}, {"length": 72 * 25.4},
             "extension leaflets: 12 in x 12 in / 2 in = 72 in"),
     Example({"length": "72 in", "width": "2 in"}, {"square_for_length": 12 * 25.4},
             "the same, the other way about: the root of 72 in x 2 in")),
    ("binding", "bias binding"))

KINDS = (BIAS,)
