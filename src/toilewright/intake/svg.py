"""SVG files as drawings: one page, in mm, y up."""

from __future__ import annotations

import os
import re
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from math import sqrt

from lxml import etree

from toilewright.errors import FileError, Finding, Severity
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.intake.drawing import Drawing, Look, Page, Stroke, Word
from toilewright.intake.limits import MAX_NESTING, MAX_OBJECTS, MAX_SECONDS
from toilewright.intake.pencil import within_reach
from toilewright.intake.svg_frame import INKSCAPE, marker_map, page_frame, viewport
from toilewright.intake.svg_path import path_data, shape_paths
from toilewright.intake.svg_style import (
    START,
    Sheet,
    Style,
    dashes,
    hidden,
    length_user,
    paint,
    styled,
    transform,
)
from toilewright.intake.svg_text import text_runs
from toilewright.intake.whole_file import whole_file

_XLINK = "{http://www.w3.org/1999/xlink}href"
_SHAPES = {"rect", "circle", "ellipse", "line", "polyline", "polygon"}
_NUMERIC = ("x", "y", "width", "height", "rx", "ry", "r", "cx", "cy", "x1", "y1", "x2", "y2")
_GROUPS = {"svg", "g", "a", "symbol", "switch"}
_DRAWN = _GROUPS | _SHAPES | {"path", "use", "text"}
# Group names that programs make up by themselves, and the names under which they keep the shapes of letters.
_AUTOMATIC = re.compile(r"(?:g|svg|group|surface|layer|path|use|page|(?:[a-z]+[-_])?id)?[\s_:-]*[\d_-]*$", re.I)
_LETTER = re.compile(r"(?:glyph|font_)[\d_-]")
_REFERENCE = re.compile(r"\s*url\(\s*['\"]?#([^)'\"]+)")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")



def read_svg(path: str | os.PathLike[str]) -> Drawing:
    """Read what an SVG file draws.

    Lines keep their curves; arcs become cubic curves within 0.005 mm at any garment's size. Layers are the
    named layers of a drawing program, or else the named groups. Text keeps its place, not its font: text
    that is centred or set to the right is placed by a guess of its width (half its height a letter).

    Returns:
        one page in mm, y up, its origin at the lower left corner of the picture.

    Raises:
        FileError: the file cannot be opened, is not SVG, is damaged, or asks for too much work.
    """
    root = _parse(path)
    name = os.path.basename(os.fspath(path))
    frame, width, height, findings = page_frame(root)
    pen = _Reader(root, name, bool(root.xpath("//*[@*[name()='inkscape:groupmode']='layer']")))
    pen.walk(frame)
    findings += pen.findings()
    page = Page(1, width, height, tuple(pen.strokes), tuple(pen.words))
    layers = dict.fromkeys(s.look.layer for s in (*pen.strokes, *pen.words) if s.look.layer is not None)
    return Drawing((page,), tuple(layers), "svg", tuple(findings))


def _parse(path: str | os.PathLike[str]) -> etree._Element:
    name = os.path.basename(os.fspath(path))
    data = whole_file(path, name, "save it without pictures and embedded fonts")
    if data.count(b"<") > 3 * MAX_OBJECTS:
        raise _too_much(name)
    parser = etree.XMLParser(resolve_entities=False, load_dtd=False, no_network=True, huge_tree=False,
                             remove_pis=True)
    try:
        root = etree.fromstring(data, parser)
    except etree.XMLSyntaxError as error:
        raise FileError(_damaged(name, error.msg or "")) from None
    if root is None or etree.QName(root).localname != "svg":
        raise FileError(f'"{name}" is XML, but not an SVG drawing; export the pattern as SVG.')
    return root


def _damaged(name: str, why: str) -> str:
    if "depth" in why:
        return f'"{name}" nests its groups too deep to be a drawing; ungroup it and save it again.'
    if "ntit" in why or "amplification" in why:
        return f'"{name}" uses XML entities in a way that a drawing does not need; save it again as plain SVG.'
    if "too long" in why or "huge" in why.lower():
        return f'"{name}" holds one item of more than 10 MB; break that line or picture up and save it again.'
    return f'"{name}" is a damaged SVG file ({why.rstrip(".")}); export it again.'


