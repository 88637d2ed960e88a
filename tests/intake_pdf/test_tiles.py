import pytest
from intake_pdf.tiled_pages import COLOURS, Printed, nest, write_tiled

from toilewright.errors import FileError
from toilewright.geometry.path import Path
from toilewright.intake.drawing import Drawing, Look, Page, Stroke
from toilewright.intake.pdf import read_pdf
from toilewright.intake.squares import find_test_square
from toilewright.intake.tile_sort import sort_pages
from toilewright.intake.tiles import join_pages

CONVENTIONS = {
    "cut at butting borders": Printed(),
    "cut, framed": Printed(frame=True),
    "cut, framed, labelled": Printed(frame=True, labels="cell"),
    "cut, overlapping": Printed(overlap=12.0),
    "cut, overlapping, framed, marks": Printed(overlap=10.0, frame=True, marks=True, labels="rc"),
    "cut, column by column": Printed(order="columns"),
    "cut, counted, with a title page": Printed(labels="count", title=True),
    "clipped": Printed(borders="clip"),
    "clipped, overlapping": Printed(borders="clip", overlap=15.0, frame=True, marks=True, labels="cell"),
    "clipped, column by column, title": Printed(borders="clip", order="columns", title=True),
    "letter paper, no margin": Printed(paper=(215.9, 279.4), margin=0.0),
}


def joined_sheet(path):
    return join_pages(read_pdf(path))


def assert_same_drawing(sheet, drawn, tolerance=0.05):
    """Each line is there once, whole, in its true place (but for one shift of the whole sheet), and nothing else."""
    strokes = [s for s in sheet.pages[0].strokes if s.look.colour in COLOURS]
    assert len(strokes) == len(drawn) == len([s for s in sheet.pages[0].strokes if s.path.length > 250])
    low = min(complex(*s.path.bounds[:2]).real for s in strokes), min(s.path.bounds[1] for s in strokes)
    was = min(p.bounds[0] for p, _ in drawn), min(p.bounds[1] for p, _ in drawn)
    shift = complex(was[0] - low[0], was[1] - low[1])
    left = list(strokes)
    for path, size in drawn:
        found = min((s for s in left if s.look.colour == COLOURS[size]),
                    key=lambda s: abs(s.path.nodes[0] + shift - path.nodes[0]) + abs(s.path.length - path.length))
        left.remove(found)
        assert found.path.closed
        assert found.path.length == pytest.approx(path.length, abs=tolerance)
        back = found.path.moved(shift)
        assert max(path.nearest(p)[1] for p in back.flatten(1.0)[::4]) < tolerance
        assert max(back.nearest(p)[1] for p in path.nodes) < tolerance


@pytest.mark.parametrize("convention", CONVENTIONS.values(), ids=CONVENTIONS)
def test_rejoined_equals_the_drawing(tmp_path, convention):
    drawn = write_tiled(tmp_path / "t.pdf", convention)
    sheet = joined_sheet(tmp_path / "t.pdf")
    assert [p.number for p in sheet.pages] == [0]
    assert_same_drawing(sheet, drawn)


@pytest.mark.parametrize("borders", ["cut", "clip"])
def test_a_line_moved_by_a_millimetre_is_noticed(tmp_path, borders):
    drawn = write_tiled(tmp_path / "t.pdf", Printed(borders=borders))
    moved = [(drawn[0][0].moved(1.0), drawn[0][1]), *drawn[1:]]
    with pytest.raises(AssertionError):
        assert_same_drawing(joined_sheet(tmp_path / "t.pdf"), moved)


@pytest.mark.parametrize("borders", ["cut", "clip"])
@pytest.mark.parametrize("labels", ["", "cell"])
def test_a_missing_page_is_named_by_row_and_column(tmp_path, borders, labels):
    write_tiled(tmp_path / "t.pdf", Printed(borders=borders, labels=labels, missing=(4,)))
    with pytest.raises(FileError, match="row 2, column 2"):
        joined_sheet(tmp_path / "t.pdf")


@pytest.mark.parametrize("borders", ["cut", "clip"])
@pytest.mark.parametrize("labels", ["", "cell"])
def test_a_mirrored_page_is_named(tmp_path, borders, labels):
    write_tiled(tmp_path / "t.pdf", Printed(borders=borders, labels=labels, mirrored=3))
    with pytest.raises(FileError, match="Page 4 is printed mirrored"):
        joined_sheet(tmp_path / "t.pdf")


@pytest.mark.parametrize("borders", ["cut", "clip"])
@pytest.mark.parametrize("frame", [False, True])
def test_a_page_of_another_scale_is_named(tmp_path, borders, frame):
    write_tiled(tmp_path / "t.pdf", Printed(borders=borders, frame=frame, shrunk=4))
    with pytest.raises(FileError, match=r"Page 5 is printed at 97\.0 %"):
        joined_sheet(tmp_path / "t.pdf")


