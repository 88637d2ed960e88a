"""Content streams of PDF interpreted: what a page draws, in mm."""

from __future__ import annotations

from copy import copy
from math import sqrt

import pikepdf

from toilewright.errors import FileError
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Handles, Path
from toilewright.intake.clipping import Box
from toilewright.intake.drawing import Look, Stroke
from toilewright.intake.limits import MAX_NESTING, MAX_REACH
from toilewright.intake.pdf_colour import BLACK, Colour, from_numbers, in_space
from toilewright.intake.pdf_open import content
from toilewright.intake.pdf_state import Drawn, Pen
from toilewright.intake.pdf_tokens import BLANK, LETTERS, name_of, numbers, tokens

_ARITY = {"m": 2, "l": 2, "c": 6, "v": 4, "y": 4, "h": 0, "r": 4, "e": 0}
_WHITE = 0.97
"""lightest channel from which a fill counts as paper (a knocked-out background)."""


class Interpreter:
    """Runs the content of one page.

    Attributes:
        whole: strokes that lie inside their clip.
        crossing: strokes that leave it, each with the clip rectangle (mm).
        has_text: was any text shown?
    """

    def __init__(self, drawn: Drawn, page: int, to_mm: Affine, frame: Box) -> None:
        """Set up for a page of a file, its map from user units to mm, and its frame (mm)."""
        self.drawn, self.page = drawn, page
        self.pen = Pen(to_mm, frame)
        self.whole: list[Stroke] = []
        self.crossing: list[tuple[Stroke, Box]] = []
        self.has_text = False
        self._layers: list[str | None] = []
        self._subpaths: list[tuple[list[complex], list[Handles], Box | None]] = []
        self._extent: Box | None = None
        self._nodes: list[complex] = []
        self._handles: list[Handles] = []
        self._clipping = False
        self._depth = 0

    # -- streams ------------------------------------------------------------------------------

    def run(self, data: list[bytes], resources: object) -> None:
        """Interpret the tokens of a stream."""
        args: list[float] = []
        others: list[bytes] = []
        saved: list[Pen] = []
        layers = len(self._layers)
        for token in data:
            first = token[0]
            if first in b"0123456789.+-mlcvyhre" and token not in _WORDS:
                args = self._path(token, args)
            elif first in b"/([<]>%":
                others.append(token)
            else:
                if token == b"q":
                    saved.append(copy(self.pen))
                    if len(saved) > 5000:
                        self.drawn.check()
                        del saved[:2500]
                elif token == b"Q":
                    if saved:
                        self.pen = saved.pop()
                elif paint := _PAINT.get(token):
                    self._paint(*paint)
                elif do := _OPERATORS.get(token):
                    do(self, args, others, resources)
                args, others = [], []
        del self._layers[layers:]

    def _form(self, args: list[float], names: list[bytes], resources: object) -> None:
        """``Do``: a form draws, a picture is counted."""
        item = _resource(resources, "/XObject", names)
        if not isinstance(item, pikepdf.Stream):
            return
        if item.get("/Subtype") != "/Form":
            self.drawn.pictures += item.get("/Subtype") == "/Image"
            return
        if self._depth >= MAX_NESTING:
            raise FileError(f'"{self.drawn.name}" nests its drawings inside each other more than {MAX_NESTING} deep, '
                            "perhaps without end; print it to a new PDF.")
        self.drawn.objects += 1
        self.drawn.check()
        key = item.objgen
        data = self.drawn.parsed.get(key)
        if data is None:
            data = self.drawn.parsed[key] = tokens(content(item, self.drawn.name))
        outside, self.pen = self.pen, copy(self.pen)
        matrix = item.get("/Matrix")
        if matrix is not None:
            self._concat([float(v) for v in matrix], [], None)
        box = item.get("/BBox")
        if box is not None and len(box) == 4:
            x0, y0, x1, y1 = (float(v) for v in box)
            corners = [self.pen.map(complex(x, y)) for x in (x0, x1) for y in (y0, y1)]
            self.pen.clip = _common(self.pen.clip, _box(corners))
        layer = item.get("/OC")
        if layer is not None:
            self._layers.append(self.drawn.layer_of(layer))
        self._depth += 1
        self.run(data, item.get("/Resources", resources))
        self._depth -= 1
        if layer is not None:
            self._layers.pop()
        self.pen = outside

    # -- paths --------------------------------------------------------------------------------

    def _path(self, token: bytes, args: list[float]) -> list[float]:
        """Take in a run of path operators; returns the numbers left for the operator that follows."""
        if b"cm" in token:
            *before, last = token.split(b"cm")
            for part in before:
                args = self._path(part, args)
                self._concat(args, [], None)
                args = []
            return self._path(last, args)
        letters = token.translate(None, LETTERS)
        values = args + numbers(token.translate(BLANK)) if args else numbers(token.translate(BLANK))
        if not letters:
            return values
        letters = letters.decode()
        used = 2 * (letters.count("m") + letters.count("l")) + 6 * letters.count("c") + 4 * (
            letters.count("v") + letters.count("y") + letters.count("r"))
        if used > len(values):
            return []
        m = self.pen.map
        p, q, r = m.p, m.q, m.r
        xs, ys = values[0:used:2], values[1:used:2]
        points = list(map(complex, xs, ys))
        if "r" in letters:
            # The second pair of a rectangle is its size: it has to become a corner before it is mapped.
            points = _corners(letters, points)
        points = [p * z + r for z in points] if q == 0 else [p * z + q * z.conjugate() + r for z in points]
        self._draw(letters, points, xs, ys)
        return values[used:]

    def _draw(self, letters: str, points: list[complex], xs: list[float], ys: list[float]) -> None:
        """Add operators with their points (mm; `xs` and `ys` as in the file); a line of one kind goes in as a whole."""
        if letters[0] == "m":
            body = letters[1:].rstrip("h")
            n = len(body)
            if n and len(letters) - n <= 2 and (body.count("c") == n or body.count("l") == n):
                self._lift()
                if body[0] == "c":
                    self._nodes = [points[0], *points[3::3]]
                    self._handles = list(zip(points[1::3], points[2::3], strict=True))
                else:
                    self._nodes, self._handles = points, [None] * n
                right, top = max(xs), max(ys)
                self._extent = _box([self.pen.map(complex(x, y)) for x in (min(xs), right) for y in (min(ys), top)])
                if letters[-1] == "h":
                    self._close()
                return
        self._extent = None
        at = iter(points)
        for letter in letters:
            self._step(letter, at)

    def _step(self, letter: str, at) -> None:
        nodes = self._nodes
        if letter == "m":
            self._lift()
            self._nodes = [next(at)]
        elif letter == "h":
            self._close()
        elif letter == "r":
            self._lift()
            a, b, c, d = next(at), next(at), next(at), next(at)
            self._nodes, self._handles = [a, b, c, d], [None] * 3
            self._close()
        elif letter == "e":
            pass
        elif not nodes:
            for _ in range(_ARITY[letter] // 2):
                next(at)
        elif letter == "l":
            nodes.append(next(at))
            self._handles.append(None)
        else:
            first = nodes[-1] if letter == "v" else next(at)
            second = next(at)
            end = second if letter == "y" else next(at)
            nodes.append(end)
            self._handles.append((first, second))

    def _close(self) -> None:
        nodes = self._nodes
        if not nodes:
            return
        start = nodes[0]
        if abs(nodes[-1] - start) > 1e-6:
            nodes.append(start)
            self._handles.append(None)
        else:
            nodes[-1] = start
        self._lift()
        self._nodes = [start]

    def _lift(self) -> None:
        if self._handles:
            self._subpaths.append((self._nodes, self._handles, self._extent))
        self._nodes, self._handles, self._extent = [], [], None

    def _paint(self, stroked: bool, filled: bool, closed: bool) -> None:
        """Put the current path on the page, and take it into the clip where that was asked."""
        if closed and self._nodes:
            self._close()
        self._lift()
        subpaths, self._subpaths, self._nodes = self._subpaths, [], []
        if self._clipping:
            self._clipping = False
            spots = [p for nodes, handles, _ in subpaths for p in _points(nodes, handles)]
            clip = _common(self.pen.clip, _box(spots)) if spots else self.pen.clip
            self._emit(subpaths, stroked, filled)
            self.pen.clip = clip
        elif stroked or filled:
            self._emit(subpaths, stroked, filled)

    def _emit(self, subpaths: list, stroked: bool, filled: bool) -> None:
        if not subpaths or not (stroked or filled):
            return
        pen = self.pen
        solid = filled and (not stroked or pen.fill == pen.stroke)
        if not stroked and min(pen.fill) >= _WHITE:
            return
        look = self._look(pen.stroke if stroked else pen.fill)
        x0, y0, x1, y1 = pen.clip
        drawn, page, whole = self.drawn, self.page, self.whole
        for nodes, handles, extent in subpaths:
            drawn.objects += 1
            if not drawn.objects & 255:
                drawn.check()
            left, low, right, high = extent or _box(_points(nodes, handles))
            if not (right >= x0 and left <= x1 and high >= y0 and low <= y1):
                continue
            if max(right, high) > MAX_REACH or min(left, low) < -MAX_REACH or max(right - left, high - low) < 1e-4:
                continue
            if not stroked and nodes[0] != nodes[-1]:
                nodes, handles = [*nodes, nodes[0]], [*handles, None]
            stroke = Stroke(Path(tuple(nodes), tuple(handles)), look, page, solid)
            if left >= x0 and right <= x1 and low >= y0 and high <= y1:
                whole.append(stroke)
            else:
                self.crossing.append((stroke, pen.clip))

    def _look(self, colour: Colour) -> Look:
        pen = self.pen
        layer = next((name for name in reversed(self._layers) if name is not None), None)
        scale = sqrt(abs(pen.map.determinant))
        key = (layer, colour, pen.dash, pen.width, scale)
        look = self.drawn.looks.get(key)
        if look is None:
            dash = tuple(round(v * scale, 3) for v in pen.dash)
            made = Look(layer, colour, dash, round(pen.width * scale, 4))
            look = self.drawn.looks[key] = self.drawn.looks.setdefault(("made", made), made)
        return look

    # -- the pen ------------------------------------------------------------------------------

    def _concat(self, args: list[float], others: list[bytes], resources: object) -> None:
        if len(args) >= 6:
            self.pen.map = Affine.from_matrix(*args[-6:]).then(self.pen.map)

    def _clip_next(self, args: list[float], others: list[bytes], resources: object) -> None:
        self._clipping = True

    def _width(self, args: list[float], others: list[bytes], resources: object) -> None:
        if args:
            self.pen.width = abs(args[-1])

    def _dash(self, args: list[float], others: list[bytes], resources: object) -> None:
        lengths = tuple(abs(v) for v in args[:-1])
        self.pen.dash = (lengths * 2 if len(lengths) % 2 else lengths) if sum(lengths) > 0 else ()

    def _state(self, args: list[float], names: list[bytes], resources: object) -> None:
        """``gs``: width and dash from a dictionary."""
        found = _resource(resources, "/ExtGState", names)
        if isinstance(found, pikepdf.Dictionary):
            if "/LW" in found:
                self.pen.width = abs(float(found["/LW"]))
            if "/D" in found:
                self._dash([*(float(v) for v in found["/D"][0]), 0.0], [], None)

    def _stroke_colour(self, args: list[float], others: list[bytes], resources: object) -> None:
        if args:
            space = self.pen.stroke_space
            self.pen.stroke = from_numbers(args) if space is None else in_space(space, args)

    def _fill_colour(self, args: list[float], others: list[bytes], resources: object) -> None:
        if args:
            space = self.pen.fill_space
            self.pen.fill = from_numbers(args) if space is None else in_space(space, args)

    def _plain_stroke(self, args: list[float], others: list[bytes], resources: object) -> None:
        self.pen.stroke, self.pen.stroke_space = from_numbers(args), None

    def _plain_fill(self, args: list[float], others: list[bytes], resources: object) -> None:
        self.pen.fill, self.pen.fill_space = from_numbers(args), None

    def _stroke_in(self, args: list[float], names: list[bytes], resources: object) -> None:
        self.pen.stroke_space, self.pen.stroke = _resource(resources, "/ColorSpace", names), BLACK

    def _fill_in(self, args: list[float], names: list[bytes], resources: object) -> None:
        self.pen.fill_space, self.pen.fill = _resource(resources, "/ColorSpace", names), BLACK

    # -- marked content and text --------------------------------------------------------------

    def _begin(self, args: list[float], names: list[bytes], resources: object) -> None:
        layer = None
        if len(names) == 2 and names[0] == b"/OC":
            layer = self.drawn.layer_of(_resource(resources, "/Properties", names[1:]))
        self._layers.append(layer)
        if len(self._layers) > 100 * MAX_NESTING:
            del self._layers[:-MAX_NESTING]

    def _end(self, args: list[float], others: list[bytes], resources: object) -> None:
        if self._layers:
            self._layers.pop()

    def _text(self, args: list[float], others: list[bytes], resources: object) -> None:
        self.has_text = True


_WORDS = {b"ri", b"rg", b"cs"}
_PAINT = {b"S": (True, False, False), b"s": (True, False, True), b"f": (False, True, False),
          b"F": (False, True, False), b"f*": (False, True, False), b"B": (True, True, False),
          b"B*": (True, True, False), b"b": (True, True, True), b"b*": (True, True, True)}
_I = Interpreter
_OPERATORS = {
    b"n": lambda self, args, others, resources: self._paint(False, False, False),
    b"cm": _I._concat, b"Do": _I._form, b"W": _I._clip_next, b"W*": _I._clip_next, b"w": _I._width, b"d": _I._dash,
    b"gs": _I._state, b"G": _I._plain_stroke, b"RG": _I._plain_stroke, b"K": _I._plain_stroke, b"g": _I._plain_fill,
    b"rg": _I._plain_fill, b"k": _I._plain_fill, b"CS": _I._stroke_in, b"cs": _I._fill_in, b"SC": _I._stroke_colour,
    b"SCN": _I._stroke_colour, b"sc": _I._fill_colour, b"scn": _I._fill_colour, b"BDC": _I._begin, b"BMC": _I._begin,
    b"EMC": _I._end, b"Tj": _I._text, b"TJ": _I._text, b"'": _I._text, b'"': _I._text,
}


def _resource(resources: object, kind: str, names: list[bytes]) -> object:
    """The entry of a resource dictionary that a name stands for; None where there is none."""
    if not names or not isinstance(resources, pikepdf.Dictionary):
        return None
    group = resources.get(kind)
    return group.get(name_of(names[-1])) if isinstance(group, pikepdf.Dictionary) else None


def _points(nodes: list[complex], handles: list[Handles]) -> list[complex]:
    return nodes + [p for h in handles if h for p in h]


def _corners(letters: str, points: list[complex]) -> list[complex]:
    """Rectangles as four corners instead of corner and size."""
    out, at = [], 0
    for letter in letters:
        n = _ARITY[letter] // 2
        part = points[at:at + n]
        if letter == "r":
            a, size = part
            part = [a, a + size.real, a + size, a + 1j * size.imag]
        out += part
        at += n
    return out


def _box(points: list[complex]) -> Box:
    xs, ys = [z.real for z in points], [z.imag for z in points]
    return min(xs), min(ys), max(xs), max(ys)


def _common(a: Box, b: Box) -> Box:
    return max(a[0], b[0]), max(a[1], b[1]), min(a[2], b[2]), min(a[3], b[3])
