"""Wide sheet, projector pages, SVG and DXF, read back with other libraries than wrote them."""

import os
from pathlib import Path as FilePath

import ezdxf
import pypdfium2
import pytest
import svgelements
from pdf_reading import drawn, page_sizes, squares_by_pdfium, words

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.cutting.allowances import cutting_line
from toilewright.geometry import Path
from toilewright.output.before_after import changed_pieces, write_before_after
from toilewright.output.dxf import write_dxf
from toilewright.output.projector import write_projector
from toilewright.output.sheet import write_sheet
from toilewright.output.svg import write_svg
from toilewright.pattern import Cut, Dart, Edge, EdgeKind, Garment, Grain, Notch, Piece

DRESS = dress_for(body_of("4"))
GOLDEN = FilePath(__file__).parent / "golden"


def pocket(width: float = 120.0) -> Garment:
    """A small piece with one of everything: fold, hem, dart, notch, grain."""
    a, b, c, d = 0j, complex(width, 0), complex(width - 10, 150), 150j
    side = Path.cubic(b, b + 50j, c - 50j + 4, c)
    edges = (Edge("bottom", Path.line(a, b), EdgeKind.HEM, 30.0), Edge("side", side), Edge("top", Path.line(c, d)),
             Edge("centre", Path.line(d, a), EdgeKind.FOLD, 0.0))
    return Garment((Piece("pocket", edges, (Dart("top dart", "top", 40.0, 52.0, complex(width - 56, 100)),),
                          (Notch("side notch", "side", 60.0, 2),), Grain(40 + 20j, 40 + 80j), cut=Cut(2)),))


def same_as_golden(found: bytes, name: str) -> None:
    """Compare with a kept file; with TOILEWRIGHT_NEW_GOLDEN set, keep the new one to be looked at."""
    path = GOLDEN / name
    if os.environ.get("TOILEWRIGHT_NEW_GOLDEN"):
        path.write_bytes(found)
    assert found.decode() == path.read_text(encoding="utf-8")


# -- sheet and projector ---------------------------------------------------------------------------


def test_sheet_is_one_page_at_true_scale(tmp_path):
    write_sheet(DRESS, tmp_path / "s.pdf", title="Concert dress", note="size 4, Åse")
    (size,) = page_sizes(tmp_path / "s.pdf")
    assert size[0] == pytest.approx(max(914.0, DRESS.piece("waistband").outline.bounds[2] + 30 + 28), abs=0.01)
    (page,) = drawn(tmp_path / "s.pdf")
    for piece in DRESS.pieces:
        for want in cutting_line(piece):
            chord = want.end - want.start
            assert any(abs(d.path.length - want.length) < 0.005 and abs(d.path.end - d.path.start - chord) < 0.005
                       for d in page), piece.name
    x0, y0, x1, y1 = (f(d.path.bounds[k] for d in page) for k, f in enumerate((min, min, max, max)))
    assert x0 > 0 and y0 > 0 and x1 < size[0] and y1 < size[1]
    assert any(s == pytest.approx((100.0, 100.0), abs=0.01) for s in squares_by_pdfium(tmp_path / "s.pdf"))
    assert "size 4, Åse" in words(tmp_path / "s.pdf")[0]


@pytest.mark.parametrize("dark", [False, True])
def test_projector_has_a_grid_and_a_page_for_each_piece(tmp_path, dark):
    write_projector(DRESS, tmp_path / "p.pdf", dark=dark)
    pages, sizes = drawn(tmp_path / "p.pdf"), page_sizes(tmp_path / "p.pdf")
    assert len(pages) == 1 + len(DRESS.pieces)
    assert any(d.rectangle and d.path.bounds[2] - d.path.bounds[0] == pytest.approx(100.0, abs=0.01)
               and d.width == pytest.approx(2.0, abs=0.01) for d in pages[0])
    for page, size, piece, text in zip(pages[1:], sizes[1:], DRESS.pieces, words(tmp_path / "p.pdf")[1:], strict=True):
        x0, y0, x1, y1 = Path.joined(cutting_line(piece)).bounds
        assert size == pytest.approx((x1 - x0 + 80, y1 - y0 + 80), abs=0.05)
        assert piece.name.upper() in text
        assert max(d.width for d in page) == pytest.approx(2.0, abs=0.01)
    pdf = pypdfium2.PdfDocument(tmp_path / "p.pdf")
    try:
        corner = pdf[1].render(scale=0.1).to_numpy()[1, 1]
    finally:
        pdf.close()
    assert corner.max() < 20 if dark else corner.min() > 235


# -- SVG -------------------------------------------------------------------------------------------


