"""Lining: a piece for each piece of the garment, without the facings, shorter at the hem, with room at the back.

It is cut from the altered pieces, so that it fits as they do. A lining gives less than the garment: a pleat at the
centre back lets her reach forward (common practice, no published source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.cutting.extra.beside import Strip, equal, strip_beside
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
from toilewright.cutting.extra.lining_cut import ALLOWANCE, MARK, Cover, Lined, covered, lined
from toilewright.cutting.extra.places import find_piece
from toilewright.cutting.extra.strips import CLOTH_OPTION
from toilewright.errors import Finding, InputError, Severity
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import EdgeKind, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

SHORTER = 20.0
"""mm by which it ends above the finished hem (common practice, no published source)."""

PLEAT = 25.0
"""mm from the garment's centre back to the fold of the lining (common practice, no published source)."""

UNLINED = ("facing", "interfacing", "lining", "band", "waistband", "tie", "strap", "frill", "ruffle", "tier", "collar",
           "stand", "cuff", "pocket", "binding", "casing", "belt", "loop", "bias")
"""Words in the names of pieces that are not lined."""

UPPER = ("neck", "shoulder", "armhole")


def lining_sum(options: Options) -> Sum:
    """What is told without a garment."""
    shorter, pleat = length_of(options, "hem"), length_of(options, "pleat")
    return Sum((Figure("shorter", shorter, "by which it ends above the finished hem"),
                Figure("pleat", 2 * pleat, "cloth in the pleat at the centre back: twice its depth")),
               _steps(options, True, True))


def build_lining(garment: Garment, options: Options) -> Built:
    """The lining of all pieces, or of those named."""
    shells = _shells(garment, word_of(options, "pieces"))
    word = word_of(options, "name") or "lining"
    hems = _hems(garment, shells, length_of(options, "hem"))
    covers, found = _covers(garment, shells) if word_of(options, "facings") == "off" else ([], [])
    made: dict[str, Lined] = {}
    for shell in shells:
        pleat, note = _pleat(shell, length_of(options, "pleat"))
        found += note
        faced = [c.strip for c in covers if c.strip.piece.name == shell.name]
        made[shell.name] = lined(shell, f"{shell.name} {word}", word_of(options, "cloth"), hems.get(shell.name, ()),
                                 faced, pleat)
    seams = [*_inside(garment, made, word), *_to_facings(garment, made, covers), *_to_garment(garment, made, covers)]
    changed = [_sewn_on(garment.piece(c.facing), c.outer) for c in covers]
    worked = lining_sum(options)
    steps = _steps(options, bool(covers), any(m.added for m in made.values()))
    return Built(tuple(m.piece for m in made.values()), tuple(seams), tuple(changed),
                 replace(worked, steps=steps, findings=tuple(found)),
                 decides=tuple((c.facing, edge) for c in covers for edge in c.outer))


# -- which pieces -----------------------------------------------------------------------------------


def _shells(garment: Garment, said: str) -> list[Piece]:
    outer = [p for p in garment.pieces if p.cut.cloth == "self"]
    if said:
        return [find_piece(outer, part) for part in said.split("+")]
    found = [p for p in outer if not any(w in p.name.split() for w in UNLINED)]
    if not found:
        raise InputError('This garment has no piece that is usually lined; name those that are to be, with pieces = '
                         '"skirt front + skirt back".')
    return found


def _hems(garment: Garment, shells: Sequence[Piece], shorter: float) -> dict[str, list[Strip]]:
    """The strips by which the pieces are shorter; where two meet, by the same length."""
    if shorter == 0.0:
        return {}
    strips = [strip_beside(p, [e.name], shorter) for p in shells for e in p.edges if e.kind is EdgeKind.HEM]
    found: dict[str, list[Strip]] = {}
    for strip in equal(garment, strips):
        found.setdefault(strip.piece.name, []).append(strip)
    return found


