"""DXF files as drawings: one page, in mm; the layer numbers of ASTM D6673 are kept as tags."""

from __future__ import annotations

import cmath
import os
import re
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import radians
from typing import TYPE_CHECKING, Any

from toilewright.errors import FileError, Finding
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.intake.drawing import Drawing, Look, Page, Stroke, Word
from toilewright.intake.dxf_open import BROKEN, load, too_much
from toilewright.intake.limits import MAX_NESTING, MAX_OBJECTS, MAX_REACH, MAX_SECONDS
from toilewright.intake.pencil import within_reach
from toilewright.intake.refit import refit_blocks

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities import DXFEntity, Insert

ARCS = 8
"""parts of a full circle; each is then within 0.005 mm at 1 m radius."""

_INSUNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 10: 914.4, 14: 100.0}
"""mm in one unit, by the DXF reference's $INSUNITS codes: inch, foot, mm, cm, m, yard, dm."""

_UNITS = re.compile(r"\bunits?\s*[:=]\s*(metric|english|imperial|mm|cm|inch(?:es)?|in)\b", re.I)
_WORD_UNITS = {"metric": 1.0, "mm": 1.0, "cm": 10.0}
_CURVED = {"ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"}
_PLAIN = {"LINE", "POINT", "SOLID", "TRACE"}
_TEXTS = {"TEXT", "ATTRIB", "ATTDEF", "MTEXT"}


def read_dxf(path: str | os.PathLike[str]) -> Drawing:
    """Read what a DXF file draws, in its model space and the blocks placed there.

    Curves that the file breaks up into turn points (layer 2) and curve points (layer 3) of ASTM D6673 become
    curves again. Each stroke keeps its layer number as `tag` and the outermost block it came from.

    Returns:
        one page in mm, y up, its origin at the lower left corner of all that is drawn.

    Raises:
        FileError: the file cannot be opened, is not DXF, is beyond repair, draws nothing, or asks for too much work.
    """
    name = os.path.basename(os.fspath(path))
    doc, repaired = load(path, name)
    pen = _Reader(doc, name)
    pen.walk()
    unit, findings = _unit(doc, pen.words)
    if repaired:
        findings.append(Finding("dxf-repaired", "The DXF file was damaged or cut off and had to be repaired; compare "
                                "its pieces with the picture you know."))
    if pen.skipped:
        kinds = ", ".join(sorted(k for k in pen.skipped if re.fullmatch(r"[A-Za-z_ 3D]+", k))[:6]) or "of unknown kinds"
        findings.append(Finding("dxf-skipped", f"Entities that are no lines or texts were left out: {kinds}."))
    strokes = refit_blocks([s for s in (_scaled_stroke(s, unit) for s in pen.strokes) if within_reach(s.path)])
    words = [Word(w.text, w.at * unit, w.height * unit, w.angle, w.look, w.page, w.block) for w in pen.words
             if abs(w.at * unit) < MAX_REACH]
    if len(strokes) < len(pen.strokes):
        findings.append(Finding("dxf-reach", f"{len(pen.strokes) - len(strokes)} lines of the DXF file run off to "
                                "nowhere (a coordinate is no length) and were left out."))
    if not strokes:
        what = "is damaged, and no line of it is left" if repaired else "draws no lines"
        raise FileError(f'"{name}" {what}; export the pattern with its pieces as DXF R12 or later.')
    boxes = [s.path.bounds for s in strokes]
    low = complex(min(b[0] for b in boxes), min(b[1] for b in boxes))
    high = complex(max(b[2] for b in boxes), max(b[3] for b in boxes))
    size = high - low
    if not 50 <= max(size.real, size.imag) <= 50_000:
        findings.append(Finding("dxf-scale", f"All that the DXF file draws is {size.real:.0f} x {size.imag:.0f} mm "
                                "large; check its units."))
    page = Page(1, size.real, size.imag, tuple(_moved_stroke(s, -low) for s in strokes),
                tuple(Word(w.text, w.at - low, w.height, w.angle, w.look, w.page, w.block) for w in words))
    layers = dict.fromkeys(s.look.layer for s in page.strokes if s.look.layer is not None)
    return Drawing((page,), tuple(layers), "dxf", tuple(findings))


