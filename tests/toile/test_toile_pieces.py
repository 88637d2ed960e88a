"""The pieces of a toile: the same seam lines, wide allowances, balance lines right across."""

from pathlib import Path

import pytest

from toilewright import demo
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.fit.toile.pieces import CURVED, HEM, WIDE, toile_of
from toilewright.known import asked
from toilewright.make.deliver import TOILE_FILES
from toilewright.make.outcome import advise_size, make_up
from toilewright.pattern.parts import EdgeKind

DRESS = concert_dress().at("4")
TOILE = toile_of(DRESS)


def test_it_is_the_main_pieces_in_the_same_seam_lines():
    assert {p.name for p in TOILE.pieces} == {"bodice front", "bodice back", "sleeve", "skirt front", "skirt back",
                                             "wrap skirt front", "wrap skirt back"}
    for piece in TOILE.pieces:
        was = DRESS.piece(piece.name)
        assert [e.path for e in piece.edges] == [e.path for e in was.edges] and piece.darts == was.darts
    assert {r.piece for s in TOILE.seams for r in (*s.a, *s.b)} <= {p.name for p in TOILE.pieces}
    assert {"shoulder", "side seam", "armhole", "waist"} <= {s.name for s in TOILE.seams}


def test_seams_can_be_let_out_and_curves_are_not_in_the_way():
    for piece in TOILE.pieces:
        for edge in piece.edges:
            wide = HEM if edge.kind is EdgeKind.HEM else CURVED if edge.name in ("neck", "armhole", "cap") else WIDE
            assert edge.allowance == (0.0 if edge.kind is EdgeKind.FOLD else max(wide, edge.allowance))
        assert cutting_line(piece)


@pytest.mark.parametrize(("piece", "lines"), [
    ("bodice front", {"bust", "grain"}), ("bodice back", {"bust", "grain"}), ("skirt front", {"hip", "grain"}),
    ("wrap skirt front", {"hip", "grain", "centre"})])
def test_balance_lines_run_from_edge_to_edge(piece, lines):
    drawn = TOILE.piece(piece)
    names = {line.name for line in drawn.lines if line.name.endswith("balance line")}
    assert names == {f"{name} balance line" for name in lines}
    for line in drawn.lines:
        if line.name in names:
            away = [drawn.outline.nearest(end)[1] for end in (line.path.start, line.path.end)]
            assert max(away) < 0.1 and line.path.length > 150


def test_the_bust_line_of_the_back_meets_that_of_the_front_at_the_side():
    front, back = TOILE.piece("bodice front"), TOILE.piece("bodice back")
    high = [p.line("bust balance line").start.imag for p in (front, back)]
    arms = [p.landmark("underarm").imag for p in (front, back)]
    assert high[0] - arms[0] == pytest.approx(high[1] - arms[1], abs=6.0)


@pytest.mark.parametrize(("pattern", "left_out"), [
    (princess_dress, {"front neck facing", "back neck facing"}), (choir_trousers, {"waistband"}),
    (choir_tunic, {"collar"})])
def test_patterns_of_other_kinds_have_their_toile(pattern, left_out):
    garment = pattern().at("4")
    toile = toile_of(garment)
    assert {p.name for p in garment.pieces} - {p.name for p in toile.pieces} == left_out
    assert all(cutting_line(p) for p in toile.pieces)


def test_an_uneven_figure_gets_a_toile_for_both_sides():
    uneven = alter(DRESS, [Order("forward shoulder", asked(10.0), {"side": "left"})]).garment
    toile = toile_of(uneven)
    assert any("left" in p.name for p in toile.pieces)
    assert all(cutting_line(p) for p in toile.pieces)
    opened = next(p for p in toile.pieces if p.name == "bodice front")
    assert any(e.name == "armhole left" and e.allowance == CURVED for e in opened.edges)


def test_a_make_prints_it_where_it_is_asked_for(table, tmp_path):
    from toilewright.make.deliver import write_outcome

    path = table / "toile-make.toml"
    path.write_text((table / demo.MAKE).read_text(encoding="utf-8") + '\n[print]\npapers = ["a4"]\ntoile = true\n',
                    encoding="utf-8")
    outcome = make_up(advise_size(path))
    names = {p.name for p in write_outcome(outcome, tmp_path)}
    assert names & set(TOILE_FILES) == {"toile-a4.pdf"} and "pieces-a4.pdf" in names
    assert (tmp_path / "toile-a4.pdf").read_bytes().startswith(b"%PDF")


def test_the_readme_names_its_files():
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    assert all(f"`{name}`" in text for name in TOILE_FILES)
