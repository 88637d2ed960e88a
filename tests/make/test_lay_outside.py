"""lay.json as a stranger reads it: nothing but the file, the pattern's pieces and a geometry library.

What was cut, how often, which hand, along which grain, on which fold and from which layer is worked out here anew from
the file's points; nothing of the program's own certificate is used.
"""

import json
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity, box, union_all
from shapely.geometry import Polygon

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.body.tape import body_of
from toilewright.cutting.allowances import cutting_line
from toilewright.errors import ToilewrightError
from toilewright.make.lay_result import laying_result
from toilewright.make.laying import lay_outcomes
from toilewright.make.outcome import make_up, size_up
from toilewright.make.reading import Reading
from toilewright.make.recipe import Make
from toilewright.make.recipe_cloth import read_cloths
from toilewright.packing.first_fit import first_fit
from toilewright.pattern.parts import EdgeKind

MEASURES = {"bust": 955.0, "high_bust": 900.0, "waist": 785.0, "hip": 1020.0}
BLOCKS = {"dress": concert_dress, "tunic": choir_tunic, "trousers": choir_trousers, "princess": princess_dress}
TOUCH = 0.05  # mm; points are rounded in the file, lines flattened


def outside(lay, pieces):
    """Everything that is wrong with one lay of a file.

    Args:
        lay: the plain values of one cloth.
        pieces: by (make, name) the pattern's pieces that are cut from it.
    """
    cloth, wrong = lay["cloth"], []
    room = box(0, 0, lay["length_mm"], cloth["width_mm"]).buffer(TOUCH)
    if cloth["outline"]:
        room = room.intersection(Polygon(cloth["outline"]).buffer(TOUCH))
    flaws = union_all([Polygon(f).buffer(-TOUCH) for f in cloth["flaws"]])
    spread = [(one, _opened(one, lay)) for one in lay["pieces"]]
    for k, (one, shape) in enumerate(spread):
        name = f"{one['make']} {one['name']} {one['copy']} {one['cloth_layer']}"
        if not shape.is_valid or not shape.difference(room).is_empty or shape.intersects(flaws):
            wrong.append(f"{name}: off the cloth")
        wrong += [f"{name}: on {other['name']}" for other, there in spread[:k] if shape.intersection(there).area > 1.0]
        wrong += [f"{name}: {said}" for said in _as_drawn(one, pieces[one["make"], one["name"]], lay)]
    wrong += _counted(lay, pieces)
    ends = max(x for one in lay["pieces"] for x, _ in one["outline"])
    return [*wrong, *(["length"] if abs(ends - lay["length_mm"]) > 0.002 else [])]


def _opened(one, lay):
    """A piece on the cloth as it lies opened out."""
    depth = lay["sections"][one["section"]]["fold_depth_mm"]
    shape = Polygon(one["outline"])
    if depth is None:
        assert one["cloth_layer"] == "single"
        return shape
    below = affinity.translate(shape, 0, depth)
    above = affinity.affine_transform(shape, (1, 0, 0, -1, 0, depth))
    if one["cloth_layer"] != "single":
        assert shape.bounds[3] <= depth + TOUCH and shape.bounds[1] >= -TOUCH
    return {"both": union_all([above, below]), "upper": above, "lower": below, "single": below}[one["cloth_layer"]]


def _as_drawn(one, piece, lay):
    """Is it the cutting line of its piece, its grain as the file says, its fold exactly on the fold?"""
    whole = _whole(piece, not one["on_fold"])
    # mirrored is of the piece as it is worn; the lower layer shows the other hand of what the outline shows
    flipped = one["mirrored"] != (one["cloth_layer"] == "lower")
    tries = [flipped] if not _even(piece) else [False, True]
    laid = Polygon(one["outline"])
    if min(_off(whole, laid, flip, one["grain_deg"]) for flip in tries) > TOUCH:
        yield "not its shape"
    turn = one["grain_deg"] % 360
    far = min(abs(turn - t) for t in ((0, 360) if lay["cloth"]["direction"] == "one way" else (0, 180, 360)))
    if far > lay["cloth"]["grain_tolerance_deg"] + 1e-9:
        yield f"{turn} degrees off the grain"
    if one["on_fold"] != (one["cloth_layer"] == "both"):
        yield "half a piece off the fold"
    if one["on_fold"] and (sum(y == 0.0 for _, y in one["outline"]) < 2 or laid.bounds[1] != 0.0):
        yield "fold edge off the fold"
    if one["mirrored"] and lay["cloth"]["sided"] and not piece.cut.mirrored:
        yield "mirrored without need"


