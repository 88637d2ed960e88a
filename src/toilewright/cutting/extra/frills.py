"""Frills and tiers: one, two or more strips, each gathered onto the edge above it.

How full: 1 1/2 times the edge for firm cloth, 2 for medium, 2 1/2 to 3 for fine (extension leaflets; an edge of 20 in
at 2 1/2 takes 50 in). Two rows of gathering stitches are usual, one on each side of the seam line; three give the most
even gathers (common practice, no published source).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

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
from toilewright.cutting.extra.places import Run, find_run, with_notches
from toilewright.cutting.extra.strips import (
    ALLOWANCE,
    ALLOWANCE_OPTION,
    CLOTH_OPTION,
    NAME_OPTION,
    WIDTH_OF_CLOTH,
    level,
    strip,
    widths_for,
    words_for,
)
from toilewright.errors import Finding, InputError, Severity
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, EdgeKind, InnerLine, Notch
from toilewright.pattern.piece import Piece

RATIOS = {"firm": 1.5, "medium": 2.0, "fine": 2.5}
"""Length of the frill over that of the edge, by cloth (extension leaflets; fine cloth takes 2 1/2 to 3)."""

MOST_RATIO = 6.0

ROWS = {2: (5.0, -5.0), 3: (6.0, -3.0, -9.0)}
"""Where the rows lie: mm beyond the seam line, into the allowance; those below 0 lie on the frill's own side of it and
are taken out again (common practice, no published source)."""

HEMS = {"narrow": 15.0, "rolled": 6.0, "wide": 30.0, "double": 0.0}
"""Allowance of each hem (mm): turned twice narrow, rolled, turned twice wide; a doubled frill has none."""

DEPTH = 80.0


@dataclass(frozen=True, slots=True)
class Tier:
    """One tier as it is cut.

    Attributes:
        edge: what it is gathered onto (mm).
        length: gathered (mm).
        depth: finished, below its seam (mm).
        widths: of the cloth, seamed to each other.
    """

    edge: float
    length: float
    depth: float
    widths: int


def ratio_of(options: Options) -> float:
    """How full: what was said, or what the cloth asks."""
    if "ratio" in options:
        return length_of(options, "ratio")
    return RATIOS.get(word_of(options, "cloth")) or RATIOS[word_of(options, "weight")]


def tiers_of(edge: float, options: Options, above: int = 1) -> tuple[Tier, ...]:
    """All tiers, from the top, each gathered onto the one above it.

    Args:
        edge: mm.
        above: of how many equal parts the edge itself is made.
    """
    depths = options.get("depth", (DEPTH,))
    if not isinstance(depths, tuple):
        depths = (float(depths),)
    number = max(int(length_of(options, "tiers")), len(depths))
    ratio, allowance = ratio_of(options), length_of(options, "allowance")
    made = []
    for k in range(number):
        length = edge * ratio
        widths = (1 if word_of(options, "cut") == "along" else
                  _in_step(length, length_of(options, "cloth width"), allowance, above))
        made.append(Tier(edge, length, depths[min(k, len(depths) - 1)], widths))
        edge, above = length, widths
    return tuple(made)


def _in_step(length: float, cloth_width: float, allowance: float, above: int) -> int:
    """Widths whose joins and middles fall on the same marks in every width of the tier above."""
    return widths_for(length, cloth_width, allowance, above if above % 2 else above // 2)


def frill_sum(options: Options) -> Sum:
    """What each tier takes, from the length of the edge."""
    tiers = tiers_of(length_of(options, "edge"), options)
    return Sum((Figure("ratio", ratio_of(options), "gathered length over the length of the edge", length=False),
                *_figures(tiers, options)), _cutting_steps(tiers, options), _cloth_findings(options))


def _figures(tiers: tuple[Tier, ...], options: Options) -> list[Figure]:
    found = []
    allowance = length_of(options, "allowance")
    for k, tier in enumerate(tiers, 1):
        more, says = ("", "") if k == 1 else (f"_{k}", f", tier {k}")
        last = k == len(tiers)
        found += [
            Figure(f"edge{more}", tier.edge, f"length of the edge{says}"),
            Figure(f"length{more}", tier.length, f"length of the frill, seam to seam{says}"),
            Figure(f"widths{more}", tier.widths, f"widths of the cloth{says}", length=False),
            Figure(f"cut_length{more}", tier.length / tier.widths + 2 * allowance, f"length to cut each width{says}"),
            Figure(f"cut_depth{more}", _cut_depth(tier, options, k == 1, last), f"depth to cut{says}"),
            Figure(f"joins{more}", tier.widths - 1, f"joins between them, and one more where it closes{says}",
                   length=False)]
    return found


def _cut_depth(tier: Tier, options: Options, first: bool, last: bool) -> float:
    allowance, hem = length_of(options, "allowance"), word_of(options, "hem")
    heading = length_of(options, "heading") if first else 0.0
    top = heading + HEMS["rolled"] if heading else allowance
    if not last:
        return tier.depth + top + allowance
    if hem == "double":
        return 2 * (tier.depth + heading) + 2 * allowance
    return tier.depth + top + HEMS[hem]


def _cutting_steps(tiers: tuple[Tier, ...], options: Options) -> tuple[str, ...]:
    way = "along the selvedge, without joins" if word_of(options, "cut") == "along" else "across the cloth"
    steps = []
    for k, tier in enumerate(tiers, 1):
        named = "the frill" if len(tiers) == 1 else f"tier {k}"
        depth = _cut_depth(tier, options, k == 1, k == len(tiers))
        each = tier.length / tier.widths + 2 * length_of(options, "allowance")
        steps.append(f"Cut {named}: {words_for(tier.widths, 'strip', 'strips')} {mm(each)} long and {mm(depth)} deep, "
                     f"{way}" + (", and seam them end to end." if tier.widths > 1 else "."))
    return tuple(steps)


def _cloth_findings(options: Options) -> tuple[Finding, ...]:
    ratio = ratio_of(options)
    if ratio < 1.25:
        return (Finding("hardly-gathered", f"A frill {ratio:g} times as long as its edge hardly gathers; firm cloth "
                        "takes 1.5, medium 2, fine 2.5 to 3."),)
    if ratio > 3.5:
        return (Finding("very-full", f"{ratio:g} times the edge is very full; sew a hand's breadth of it as a trial, "
                        "as that much cloth may not fit into the seam."),)
    return ()


# -- on a garment -----------------------------------------------------------------------------------


def build_frill(garment: Garment, options: Options) -> Built:
    """All tiers on an edge; the first is caught in its seam or, with a heading, sewn on top of it."""
    run = find_run(garment, word_of(options, "edge"))
    name = word_of(options, "name") or f"{run.name.replace('.', ' ')} frill"
    tiers = tiers_of(run.length, options)
    _check(options, len(tiers))
    pieces: list[Piece] = []
    seams: list[Seam] = []
    above = run
    changed = _partner(garment, run, name, tiers[0], options)
    for k, tier in enumerate(tiers, 1):
        called = name if len(tiers) == 1 else f"{name} tier {k}"
        piece = _tier_piece(called, tier, run.copies, options, k == 1, k == len(tiers))
        if k > 1:
            pieces[-1:] = _marked(Garment((pieces[-1],)), above, called, tier.widths) or pieces[-1:]
        pieces.append(piece)
        seams += _tier_seams(called, above, tier, run.closed or tier.widths > 1, ratio_of(options))
        bottom = tuple(EdgeRef(called, "hem") for _ in range(tier.widths))
        above = Run(f"{called} hem", bottom, run.copies, run.closed, tier.length)
    figures = (Figure("ratio", ratio_of(options), "gathered length over the length of the edge", length=False),
               Figure("edges", run.copies, "edges that have one", length=False), *_figures(tiers, options))
    return Built(tuple(pieces), tuple(seams), changed, Sum(
        figures, (*_cutting_steps(tiers, options), *_sewing_steps(run, tiers, options)),
        (*_cloth_findings(options), *_sewn_already(garment, run, name, options))),
        decides=_unhemmed(garment, run, options))


def _check(options: Options, number: int) -> None:
    if number > 1 and length_of(options, "heading") > 0:
        raise InputError('A "heading" stands free above a single frill; leave it out where there are tiers.')
    if word_of(options, "hem") == "double" and length_of(options, "heading") > 0:
        raise InputError('A doubled frill has no finished top edge; take hem = "narrow" with a heading.')


def _tier_piece(name: str, tier: Tier, copies: int, options: Options, first: bool, last: bool) -> Piece:
    """One width of a tier: its top edge is gathered, its bottom one hemmed, or sewn to the next tier."""
    width, allowance = tier.length / tier.widths, length_of(options, "allowance")
    heading = length_of(options, "heading") if first else 0.0
    hem = word_of(options, "hem")
    double = last and hem == "double"
    height = (2 if double else 1) * tier.depth + heading
    lines: list[InnerLine] = [level("fold", width, tier.depth)] if double else []
    if heading:
        lines += [level("stitching line", width, tier.depth)]
    sewn = (2 if double else 1) * tier.depth
    lines += [level(f"gathering row {n}", width, sewn + off) for n, off in enumerate(_rows(options), 1)]
    bottom = (("second top", EdgeKind.SEAM, allowance) if double else ("hem", EdgeKind.HEM, HEMS[hem]) if last
              else ("hem", EdgeKind.SEAM, allowance))
    top = (EdgeKind.HEM, HEMS["rolled"]) if heading else (EdgeKind.SEAM, allowance)
    notches = tuple(Notch(f"{name} mark", "top", width - width * s) for s in _own_shares(tier.widths))
    return strip(name, width, height, (bottom[0], "end", "top", "other end"),
                 (bottom[1], EdgeKind.SEAM, top[0], EdgeKind.SEAM), (bottom[2], allowance, top[1], allowance),
                 "along" if word_of(options, "cut") == "along" else "across",
                 Cut(tier.widths * copies, False, _cloth(options)), notches, lines)


def _rows(options: Options) -> tuple[float, ...]:
    """Where the rows of gathering stitches lie, beyond the seam line: within the allowance, whatever that is (mm)."""
    allowance = length_of(options, "allowance") if length_of(options, "heading") == 0.0 else ALLOWANCE
    return tuple(min(off, 0.7 * allowance) for off in ROWS[int(length_of(options, "rows"))])


def _cloth(options: Options) -> str:
    """Which cloth it is cut from; a weight said in its place is the garment's own cloth."""
    said = word_of(options, "cloth")
    return "self" if said in RATIOS else said


