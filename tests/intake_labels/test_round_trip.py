"""The concert dress printed at its cutting line comes back at its seam line, by guesses alone."""

import cmath

import pytest
from raw_builders import mapped_raw, raw_pattern

from toilewright.blocks.concert import SEAMS, concert_dress
from toilewright.geometry import Affine
from toilewright.intake.assemble import build_pattern
from toilewright.intake.labels import guess_labels
from toilewright.known import Origin
from toilewright.pattern import Pattern

DRESS = concert_dress()
FEW = Pattern(DRESS.name, ("1", "5", "10"), tuple(DRESS.at(s) for s in ("1", "5", "10")))
PLAIN = Affine()


def same(pattern, original, f=PLAIN, tolerance=0.1, but=()):
    """Every edge, dart, notch and landmark of `original` is in `pattern`, where `f` puts it."""
    mirrored = f.determinant < 0
    assert pattern.sizes == original.sizes
    for size in original.sizes:
        made = {p.name: p for p in pattern.at(size).pieces}
        for was in original.at(size).pieces:
            now = made.pop(was.name)
            if was.name in but:
                continue
            assert {e.name for e in now.edges} == {e.name for e in was.edges}
            for edge in was.edges:
                got = now.edge(edge.name)
                assert (got.kind, got.allowance) == (edge.kind, pytest.approx(edge.allowance))
                assert got.path.length == pytest.approx(edge.path.length, abs=tolerance)
                assert max(got.path.nearest(f(p))[1] for p in edge.path.flatten(1.0)) < tolerance

            def placed(edge, at, was=was):
                return was.edge(edge).path.length - at if mirrored else at
            for dart in was.darts:
                got = now.dart(dart.name)
                ends = sorted((placed(dart.edge, dart.start), placed(dart.edge, dart.end)))
                assert (got.edge, got.start, got.end) == (dart.edge, *(pytest.approx(s, abs=tolerance) for s in ends))
                assert abs(got.apex - f(dart.apex)) < tolerance
                assert (got.press == dart.press) is not mirrored
            notches = {n.name: n for n in now.notches}
            assert set(notches) == {n.name for n in was.notches}
            for notch in was.notches:
                got = notches[notch.name]
                assert (got.edge, got.count) == (notch.edge, notch.count)
                assert got.at == pytest.approx(placed(notch.edge, notch.at), abs=tolerance)
            for mark in was.landmarks:
                assert abs(now.landmark(mark.name) - f(mark.at)) < 2 * tolerance, mark
            for line in was.lines:
                assert abs(now.line(line.name).start - f(line.path.start)) < 2 * tolerance
            assert now.cut == was.cut
        assert not made


def test_ten_sizes_come_back_with_every_name_and_seam():
    raw = raw_pattern(DRESS)
    labels = guess_labels(raw)
    pattern, findings = build_pattern(raw, labels)
    assert findings == ()
    same(pattern, DRESS)
    assert {s.name: (s.a, s.b) for s in pattern.garments[0].seams} == {s.name: (s.a, s.b) for s in SEAMS}
    assert all(s.confirmed for s in labels.seams)
    assert {s.seam.name: s.seam.ratio for s in labels.seams if s.seam.ratio} == {
        s.name: pytest.approx(s.ratio, abs=0.01) for s in SEAMS if s.ratio}


def test_the_bust_point_is_estimated_and_says_so():
    raw = raw_pattern(FEW)
    pattern, _ = build_pattern(raw, guess_labels(raw))
    mark = next(m for m in pattern.at("5").piece("bodice front").landmarks if m.name == "bust point")
    assert mark.origin is Origin.ESTIMATED


@pytest.mark.parametrize("options", [{"legs_to": "seam"}, {"at_seam": True}])
def test_other_ways_of_printing(options):
    raw = raw_pattern(FEW, **options)
    pattern, findings = build_pattern(raw, guess_labels(raw))
    assert findings == ()
    same(pattern, FEW)


EVEN = ("sleeve frill", "waistband", "waist tie")  # their two ends look alike: no hand can be told


@pytest.mark.parametrize("f", [
    Affine(cmath.rect(1, 0.4), 0j, 300 - 200j), Affine(-1 + 0j, 0j, 50j), Affine(0j, -1 + 0j, 900 + 0j)],
    ids=["turned", "upside down", "other hand"])
def test_hand_place_and_direction_do_not_matter(f):
    raw = mapped_raw(raw_pattern(FEW), f)
    labels = guess_labels(raw)
    pattern, findings = build_pattern(raw, labels)
    assert findings == ()
    turned = f.determinant < 0
    same(pattern, FEW, f, but=EVEN if turned else ())
    expected = {s.name: s for s in SEAMS}
    assert {s.seam.name for s in labels.seams} == set(expected)
    for label in labels.seams:
        seam = expected[label.seam.name]
        if turned and any(r.piece in EVEN for r in (*seam.a, *seam.b)):
            continue
        assert [(r.piece, r.edge, r.reverse is not turned) for r in (*label.seam.a, *label.seam.b)] == [
            (r.piece, r.edge, r.reverse) for r in (*seam.a, *seam.b)]