def _counted(lay, pieces):
    there = Counter((p["make"], p["name"]) for p in lay["pieces"])
    wanted = {key: piece.cut.count for key, piece in pieces.items()}
    if there != wanted:
        yield f"counts: {there} for {wanted}"
    for key, piece in pieces.items():
        ones = [p for p in lay["pieces"] if (p["make"], p["name"]) == key]
        if sorted(p["copy"] for p in ones) != list(range(1, len(ones) + 1)):
            yield f"{key}: copies {[p['copy'] for p in ones]}"
        hands = sum(p["mirrored"] for p in ones)
        if lay["cloth"]["sided"] and piece.cut.mirrored and not _even(piece) and hands != len(ones) // 2:
            yield f"{key}: {hands} of {len(ones)} mirrored"
        above, below = (Counter(str(p["outline"]) for p in ones if p["cloth_layer"] == layer)
                        for layer in ("upper", "lower"))
        if above != below:
            yield f"{key}: layers unlike"


def _whole(piece, open_out):
    """Its cutting line, its grain along x; of a piece on the fold both halves if it is opened out."""
    shape = Polygon([(p.real, p.imag) for line in cutting_line(piece) for p in line.flatten(0.01)[:-1]]).buffer(0)
    fold = next((e.path for e in piece.edges if e.kind is EdgeKind.FOLD), None)
    way = (piece.grain.end - piece.grain.start) if piece.grain else (fold.end - fold.start) if fold else 1j
    if fold is not None:
        along = fold.end - fold.start
        way = along if (along * way.conjugate()).real > 0 else -along
    turned = affinity.affine_transform(shape, (way.real, way.imag, -way.imag, way.real, 0, 0))
    turned = affinity.scale(turned, 1 / abs(way), 1 / abs(way), origin=(0, 0))
    if fold is None:
        return turned
    y = (fold.start * way.conjugate()).imag / abs(way)
    image = affinity.affine_transform(turned, (1, 0, 0, -1, 0, 2 * y))
    if not open_out:
        return turned if turned.centroid.y > y else image
    return union_all([turned.buffer(0.005), image.buffer(0.005)]).buffer(-0.005)


def _off(whole, laid, flip, turn):
    shape = affinity.scale(whole, 1, -1, origin=(0, 0)) if flip else whole
    shape = affinity.rotate(shape, turn, origin=(0, 0))
    by = [b - a for a, b in zip(shape.bounds, laid.bounds, strict=True)]
    return affinity.translate(shape, (by[0] + by[2]) / 2, (by[1] + by[3]) / 2).hausdorff_distance(laid)


def _even(piece):
    whole = _whole(piece, True)
    return _off(whole, whole, True, 0.0) < 0.1


# -- what is laid -----------------------------------------------------------------------------------


@cache
def outcome(block, title="A make"):
    reading = Reading(None, None, BLOCKS[block](), (), True)  # the pieces are at hand, no sheet is looked at
    return make_up(size_up(Make(title, size="5", standing=False), body_of("an alto", MEASURES), reading))


def plain(blocks, row, pack=first_fit, seconds=0.0):
    """What the file says, read back, and the pieces by make and name."""
    made = []
    for k, block in enumerate(blocks):
        one = outcome(block, f"Make {k}")
        cloths = read_cloths({"cloth": [{"use": "self", **row}]}, "cm", "a test")
        made.append(replace(one, sized=replace(one.sized, make=replace(one.sized.make, cloths=cloths))))
    laying = lay_outcomes(made, seconds=seconds, pack=lambda problem, **_: pack(problem))
    pieces = {(name, p.name): p for name, garment in laying.garments for p in garment.pieces}
    return json.loads(json.dumps(laying_result(laying))), pieces