def _own_shares(widths: int) -> tuple[float, ...]:
    """Where one width is marked: the quarters of a single one, the middles of several (their joins are marks too)."""
    return (0.25, 0.5, 0.75) if widths == 1 else (0.5,)


def _marks(length: float, widths: int) -> tuple[float, ...]:
    """Where the edge is marked for a tier of so many widths (mm from its start)."""
    parts = 4 if widths == 1 else 2 * widths
    return tuple(length * k / parts for k in range(1, parts))


def _marked(garment: Garment, run: Run, name: str, widths: int) -> tuple[Piece, ...]:
    """The pieces along the edge, marked for a tier of so many widths."""
    return with_notches(garment, run, _marks(run.length, widths), f"{name} mark")


def _tier_seams(name: str, above: Run, tier: Tier, joined: bool, ratio: float) -> list[Seam]:
    seams = [Seam(f"{name} gathers", above.refs, (EdgeRef(name, "top", True, tier.widths),), ratio=ratio)]
    if joined:
        seams.append(Seam(f"{name} joins", (EdgeRef(name, "end"),), (EdgeRef(name, "other end", True),)))
    return seams


def _partner(garment: Garment, run: Run, name: str, tier: Tier, options: Options) -> tuple[Piece, ...]:
    """The pieces of the edge, marked; a hem that a frill is caught in becomes a seam."""
    several = max(int(length_of(options, "tiers")), len(_depths(options))) > 1
    first = f"{name} tier 1" if several else name
    marked = {p.name: p for p in _marked(garment, run, first, tier.widths)}
    if length_of(options, "heading") > 0:
        return tuple(marked.values())
    mine = _unhemmed(garment, run, options)
    changed = []
    for piece in (marked.get(n, garment.piece(n)) for n in run.pieces):
        edges = tuple(replace(e, kind=EdgeKind.SEAM, allowance=length_of(options, "allowance"))
                      if (piece.name, e.name) in mine else e for e in piece.edges)
        changed.append(replace(piece, edges=edges))
    return tuple(changed)