def test_svg_is_true_millimetres_and_keeps_curves(tmp_path):
    write_svg(DRESS, tmp_path / "p.svg", note="size 4")
    drawing = svgelements.SVG.parse(str(tmp_path / "p.svg"), ppi=25.4, reify=True)
    shapes = [e for e in drawing.elements() if isinstance(e, svgelements.Path)]
    cut = [e for e in shapes if e.values.get("class") == "cutting-line"]
    wanted = [(e, p.name) for p in DRESS.pieces for k, e in zip(p.edges, cutting_line(p), strict=True)
              if k.kind is not EdgeKind.FOLD]
    assert len(cut) == len(wanted)
    for (want, name), shape in zip(sorted(wanted, key=lambda w: w[0].length), sorted(cut, key=lambda s: s.length()),
                                   strict=True):
        assert shape.length(error=1e-6) == pytest.approx(want.length, abs=0.02), name
    assert any(isinstance(s, svgelements.CubicBezier) for e in cut for s in e)


def test_svg_groups_are_named_once(tmp_path):
    from lxml import etree

    write_svg(DRESS, tmp_path / "p.svg")
    root = etree.parse(str(tmp_path / "p.svg")).getroot()
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert {"bodice-front", "bodice-front-cutting-line", "bodice-front-seam-line", "sleeve-notch"} <= set(ids)
    assert root.get("width").endswith("mm")
    assert root.get("viewBox").split()[2] == root.get("width")[:-2]


def test_svg_of_a_pocket_is_as_kept(tmp_path):
    write_svg(pocket(), tmp_path / "p.svg", note="for Åse’s “best” dress")
    same_as_golden((tmp_path / "p.svg").read_bytes(), "pocket.svg")


def test_before_and_after_of_a_pocket_is_as_kept(tmp_path):
    write_before_after(pocket(), pocket(130.0), tmp_path / "b.svg", {"pocket": "wider by 1 cm"})
    same_as_golden((tmp_path / "b.svg").read_bytes(), "pocket-before-after.svg")
    assert changed_pieces(pocket(), pocket(130.0)) == ("pocket",)
    assert changed_pieces(pocket(), pocket()) == ()


# -- DXF -------------------------------------------------------------------------------------------


def test_dxf_is_sound_r12_with_a_block_for_each_piece(tmp_path):
    write_dxf(DRESS, tmp_path / "p.dxf", "bust 4, hip 6 (Åse)", "Concert dress")
    document = ezdxf.readfile(tmp_path / "p.dxf")
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert document.dxfversion == "AC1009"
    names = [b.name for b in document.blocks if not b.name.startswith("*")]
    assert len(names) == len(DRESS.pieces)
    assert sorted(i.dxf.name for i in document.modelspace().query("INSERT")) == sorted(names)


def test_dxf_layers_carry_what_they_should(tmp_path):
    write_dxf(DRESS, tmp_path / "p.dxf", "4")
    blocks = ezdxf.readfile(tmp_path / "p.dxf").blocks
    for piece in DRESS.pieces:
        block = blocks[f"{piece.name.replace(' ', '_').upper()}-4"]
        (boundary,), (sewn,) = block.query('POLYLINE[layer=="1"]'), block.query('POLYLINE[layer=="14"]')
        for line, path in ((boundary, Path.joined(cutting_line(piece))), (sewn, piece.outline)):
            assert line.is_closed
            points = [complex(v.dxf.location.x, v.dxf.location.y) for v in line.vertices]
            assert max(path.nearest(p)[1] for p in points) < 1e-3
            assert Path.polyline((*points, points[0])).area() == pytest.approx(path.area(), rel=1e-4)
        assert len(block.query('POINT[layer=="4"]')) == sum(n.count for n in piece.notches)
        assert len(block.query('POINT[layer=="13"]')) == len(piece.darts)
        assert len(block.query('LINE[layer=="6"]')) == int(piece.on_fold)
        assert len(block.query('LINE[layer=="7"]')) == 1
        said = {t.dxf.text for t in block.query('TEXT[layer=="15"]')}
        assert {f"PIECE NAME: {piece.name.upper()}", "SIZE: 4", f"QUANTITY: {piece.cut.count}", "UNITS: METRIC"} <= said


@pytest.mark.parametrize("write", [write_sheet, write_projector, write_svg,
                                   lambda g, p: write_dxf(g, p, "4")], ids=["sheet", "projector", "svg", "dxf"])
def test_same_bytes_twice_and_nothing_half_written(tmp_path, write):
    write(pocket(), tmp_path / "a")
    write(pocket(), tmp_path / "b")
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()
    with pytest.raises(OSError, match="gone"):
        write(pocket(), tmp_path / "gone" / "c")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a", "b"]