def _scaled_stroke(s: Stroke, unit: float) -> Stroke:
    look = Look(s.look.layer, s.look.colour, tuple(round(d * unit, 3) for d in s.look.dash), s.look.width)
    return Stroke(s.path.mapped(lambda z: z * unit), look, s.page, s.filled, s.tag, s.block)


def _moved_stroke(s: Stroke, by: complex) -> Stroke:
    return Stroke(s.path.moved(by), s.look, s.page, s.filled, s.tag, s.block)


def _unit(doc: Document, words: Iterable[Word]) -> tuple[float, list[Finding]]:
    """mm in one drawing unit: what a text says, else the header, else mm with a finding."""
    for word in words:
        if found := _UNITS.search(word.text):
            return _WORD_UNITS.get(found.group(1).lower(), 25.4), []
    code = doc.header.get("$INSUNITS", 0)
    if code in _INSUNITS:
        return _INSUNITS[code], []
    inches = "$MEASUREMENT" in doc.header and doc.header["$MEASUREMENT"] == 0 and doc.dxfversion > "AC1009"
    unit, what = (25.4, "inches") if inches else (1.0, "millimetres")
    return unit, [Finding("dxf-units", f"The DXF file does not say its unit; {what} were taken, so check a length that "
                          "you know.")]


@dataclass(frozen=True, slots=True)
class _Place:
    """Where the walk is: map to drawing units, outermost block, layer for what is on layer 0, and how deep."""

    to_sheet: Affine
    block: str
    layer: str
    depth: int