@pytest.mark.parametrize("borders", ["cut", "clip"])
def test_pages_in_the_wrong_order_are_put_right(tmp_path, borders):
    drawn = write_tiled(tmp_path / "t.pdf", Printed(borders=borders, swapped=(1, 5)))
    sheet = joined_sheet(tmp_path / "t.pdf")
    assert_same_drawing(sheet, drawn)
    assert "pages-reordered" in [f.code for f in sheet.findings]


def test_the_test_square_of_a_title_page_is_kept(tmp_path):
    write_tiled(tmp_path / "t.pdf", Printed(title=True))
    sheet = joined_sheet(tmp_path / "t.pdf")
    square = find_test_square(sheet)
    assert (square.width, square.height, square.nominal) == pytest.approx((50, 50, 50), abs=0.01)
    assert any(w.text == "Choir dress" for w in sheet.pages[0].words)


def test_marks_and_labels_do_not_stay_on_the_sheet(tmp_path):
    write_tiled(tmp_path / "t.pdf", Printed(overlap=10.0, frame=True, marks=True, labels="cell"))
    page = joined_sheet(tmp_path / "t.pdf").pages[0]
    assert {s.look.colour for s in page.strokes} == set(COLOURS)
    assert not page.words


def test_a_single_sheet_passes_through():
    stroke = Stroke(nest()[0][0], Look(), 1)
    sheet = join_pages(Drawing((Page(1, 600, 800, (stroke,)),)))
    assert sheet.pages[0].number == 0
    assert sheet.pages[0].strokes[0].path == stroke.path


def test_a_short_line_within_an_overlap_is_kept_once(tmp_path):
    tick = Path.polyline((185 + 100j, 189 + 100j))
    drawn = [*nest(), (tick, 0)]
    write_tiled(tmp_path / "t.pdf", Printed(borders="clip", overlap=15.0), drawn)
    strokes = joined_sheet(tmp_path / "t.pdf").pages[0].strokes
    assert len([s for s in strokes if s.path.length < 10]) == 1


def test_pages_that_share_nothing_lie_side_by_side():
    def page(k):
        ring = nest()[3 * k][0]
        return Page(k + 1, 800, 800, (Stroke(ring, Look(), k + 1),))
    sheet = join_pages(Drawing((page(0), page(1))))
    a, b = (s.path.bounds for s in sheet.pages[0].strokes)
    assert a[2] < b[0]
    assert [f.code for f in sheet.findings] == ["pages-separate"]


@pytest.mark.parametrize("convention", ["cut, overlapping, framed, marks", "clipped, column by column, title"])
def test_the_sheet_tells_where_each_page_lies(tmp_path, convention):
    write_tiled(tmp_path / "t.pdf", CONVENTIONS[convention])
    pages = read_pdf(tmp_path / "t.pdf").pages
    sheet = joined_sheet(tmp_path / "t.pdf").pages[0]
    assert [one.number for one in sheet.laid] == [p.number for p in pages]
    assert [one.number for one in sheet.laid if one.apart] == ([1] if CONVENTIONS[convention].title else [])
    lines = [s.path for s in sheet.strokes if s.look.colour in COLOURS]
    for page, laid in zip(pages, sheet.laid, strict=True):
        assert (laid.width, laid.height) == (page.width, page.height)
        seen = [s.path.point_at(s.path.length / 2) for s in page.strokes if s.look.colour in COLOURS]
        # What is clipped is drawn beyond the page too; only what shows is on the sheet.
        seen = [p for p in seen if 15 < p.real < page.width - 15 and 15 < p.imag < page.height - 15]
        assert all(min(line.nearest(p + laid.at)[1] for line in lines) < 0.05 for p in seen)


def rectangle(x, y, width, height):
    corners = [complex(x, y), complex(x + width, y), complex(x + width, y + height), complex(x, y + height)]
    return Path.polyline([*corners, corners[0]])


@pytest.mark.parametrize(("drawn", "framed"), [
    ([rectangle(10, 10, 190, 277)], True),
    ([rectangle(10, 40, 150, 200), rectangle(10, 45, 145, 190)], False),
    ([rectangle(10, 40, 544, 200)], False),
], ids=["one within the paper", "one in another", "running off the paper"])
def test_a_rectangle_is_a_frame_or_a_piece(drawn, framed):
    page = Page(1, 210.0, 297.0, tuple(Stroke(p, Look("ink")) for p in drawn), ())
    tile, = sort_pages([page])
    assert (tile.frame is not None) is framed
    assert len(tile.strokes) == (0 if framed else len(drawn))
