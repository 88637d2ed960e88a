"""The bought pattern: layers by size, nested lines, words on the first page, lines whole or cut at page borders."""

from dataclasses import replace

import pikepdf
import pytest
from pdf_reading import drawn, layer_names, page_sizes, squares_by_pdfium, words

from toilewright.blocks.chart import CHART, body_of
from toilewright.blocks.concert import concert_dress, dress_for
from toilewright.cutting.allowances import cutting_line
from toilewright.geometry import Path
from toilewright.output.nest_drawing import nest_sheet
from toilewright.output.printed_pattern import print_pattern, within
from toilewright.output.tiles import PAPERS, TileGrid
from toilewright.pattern import BodyChart, Garment, Pattern

NAMES = ("bodice front", "bodice back", "front neck facing")
SIZES = ("1", "4", "8")
THREE = Pattern("Concert dress", SIZES,
                tuple(Garment(tuple(dress_for(body_of(s)).piece(n) for n in NAMES)) for s in SIZES),
                BodyChart(SIZES, tuple((n, tuple(v[int(s) - 1] for s in SIZES)) for n, v in CHART.rows)), "cotton lawn")


@pytest.fixture(scope="module", params=["a4", "letter", "sheet"])
def printed(request, tmp_path_factory):
    path = tmp_path_factory.mktemp("printed") / "pattern.pdf"
    print_pattern(THREE, path, request.param)
    return request.param, path


def rings(page, size):
    return [d for d in page if d.layer == f"Size {size}" and d.path.closed]


def test_every_size_has_its_layer(printed):
    paper, path = printed
    assert layer_names(path) == ["Size 1", "Size 4", "Size 8", "All sizes", "Page marks"]
    marks = {d.layer for page in drawn(path) for d in page}
    assert marks >= {"Size 1", "Size 4", "Size 8", "All sizes"}
    assert ("Page marks" in marks) == (paper != "sheet")
    assert None not in marks


def test_every_cutting_line_is_there_in_its_layer(printed):
    _, path = printed
    pages = drawn(path)
    for size, garment in zip(THREE.sizes, THREE.garments, strict=True):
        found = [d.path for page in pages for d in rings(page, size)]
        for piece in garment.pieces:
            want = Path.joined(cutting_line(piece))
            same = [p for p in found if abs(p.length - want.length) < 0.05 and abs(p.area() - want.area()) < 5.0]
            assert same, (size, piece.name)
            shift = same[0].start - want.start
            assert max(same[0].nearest(want.point_at(k / 80 * want.length) + shift)[1] for k in range(80)) < 0.005


def test_sizes_differ_in_their_dash_too(printed):
    _, path = printed
    dashes = {size: {tuple(round(x, 2) for x in d.dash) for page in drawn(path) for d in rings(page, size)}
              for size in THREE.sizes}
    assert all(len(d) == 1 for d in dashes.values())
    assert len(set().union(*dashes.values())) == 3


def test_boxes_and_test_square(printed):
    paper, path = printed
    sizes = page_sizes(path)
    if paper == "sheet":
        assert len(sizes) == 1
    else:
        assert all(s == pytest.approx(PAPERS[paper], abs=0.001) for s in sizes)
    assert any(s == pytest.approx((100.0, 100.0), abs=0.005) for s in squares_by_pdfium(path))
    boxes = [d.path.bounds for d in drawn(path)[0] if d.rectangle]
    assert boxes and all(b[0] > 8 and b[1] > 8 and b[2] < sizes[0][0] - 8 and b[3] < sizes[0][1] - 8 for b in boxes)


def test_the_words_that_matter(printed):
    _, path = printed
    first = words(path)[0]
    for text in ("Concert dress", "Test square", "each side must measure 10 cm", "Seam allowance 1.5 cm included",
                 "Body measures in cm", "bust girth", "cotton lawn"):
        assert text in first
    row = next(line for line in first.splitlines() if line.startswith("bust girth"))
    assert row.split()[-3:] == [f"{v / 10:.1f}" for v in THREE.chart.row("bust girth")]
    everything = " ".join(words(path))
    assert "BODICE FRONT" in everything and "cut 1 on the fold" in everything
    assert "cut 2, a pair" in everything and "centre back 2 cm" in everything
    assert "lengthen or shorten" in everything and "place on the fold" in everything


