"""The whole way: the concert dress as a bought PDF, read back by guesses alone, sews."""

import pytest
from same_pattern import same

from toilewright.blocks.chart import CHART
from toilewright.blocks.concert import SEAMS, concert_dress
from toilewright.geometry import Affine
from toilewright.intake.assemble import build_pattern
from toilewright.intake.labels import guess_labels, read_labels, write_labels
from toilewright.intake.pdf import read_pdf
from toilewright.intake.recognise import recognise
from toilewright.intake.tiles import join_pages
from toilewright.output.printed_pattern import print_pattern
from toilewright.pattern import BodyChart, Pattern
from toilewright.pattern.walk import walk

DRESS = concert_dress()


def part(*sizes):
    rows = tuple((n, tuple(v[DRESS.sizes.index(s)] for s in sizes)) for n, v in CHART.rows)
    return Pattern(DRESS.name, sizes, tuple(DRESS.at(s) for s in sizes), BodyChart(sizes, rows), DRESS.cloth)


@pytest.mark.parametrize(("pattern", "paper"), [
    (DRESS, "a4"), (part("3", "5", "8"), "letter"), (part("2", "4", "6", "9"), "sheet")], ids=["a4", "letter", "sheet"])
def test_the_dress_comes_back_from_its_pdf(pattern, paper, tmp_path):
    print_pattern(pattern, tmp_path / "bought.pdf", paper)
    raw = recognise(join_pages(read_pdf(tmp_path / "bought.pdf")))
    write_labels(guess_labels(raw), tmp_path / "labels.toml")
    labels = read_labels(tmp_path / "labels.toml")
    now, findings = build_pattern(raw, labels)
    assert findings == ()
    for piece in pattern.garments[0].pieces:
        first = piece.edges[0]
        by = now.garments[0].piece(piece.name).edge(first.name).path.start - first.path.start
        only = Pattern("", pattern.sizes, tuple(type(g)((g.piece(piece.name),)) for g in pattern.garments))
        back = Pattern("", now.sizes, tuple(type(g)((g.piece(piece.name),)) for g in now.garments))
        same(back, only, Affine.shift(by))
    assert {s.name: (s.a, s.b) for s in now.garments[0].seams} == {s.name: (s.a, s.b) for s in SEAMS}
    for garment in now.garments:
        walked = walk(garment)
        assert [w.verdict for w in walked] == ["sews"] * len(SEAMS)
    assert now.name == pattern.name
    assert {n for n, _ in now.chart.rows} == {n for n, _ in CHART.rows}
    for name, values in now.chart.rows:
        assert values == pytest.approx(pattern.chart.row(name), abs=0.51)  # the sheet shows tenths of a centimetre
