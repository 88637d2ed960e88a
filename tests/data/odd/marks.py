"""Garments laid out as marks and words, and the pens they are drawn with."""

from cmath import exp, phase
from dataclasses import dataclass

from garments import length, measures, poly, spot

PT = 72 / 25.4
COLOURS = ((0.8, 0, 0), (0, 0, 0.8), (0, 0.55, 0), (0.85, 0.45, 0), (0.5, 0, 0.6))


@dataclass
class Mark:
    stretches: list
    size: str | None = None
    solid: bool = False
    closed: bool = False


@dataclass
class Words:
    at: complex
    height: float
    text: str
    angle: float = 0.0
    size: str | None = None


def moved(stretches, by, turn=0.0, mirror=False):
    return [tuple(exp(1j * turn) * (-z.conjugate() if mirror else z) + by for z in s) for s in stretches]


def piece_marks(piece, by, turn=0.0, mirror=False, notch="in", numbers=False, outline=None):
    """Marks, words and true measures of one piece in all sizes. outline: form -> (printed line, way out to it)."""
    marks, words, truth = [], [], {}
    for size, form in piece.forms.items():
        def put(stretches, size=size, **how):
            marks.append(Mark(moved(stretches, by, turn, mirror), size, **how))
        line = outline(form) if outline else form.outline
        put(line, closed=True)
        truth[size] = measures(moved(line, by, turn, mirror))
        for edge, share, count in form.notches:
            for k in range(count):
                z, way = spot(form.edges[edge], share + (k - (count - 1) / 2) * 8 / length(form.edges[edge]))
                for tick in _notch(z, way, notch):
                    put(tick)
        for a, apex, b in form.darts:
            for foot in (a, b):
                put(poly(foot, apex))
        if numbers:
            edge = list(form.edges.values())[1]
            z, way = moved([spot(edge, 0.25)], 0, turn)[0]
            words.append(Words(z + by + 0.8j * way, 3.5, size, phase(way), size))
    first = next(iter(piece.forms.values()))
    start = moved([(piece.words_at,)], by, turn)[0][0]
    if not mirror:
        words += [Words(start - 11j * k, 5 if k else 7, text) for k, text in enumerate(piece.captions)]
    for m in arrow(*first.grain):
        marks.append(Mark(moved(m.stretches, by, turn, mirror), None, m.solid, m.closed))
    return marks, words, truth


def _notch(z, way, how):
    inwards = 1j * way
    return {"in": [poly(z, z + 5 * inwards)], "out": [poly(z, z - 5 * inwards)],
            "across": [poly(z - 3 * inwards, z + 3 * inwards)],
            "T": [poly(z, z + 5 * inwards), poly(z + 5 * inwards - 2.5 * way, z + 5 * inwards + 2.5 * way)],
            "margin": [poly(z - 15 * inwards, z - 10 * inwards)]}[how]


def arrow(a, b):
    way = (b - a) / abs(b - a)
    heads = [Mark(poly(q, q + 9 * w + 3j * w, q + 9 * w - 3j * w, q), None, True, True)
             for q, w in ((a, way), (b, -way))]
    return [Mark(poly(a, b)), *heads]


def bracket(piece, by):
    """A fold bracket with open heads, beside the fold of the smallest size."""
    edge = next(iter(piece.forms.values())).edges[piece.fold]
    u, v = edge[0][0] + by, edge[-1][-1] + by
    way = (v - u) / abs(v - u)
    a, b, n = u + 0.15 * (v - u), v - 0.15 * (v - u), 1j * way
    heads = [Mark(poly(q + 4 * n + 2 * way, q, q + 4 * n - 2 * way)) for q in (a, b)]
    return ([Mark(poly(a, a + 18 * n, b + 18 * n, b)), *heads],
            [Words((a + b) / 2 + 21 * n + 30 * way, 5, "Place on fold", phase(-way))])


def square(at, side, text):
    return [Mark(poly(at, at + side, at + side + 1j * side, at + 1j * side, at), closed=True)], \
        [Words(at + 0.08 * side + 0.5j * side, 4, text)]


def legend(at, sizes, text="Size {}"):
    return ([Mark(poly(at - 10j * k, at + 30 - 10j * k), s) for k, s in enumerate(sizes)],
            [Words(at + 35 - 1j * (10 * k + 1.5), 4, text.format(s)) for k, s in enumerate(sizes)])


def colour_of(mark, sizes):
    return COLOURS[list(sizes).index(mark.size)] if mark.size else (0, 0, 0)