def checked(said, pieces):
    wrong = []
    for lay in (said, *said["other_cloths"]):
        mine = {(p["make"], p["name"]) for p in lay["pieces"]}
        wrong += outside(lay, {key: piece for key, piece in pieces.items() if key in mine})
    laid = {(p["make"], p["name"]) for lay in (said, *said["other_cloths"]) for p in lay["pieces"]}
    return wrong + [f"{key} is missing" for key in pieces if key not in laid]


ROWS = {
    "folded": {"fold": "lengthwise", "width": "152 cm"},
    "open": {"fold": "open", "width": "152 cm"},
    "part": {"fold": "part", "width": "152 cm"},
    "to a depth": {"fold": "40 cm", "width": "152 cm"},
    "one way": {"width": "152 cm", "one_way": True},
    "both sides alike": {"width": "152 cm", "sided": False, "fold": "open"},
    "a little off the grain": {"width": "152 cm", "grain_tolerance": "2 deg", "fold": "open"},
    "flawed": {"fold": "lengthwise", "width": "152 cm", "flaws": [["30 cm", "40 cm", "6 cm", "6 cm"],
                                                                 ["90 cm", "10 cm", "3 cm", "30 cm"]]},
    "checked": {"fold": "lengthwise", "width": "152 cm", "match": ["side seam"],
                "repeat": {"along": "8 cm", "across": "6 cm", "first_along": "2 cm"}},
}


@pytest.mark.parametrize("row", ROWS.values(), ids=ROWS)
@pytest.mark.parametrize("block", ["tunic", "trousers"])
def test_every_lay_is_right_from_outside(block, row):
    assert checked(*plain([block], row)) == []


def test_a_dress_of_many_pieces_is_right_from_outside():
    assert checked(*plain(["princess"], ROWS["folded"])) == []


def test_two_makes_in_one_lay_are_right_from_outside():
    said, pieces = plain(["tunic", "trousers"], ROWS["folded"])
    assert checked(said, pieces) == [] and len({make for make, _ in pieces}) == 2


@settings(max_examples=8)
@given(width=st.integers(100, 300), fold=st.sampled_from(["open", "lengthwise", "part", "25 cm"]),
       flags=st.tuples(st.booleans(), st.booleans()), x=st.integers(0, 200), y=st.integers(0, 90))
def test_any_width_fold_and_flaw(width, fold, flags, x, y):
    row = {"width": f"{width} cm", "fold": fold, "one_way": flags[0], "sided": flags[1],
           "flaws": [[f"{x} cm", f"{y} cm", "5 cm", "5 cm"]]}
    try:
        said, pieces = plain(["tunic"], row)
    except ToilewrightError as slip:
        assert "wide" in str(slip) or "fit" in str(slip)
        return
    assert checked(said, pieces) == []


BROKEN = {
    "moved": lambda p: {"outline": [[x + 40, y + 3] for x, y in p["outline"]]},
    "turned": lambda p: {"grain_deg": p["grain_deg"] + 5.0},
    "other hand": lambda p: {"mirrored": not p["mirrored"]},
    "other name": lambda p: {"name": "sleeve"},
    "other layer": lambda p: {"cloth_layer": "upper" if p["cloth_layer"] == "lower" else "lower"},
    "off the fold": lambda p: {"on_fold": not p["on_fold"]},
}


@pytest.mark.parametrize("change", BROKEN.values(), ids=BROKEN)
def test_the_stranger_finds_what_is_wrong(change):
    said, pieces = plain(["tunic"], ROWS["folded"])
    at = next(k for k, p in enumerate(said["pieces"]) if p["name"] == "bodice back" and p["cloth_layer"] == "upper")
    said["pieces"][at] |= change(said["pieces"][at])
    assert checked(said, pieces) != []