def _too_much(name: str) -> FileError:
    return FileError(f'"{name}" draws more than {MAX_OBJECTS} objects, more than a pattern sheet needs; '
                     "remove hatching, pictures and repeated symbols and save it again.")


@dataclass(frozen=True, slots=True)
class _Place:
    """Where the walk is: map to mm, style, layer, how deep, and whether inside something used by reference."""

    to_mm: Affine
    style: Style
    layer: str | None
    depth: int
    used: bool = False


class _Reader:
    """Walks the tree without recursion and collects strokes and words, within the limits."""

    def __init__(self, root: etree._Element, name: str, layered: bool) -> None:
        self.root, self.name, self.layered = root, name, layered
        self.strokes: list[Stroke] = []
        self.words: list[Word] = []
        self.sheet = Sheet()
        self.by_id: dict[str, etree._Element] = {}
        self.pictures = self.letters = self.astray = self.backwards = 0
        self._looks: dict[Look, Look] = {}
        for item in root.iter(etree.Element):
            if ident := item.get("id"):
                self.by_id.setdefault(ident, item)
            if etree.QName(item).localname == "style":
                self.sheet.add("".join(item.itertext()))

    def findings(self) -> list[Finding]:
        """What was left out."""
        found = []
        if self.pictures:
            found.append(Finding("svg-picture", f"{self.pictures} pixel picture(s) in the SVG file were left out; only "
                                 "drawn lines can be read."))
        if self.astray:
            found.append(Finding("svg-reach", f"{self.astray} lines of the SVG file run off to nowhere (a coordinate "
                                 "is no length) and were left out."))
        if 2 * self.backwards > len(self.words):
            found.append(Finding("page-mirrored", "The SVG drawing is mirrored: its words run backwards. Turn it over "
                                 "in the drawing program and save it again.", Severity.STOP, asked=1.0))
        if self.letters:
            found.append(Finding("svg-letters", f"{self.letters} letters in the SVG file are only shapes and were left "
                                 "out; names of sizes and pieces have to be written into the labels."))
        return found

    def walk(self, frame: Affine) -> None:
        """Draw everything below the root."""
        deadline = time.process_time() + MAX_SECONDS
        seen = 0
        root_style = self._style(START, self.root, "svg")
        stack = [(item, _Place(frame, root_style, None, 1)) for item in self._children(self.root)]
        stack.reverse()
        while stack:
            item, place = stack.pop()
            seen += 1
            if seen > MAX_OBJECTS or (seen % 256 == 0 and time.process_time() > deadline):
                raise _too_much(self.name)
            if place.depth > MAX_NESTING:
                raise FileError(_damaged(self.name, "depth"))
            stack.extend(reversed(list(self._enter(item, place))))

    @staticmethod
    def _children(item: etree._Element) -> Iterator[etree._Element]:
        return item.iterchildren(etree.Element)

    def _style(self, above: Style, item: etree._Element, kind: str) -> Style:
        return styled(above, item.attrib, self.sheet.of(kind, item.get("class", ""), item.get("id")))

    def _enter(self, item: etree._Element, place: _Place) -> Iterator[tuple[etree._Element, _Place]]:
        """Draw one element, or hand back what is in it."""
        kind = etree.QName(item).localname
        if kind not in _DRAWN or (kind == "symbol" and not place.used):
            self.pictures += kind == "image"
            return
        style = self._style(place.style, item, kind)
        if hidden(style):
            return
        here = replace(place, to_mm=transform(item.get("transform")).then(place.to_mm), style=style,
                       depth=place.depth + 1)
        if kind in _GROUPS:
            yield from self._group(item, kind, here)
        elif kind == "use":
            yield from self._use(item, here)
        elif style.get("visibility", "visible") in ("hidden", "collapse"):
            return
        elif kind == "text":
            before = len(self.words)
            self.words.extend(text_runs(item, here.to_mm, here.style, self._style,
                                        self._look(here, paint(style, "fill") or (0.0, 0.0, 0.0))))
            if here.to_mm.determinant > 0:  # SVG has y down
                self.backwards += len(self.words) - before
        else:
            outline = _outline(item, kind)
            self._shape(outline, kind, here)
            yield from self._markers(outline, here)

    def _markers(self, outline: Sequence[Path], here: _Place) -> Iterator[tuple[etree._Element, _Place]]:
        """Arrow heads and the like at the ends of a line."""
        for name in ("marker-start", "marker-end"):
            found = _REFERENCE.match(here.style.get(name, "none"))
            marker = self.by_id.get(found.group(1)) if found and outline else None
            if marker is not None and etree.QName(marker).localname == "marker" and not here.used:
                width = length_user(here.style.get("stroke-width"), 1.0)
                to_mm = marker_map(marker, outline, name == "marker-start", width).then(here.to_mm)
                place = replace(here, to_mm=to_mm, style=self._style(START, marker, "marker"), used=True)
                yield from ((child, place) for child in self._children(marker))

    def _group(self, item: etree._Element, kind: str, here: _Place) -> Iterator[tuple[etree._Element, _Place]]:
        to_mm = here.to_mm
        if kind == "svg":
            to_mm = viewport(item, item).then(to_mm)
        place = replace(here, to_mm=to_mm, layer=here.layer if here.used else self._layer(item, here.layer))
        children = list(self._children(item))
        yield from ((child, place) for child in (children[:1] if kind == "switch" else children))

    def _use(self, item: etree._Element, here: _Place) -> Iterator[tuple[etree._Element, _Place]]:
        ref = item.get("href") or item.get(_XLINK) or ""
        target = self.by_id.get(ref[1:]) if ref.startswith("#") else None
        if target is None or _LETTER.match(ref[1:]):
            self.letters += target is not None
            return
        x, y = length_user(item.get("x")), length_user(item.get("y"))
        to_mm = Affine.shift(complex(x, y)).then(here.to_mm)
        if etree.QName(target).localname == "symbol":
            to_mm = viewport(target, item, shifted=True).then(to_mm)
        yield target, replace(here, to_mm=to_mm, used=True)

    def _layer(self, item: etree._Element, above: str | None) -> str | None:
        """The layer inside a group: a program's own layers (with those they are in), else the outermost named group."""
        label = item.get(INKSCAPE + "label")
        if self.layered:
            if item.get(INKSCAPE + "groupmode") != "layer":
                return above
            label = label or item.get("id") or "layer"
            return f"{above} / {label}" if above else label
        ident = _ESCAPED.sub(lambda m: chr(int(m.group(1), 16)), item.get("id") or "")
        label = label or ("" if _AUTOMATIC.match(ident) else ident)
        if above or not label or item.getparent() is None or self._alone(item):
            return above
        return label

    def _alone(self, item: etree._Element) -> bool:
        """Is nothing else drawn in the group that holds it?"""
        drawn = (c for c in self._children(item.getparent()) if etree.QName(c).localname in _DRAWN)
        return len(list(islice(drawn, 2))) == 1

    def _look(self, place: _Place, colour: tuple[float, float, float]) -> Look:
        scale = sqrt(abs(place.to_mm.determinant))
        width = length_user(place.style.get("stroke-width"), 1.0) * scale
        look = Look(place.layer, colour, dashes(place.style, scale), round(width, 4))
        return self._looks.setdefault(look, look)

    def _shape(self, outline: Sequence[Path], kind: str, place: _Place) -> None:
        stroke, fill = paint(place.style, "stroke"), paint(place.style, "fill")
        if stroke is None and (fill is None or fill == (1.0, 1.0, 1.0)):
            return
        # A shape painted all in one colour is solid; a tinted piece with an outline is a line like any other.
        solid = fill is not None and stroke in (None, fill) and kind != "line"
        look = self._look(place, stroke if stroke is not None else fill)
        for path in outline:
            on_page = path.mapped(place.to_mm)
            if within_reach(on_page):
                self.strokes.append(Stroke(on_page, look, 1, solid))
            else:
                self.astray += 1
        if len(self.strokes) > MAX_OBJECTS:
            raise _too_much(self.name)


def _outline(item: etree._Element, kind: str) -> list[Path]:
    if kind == "path":
        return path_data(item.get("d", ""))
    get = {k: length_user(item.get(k)) for k in _NUMERIC if item.get(k) not in (None, "auto")}
    return shape_paths(kind, get, item.get("points", ""))