def test_without_layers_lines_alone_tell_the_sizes(tmp_path):
    print_pattern(THREE, tmp_path / "p.pdf", "sheet", layers=False, told_by="colour")
    assert layer_names(tmp_path / "p.pdf") == []
    (page,) = drawn(tmp_path / "p.pdf")
    assert {d.layer for d in page} == {None}
    assert all(not d.dash for d in page if d.path.closed)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_lines_cut_at_page_borders_end_there(tmp_path, paper):
    print_pattern(THREE, tmp_path / "p.pdf", paper, borders="cut")
    w, h = PAPERS[paper]
    ends = 0
    for page in drawn(tmp_path / "p.pdf")[1:]:
        for d in page:
            x0, y0, x1, y1 = d.path.bounds
            assert x0 > 8 - 0.01 and y0 > 8 - 0.01 and x1 < w - 8 + 0.01 and y1 < h - 8 + 0.01
            if d.layer and d.layer.startswith("Size") and not d.path.closed:
                ends += sum(min(abs(p.real - 8), abs(p.real - w + 8), abs(p.imag - 8), abs(p.imag - h + 8)) < 0.01
                            for p in (d.path.start, d.path.end))
    assert ends > 20


def test_cut_parts_lie_on_the_line_and_lose_nothing():
    line = Path.joined([Path.cubic(-20 + 20j, 40 + 20j, 90 - 30j, 150 + 40j),
                        Path.cubic(150 + 40j, 180 + 60j, 60 + 80j, -20 + 90j)])
    grid = TileGrid((116.0, 116.0), 200.0, 200.0)
    parts = list(within(line, (0.0, 0.0, 100.0, 100.0)))
    assert len(parts) >= 2
    for part in parts:
        assert all(line.nearest(part.point_at(k / 9 * part.length))[1] < 1e-6 for k in range(10))
    kept = sum(p.length for p in parts)
    inside = sum(1 for k in range(20000) if 0 <= (p := line.point_at((k + 0.5) / 20000 * line.length)).real <= 100
                 and 0 <= p.imag <= 100)
    assert kept == pytest.approx(inside / 20000 * line.length, abs=0.1)
    assert grid.frame == (100.0, 100.0)


def test_sizes_of_a_piece_share_their_place_and_pieces_do_not_overlap():
    sheet = nest_sheet(THREE, 1200.0)
    boxes = []
    outlines = [i for i in sheet.inks if i.path.closed]
    for k in range(len(NAMES)):
        of_piece = outlines[k * 3:(k + 1) * 3]
        assert [i.layer for i in of_piece] == ["Size 1", "Size 4", "Size 8"]
        lefts = [i.path.bounds[0] for i in of_piece]
        assert max(lefts) - min(lefts) < 1e-6
        b = [i.path.bounds for i in of_piece]
        boxes.append((min(x[0] for x in b), min(x[1] for x in b), max(x[2] for x in b), max(x[3] for x in b)))
    for i, a in enumerate(boxes):
        for b in boxes[i + 1:]:
            assert a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]


def test_same_bytes_twice_and_nothing_half_written(printed, tmp_path):
    paper, path = printed
    print_pattern(THREE, tmp_path / "again.pdf", paper)
    assert (tmp_path / "again.pdf").read_bytes() == path.read_bytes()
    broken = replace(THREE, garments=(THREE.garments[0], Garment(()), THREE.garments[2]))
    with pytest.raises(Exception, match="piece"):
        print_pattern(broken, tmp_path / "broken.pdf", paper)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["again.pdf"]


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_whole_dress_in_ten_sizes_is_sound(tmp_path, paper):
    print_pattern(concert_dress(), tmp_path / "dress.pdf", paper)
    with pikepdf.open(tmp_path / "dress.pdf") as pdf:
        assert 30 < len(pdf.pages) < 80
        assert pdf.check_pdf_syntax() == []
        assert len(pdf.Root.OCProperties.OCGs) == 12
    # The first page holds everything that is said once, above the bottom margin.
    boxes = [d.path.bounds for d in drawn(tmp_path / "dress.pdf")[0] if d.rectangle]
    assert any(b[2] - b[0] == pytest.approx(100.0, abs=0.005) for b in boxes)
    assert min(b[1] for b in boxes) > 8


def test_a_full_first_page_turns_over(tmp_path):
    long = replace(THREE, cloth="cotton lawn, " * 120)
    print_pattern(long, tmp_path / "p.pdf", "letter")
    first, second = drawn(tmp_path / "p.pdf")[:2]
    assert not any(d.rectangle for d in first)
    assert any(d.rectangle and d.layer == "All sizes" for d in second)
