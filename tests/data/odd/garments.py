"""Invented garments as plain numbers (mm, y up): pieces in sizes, edge by edge, and their true measures.

A stretch of an edge is (start, end) or a cubic (start, control, control, end); edges run counter-clockwise.
"""

from cmath import exp
from dataclasses import dataclass, field
from itertools import pairwise
from math import asin


@dataclass
class Form:
    """One piece in one size. darts: (foot, apex, foot); notches: (edge, share of it, how many)."""

    edges: dict
    darts: list = field(default_factory=list)
    notches: list = field(default_factory=list)
    grain: tuple = ()

    @property
    def outline(self):
        return [s for edge in self.edges.values() for s in edge]


@dataclass
class Piece:
    """A piece with what is written on it, its forms by size, and the edge that lies on the fold."""

    name: str
    captions: list
    forms: dict
    words_at: complex
    fold: str = ""


def poly(*points):
    return list(pairwise(points))


def flat(stretches, n=60):
    points = [stretches[0][0]]
    for s in stretches:
        if len(s) == 2:
            points.append(s[1])
            continue
        a, b, c, d = s
        points += [(1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t * t * c + t**3 * d
                   for t in (k / n for k in range(1, n + 1))]
    return points


def length(stretches):
    return sum(abs(b - a) for a, b in pairwise(flat(stretches, 1000)))


def spot(stretches, share):
    """Point and direction at a share of the length."""
    points = flat(stretches, 400)
    left = share * sum(abs(b - a) for a, b in pairwise(points))
    for a, b in pairwise(points):
        if abs(b - a) >= left:
            break
        left -= abs(b - a)
    way = (b - a) / abs(b - a)
    return a + way * left, way


def measures(stretches):
    p = flat(stretches, 1000)
    xs, ys = [z.real for z in p], [z.imag for z in p]
    area = sum((a.conjugate() * b).imag for a, b in zip(p, p[1:] + p[:1], strict=True)) / 2
    return {"width_mm": max(xs) - min(xs), "height_mm": max(ys) - min(ys), "area_mm2": abs(area),
            "perimeter_mm": length(stretches)}


def skirt(sizes, step):
    front, back, band = {}, {}, {}
    for i, size in enumerate(sizes):
        waist, hip, top = 170 + step * i, 235 + step * i, 560 + 4.0 * i
        for made, dart in ((front, 0), (back, 24)):
            w, h = waist + dart, hip + dart
            line = [(w + 1j * (top + 12), w * 0.6 + 1j * (top + 3), w * 0.3 + 1j * top, 1j * top)]
            made[size] = form = Form({
                "hem": poly(0j, h + 20 + 0j),
                "side seam": [(h + 20 + 0j, h + 1j * (top - 200)), (
                    h + 1j * (top - 200), h + 1j * (top - 130), w + 18 + 1j * (top - 60), w + 1j * (top + 12))],
                "waist": line, "centre": poly(1j * top, 0j)},
                notches=[("side seam", 0.6, 2 if dart else 1)], grain=(60 + 80j, 60 + 1j * (top - 200)))
            if dart:
                a, b = (spot(line, 0.5 + s * dart / 2 / w)[0] for s in (-1, 1))
                form.darts.append((a, (a + b) / 2 - 1j * (120 + i), b))
        n = 4 * waist - 30
        band[size] = Form({"low": poly(0j, n + 0j), "right": poly(n + 0j, n + 80j), "top": poly(n + 80j, 80j),
                           "left": poly(80j, 0j)}, grain=(100 + 40j, 300 + 40j))
    return (Piece("skirt front", ["Piece 1: Skirt Front (cut 1 on fold)"], front, 70 + 250j, "centre"),
            Piece("skirt back", ["Piece 2: Skirt Back (cut 2)"], back, 70 + 250j),
            Piece("waistband", ["Piece 3: Waistband (cut 1)"], band, 300 + 35j))


def pinafore(sizes):
    made = []
    for name, dip in (("front", 55), ("back", 20)):
        forms = {}
        for i, size in enumerate(sizes):
            chest, top, strap, neck = 150 + 14.0 * i, 420 + 45.0 * i, 32 + 2.0 * i, 48 + 3.0 * i
            side = chest + 1j * (top - 150)
            forms[size] = Form({
                "hem": [(0j, 60 + 0j, chest + 10 + 4j, chest + 45 + 18j)], "side": poly(chest + 45 + 18j, side),
                "armhole": [(side, side - 35 + 5j, neck + strap + 4 + 1j * (top - 90), neck + strap + 1j * top)],
                "strap": poly(neck + strap + 1j * top, neck + 1j * top),
                "neck": [(neck + 1j * top, neck + 1j * (top - 0.7 * dip), neck - 12 + 1j * (top - dip),
                          1j * (top - dip))],
                "centre": poly(1j * (top - dip), 0j)}, notches=[("side", 0.5, 1)], grain=(80 + 60j, 80 + 220j))
        made.append(Piece(f"pinafore {name}", [f"Pinafore {name.title()}", "cut 1 on fold"], forms, 40 + 330j,
                          "centre"))
    pocket = Form({"low": poly(0j, 130 + 0j), "right": poly(130 + 0j, 130 + 140j), "top": poly(130 + 140j, 140j),
                   "left": poly(140j, 0j)}, grain=(65 + 40j, 65 + 100j))
    return (*made, Piece("pocket", ["Pocket", "cut 2"], dict.fromkeys(sizes, pocket), 15 + 15j))


def bodice(sizes):
    """Seam lines that sew: one side seam, one shoulder, a bust dart with its shaped mouth, a cap with 22 mm of ease."""
    front, back, sleeve = {}, {}, {}
    for i, size in enumerate(sizes):
        bust, waist, tip, neck = 225 + 10.0 * i, 180 + 10.0 * i, 185 + 3.0 * i, 72 + 1.5 * i
        top, arm, dart = 400 + 4.0 * i, 190 + 1.0 * i, 30.0
        front[size], straight = _front(bust, waist, tip, neck, top, arm, dart, i)
        back[size] = _back(bust, waist, tip, neck, top, arm - dart, straight, dart)
        want = length(front[size].edges["armhole"]) + length(back[size].edges["armhole"]) + 22
        low, high = 100.0, 260.0
        while high - low > 1e-9:
            half = (low + high) / 2
            low, high = (half, high) if length(_cap(half)) < want else (low, half)
        hem = 115 + 3 * i
        sleeve[size] = Form({
            "hem": poly(-hem + 0j, hem + 0j), "underarm front": poly(hem + 0j, low + 420j), "cap": _cap(low),
            "underarm back": poly(-low + 420j, -hem + 0j)},
            notches=[("cap", 0.27, 1), ("cap", 0.5, 1), ("cap", 0.74, 2)], grain=(80j, 380j))
    return (Piece("bodice front", ["A  Bodice Front", "cut one on fold"], front, 40 + 290j, "centre"),
            Piece("bodice back", ["B  Bodice Back", "cut two"], back, 65 + 270j),
            Piece("sleeve", ["C  Sleeve", "cut two"], sleeve, 20 + 300j))


def _front(bust, waist, tip, neck, top, arm, dart, i):
    low, high, apex = waist + 25 + 8j, bust + 1j * arm, 115 + 2 * i + 165j
    way, straight = (high - low) / abs(high - low), abs(high - low)
    foot = low + way * 95
    angle = 2 * asin(dart / 2 / abs(foot - apex))
    other, high = (apex + (z - apex) * exp(1j * angle) for z in (foot, high))
    leg = (foot - apex) / abs(foot - apex)
    fold, back_way = leg * exp(1j * angle / 2), -way.conjugate() * leg * leg  # the low seam, mirrored in the leg
    mouth = foot - back_way * ((foot - apex) * fold.conjugate()).imag / (back_way * fold.conjugate()).imag
    line = [(0j, waist * 0.4 - 2j, waist * 0.8 + 2j, low)]
    a, b = (spot(line, s)[0] for s in (0.45, 0.45 + 25 / length(line)))
    deep = tip - 18 + 1j * (arm + 95)
    return Form({
        "waist": line, "side seam": poly(low, foot, mouth, other, high),
        "armhole": [(high, bust - 45 + 1j * (arm + 2), tip - 22 + 1j * (arm + 45), deep),
                    (deep, tip - 16 + 1j * (arm + 130), tip - 8 + 1j * (top - 55), tip + 1j * (top - 38))],
        "shoulder": poly(tip + 1j * (top - 38), neck + 1j * top),
        "neck": [(neck + 1j * top, neck - 6 + 1j * (top - 55), neck * 0.6 + 1j * (top - 80), 1j * (top - 80))],
        "centre": poly(1j * (top - 80), 0j)},
        darts=[(foot, apex, other), (a, complex((a + b).real / 2, 145), b)], notches=[("armhole", 0.4, 1)],
        grain=(50 + 40j, 50 + 260j)), straight


def _back(bust, waist, tip, neck, top, arm, straight, dart):
    low = waist + 20 + 8j
    high = low + straight * (bust - 8 + 1j * arm - low) / abs(bust - 8 + 1j * arm - low)
    line = [(0j, waist * 0.4 + 0j, waist * 0.8 + 2j, low)]
    a, b = (spot(line, s)[0] for s in (0.45, 0.45 + 24 / length(line)))
    end, deep = tip + 4 + 1j * (top - dart - 36), tip - 6 + 1j * (high.imag + 85)
    neck_point = end - (tip + 1j * (top - 38)) + neck + 1j * top
    nape = 1j * (neck_point.imag - 22)
    return Form({
        "waist": line, "side seam": poly(low, high),
        "armhole": [(high, high - 38 + 3j, deep - 2 - 50j, deep),
                    (deep, deep + 35j, end - 6 - 29j, end)],
        "shoulder": poly(end, neck_point),
        "neck": [(neck_point, neck_point - 6 - 14j, neck_point.real * 0.6 + nape, nape)], "centre": poly(nape, 0j)},
        darts=[(a, complex((a + b).real / 2, 135), b)], notches=[("armhole", 0.35, 2)],
        grain=(50 + 40j, 50 + 260j))


def _cap(half):
    return [(half + 420j, half - 35 + 425j, 62 + 540j, 545j), (545j, -58 + 540j, -half + 40 + 428j, -half + 420j)]


def grown(form, allowances):
    """The cutting line: every stretch moved outwards by its edge's allowance, neighbours met at their corners."""
    lines = []
    for edge, stretches in form.edges.items():
        runs = [[stretches[0]]]
        for a, b in pairwise(stretches):
            turned = ((b[1] - b[0]) * (a[-1] - a[-2]).conjugate()).imag / abs(b[1] - b[0]) / abs(a[-1] - a[-2])
            runs.append([b]) if abs(turned) > 0.02 else runs[-1].append(b)
        lines += [_moved_out(run, allowances[edge]) for run in runs]
    ring = []
    for (before, _, u), (here, v, _) in zip(lines[-1:] + lines[:-1], lines, strict=True):
        at = before[-1] + u * ((here[0] - before[-1]) * v.conjugate()).imag / (u * v.conjugate()).imag
        ring += [at, *here[1:-1]]
    return poly(*ring, ring[0])


def _moved_out(run, by):
    """Points beside a smooth run of stretches, and its directions at both ends."""
    points = flat(run, 60)
    ways = [run[0][1] - run[0][0], *(b - a for a, b in pairwise(points)), run[-1][-1] - run[-1][-2]]
    ways = [w / abs(w) for w in ways]
    normals = [(a + b) / (1 + (a * b.conjugate()).real) for a, b in pairwise(ways)]
    normals[0], normals[-1] = ways[0], ways[-1]
    return [p - 1j * by * n for p, n in zip(points, normals, strict=True)], ways[0], ways[-1]


def reach(ring, start, way):
    """How far from a point in a direction a ring is."""
    best = 1e9
    for a, b in ring:
        det = (way * (b - a).conjugate()).imag
        if abs(det) > 1e-12:
            s, w = ((a - start) * (b - a).conjugate()).imag / det, ((a - start) * way.conjugate()).imag / det
            if s > 1e-6 and 0 <= w <= 1:
                best = min(best, s)
    return best
