"""The concert dress printed at its cutting line comes back at its seam line, by guesses alone."""

import cmath

import pytest
from raw_builders import mapped_raw, raw_pattern
from same_pattern import same

from toilewright.blocks.concert import SEAMS, concert_dress
from toilewright.geometry import Affine
from toilewright.intake.assemble import build_pattern
from toilewright.intake.labels import guess_labels
from toilewright.known import Origin
from toilewright.pattern import Pattern

DRESS = concert_dress()
FEW = Pattern(DRESS.name, ("1", "5", "10"), tuple(DRESS.at(s) for s in ("1", "5", "10")))


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
