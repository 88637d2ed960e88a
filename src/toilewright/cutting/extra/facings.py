"""Facings: the strip of a piece beside its neck, armhole, waist or front edge, sewn to that edge and turned inside.

Cut from the altered piece: the edge and the stretches of the seams beside it are the piece's own, so that the facing
lies as the piece does. Darts in the edge are closed in the paper; where the piece is too narrow, the panel beside it is
laid to it (:mod:`toilewright.cutting.extra.across`). Stretches that are sewn to each other are cut equally long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.cutting.extra.across import Across, strip_across
from toilewright.cutting.extra.already import lined_first, sewn_already
from toilewright.cutting.extra.beside import Strip, equal, joints, stretches, without_stubs
from toilewright.cutting.extra.interfacing import interfaced
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
from toilewright.cutting.extra.places import AT_JOINT, Run, find_run, turning
from toilewright.cutting.extra.strips import ALLOWANCE_OPTION, CLOTH_OPTION, NAME_OPTION
from toilewright.cutting.extra.upright import holds
from toilewright.errors import Finding, InputError, Severity
from toilewright.geometry.offset import offset_path
from toilewright.geometry.path import Path
from toilewright.geometry.point import unit
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Edge, EdgeKind, Grain, Notch
from toilewright.pattern.piece import Piece

WIDTH = 60.0
"""mm; so wide that it stays inside and can be caught down at the seams (common practice, no published source)."""

FINISH = 6.0
"""mm beyond the outer edge, turned or overlocked (common practice, no published source)."""

OUTER = "outer edge"


@dataclass(frozen=True, slots=True)
class Part:
    """One facing in the making: its name, the strip it is cut from, and the panels that were laid to that."""

    name: str
    strip: Strip
    across: Across


def facing_sum(options: Options) -> Sum:
    """Widths, from numbers alone."""
    width, finish, allowance = (length_of(options, n) for n in ("width", "finish", "allowance"))
    figures = [Figure("width", width, "finished width"),
               Figure("cut_width", width + finish + allowance, "width to cut: with its allowance and its outer edge")]
    if isinstance(options.get("edge"), float):
        figures.append(Figure("edge", length_of(options, "edge"), "length of the edge"))
    return Sum(tuple(figures), _steps(options, (), 0.0))


def build_facing(garment: Garment, options: Options) -> Built:
    """A facing for each piece along the edge, seamed where the garment is."""
    run = find_run(garment, word_of(options, "edge"))
    if any("facing" in p for p in run.pieces):
        raise InputError(f'"{run.name}" is an edge of a facing; name the edge of the garment that is to be faced.')
    parts = _parts(garment, run, options)
    strips = equal(garment, [p.strip for p in parts])
    parts = [replace(p, strip=s) for p, s in zip(parts, strips, strict=True)]
    allowance, cloth = length_of(options, "allowance"), word_of(options, "cloth")
    marked = [_marked(p.strip.piece, p, allowance) for p in parts]
    pieces = [_piece(part, options, cloth, allowance) for part in parts]
    seams = (*_to_garment(run, parts), *_joined(garment, parts))
    changed = {}
    for part, notches in zip(parts, marked, strict=True):
        name = part.strip.piece.name
        changed[name] = _faced(changed.get(name, garment.piece(name)), part, notches, allowance)
    laid: tuple[tuple[str, str], ...] = ()
    if word_of(options, "interfacing") == "yes":
        inside = [interfaced(p, f"{p.name} interfacing") for p in pieces]
        laid = tuple((i.name, p.name) for i, p in zip(inside, pieces, strict=True))
        pieces += inside
    worked = facing_sum({**options, "edge": run.length})
    steps = _steps(options, tuple(s.name for s in seams[1:]), turning(garment, run))
    return Built(tuple(pieces), seams, tuple(changed.values()),
                 replace(worked, steps=steps, findings=_found(garment, run, parts)), laid,
                 tuple(key for key in run.edges if garment.piece(key[0]).edge(key[1]).kind is not EdgeKind.SEAM))


# -- pieces -----------------------------------------------------------------------------------------


def _parts(garment: Garment, run: Run, options: Options) -> list[Part]:
    found = []
    for piece in map(garment.piece, run.pieces):
        for names in stretches(piece, [r.edge for r in run.refs if r.piece == piece.name]):
            found.append((piece, names))
    own = word_of(options, "name")
    parts = []
    for piece, names in found:
        name = own if own and len(found) == 1 else f"{piece.name} {own or f'{names[0]} facing'}"
        across = strip_across(garment, piece, names, length_of(options, "width"))
        parts.append(Part(name, across.strip, across))
    return parts


def _piece(part: Part, options: Options, cloth: str, allowance: float) -> Piece:
    strip = part.strip
    piece = strip.piece
    after = replace(strip.after, path=strip.after.path.sub(0.0, strip.to_after))
    whole = strip.before.path.length
    before = replace(strip.before, path=strip.before.path.sub(whole - strip.from_before, whole))
    lines = tuple(replace(e, kind=EdgeKind.SEAM, allowance=_allowance(e, allowance)) for e in strip.lines)
    outer = Edge(OUTER, strip.inner.reversed(), EdgeKind.FREE, length_of(options, "finish"))
    ring = _linked([*lines, after, outer, before])
    pair = piece.on_fold and not any(e.kind is EdgeKind.FOLD for e in ring)
    cut = replace(piece.cut, count=2 * piece.cut.count, mirrored=True) if pair else piece.cut
    return Piece(part.name, ring, notches=_notches(part, allowance), grain=_grain(strip, ring),
                 cut=replace(cut, cloth=cloth))


def _linked(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """Each edge starting exactly where the one before it ends; float noise is closed here."""
    starts = [e.path.start for e in edges]
    paths = [e.path.with_ends(end=starts[(i + 1) % len(edges)]) for i, e in enumerate(edges)]
    return tuple(replace(e, path=without_stubs(p)) for e, p in zip(edges, paths, strict=True))


def _allowance(edge: Edge, allowance: float) -> float:
    """A seam keeps its own; an edge that was hemmed, open or bound gets that of the facing."""
    return edge.allowance if edge.kind is EdgeKind.SEAM and edge.allowance > 0 else allowance


def _grain(strip: Strip, ring: Sequence[Edge]) -> Grain | None:
    grain = strip.piece.grain
    if grain is None:
        return None
    way = unit(grain.end - grain.start)
    line = Path.joined([e.path for e in strip.lines])
    width = min(strip.from_before, strip.to_after)
    beside = offset_path(line, -width / 2)
    middle = beside.point_at(beside.length / 2)
    points = [p for e in ring for p in e.path.flatten(0.5)[:-1]]
    for half in (0.3 * line.length, 0.2 * line.length, 0.35 * width, 0.2 * width):
        if all(holds(points, middle + way * s * half) for s in (-1.2, -0.6, 0.6, 1.2)):
            break
    return Grain(middle - way * half, middle + way * half)


# -- balance marks ----------------------------------------------------------------------------------


def _marked(piece: Piece, part: Part, allowance: float) -> tuple[Notch, ...]:
    """New marks on the garment: in the middle of each faced edge that has none."""
    bare = [e.name for e in part.strip.lines if not any(n.edge == e.name for n in piece.notches)]
    return tuple(Notch(f"{part.name} mark", name, _middle(piece, name)) for name in bare)


def _middle(piece: Piece, edge: str) -> float:
    """The middle of an edge as sewn, moved out of a dart (mm from its start, darts open)."""
    at = piece.sewn_length(edge) / 2
    for dart in piece.darts_on(edge):
        if at <= dart.start - AT_JOINT:
            break
        at = at + dart.end - dart.start if at > dart.start + AT_JOINT else dart.start / 2
    return at


def _notches(part: Part, allowance: float) -> tuple[Notch, ...]:
    strip = part.strip
    piece = strip.piece
    lines = {e.name for e in strip.lines}
    found = []
    for notch in (*piece.notches, *_marked(piece, part, allowance)):
        if notch.edge in lines:
            found.append(replace(notch, at=piece.sewn_at(notch.edge, notch.at)))
        elif notch.edge == strip.after.name and notch.at < strip.to_after - AT_JOINT:
            found.append(notch)
        elif notch.edge == strip.before.name:
            at = notch.at - (strip.before.path.length - strip.from_before)
            found += [replace(notch, at=at)] if at > AT_JOINT else []
    return tuple(found)


def _faced(piece: Piece, part: Part, notches: Sequence[Notch], allowance: float) -> Piece:
    """The garment's piece with its new marks; the edge is a seam now."""
    lines = {e.name for e in part.strip.lines}
    edges = tuple(replace(e, kind=EdgeKind.SEAM, allowance=_allowance(e, allowance)) if e.name in lines else e
                  for e in piece.edges)
    return replace(piece, edges=edges, notches=(*piece.notches, *notches))


