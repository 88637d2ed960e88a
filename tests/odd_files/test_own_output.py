"""The program reads back what it printed itself: one size, its seam lines drawn inside the cutting lines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path as FilePath

import pytest

from toilewright.blocks.concert import concert_dress
from toilewright.errors import FileError
from toilewright.geometry.path import Path
from toilewright.geometry.point import unit
from toilewright.intake.broken import in_her_words
from toilewright.intake.drawing import Drawing, Look, Page, Stroke
from toilewright.intake.recognise import recognise
from toilewright.make.reading import Reading, read_pattern
from toilewright.output.dxf import write_dxf
from toilewright.output.projector import write_projector
from toilewright.output.sheet import write_sheet
from toilewright.output.svg import write_svg
from toilewright.output.tiled import write_tiled
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.pattern.walk import walk

NAMES = ("bodice front", "bodice back", "sleeve", "sleeve frill", "waist tie", "back neck facing")
"""Darts, a fold, an opening, a curve with eased notches, a deep hem, strips, and an edge without allowance."""

WRITERS: dict[str, Callable[[Garment, FilePath], None]] = {
    "a4.pdf": lambda g, p: write_tiled(g, p, "a4", note="size 5"),
    "letter.pdf": lambda g, p: write_tiled(g, p, "letter", note="size 5"),
    "sheet.pdf": lambda g, p: write_sheet(g, p, note="size 5"),
    "projector.pdf": lambda g, p: write_projector(g, p, note="size 5"),
    "dark.pdf": lambda g, p: write_projector(g, p, note="size 5", dark=True),
    "pieces.svg": lambda g, p: write_svg(g, p, note="size 5"),
    "pieces.dxf": lambda g, p: write_dxf(g, p, "5"),
}


@pytest.fixture(scope="module")
def printed() -> Garment:
    """Some pieces of the concert dress in size 5, with the seams between them."""
    dress = concert_dress().at("5")
    seams = tuple(s for s in dress.seams if all(r.piece in NAMES for r in (*s.a, *s.b)))
    return replace(dress, pieces=tuple(dress.piece(n) for n in NAMES), seams=seams)


@pytest.fixture(scope="module", params=WRITERS)
def read(request: pytest.FixtureRequest, printed: Garment, tmp_path_factory: pytest.TempPathFactory) -> Reading:
    """These pieces, written and read back."""
    path = tmp_path_factory.mktemp("own") / request.param
    WRITERS[request.param](printed, path)
    return read_pattern(path)


def _off(one: Piece, other: Piece) -> float:
    """How far the seam line of one leaves that of the other, once their lower left corners lie on each other (mm)."""
    a, b = one.outline, other.outline
    moved = b.moved(complex(a.bounds[0] - b.bounds[0], a.bounds[1] - b.bounds[1]))
    return max([a.nearest(p)[1] for p in moved.flatten(0.5)] + [moved.nearest(p)[1] for p in a.flatten(0.5)])


def test_one_size_and_every_piece_by_name(read: Reading):
    assert len(read.pattern.sizes) == 1
    assert {p.name for p in read.pattern.garments[0].pieces} == set(NAMES)
    assert not [f for f in read.findings if f.severity != "note"]


def test_the_seam_line_is_the_printed_one(read: Reading, printed: Garment):
    assert {n: _off(printed.piece(n), read.pattern.garments[0].piece(n)) for n in NAMES} == {
        n: pytest.approx(0.0, abs=0.1) for n in NAMES}


def test_edges_and_allowances(read: Reading, printed: Garment):
    for name in NAMES:
        was, now = printed.piece(name), read.pattern.garments[0].piece(name)
        assert {e.name: (e.kind, pytest.approx(e.allowance, abs=0.1), pytest.approx(e.path.length, abs=0.15))
                for e in was.edges} == {e.name: (e.kind, e.allowance, e.path.length) for e in now.edges}


def test_marks(read: Reading, printed: Garment):
    for name in NAMES:
        was, now = printed.piece(name), read.pattern.garments[0].piece(name)
        assert [(d.name, d.edge) for d in now.darts] == [(d.name, d.edge) for d in was.darts]
        for dart in was.darts:
            same = now.dart(dart.name)
            assert (same.start, same.end) == pytest.approx((dart.start, dart.end), abs=0.2)
            assert same.press == dart.press
        assert sorted((n.edge, n.name, n.count) for n in now.notches) == sorted(
            (n.edge, n.name, n.count) for n in was.notches)
        assert now.cut == was.cut
        assert {x.name for x in now.lines} == {x.name for x in was.lines}
        assert (now.grain is None) == (was.grain is None)
        if was.grain:
            turned = (now.grain.end - now.grain.start) * (was.grain.end - was.grain.start).conjugate()
            assert abs(turned.imag) < 0.005 * abs(turned)


def test_every_seam_sews(read: Reading, printed: Garment):
    walks = walk(read.pattern.garments[0])
    assert {w.seam for w in walks} == {s.name for s in printed.seams}
    assert [w.seam for w in walks if not w.sews] == []


def test_no_layer_makes_a_size(read: Reading):
    raw = [sizes[0] for sizes in read.raw.pieces]
    assert all(p.seam_drawn is not None for p in raw)
    assert read.raw.line == "cutting"
    assert read.raw.allowance == pytest.approx(15.0, abs=0.05)


@pytest.mark.parametrize(("name", "paper"), [("skirt tier", "a4"), ("front neck facing", "letter"),
                                             ("wrap skirt front", "a4")])
def test_one_piece_alone(name: str, paper: str, tmp_path: FilePath):
    """Straight lines only; one page only; four different allowances."""
    piece = concert_dress().at("9").piece(name)
    write_tiled(Garment((piece,)), tmp_path / "one.pdf", paper)
    reading = read_pattern(tmp_path / "one.pdf")
    assert [p.name for p in reading.pattern.garments[0].pieces] == [name]
    assert _off(piece, reading.pattern.garments[0].piece(name)) == pytest.approx(0.0, abs=0.1)


def _dashed_nest(grow: tuple[float, float]) -> Drawing:
    """A piece in two sizes, the smaller one dashed: the hem grows by one amount, the side by another (mm)."""
    def ring(right: float, low: float) -> Path:
        return Path.polyline((complex(0, low), complex(200 + right, low), complex(170 + right, 300), 300j,
                              complex(0, low)))
    strokes = (Stroke(ring(0, 0), Look(dash=(4.0, 2.0))), Stroke(ring(grow[0], -grow[1]), Look()))
    return Drawing((Page(0, 500, 500, strokes),), kind="svg")


@pytest.mark.parametrize("grow", [(10.0, 20.0), (6.0, 6.0), (15.0, 15.0)])
def test_a_smaller_size_in_dashes_is_no_seam_line(grow: tuple[float, float]):
    raw = recognise(_dashed_nest(grow))
    assert len(raw.sizes) == 2
    assert all(p.seam_drawn is None for p in raw.pieces[0])


def test_geometry_is_told_in_her_words():
    with pytest.raises(FileError, match=r'"odd\.svg".*simplify its outlines'), in_her_words("odd.svg"):
        unit(0j)