def _covers(garment: Garment, shells: Sequence[Piece]) -> tuple[list[Cover], list[Finding]]:
    """What facings cover of the pieces; of a seam all its facings are taken off, or none."""
    covers: list[Cover] = []
    missed: list[tuple[str, str, str]] = []
    for pairs in _pairs(garment, shells):
        told = [covered(garment.piece(piece), [m for m, _ in edges], garment.piece(facing), [t for _, t in edges])
                for (piece, facing), edges in pairs.items()]
        if None in told:
            missed += [(piece, edges[0][0], facing) for (piece, facing), edges in pairs.items()]
        else:
            covers += [c for c in told if not _lines(covers) & _lines([c])]
    return covers, [Finding("facing-not-taken-off", f'The lining of "{piece}" reaches to its "{edge}", as it cannot be '
                            f'told how far "{facing}" covers it. Lay the facing on the lining and cut away what it '
                            f"covers, but for {show_both(2 * ALLOWANCE)}.", Severity.LOOK, piece)
                    for piece, edge, facing in missed if (piece, edge) not in _lines(covers)]


def _lines(covers: Sequence[Cover]) -> set[tuple[str, str]]:
    """The edges that are covered: (piece, edge)."""
    return {(c.strip.piece.name, line.name) for c in covers for line in c.strip.lines}


Pairs = dict[tuple[str, str], list[tuple[str, str]]]
"""(piece, facing) -> the edges (of the piece, of the facing) that are sewn to each other."""


def _pairs(garment: Garment, shells: Sequence[Piece]) -> list[Pairs]:
    """For each seam, her left and right side together, the facings that are sewn to lined pieces."""
    names = {p.name for p in shells}
    found: dict[str, Pairs] = {}
    for seam in garment.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(mine) != len(theirs):
                continue
            for m, t in zip(mine, theirs, strict=True):
                if m.piece in names and "facing" in t.piece and garment.has(t.piece):
                    pairs = found.setdefault(seam.name.split(",")[0], {})
                    pairs.setdefault((m.piece, t.piece), []).append((m.edge, t.edge))
    return list(found.values())


def _pleat(shell: Piece, pleat: float) -> tuple[float, list[Finding]]:
    """How deep its pleat is, and a word where it can have none."""
    back = next((e for e in shell.edges if e.name == "centre back"), None)
    if back is None or pleat == 0.0 or not any(e.name in UPPER for e in shell.edges):
        return 0.0, []
    if back.kind is EdgeKind.OPENING:
        return 0.0, [Finding("no-room-for-a-pleat", f'"{shell.name}" opens at its centre back, so its lining has no '
                             "pleat there; try the garment on, arms forward, before the lining is sewn in.",
                             Severity.NOTE, shell.name)]
    return pleat, []


# -- seams ------------------------------------------------------------------------------------------


def _inside(garment: Garment, made: dict[str, Lined], word: str) -> list[Seam]:
    """The garment's seams between lined pieces, sewn in the lining too."""
    found = []
    for seam in garment.seams:
        refs = (*seam.a, *seam.b)
        if all(r.piece in made and r.part is None and r.edge not in made[r.piece].gone for r in refs):
            found.append(replace(seam, name=f"{word} {seam.name}", a=tuple(made[r.piece].ref(r) for r in seam.a),
                                 b=tuple(made[r.piece].ref(r) for r in seam.b)))
    return found


def _to_facings(garment: Garment, made: dict[str, Lined], covers: Sequence[Cover]) -> list[Seam]:
    """The lining along the outer edges of the facings."""
    found = []
    for cover in covers:
        one = made[cover.strip.piece.name]
        edge = cover.strip.lines[0].name
        facing = garment.piece(cover.facing)
        refs = [EdgeRef(cover.facing, n, cover.reverse) for n in cover.outer]
        refs = list(reversed(refs)) if cover.reverse else refs
        first, last = one.cut[edge]
        refs[0], refs[-1] = _shorter(facing, refs[0], first, True), _shorter(facing, refs[-1], last, False)
        found.append(Seam(f"{one.piece.name} to {cover.facing}", tuple(refs),
                          (one.ref(EdgeRef(one.shell.name, edge)),), upon=True))
    return found