class _Reader:
    """Walks model space and blocks without recursion and collects strokes and words, within the limits."""

    def __init__(self, doc: Document, name: str) -> None:
        from ezdxf import DXFError
        self._error = DXFError
        self.doc, self.name = doc, name
        self.strokes: list[Stroke] = []
        self.words: list[Word] = []
        self.skipped: set[str] = set()
        self._looks: dict[Look, Look] = {}
        self._pens: dict[tuple[object, ...], Look] = {}

    def walk(self) -> None:
        """Draw model space; where nothing is placed there, the blocks themselves."""
        self._run(list(self.doc.modelspace()), _Place(Affine(), "", "0", 0))
        if not self.strokes:
            for block in self.doc.blocks:
                if not block.name.startswith("*"):
                    self._run(list(block), _Place(Affine(), block.name, "0", 1))

    def _run(self, entities: list[DXFEntity], place: _Place) -> None:
        deadline = time.process_time() + MAX_SECONDS
        stack: list[tuple[Iterator[DXFEntity], _Place]] = [(iter(entities), place)]
        seen = 0
        while stack:
            source, here = stack[-1]
            entity = next(source, None)
            if entity is None:
                stack.pop()
                continue
            seen += 1
            if seen > MAX_OBJECTS or (seen % 64 == 0 and time.process_time() > deadline):
                raise too_much(self.name)
            if len(stack) > MAX_NESTING:
                raise FileError(f'"{self.name}" places blocks inside each other without end; export it again with the '
                                "blocks resolved.")
            try:
                if entity.dxftype() == "INSERT":
                    stack.extend(self._placed(entity, here))
                else:
                    self._draw(entity, here)
            except (self._error, *BROKEN):
                self.skipped.add(f"a broken {entity.dxftype()}")

    def _placed(self, insert: Insert, here: _Place) -> Iterator[tuple[Iterator[DXFEntity], _Place]]:
        """What a block reference puts on the sheet: its block, and its own texts."""
        block = insert.block()
        if block is None:
            return
        if insert.mcount > 1:
            if insert.mcount > MAX_OBJECTS:
                raise too_much(self.name)
            yield insert.multi_insert(), here
            return
        layer = here.layer if insert.dxf.layer == "0" else insert.dxf.layer
        to_sheet = _plane(insert.matrix44()).then(here.to_sheet)
        yield iter(block), _Place(to_sheet, here.block or insert.dxf.name, layer, here.depth + 1)
        yield iter(insert.attribs), here

    def _draw(self, entity: DXFEntity, here: _Place) -> None:
        kind = entity.dxftype()
        if kind not in _PLAIN | _CURVED | _TEXTS:
            self.skipped.add(kind)
            return
        layer = entity.dxf.get("layer", "0")
        layer = here.layer if layer == "0" else layer
        if kind in _TEXTS:
            if kind != "ATTDEF":
                self._write(entity, layer, here)
            return
        tag = layer.strip() if layer.strip().isdigit() else ""
        paths = self._paths(entity, kind, bool(here.block and tag))
        if paths:
            look = self._look(entity, layer)
            self.strokes.extend(Stroke(p.mapped(here.to_sheet), look, 1, kind == "SOLID", tag, here.block)
                                for p in paths)

    def _paths(self, entity: Any, kind: str, marked: bool) -> list[Path]:
        """The lines of one entity; a point (of a piece only) is a line without length."""
        if kind == "LINE":
            start, end = (complex(p.x, p.y) for p in (entity.dxf.start, entity.dxf.end))
            return [Path.line(start, end)] if start != end else []
        if kind == "POINT":
            at = complex(entity.dxf.location.x, entity.dxf.location.y)
            return [Path.line(at, at)] if marked else []
        if kind in ("SOLID", "TRACE"):
            ring = [complex(v.x, v.y) for v in entity.wcs_vertices()]
            return [Path.polyline([*ring, ring[0]])] if len(set(ring)) > 2 else []
        if kind == "POLYLINE" and (entity.is_poly_face_mesh or entity.is_polygon_mesh):
            self.skipped.add(kind)
            return []
        from ezdxf.path import make_path

        from toilewright.intake.dxf_path import our_paths
        return our_paths(make_path(entity, segments=ARCS))

    def _write(self, entity: Any, layer: str, here: _Place) -> None:
        if entity.dxftype() == "MTEXT":
            text, at = entity.plain_text(), entity.dxf.insert
            height, angle = entity.dxf.char_height, entity.get_rotation()
            start = complex(at.x, at.y) - 1j * height
        else:
            text, height, angle = entity.plain_text(), entity.dxf.height, entity.dxf.rotation
            at = entity.ocs().to_wcs(entity.dxf.get("align_point") if _aligned(entity) else entity.dxf.insert)
            start = complex(at.x, at.y)
        way = cmath.rect(1.0, radians(angle))
        along, up = (here.to_sheet(start + d) - here.to_sheet(start) for d in (way, way * 1j))
        look = self._look(entity, layer)
        for k, line in enumerate(text.splitlines()):
            if line.strip():
                place = here.to_sheet(start - 1j * way * height * 5 / 3 * k)
                self.words.append(Word(line.strip(), place, height * abs(up), cmath.phase(along), look, 1, here.block))

    def _look(self, entity: Any, layer: str) -> Look:
        get = entity.dxf.get
        key = (layer, get("color", 256), get("true_color"), get("linetype", "BYLAYER"), get("ltscale", 1.0),
               get("lineweight", -1))
        if key not in self._pens:
            from toilewright.intake.dxf_path import pen_of
            look = pen_of(self.doc, *key)
            self._pens[key] = self._looks.setdefault(look, look)
        return self._pens[key]


def _aligned(entity: Any) -> bool:
    return bool(entity.dxf.get("halign", 0) or entity.dxf.get("valign", 0)) and entity.dxf.hasattr("align_point")


def _plane(matrix: Any) -> Affine:
    """The map of the plane that a 4 x 4 matrix stands for."""
    o, x, y = (matrix.transform(v) for v in ((0, 0, 0), (1, 0, 0), (0, 1, 0)))
    return Affine.from_matrix(x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y)
