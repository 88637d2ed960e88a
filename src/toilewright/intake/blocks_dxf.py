"""Pieces from an interchange DXF, where each block is one piece in one size and layer numbers tell the lines apart.

ASTM D6673 (from memory, and as seen in public readers): 1 boundary, 4 notch, 6 mirror line, 7 grain, 8 internal line,
11 internal cut-out, 13 drill hole, 14 sew line, 80 to 83 notches of other shapes.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from toilewright.errors import Finding
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.broken import BROKEN, piece_lost
from toilewright.intake.captions import allowance, caption_lines, cut_note
from toilewright.intake.corners import bits
from toilewright.intake.dart_lines import find_darts
from toilewright.intake.drawing import Drawing, Stroke, Word
from toilewright.intake.notches import grouped
from toilewright.intake.notes import line_captions, words_of_lines
from toilewright.intake.raw import RawDart, RawNotch, RawPattern, RawPiece
from toilewright.intake.rings import chain
from toilewright.intake.seam_strokes import measured_allowance
from toilewright.intake.sketch import Sketch

BOUNDARY, MIRROR, GRAIN, INNER, CUT_OUT, DRILL, SEW = "1", "6", "7", "8", "11", "13", "14"
NOTCHES = ("4", "80", "81", "82", "83")

ON_EDGE = 3.0
"""mm; a mirror line this near to the boundary lies on it."""

_SAYS = re.compile(r"^\s*(piece\s*name|size|quantity|annotation|category)\s*:\s*(.*?)\s*$", re.I)
_NO_NOTE = re.compile(r"^\s*(piece\s*name|size|quantity|category)\s*:", re.I)
_TITLED = re.compile(r"^\s*[^\W\d_][\w ]*:")
_COPY = re.compile(r"^(.*?)[\s_\-.]+([^\s_\-.]+)$")


@dataclass
class _Block:
    """What one block holds: its strokes by layer number, its words, and what they say."""

    name: str
    strokes: defaultdict[str, list[Stroke]] = field(default_factory=lambda: defaultdict(list))
    words: list[Word] = field(default_factory=list)
    said: dict[str, str] = field(default_factory=dict)


def recognise_blocks(drawing: Drawing) -> RawPattern | None:
    """The pieces of a DXF whose blocks are pieces; None when its blocks do not say so.

    Piece and size are what the block's texts say, else the two parts of the block's name ("FRONT-38"). Sizes are put in
    order of the area of their pieces. A quantity of "1,1" is a pair: one for each side.
    """
    blocks = _blocks(drawing)
    found: dict[str, dict[str, RawPiece]] = {}
    findings = list(drawing.findings)
    sizes_named = _sizes_named(blocks)
    for block in blocks:
        outline = _ring(block.strokes[BOUNDARY])
        if outline is None:
            findings.append(Finding("block-open", f'The boundary of block "{block.name}" does not close, so the piece '
                                    "was left out; join its ends where it was drawn."))
            continue
        name, size = _who(block, sizes_named)
        try:
            piece = _piece(block, name, size, outline)
        except BROKEN:
            findings.append(piece_lost(name, Sketch(outline).middle, size))
            continue
        if size in found.setdefault(name, {}):
            findings.append(Finding("block-twice", f'"{name}" comes twice in size {size}; block "{block.name}" was '
                                    "left out.", piece=name, size=size))
            continue
        found[name][size] = piece
        findings.extend(_loose_ends(block, piece))
    if not found:
        return None
    sizes = _in_order(found)
    words = tuple(w for page in drawing.pages for w in page.words if not w.block)
    said = allowance(caption_lines([*words, *(w for b in blocks for w in b.words)]))
    findings.extend(_missing(found, sizes))
    drawn = [p for of in found.values() for p in of.values() if p.seam_drawn]
    if said is None and drawn:
        said = measured_allowance(drawn)[0]
    return RawPattern(sizes, tuple(tuple(of.get(s) for s in sizes) for of in found.values()), said,
                      "seam" if said == 0 else "cutting", None, words, tuple(findings))


def _blocks(drawing: Drawing) -> list[_Block]:
    """The blocks with a boundary, in the order of the file."""
    blocks: dict[str, _Block] = {}
    for page in drawing.pages:
        for stroke in page.strokes:
            if stroke.block:
                blocks.setdefault(stroke.block, _Block(stroke.block)).strokes[stroke.tag].append(stroke)
        for word in page.words:
            if word.block in blocks:
                block = blocks[word.block]
                if found := _SAYS.match(word.text):
                    block.said.setdefault(re.sub(r"\s", "", found.group(1).lower()), found.group(2))
                block.words.append(word)
    return [b for b in blocks.values() if b.strokes[BOUNDARY]]


def _who(block: _Block, sizes_named: set[str]) -> tuple[str, str]:
    """Piece name and size name of a block."""
    name, size = block.said.get("piecename", ""), block.said.get("size", "")
    parts = _COPY.match(block.name)
    if not size and parts and parts.group(2) in sizes_named:
        size = parts.group(2)
        name = name or parts.group(1)
    if not name:
        name = parts.group(1) if parts and parts.group(2).lower() == size.lower() else block.name
    if size and name.lower().endswith((f" {size.lower()}", f"_{size.lower()}", f"-{size.lower()}")):
        name = name[:-len(size) - 1]
    return re.sub(r"[\s_]+", " ", name).strip().lower(), size or "one size"


def _sizes_named(blocks: Sequence[_Block]) -> set[str]:
    """What stands last in the names of blocks that begin alike, or is called a size elsewhere."""
    parts = [p for b in blocks if (p := _COPY.match(b.name))]
    starts = Counter(p.group(1) for p in parts)
    return {p.group(2) for p in parts if starts[p.group(1)] > 1} | {b.said["size"] for b in blocks if "size" in b.said}


def _ring(strokes: Iterable[Stroke]) -> Path | None:
    """The largest closed line among strokes, counter-clockwise."""
    rings = chain([s.path for s in strokes if s.path.length > 0]).rings
    return max(rings, key=lambda r: Sketch(r).area, default=None)


def _piece(block: _Block, name: str, size: str, outline: Path) -> RawPiece:
    sketch = Sketch(outline)
    inner = [s.path for s in block.strokes[INNER] if s.path.length > 0]
    pieces_of = bits(inner)
    legs = find_darts(pieces_of, sketch)
    used = {pieces_of[i].source for i in legs.bits}
    paths = [p for i, p in enumerate(inner) if i not in used]
    said = line_captions(caption_lines(w for w in block.words if not _TITLED.match(w.text)), name)
    lines = list(zip(paths, words_of_lines(paths, said), strict=True))
    lines += [(s.path, "cut-out") for s in block.strokes[CUT_OUT] if s.path.length > 0]
    notches = grouped([_on(sketch, s.path) for tag in NOTCHES for s in block.strokes[tag]], sketch)
    count, mirrored = _quantity(block)
    return RawPiece(
        name, size, outline, notches=notches,
        darts=(*legs.darts, *_drilled(block, notches, legs.darts)), grain=_grain(block), fold=_fold(block, sketch),
        lines=tuple(lines), seam_drawn=_ring(block.strokes[SEW]), words=tuple(block.words), cut_count=count,
        mirrored=mirrored)


def _on(outline: Sketch, mark: Path) -> Point:
    """Where on the outline a notch is: a point, or a tick by its nearer end."""
    return min((outline.nearest(p) for p in (mark.start, mark.end)), key=lambda place: place.distance).point


def _grain(block: _Block) -> tuple[Point, Point] | None:
    lines = [s.path for s in block.strokes[GRAIN] if s.path.length > 0]
    if not lines:
        return None
    longest = max(lines, key=lambda p: abs(p.end - p.start))
    return longest.start, longest.end


def _fold(block: _Block, outline: Sketch) -> tuple[Point, Point] | None:
    """The ends of the mirror line, where they lie on the boundary; a mirror line through the middle is no fold."""
    for stroke in block.strokes[MIRROR]:
        places = [outline.nearest(p) for p in (stroke.path.start, stroke.path.end)]
        middle = outline.nearest(stroke.path.point_at(stroke.path.length / 2))
        if stroke.path.length > 0 and max(p.distance for p in (*places, middle)) <= ON_EDGE:
            return places[0].point, places[1].point
    return None


def _drilled(block: _Block, notches: Sequence[RawNotch], drawn: Sequence[RawDart]) -> list[RawDart]:
    """Darts without legs: a drill hole at the apex, and two single notches at the mouth, equally far from it."""
    found = []
    for hole in _lone_holes(block, drawn):
        near = sorted((i for i, n in enumerate(notches) if n.count == 1), key=lambda i: abs(notches[i].at - hole))[:2]
        first, second = (notches[i].at for i in sorted(near)) if len(near) == 2 else (hole, hole)
        legs = abs(first - hole), abs(second - hole)
        if 5 < abs(first - second) < min(legs) and abs(legs[0] - legs[1]) < 6:
            found.append(RawDart(first, second, hole))
    return found


def _lone_holes(block: _Block, darts: Sequence[RawDart]) -> list[Point]:
    """Drill holes that are not the point of a dart (holes are put 3 to 25 mm short of it)."""
    return [s.path.start for s in block.strokes[DRILL] if all(abs(s.path.start - d.apex) >= 30 for d in darts)]


def _quantity(block: _Block) -> tuple[int | None, bool | None]:
    """How many are cut, and whether as a pair; None where nothing is said."""
    note = cut_note(caption_lines(w for w in block.words if not _NO_NOTE.match(w.text)))
    quantity = block.said.get("quantity", "")
    numbers = [int(n) for n in re.findall(r"\d+", quantity)]
    if not numbers:
        return note.count, note.mirrored
    if "pair" in quantity.lower() and len(numbers) == 1:
        return 2 * numbers[0], True
    if len(numbers) > 1:
        return sum(numbers), numbers[1] > 0
    return numbers[0], False if numbers[0] == 1 else note.mirrored


def _loose_ends(block: _Block, piece: RawPiece) -> list[Finding]:
    """Drill holes that mark no dart."""
    lone = _lone_holes(block, piece.darts)
    if not lone:
        return []
    return [Finding("drill-hole", f"{len(lone)} drill hole(s) on {piece.name} belong to no dart; they may be button, "
                    "pocket or dart points.", piece=piece.name, size=piece.size)]


def _in_order(found: dict[str, dict[str, RawPiece]]) -> tuple[str, ...]:
    """Size names by the area of the pieces that most sizes have."""
    names = dict.fromkeys(size for of in found.values() for size in of)
    common = max(found.values(), key=len)
    return tuple(sorted(names, key=lambda s: Sketch(common[s].outline).area if s in common else float("inf")))


def _missing(found: dict[str, dict[str, RawPiece]], sizes: Sequence[str]) -> list[Finding]:
    return [Finding("size-missing", f"{name} has no block for size {size}.", piece=name, size=size)
            for name, of in found.items() for size in sizes if size not in of]