def _unhemmed(garment: Garment, run: Run, options: Options) -> tuple[tuple[str, str], ...]:
    """The edges that are a seam now, with the allowance of the frill: (piece, edge)."""
    if length_of(options, "heading") > 0:
        return ()
    return tuple((piece, edge) for piece, edge in run.edges
                 if garment.piece(piece).edge(edge).kind in (EdgeKind.HEM, EdgeKind.FREE))


def _depths(options: Options) -> tuple[float, ...]:
    depths = options.get("depth", (DEPTH,))
    return depths if isinstance(depths, tuple) else (float(depths),)


def _sewn_already(garment: Garment, run: Run, name: str, options: Options) -> tuple[Finding, ...]:
    if length_of(options, "heading") > 0:
        return ()
    return sewn_already(garment, run, "caught-in-seam", f'"{name}" is caught between its two sides', name,
                        Severity.NOTE)


def _sewing_steps(run: Run, tiers: tuple[Tier, ...], options: Options) -> tuple[str, ...]:
    rows = _rows(options)
    heading, hem = length_of(options, "heading"), word_of(options, "hem")
    inside, own = [r for r in rows if r > 0], [-r for r in rows if r < 0]
    hemmed = {"double": "Fold it in half lengthways, wrong sides together, and treat both raw edges as one.",
              "rolled": "Roll its hem and sew it by hand or with the roller foot.",
              "narrow": f"Turn its hem twice, {mm(HEMS['narrow'] / 2)} each time, and stitch.",
              "wide": f"Turn its hem twice, {mm(HEMS['wide'] / 2)} each time, and stitch."}[hem]
    ends = "Close the strip into a ring." if run.closed else "Finish both ends."
    where = (f"along the line {mm(heading)} below its finished top edge, one row on each side of it" if heading else
             f"{' and '.join(mm(r) for r in inside)} outside the seam line, in the allowance, and "
             f"{' and '.join(mm(r) for r in own)} inside it")
    laid = ("Lay its wrong side on the right side of the finished edge, the stitching line on it" if heading else
            "Pin it right sides together")
    last = "Take out the gathering threads that show." if own else ""
    steps = [hemmed if len(tiers) == 1 else f"{hemmed} That is the last tier; the others are sewn to the one below.",
             ends, f"Sew {words_for(len(rows), 'row', 'rows')} of long stitches {where}, broken off at the seams.",
             f"{laid}, mark to mark: quarter by quarter, or the joins and the middles between them.",
             f"Draw up the threads until each stretch fits, spread the gathers evenly, and sew. {last}".strip()]
    if len(tiers) > 1:
        steps.append("Work from the lowest tier upwards: each is gathered onto the next while that still lies flat.")
    return tuple(steps)


