"""Pictures of pieces and seams: numbers are the pieces' own, places stay, what is known is not sent again."""

import json
import re
from itertools import pairwise

import pytest

from toilewright.app.pictures import garment_picture
from toilewright.app.rolling import seam_picture
from toilewright.blocks.concert import concert_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.known import asked
from toilewright.pattern.walk import walk

ORDERS = tuple(Order(name, asked(amount), options) for name, amount, options in (
    ("lengthen or shorten", 12.0, {"piece": "bodice front"}),
    ("forward shoulder", 10.0, {}),
    ("bust dart height", 18.0, {}),
    ("full bust", 15.0, {}),
))


@pytest.fixture(scope="module")
def bought():
    return concert_dress().at("4")


@pytest.fixture(scope="module")
def altered(bought):
    return alter(bought, ORDERS).garment


@pytest.fixture(scope="module")
def picture(altered, bought):
    return garment_picture(altered, bought)


def by_name(rows):
    return {row["name"]: row for row in rows}


def numbers(data):
    return [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", data)]


def corners(data):
    """Ends of the curves of path data."""
    return [tuple(map(float, run[1:].split()[-2:])) for run in re.findall(r"[MLC][^MLC]+", data)]


def test_lengths_are_the_pieces_own(picture, altered, bought):
    for piece in altered.pieces:
        sent = by_name(picture["pieces"])[piece.name]
        for edge in piece.edges:
            told = by_name(sent["edges"])[edge.name]
            assert told["length"] == pytest.approx(piece.sewn_length(edge.name), abs=0.001)
            assert told["allowance"] == edge.allowance
            if piece.name in picture["changed"]:
                assert told["bought"] == pytest.approx(bought.piece(piece.name).sewn_length(edge.name), abs=0.001)
        for dart in piece.darts:
            first, second = piece.feet(dart)
            assert by_name(sent["darts"])[dart.name]["width"] == pytest.approx(abs(second - first), abs=0.001)


def test_lines_are_drawn_with_y_down_and_where_they_are(picture, altered):
    for piece in altered.pieces:
        sent = by_name(picture["pieces"])[piece.name]
        ends = [c for edge in sent["edges"] for c in corners(edge["d"])]
        assert len(ends) == sum(len(e.path.nodes) for e in piece.edges)
        for (x, y), node in zip(ends, (n for e in piece.edges for n in e.path.nodes), strict=True):
            assert (x, y) == pytest.approx((node.real, -node.imag), abs=0.006)
        assert max(len(n.partition(".")[2]) for n in re.findall(r"[\d.]+", sent["cut"])) <= 2


def test_only_what_was_changed_is_drawn_over_what_was_bought(picture, altered, bought):
    changed = [p.name for p in altered.pieces if p != bought.piece(p.name)]
    assert picture["changed"] == changed and 0 < len(changed) < len(altered.pieces)
    assert [p["name"] for p in picture["pieces"] if p["bought"]] == changed


def test_every_landmark_and_line_lies_in_its_piece_box_and_that_on_the_table(picture):
    left, top, width, height = picture["box"]
    for piece in picture["pieces"]:
        x, y, wide, high = piece["box"]
        ends = corners(piece["cut"]) + corners(piece["seam"]) + [tuple(p["at"]) for p in piece["points"]]
        assert all(x - 0.02 <= px <= x + wide + 0.02 and y - 0.02 <= py <= y + high + 0.02 for px, py in ends)
        px, py = piece["at"]
        assert left <= px + x and px + x + wide <= left + width
        assert top <= py + y and py + y + high <= top + height


def boxes(picture):
    return [(p["at"][0] + p["box"][0], p["at"][1] + p["box"][1], p["at"][0] + p["box"][0] + p["box"][2],
             p["at"][1] + p["box"][1] + p["box"][3]) for p in picture["pieces"]]


def test_no_piece_lies_on_another_and_each_stays_where_it_was(picture, bought):
    before = garment_picture(bought)
    for shown in (before, picture):
        placed = boxes(shown)
        for i, a in enumerate(placed):
            for b in placed[:i]:
                assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    assert [p["at"] for p in picture["pieces"]] == [p["at"] for p in before["pieces"]]
    assert picture["box"] == before["box"]


def test_what_the_browser_has_is_not_sent_again(picture, altered, bought):
    known = {p["name"]: p["version"] for p in picture["pieces"]}
    again = garment_picture(altered, bought, known=known)
    assert all(set(p) == {"name", "version", "at"} for p in again["pieces"])
    less = garment_picture(alter(bought, ORDERS[:1]).garment, bought, known=known)
    sent = {p["name"] for p in less["pieces"] if "edges" in p}
    assert "bodice front" in sent and "skirt tier" not in sent
    assert len(json.dumps(again)) < 2000 < len(json.dumps(picture))


def test_the_same_piece_over_another_bought_one_has_another_version(altered, bought):
    one = by_name(garment_picture(altered, bought)["pieces"])["bodice front"]
    other = by_name(garment_picture(altered)["pieces"])["bodice front"]
    assert one["version"] != other["version"] and one["seam"] == other["seam"]


def test_the_label_stands_inside_its_piece(picture, altered, bought):
    import shapely

    for sent in picture["pieces"]:
        room = shapely.Polygon([(p.real, -p.imag) for p in bought.piece(sent["name"]).outline.flatten()])
        assert room.contains(shapely.Point(sent["label"]["at"])), sent["name"]


def test_the_cutting_line_is_left_out_along_a_fold(picture, altered):
    front = altered.piece("bodice front")
    sent = by_name(picture["pieces"])["bodice front"]
    drawn = sum(len(c.nodes) for c, e in zip(cutting_line(front), front.edges, strict=True) if e.kind != "fold")
    runs = sent["cut"].count("M")
    assert runs == 1 and abs(len(corners(sent["cut"])) - drawn) < len(front.edges)
    assert len(numbers(sent["fold"])) == 4


# -- seams ------------------------------------------------------------------------------------------------


def test_both_sides_of_every_seam_are_as_long_as_they_are_sewn(altered):
    for one in walk(altered):
        shown = seam_picture(altered, one)
        for side, length in (("a", one.length_a), ("b", one.length_b)):
            line = shown[side]["line"]
            assert line[-1][2] == pytest.approx(length, abs=0.005)
            steps = [((q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2) ** 0.5 for p, q in pairwise(line)]
            assert sum(steps) == pytest.approx(length, rel=0.001), f"{one.seam}: a dart or a joint is not closed"


def laid(altered, stretch):
    """The piece as its stretch lays it to the line of the walk."""
    import shapely
    import shapely.affinity

    a, b, c, d, e, f = stretch["matrix"]
    assert abs(a * d - b * c) == pytest.approx(1.0, abs=1e-6)
    ring = [(p.real, -p.imag) for p in altered.piece(stretch["piece"]).outline.flatten()]
    return shapely.affinity.affine_transform(shapely.Polygon(ring), [a, c, b, d, e, f])


def test_each_piece_lies_along_its_stretch_and_the_two_sides_beside_each_other(altered):
    import shapely

    for one in walk(altered):
        shown = seam_picture(altered, one)
        lefts = set()
        for side in ("a", "b"):
            for stretch in shown[side]["stretches"]:
                piece = laid(altered, stretch)
                run = [row for row in shown[side]["line"] if stretch["from"] <= row[2] <= stretch["to"]]
                assert max(piece.exterior.distance(shapely.Point(x, y)) for x, y, _ in run) < 0.1
                (x0, y0, _), (x1, y1, _) = run[0], run[1]
                along = complex(x1 - x0, y1 - y0)
                beside = complex(x0 + x1, y0 + y1) / 2 + along / abs(along) * -1j
                lefts.add((side, piece.contains(shapely.Point(beside.real, beside.imag))))
        assert len(lefts) == 2 and len({left for _, left in lefts}) == 2, one.seam