# -- seams ------------------------------------------------------------------------------------------


def _to_garment(run: Run, parts: Sequence[Part]) -> tuple[Seam, ...]:
    """One seam for each line: the garment's edges and the facings', in the same order."""
    own = {(p.strip.piece.name, e.name): p.name for p in parts for e in p.strip.lines}
    refs = {(r.piece, r.edge): r for r in reversed(run.refs)}
    first = [refs[key] for key in run.edges]
    name = parts[0].name if len(parts) == 1 else f"{run.name} facing"
    return (Seam(f"{name} to {run.name}", tuple(first),
                 tuple(EdgeRef(own[r.piece, r.edge], r.edge, r.reverse) for r in first), upon=True),)


def _joined(garment: Garment, parts: Sequence[Part]) -> tuple[Seam, ...]:
    return tuple(Seam(f"{parts[i].name} {seam.name}", (replace(seam.a[0], piece=parts[i].name),),
                      (replace(seam.b[0], piece=parts[k].name),))
                 for seam, i, k in joints(garment, [p.strip for p in parts]))


# -- words ------------------------------------------------------------------------------------------


def _found(garment: Garment, run: Run, parts: Sequence[Part]) -> tuple[Finding, ...]:
    first = parts[0].name
    found = [*sewn_already(garment, run, "faced-edge-is-sewn", f'"{first}" takes the place of what is sewn there, '
                           "or is caught in with it", first), *lined_first(garment, run, first)]
    for part in parts:
        if part.across.panels:
            panels, seams = (" and ".join(f'"{n}"' for n in said) for said in (part.across.panels, part.across.seams))
            found.append(Finding("facing-across-panels", f'"{part.name}" is wider than "{part.strip.piece.name}", so '
                                 f"it is drawn across {seams}, with {panels} laid to it in the paper; it has no seam "
                                 "there.", Severity.NOTE, part.name))
        for edge, share in ((part.strip.before, part.strip.from_before), (part.strip.after, part.strip.to_after)):
            if edge.kind is EdgeKind.SEAM and share > 0.6 * edge.path.length:
                found.append(Finding("facings-would-meet", f'"{part.name}" takes most of the "{edge.name}"; if the '
                                     "edge at its other end is faced too, cut both facings in one.", Severity.NOTE,
                                     part.name))
    return tuple(found)