FRILL = Kind(
    "frill", "one or more gathered tiers on an edge",
    (Option("edge", Asks.EDGE, 'the edge it is gathered onto, such as "sleeve hem" or "skirt hem"', needed=True),
     Option("depth", Asks.LENGTHS, 'finished depth; several tiers may have their own, "10 cm + 12 cm"', (DEPTH,), 10.0,
            1500.0),
     Option("tiers", Asks.COUNT, "how many, each gathered onto the one above", 1.0, 1, 8),
     Option("weight", Asks.CHOICE, "how the cloth gathers: firm 1 1/2 times the edge, medium 2, fine 2 1/2", "medium",
            words=tuple(RATIOS)),
     Option("ratio", Asks.NUMBER, "length of the frill over that of the edge, where not by the cloth's weight", None,
            1.0, MOST_RATIO,
            beyond="a frill is at least as long as its edge (1) and at most 6 times as long; 1.5 to 3 is usual"),
     Option("heading", Asks.LENGTH, "finished edge that stands above the stitching; 0 for a frill caught in a seam",
            0.0, 0.0, 200.0),
     Option("hem", Asks.CHOICE, "how it ends: narrow, rolled, wide, or double (folded, no hem)", "narrow",
            words=tuple(HEMS)),
     Option("rows", Asks.COUNT, "of gathering stitches", 2.0, 2, 3),
     Option("cut", Asks.CHOICE, "across the cloth, pieced from its widths, or along it in one", "across",
            words=("across", "along")),
     ALLOWANCE_OPTION, WIDTH_OF_CLOTH, NAME_OPTION,
     replace(CLOTH_OPTION, says=f"{CLOTH_OPTION.says}; or firm, medium or fine, as in weight")),
    ("extension leaflets: 1 1/2 times the edge for firm cloth, 2 for medium, 2 1/2 to 3 for fine; 20 in at 2 1/2 takes "
     "50 in",
     "common practice, no published source: two rows of gathering stitches, three for the most even gathers"),
    frill_sum, build_frill,
    (Example({"edge": "20 in", "ratio": "2.5"}, {"length": 50 * 25.4}, "extension leaflets: 20 in x 2 1/2 = 50 in"),
     Example({"edge": "20 in", "weight": "fine", "tiers": "2"}, {"length": 50 * 25.4, "length_2": 125 * 25.4},
             "the same, and its second tier 50 in x 2 1/2 = 125 in")),
    ("tier", "ruffle", "flounce"))

KINDS = (FRILL,)
