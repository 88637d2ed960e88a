"""Sheets of nested sizes in many drawing conventions, built from one small bodice."""

from __future__ import annotations

import cmath
from dataclasses import dataclass, field

from toilewright.geometry import Path, unit
from toilewright.intake.drawing import Drawing, Look, Page, Stroke, Word


@dataclass(frozen=True)
class Model:
    """A half bodice front: what the reader must find again."""

    edges: tuple[Path, ...]
    dart: tuple[complex, complex, complex]
    waist_dart: tuple[complex, complex, complex]
    notches: tuple[tuple[complex, complex], ...]
    grain: tuple[complex, complex]

    @property
    def outline(self) -> Path:
        return Path.joined(self.edges)


def bodice(step: int, at: complex = 0j) -> Model:
    """Size number `step` (0 smallest): centre front at x = 0, side at x > 0, counter-clockwise from the waist."""
    g = 6.0 * step
    waist_cf, waist_side = 0j, complex(200 + g, 10)
    underarm, tip = complex(235 + g, 205 + g / 4), complex(175 + g / 2, 365 + g / 2)
    neck_point, neck_cf = complex(70 + g / 4, 400 + g / 2), complex(0, 320 + g / 3)
    waist = Path.cubic(waist_cf, complex(70, 0), complex(140 + g, 2), waist_side)
    side = Path.line(waist_side, underarm)
    armhole = Path.cubic(underarm, underarm + complex(-55, 5), tip + complex(-20, -70), tip)
    shoulder = Path.line(tip, neck_point)
    neck = Path.cubic(neck_point, neck_point + complex(-5, -45), neck_cf + complex(35, 0), neck_cf)
    front = Path.line(neck_cf, waist_cf)
    s = side.length
    dart = (side.point_at(0.55 * s), side.point_at(0.55 * s + 30 + g / 4), complex(130 + g / 3, 160 + g / 4))
    waist_dart = (waist.point_at(90 + g / 3), waist.point_at(115 + g / 3), complex(100 + g / 3, 120))
    notches = tuple((p.point_at(q * p.length), -p.normal_at(q * p.length))
                    for p, q in ((armhole, 0.4), (side, 0.2), (neck, 0.5)))
    model = Model((waist, side, armhole, shoulder, neck, front), dart, waist_dart, notches,
                  (complex(60, 140), complex(60, 280)))
    return moved(model, at)


def moved(model: Model, by: complex) -> Model:
    return Model(tuple(e.moved(by) for e in model.edges), tuple(p + by for p in model.dart),
                 tuple(p + by for p in model.waist_dart), tuple((p + by, n) for p, n in model.notches),
                 tuple(p + by for p in model.grain))


@dataclass
class Pen:
    """Collects strokes and words in one look."""

    look: Look = field(default_factory=Look)
    strokes: list[Stroke] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)

    def draw(self, *paths: Path, filled: bool = False) -> Pen:
        self.strokes.extend(Stroke(p, self.look, 0, filled) for p in paths)
        return self

    def line(self, *points: complex, closed: bool = False, filled: bool = False) -> Pen:
        return self.draw(Path.polyline((*points, points[0]) if closed else points), filled=filled)

    def write(self, text: str, at: complex, height: float = 4.0, angle: float = 0.0) -> Pen:
        self.words.append(Word(text, at, height, angle, self.look))
        return self


def sheet(*pens: Pen, kind: str = "pdf", layers: tuple[str, ...] = ()) -> Drawing:
    strokes = tuple(s for p in pens for s in p.strokes)
    words = tuple(w for p in pens for w in p.words)
    names = layers or tuple(dict.fromkeys(s.look.layer for s in strokes if s.look.layer))
    return Drawing((Page(0, 2000.0, 2000.0, strokes, words),), names, kind)


# -- marks in the conventions of the trade -----------------------------------------------------------------

def dart(pen: Pen, feet_and_apex: tuple[complex, complex, complex], how: str = "v", short: float = 0.0) -> None:
    """`how`: v (one open line), lines (two), closed, leg (one leg only), middle (with its fold line)."""
    a, b, apex = feet_and_apex
    a, b = a + unit(apex - a) * short, b + unit(apex - b) * short
    if how == "v":
        pen.line(a, apex, b)
    elif how == "closed":
        pen.line(a, apex, b, closed=True)
    elif how == "leg":
        pen.line(a, apex)
    else:
        pen.line(a, apex).line(apex, b)
        if how == "middle":
            pen.line((a + b) / 2, apex)


def notch(pen: Pen, at: complex, out: complex, how: str = "in") -> None:
    """`how`: in, out, across (ticks), double, triangle, filled, castle, t."""
    along = out * 1j
    if how == "in":
        pen.line(at, at - 5 * out)
    elif how == "out":
        pen.line(at, at + 5 * out)
    elif how == "across":
        pen.line(at - 3 * out, at + 3 * out)
    elif how == "double":
        for shift in (-3, 3):
            pen.line(at + shift * along, at + shift * along - 5 * out)
    elif how in ("triangle", "filled"):
        pen.line(at - 4 * along, at + 7 * out, at + 4 * along, closed=True, filled=how == "filled")
    elif how == "castle":
        pen.line(at - 3 * along, at - 3 * along + 6 * out, at + 3 * along + 6 * out, at + 3 * along, closed=True)
    elif how == "t":
        pen.line(at, at - 6 * out).line(at - 6 * out - 3 * along, at - 6 * out + 3 * along)


