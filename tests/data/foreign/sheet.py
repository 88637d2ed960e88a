"""The nested sheet that the make_*.py scripts draw, each in its producer's ways: lines and words in mm, y up."""

import json
from dataclasses import dataclass
from pathlib import Path as File

HERE = File(__file__).parent
MASTER = json.loads((HERE / "master.json").read_text())
SIZES = MASTER["sizes"]
WIDTH, HEIGHT = MASTER["sheet"]
COLOURS = {"8": (0.0, 0.0, 0.0), "10": (0.8, 0.1, 0.1), "12": (0.1, 0.3, 0.8), "14": (0.1, 0.5, 0.2)}
DASHES = {"8": (), "10": (6.0, 2.0), "12": (2.0, 2.0), "14": (8.0, 2.0, 2.0, 2.0)}


@dataclass(frozen=True)
class Mark:
    """kind: cut, seam, dart, notch, grain, fold, square, key; size "" for what all sizes share; `solid` is filled."""

    kind: str
    size: str
    curves: list
    piece: str = ""
    solid: bool = False


@dataclass(frozen=True)
class Caption:
    text: str
    x: float
    y: float
    height: float
    angle: float = 0.0
    size: str = ""


def placed(curves, place):
    return [[v + place[i % 2] for i, v in enumerate(c)] for c in curves]


def polyline(*points):
    return [list(p) for p in points]


def marks(system, seam=False):
    """All lines of the sheet; `system` is metric (10 mm included) or inch (5/8 in included)."""
    for piece in MASTER["pieces"]:
        for size in SIZES:
            shape = piece[system][size]
            for kind in ("cut", "seam") if seam else ("cut",):
                yield Mark(kind, size, placed(shape[kind], piece["place"]), piece["name"])
            for kind in ("dart", "notch"):
                for line in shape["darts" if kind == "dart" else "notches"]:
                    yield Mark(kind, size, placed(line, piece["place"]), piece["name"])
        shared = piece[system][SIZES[0]]
        yield from grain(placed(shared["grain"], piece["place"]), piece["name"])
        for edge in shared["fold"]:
            yield from fold(placed(edge, piece["place"]), piece["name"])
    side = 50.0 if system == "metric" else 50.8
    x, y = 20.0, HEIGHT - 70
    yield Mark("square", "", polyline((x, y), (x + side, y), (x + side, y + side), (x, y + side), (x, y)))
    for k, size in enumerate(SIZES):
        yield Mark("key", size, polyline((200, HEIGHT - 20 - 12 * k), (240, HEIGHT - 20 - 12 * k)))


def grain(line, piece):
    (x, low), (_, high) = line
    yield Mark("grain", "", line, piece)
    for tip, back in ((low, 8), (high, -8)):
        yield Mark("grain", "", polyline((x, tip), (x - 2.5, tip + back), (x + 2.5, tip + back), (x, tip)), piece, True)


def fold(edge, piece):
    (x, high), (_, low) = edge
    low, high = low + 60, high - 60
    yield Mark("fold", "", polyline((x, low), (x + 14, low), (x + 14, high), (x, high)), piece)
    for y in (low, high):
        yield Mark("fold", "", polyline((x, y), (x + 6, y - 2), (x + 6, y + 2), (x, y)), piece, True)


def captions(system):
    """All words of the sheet."""
    metric = system == "metric"
    yield Caption("Choir blouse", 85, HEIGHT - 30, 10)
    yield Caption("1 cm seam allowance included" if metric else "5/8 in seam allowance included", 85, HEIGHT - 45, 5)
    yield Caption("Test square 5 cm x 5 cm" if metric else "Test square 2 in x 2 in", 20, HEIGHT - 78, 4)
    for k, size in enumerate(SIZES):
        yield Caption(f"Size {size}", 244, HEIGHT - 22 - 12 * k, 5, size=size)
    for piece in MASTER["pieces"]:
        x, y = piece["place"]
        x, y = x + (62 if piece["name"] != "Sleeve" else 14), y + 255
        yield Caption(piece["name"], x, y, 8)
        yield Caption(piece["note"], x, y - 12, 5)
        gx, gy = (a + b for a, b in zip(piece["place"], piece[system]["8"]["grain"][0], strict=True))
        yield Caption("grain", gx + 5, gy + 60, 4, 90.0)
        if piece[system]["8"]["fold"]:
            yield Caption("place on fold", piece["place"][0] + 20, piece["place"][1] + 130, 4, 90.0)
        for size in SIZES:
            corner = max(piece[system][size]["cut"], key=lambda c: c[-2] - 0.2 * c[-1])
            yield Caption(size, corner[-2] + piece["place"][0] - 8, corner[-1] + piece["place"][1] + 5, 3, size=size)


def flat(curves, count):
    """A path as about `count` points spread over its curves."""
    points, start = [tuple(curves[0])], complex(*curves[0])
    bent = sum(len(c) == 6 for c in curves[1:]) or 1
    for c in curves[1:]:
        p = [complex(c[i], c[i + 1]) for i in range(0, len(c), 2)]
        n = max(count // bent, 1) if len(p) == 3 else 1
        for k in range(1, n + 1):
            t = k / n
            z = p[-1] if k == n else ((1 - t) ** 3 * start + 3 * (1 - t) ** 2 * t * p[0]
                                      + 3 * (1 - t) * t * t * p[1] + t ** 3 * p[2])
            points.append((z.real, z.imag))
        start = p[-1]
    return points