def _shorter(facing: Piece, ref: EdgeRef, off: float, at_start: bool) -> EdgeRef:
    """The edge without a stretch at the start, or the end, of the walk (mm)."""
    if off < 1e-6:
        return ref
    start, end = ref.part or (0.0, facing.edge(ref.edge).path.length)
    return replace(ref, part=(start + off, end) if at_start != ref.reverse else (start, end - off))


def _to_garment(garment: Garment, made: dict[str, Lined], covers: Sequence[Cover]) -> list[Seam]:
    """Edges that are caught in with the garment's: at openings, and where it is sewn to what is not lined."""
    within = {(r.piece, r.edge) for s in garment.seams for r in (*s.a, *s.b)
              if not all(x.piece in made for x in (*s.a, *s.b))}
    off = _lines(covers)
    found = []
    for name, one in made.items():
        for edge in one.shell.edges:
            key = name, edge.name
            caught = edge.kind is EdgeKind.OPENING or (edge.kind is EdgeKind.SEAM and key in within)
            if caught and key not in off and edge.name not in one.gone:
                found.append(Seam(f"{one.piece.name} {edge.name} to {name}", (one.under(edge.name),),
                                  (one.ref(EdgeRef(name, edge.name)),), upon=True))
    return found


def _sewn_on(facing: Piece, outer: Sequence[str]) -> Piece:
    """A facing whose outer edge is sewn to the lining, marked in its middle; of two edges their joint is the mark."""
    edges = tuple(replace(e, kind=EdgeKind.SEAM, allowance=ALLOWANCE) if e.name in outer else e for e in facing.edges)
    marks = [Notch(MARK, outer[0], facing.edge(outer[0]).path.length / 2)] if len(outer) == 1 else []
    return replace(facing, edges=edges, notches=(*facing.notches, *marks))


# -- words ------------------------------------------------------------------------------------------


def _steps(options: Options, faced: bool, pleated: bool) -> tuple[str, ...]:
    pleat = (f"Press the pleat at the centre back to one side, {mm(length_of(options, 'pleat'))} deep, and baste it "
             "for a hand's breadth at the neck and at the waist; the rest stays free.",) if pleated else ()
    joined = ("Sew its edges to the outer edges of the facings, right sides together, and press the seam to the lining."
              if faced else "Sew its edges to the garment's, right sides together, before it is turned inside.")
    return ("Sew its darts as pleats, pressed the other way than the garment's, so that the thicknesses lie apart.",
            *pleat, "Sew its seams as the garment's; leave open what the garment leaves open.", joined,
            "Fell it to the zip or the opening by hand, and catch its seams to the garment's at shoulder and underarm.",
            f"Let it hang for a night. Turn its hem twice, free of the garment's, {mm(length_of(options, 'hem'))} "
            "above that.")


LINING = Kind(
    "lining", "lining cut from the garment's pieces",
    (Option("pieces", Asks.TEXT, 'which pieces, with "+" between them; left out, all that are usually lined'),
     Option("hem", Asks.LENGTH, "how far it ends above the finished hem", SHORTER, 0.0, 150.0),
     Option("pleat", Asks.LENGTH, "depth of the pleat at the centre back; 0 for none", PLEAT, 0.0, 80.0),
     Option("facings", Asks.CHOICE, "taken off where there are any, or left on", "off", words=("off", "on")),
     Option("name", Asks.TEXT, 'the word behind the pieces\' names; left out, "lining"'),
     replace(CLOTH_OPTION, default="lining")),
    ("common practice, no published source: facings off, 2 cm above the finished hem, a pleat 2.5 cm deep at the "
     "centre back, darts as pleats",),
    lining_sum, build_lining,
    (Example({"pleat": "2.5 cm"}, {"pleat": 50.0}, "arithmetic: twice 2.5 cm"),))

KINDS = (LINING,)