def _steps(options: Options, joints: Sequence[str], turned: float) -> tuple[str, ...]:
    fused = word_of(options, "interfacing") == "yes"
    first = ["Fuse the interfacing to the wrong side of each facing."] if fused else []
    if joints:
        first.append("Sew the facings to each other where the garment has its seams and press the seams open.")
    curve = (f", and clip into the hollow, up to {mm(2.0)} from the stitches" if turned < -0.2 else
             ", and cut small wedges out of the outward curve" if turned > 0.2 else "")
    return (*first, f"Finish the outer edge: turn {mm(length_of(options, 'finish'))} under, or overlock it.",
            "Sew the garment's own seams that end at the edge first. Lay the facing on it, right sides together, seam "
            "to seam and mark to mark, and sew.",
            f"Trim the allowances in steps, the facing's narrowest{curve}.",
            "Press the seam towards the facing and stitch it to the allowances close to the seam, as far as you can "
            "reach, so that it does not roll out.",
            "Turn it inside, press, and catch it down at the garment's seams only.")


FACING = Kind(
    "facing", "a facing for a neck, an armhole, a waist or a front edge",
    (Option("edge", Asks.EDGE, 'the edge that is faced, such as "neck", "armhole" or "wrap edge"; several with "+"',
            needed=True),
     Option("width", Asks.LENGTH, "finished width", WIDTH, 15.0, 250.0),
     Option("finish", Asks.LENGTH, "cloth beyond its outer edge", FINISH, 0.0, 30.0),
     Option("interfacing", Asks.CHOICE, "pieces for it", "yes", words=("yes", "no")),
     replace(ALLOWANCE_OPTION, says="beyond an edge that was hemmed or open; a seam keeps its own"),
     NAME_OPTION, CLOTH_OPTION),
    ("common practice, no published source: 6 cm wide, cut after the piece with its darts closed, on its grain",),
    facing_sum, build_facing,
    (Example({"width": "6 cm", "finish": "6 mm", "allowance": "15 mm"}, {"cut_width": 81.0},
             "arithmetic: 6 cm + 6 mm + 15 mm"),))

KINDS = (FACING,)