def arrow(pen: Pen, tail: complex, head: complex, heads: str = "one", how: str = "v") -> None:
    """`heads`: one or both; `how`: v (open, one line), wings (two lines), filled, whole (one filled shape)."""
    if how == "whole":
        way = unit(head - tail)
        side, neck = way * 1j, head - 10 * way
        pen.line(tail - 0.3 * side, neck - 0.3 * side, neck - 3 * side, head, neck + 3 * side, neck + 0.3 * side,
                 tail + 0.3 * side, closed=True, filled=True)
        return
    pen.line(tail, head)
    for tip, way in ((head, unit(head - tail)), (tail, unit(tail - head)))[:1 if heads == "one" else 2]:
        left, right = tip - 8 * way * cmath.rect(1, 0.4), tip - 8 * way * cmath.rect(1, -0.4)
        if how == "v":
            pen.line(left, tip, right)
        elif how == "wings":
            pen.line(left, tip).line(tip, right)
        else:
            pen.line(left, tip, right, closed=True, filled=True)


def bracket(pen: Pen, top: complex, bottom: complex, towards: complex, depth: float = 20.0) -> None:
    """A fold arrow: a line beside the fold with ends turned to it, each with a head."""
    a, b = top - towards * depth, bottom - towards * depth
    pen.line(top, a, b, bottom)
    for tip in (top, bottom):
        pen.line(tip - 5 * towards * cmath.rect(1, 0.5), tip, tip - 5 * towards * cmath.rect(1, -0.5))


def layered(count: int = 3, how_notch: str = "in", how_dart: str = "v", cut_up: bool = True,
            names: str = "Size {}", short: float = 0.0) -> tuple[Drawing, list[Model]]:
    """A bodice in `count` sizes, each in its own layer, with words and grain in a layer for all."""
    pens, models = [], []
    for i in range(count):
        pen, model = Pen(Look(names.format(8 + 2 * i))), bodice(i)
        pen.draw(*(model.edges if cut_up else (model.outline,)))
        dart(pen, model.dart, how_dart, short)
        dart(pen, model.waist_dart, how_dart, short)
        for at, out in model.notches:
            notch(pen, at, out, how_notch)
        pens.append(pen)
        models.append(model)
    common = Pen(Look("All sizes"))
    arrow(common, *models[0].grain)
    common.write("BODICE FRONT", complex(40, 110), 8).write("cut 1 on fold", complex(40, 98), 5)
    common.write("Seam allowance 1.5 cm included", complex(400, 500), 5)
    return sheet(*pens, common), models


def with_bumps(path: Path, places: tuple[tuple[complex, complex], ...], how: str) -> Path:
    """The outline with notches that are part of it: `how` triangle (out), vee (in), castle or slit."""
    for at, out in places:
        along = out * 1j
        shape = {
            "triangle": (at - 3 * along, at + 6 * out, at + 3 * along),
            "vee": (at - 3 * along, at - 6 * out, at + 3 * along),
            "castle": (at - 3 * along, at - 3 * along + 5 * out, at + 3 * along + 5 * out, at + 3 * along),
            "slit": (at, at - 5 * out, at),
        }[how]
        s = path.nearest(at)[0]
        half = 0.0 if how == "slit" else 3.0
        before, after = path.sub(0, s - half), path.sub(s + half, path.length)
        points = [before.end, *shape[1:-1], after.start]
        path = Path.joined([before, Path.polyline(points), after])
    return path


def flattened(path: Path, tolerance: float = 0.005) -> Path:
    return Path.polyline(path.flatten(tolerance))


DASHES = ((), (6.0, 2.0), (2.0, 2.0), (8.0, 2.0, 2.0, 2.0), (10.0, 3.0))
COLOURS = ((0, 0, 0), (0.8, 0.1, 0.1), (0.1, 0.3, 0.8), (0.1, 0.5, 0.2), (0.6, 0.1, 0.6))


def by_look(count: int = 4, colours: bool = True, dashes: bool = True, legend: bool = True,
            short: float = 15.0) -> tuple[Drawing, list[Model]]:
    """No layers: sizes told by colour, dash or both; marks plain; a legend with sample strokes."""
    pens, models = [], []
    plain = Pen(Look(None, (0, 0, 0), (), 0.3))
    for i in range(count):
        colour = COLOURS[i] if colours else (0, 0, 0)
        pen, model = Pen(Look(None, colour, DASHES[i] if dashes else (), 0.3)), bodice(i)
        marks = Pen(Look(None, colour, (), 0.3))
        pen.draw(*model.edges)
        dart(marks, model.dart, "v", short)
        dart(marks, model.waist_dart, "lines", short)
        for at, out in model.notches:
            notch(marks, at, out)
        if legend:
            pen.line(complex(500, 600 - 12 * i), complex(540, 600 - 12 * i))
            plain.write(f"Size {34 + 2 * i}", complex(545, 598.5 - 12 * i), 5)
        pens += [pen, marks]
        models.append(model)
    arrow(plain, *models[0].grain)
    plain.write("1 Front bodice - cut 1 on fold", complex(40, 110), 8)
    return sheet(*pens, plain), models


def shared_front(count: int = 4, common: bool = True, cut_up: bool = True) -> tuple[Drawing, list[Model]]:
    """Layers, but the centre front is drawn once, long enough for all: in a common layer or the largest size."""
    pens, models = [], []
    for i in range(count):
        pen, model = Pen(Look(f"{8 + 2 * i}")), bodice(i)
        pen.draw(*model.edges[:5]) if cut_up else pen.draw(Path.joined(model.edges[:5]))
        dart(pen, model.dart)
        for at, out in model.notches:
            notch(pen, at, out)
        pens.append(pen)
        models.append(model)
    owner = Pen(Look("Common")) if common else pens[-1]
    owner.draw(models[-1].edges[5])
    return sheet(*pens, *([owner] if common else [])), models
