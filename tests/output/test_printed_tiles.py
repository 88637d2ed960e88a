"""Pages put together: the grid, the marks, and the whole drawing again from its tiles."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pdf_reading import drawn, page_sizes, squares_by_pdfium, words

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.cutting.allowances import cutting_line
from toilewright.errors import InputError, NameUnknown
from toilewright.geometry import Path
from toilewright.output.layout import rows_of
from toilewright.output.tiled import write_tiled
from toilewright.output.tiles import PAPERS, Tile, TileGrid, inked_tiles
from toilewright.pattern import Garment

DRESS = dress_for(body_of("4"))
SMALL = Garment(tuple(DRESS.piece(n) for n in ("bodice front", "front neck facing", "sleeve")))
SOME = settings(max_examples=40, deadline=None)


@pytest.fixture(scope="module", params=["a4", "letter"])
def tiled(request, tmp_path_factory):
    path = tmp_path_factory.mktemp("tiled") / "pieces.pdf"
    write_tiled(SMALL, path, request.param, title="Åse’s “concert” dress", note="size 4, Åse")
    return request.param, path


# -- the grid --------------------------------------------------------------------------------------

grids = st.builds(TileGrid, st.sampled_from(list(PAPERS.values())), st.floats(50, 3000), st.floats(50, 3000))


@SOME
@given(grids, st.floats(0, 1), st.floats(0, 1))
def test_every_point_of_the_sheet_is_one_pages_own(grid, u, v):
    x, y = u * grid.width, grid.height - v * grid.height
    own = [t for t in grid.tiles()
           if grid.core(t)[0] <= x < grid.core(t)[2] and grid.core(t)[1] < y <= grid.core(t)[3]]
    # The lowest line of the sheet may lie on the border of the last row.
    assert len(own) == 1 or y == grid.core(Tile(grid.rows - 1, 0))[1] or x == grid.core(Tile(0, grid.columns - 1))[2]


@SOME
@given(grids)
def test_neighbours_share_the_overlap_and_its_marks(grid):
    for tile in itertools.islice(grid.tiles(), 30):
        for side, other in grid.neighbours(tile).items():
            if other is None:
                continue
            a, b = grid.window(tile), grid.window(other)
            shared = (min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1]))
            assert min(shared) == pytest.approx(grid.overlap)
            mine, theirs = list(grid.marks(tile)), list(grid.marks(other))
            both = [p for p in mine if any(abs(p - q) < 1e-9 for q in theirs)]
            assert len(both) == 2, side
            for p in both:
                assert a[0] + 4 < p.real < a[2] - 4 and a[1] + 4 < p.imag < a[3] - 4


def test_pages_are_named_by_row_letter_and_column_number():
    assert [Tile(0, 0).name, Tile(1, 2).name, Tile(25, 9).name, Tile(26, 0).name] == ["A1", "B3", "Z10", "AA1"]


def test_pages_without_ink_are_left_out():
    grid = TileGrid(PAPERS["a4"], 3 * 184 + 10, 3 * 271 + 10)
    across = Path.line(complex(20, grid.height - 300), complex(500, grid.height - 300))
    assert inked_tiles(grid, [across]) == {Tile(1, 0), Tile(1, 1), Tile(1, 2)}


def test_a_sheet_for_thousands_of_pages_is_refused():
    with pytest.raises(InputError, match="print fewer pieces"):
        inked_tiles(TileGrid(PAPERS["a4"], 2e4, 2e4), [])


@SOME
@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50), st.floats(1, 700), st.floats(1, 500)), min_size=1,
                max_size=12), st.floats(300, 1200))
def test_pieces_in_rows_never_overlap(parts, width):
    boxes = [(x, y, x + w, y + h) for x, y, w, h in parts]
    shifts, wide, high = rows_of(boxes, width, 14.0)
    put = [(b[0] + s.real, b[1] + s.imag, b[2] + s.real, b[3] + s.imag) for b, s in zip(boxes, shifts, strict=True)]
    for b in put:
        assert b[0] > 13.9 and b[1] > 13.9 and b[2] < wide - 13.9 and b[3] < high - 13.9
    for a, b in itertools.combinations(put, 2):
        assert a[2] < b[0] - 13 or b[2] < a[0] - 13 or a[3] < b[1] - 13 or b[3] < a[1] - 13


# -- the file --------------------------------------------------------------------------------------


def test_page_boxes_are_the_papers(tiled):
    paper, path = tiled
    for size in page_sizes(path):
        assert size == pytest.approx(PAPERS[paper], abs=0.001)


def test_the_test_square_is_100_mm(tiled):
    _, path = tiled
    width, height = PAPERS[tiled[0]]
    squares = [d.path.bounds for d in drawn(path)[0] if d.rectangle]
    assert all(b[0] > 8 and b[1] > 8 and b[2] < width - 8 and b[3] < height - 8 for b in squares)
    sides = [(b[2] - b[0], b[3] - b[1]) for b in squares]
    assert any(s == pytest.approx((100.0, 100.0), abs=0.005) for s in sides)
    assert any(s == pytest.approx((100.0, 100.0), abs=0.005) for s in squares_by_pdfium(path))


def test_first_page_says_what_to_do_with_accents_and_quotes(tiled):
    _, path = tiled
    first, *rest = words(path)
    assert "Åse’s “concert” dress" in first
    assert "100 %" in first and "Map of the pages" in first
    assert all("A1" in page or "joins" in page for page in rest)


def rejoined(path, paper):
    """(window on the sheet, paths on the sheet) of every page after the first, placed by its label alone."""
    # Rows and columns follow from the labels; the sheet's height does not matter for comparing shapes.
    step, margin = TileGrid(PAPERS[paper], 1.0, 1.0).step, 8.0
    for page, text in list(zip(drawn(path), words(path), strict=True))[1:]:
        name = sorted({w for w in text.split() if w[0].isalpha() and w[1:].isdigit() and len(w) == 2},
                      key=lambda w: -text.split().count(w))[0]
        row, column = ord(name[0]) - ord("A"), int(name[1:]) - 1
        shift = complex(column * step[0] - margin, -row * step[1] - margin)
        frame = (complex(margin, margin) + shift,
                 complex(PAPERS[paper][0] - margin, PAPERS[paper][1] - margin) + shift)
        yield frame, [d.path.moved(shift) for d in page]


def test_tiles_rejoined_are_the_pieces(tiled):
    paper, path = tiled
    pages = list(rejoined(path, paper))
    lines = [p for _, found in pages for p in found]
    for piece in SMALL.pieces:
        for want in cutting_line(piece):
            # Lines that could be this one: same run of curves, somewhere else on the sheet.
            twins = [p for p in lines if len(p.nodes) == len(want.nodes) and abs(p.length - want.length) < 0.05
                     and abs((p.end - p.start) - (want.end - want.start)) < 0.01]
            assert twins, (piece.name, want.start)
            places = {(round(p.start.real, 1), round(p.start.imag, 1)) for p in twins}
            shift = twins[0].start - want.start
            for k in range(60):
                p = want.point_at(k / 59 * want.length) + shift
                shown = [found for (a, b), found in pages
                         if a.real - 0.01 <= p.real <= b.real + 0.01 and a.imag - 0.01 <= p.imag <= b.imag + 0.01]
                assert shown
                assert any(q.nearest(p)[1] < 0.05 for found in shown for q in found)
            assert len(places) <= 2


def test_curves_stay_curves(tiled):
    _, path = tiled
    curved = sum(h is not None for page in drawn(path)[1:] for d in page for h in d.path.handles)
    assert curved > 50


def test_the_same_garment_gives_the_same_bytes(tiled, tmp_path):
    paper, path = tiled
    write_tiled(SMALL, tmp_path / "again.pdf", paper, title="Åse’s “concert” dress", note="size 4, Åse")
    assert (tmp_path / "again.pdf").read_bytes() == path.read_bytes()


def test_an_unknown_paper_leaves_nothing_behind(tmp_path):
    with pytest.raises(NameUnknown, match="letter"):
        write_tiled(SMALL, tmp_path / "pieces.pdf", "leter")
    assert list(tmp_path.iterdir()) == []
