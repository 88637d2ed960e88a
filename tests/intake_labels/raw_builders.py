"""What a perfect recogniser would hand on from a pattern printed at its cutting line."""

from __future__ import annotations

from toilewright.cutting.allowances import cutting_line
from toilewright.geometry import Affine, Path
from toilewright.intake.drawing import Word
from toilewright.intake.piece_corners import leg_foot
from toilewright.intake.raw import RawDart, RawNotch, RawPattern, RawPiece
from toilewright.pattern import EdgeKind, Pattern, Piece


def raw_pattern(pattern: Pattern, at_seam: bool = False, legs_to: str = "cutting") -> RawPattern:
    """The whole pattern as printed; words give every allowance that is not the usual one."""
    pieces = tuple(
        tuple(raw_piece(g.piece(first.name), size, at_seam, legs_to)
              for g, size in zip(pattern.garments, pattern.sizes, strict=True))
        for first in pattern.garments[0].pieces)
    return RawPattern(pattern.sizes, pieces, 15.0, "seam" if at_seam else "cutting", None,
                      (Word(pattern.name, 0j, 20.0),))


def raw_piece(piece: Piece, size: str, at_seam: bool = False, legs_to: str = "cutting") -> RawPiece:
    lines = tuple(e.path for e in piece.edges) if at_seam else cutting_line(piece)
    outline = Path.joined(lines)
    fold = next(((p.start, p.end) for e, p in zip(piece.edges, lines, strict=True) if e.kind is EdgeKind.FOLD), None)
    darts = []
    for dart in piece.darts:
        feet = piece.feet(dart)
        if legs_to == "cutting":
            feet = tuple(outline.point_at(leg_foot(outline, dart.apex, p)) for p in feet)
        darts.append(RawDart(*feet, dart.apex))
    notches = []
    for notch in piece.notches:
        i = next(k for k, e in enumerate(piece.edges) if e.name == notch.edge)
        path = piece.edges[i].path
        out = -path.normal_at(notch.at) * (0 if at_seam else piece.edges[i].allowance)
        notches.append(RawNotch(path.point_at(notch.at) + out, notch.count))
    said = [f"{e.name} {e.allowance / 10:g} cm" for e in piece.edges
            if e.allowance != 15.0 and e.kind is not EdgeKind.FOLD]
    words = tuple(Word(text, piece.edges[0].path.start - 20j * (i + 2), 4.0)
                  for i, text in enumerate([piece.name.upper(), *said]))
    return RawPiece(piece.name, size, outline, tuple(notches), tuple(darts),
                    piece.grain and (piece.grain.start, piece.grain.end), fold,
                    tuple((m.path, m.name) for m in piece.lines), None, words, piece.cut.count, piece.cut.mirrored)


def mapped_raw(raw: RawPattern, f: Affine) -> RawPattern:
    """The same sheet turned, shifted or mirrored (words stay upright)."""
    return RawPattern(raw.sizes, tuple(tuple(_mapped(p, f) for p in sizes) for sizes in raw.pieces), raw.allowance,
                      raw.line, raw.test_square, raw.words)


def _mapped(piece: RawPiece, f: Affine) -> RawPiece:
    outline = piece.outline.mapped(f)
    if f.determinant < 0:
        outline = outline.reversed()
    return RawPiece(
        piece.name, piece.size, outline, tuple(RawNotch(f(n.at), n.count) for n in piece.notches),
        tuple(RawDart(f(d.first), f(d.second), f(d.apex)) for d in piece.darts),
        piece.grain and (f(piece.grain[0]), f(piece.grain[1])), piece.fold and (f(piece.fold[0]), f(piece.fold[1])),
        tuple((p.mapped(f), w) for p, w in piece.lines), piece.seam_drawn and piece.seam_drawn.mapped(f),
        piece.words, piece.cut_count, piece.mirrored)
