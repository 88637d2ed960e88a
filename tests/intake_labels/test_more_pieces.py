"""Trousers, princess panels, tunic and collar come back from their files with the names that alterations ask for."""

import pytest
from same_pattern import same

from toilewright.blocks import choir_trousers, choir_tunic, princess_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.geometry import Affine
from toilewright.intake.assemble import build_pattern
from toilewright.intake.labels import guess_labels
from toilewright.intake.open import open_drawing
from toilewright.intake.pdf import read_pdf
from toilewright.intake.recognise import recognise
from toilewright.intake.tiles import join_pages
from toilewright.output.printed_pattern import print_pattern
from toilewright.pattern import Pattern
from toilewright.pattern.walk import walk

SIZES = ("3", "5", "8")


def part(pattern):
    return Pattern(pattern.name, SIZES, tuple(pattern.at(s) for s in SIZES), None, pattern.cloth)


def read(drawing):
    raw = recognise(drawing)
    return build_pattern(raw, guess_labels(raw))


@pytest.mark.parametrize(("pattern", "seams", "but"), [
    (choir_trousers.choir_trousers(), choir_trousers.SEAMS, ("waistband",)),  # its marks may stand for many things
    (princess_dress.princess_dress(), princess_dress.SEAMS, ()),
    (choir_tunic.choir_tunic(), choir_tunic.SEAMS, ("collar",))])
def test_our_own_sheets_come_back(pattern, seams, but, tmp_path):
    pattern = part(pattern)
    print_pattern(pattern, tmp_path / "bought.pdf", "sheet")
    now, findings = read(join_pages(read_pdf(tmp_path / "bought.pdf")))
    assert not findings
    for piece in pattern.garments[0].pieces:
        if piece.name in but:
            continue
        edge = piece.edges[0].name
        by = now.garments[0].piece(piece.name).edge(edge).path.start - piece.edges[0].path.start
        only, back = (Pattern("", SIZES, tuple(type(g)((g.piece(piece.name),)) for g in p.garments))
                      for p in (pattern, now))
        dartless = tuple(g.pieces[0].landmark("bust point") for g in back.garments)
        if piece.name == "bodice front" and dartless == (None,) * 3:  # nothing on a tunic shows the bust point
            only = Pattern("", SIZES, tuple(
                type(g)((without(g.pieces[0], "bust point"),)) for g in only.garments))
        same(back, only, Affine.shift(by), tolerance=0.2)  # a folded mouth in print
    assert {s.name: (s.a, s.b) for s in now.garments[0].seams} == {s.name: (s.a, s.b) for s in seams}
    for garment in now.garments:
        assert [w.seam for w in walk(garment) if not w.sews] == []


def without(piece, landmark):
    from dataclasses import replace

    return replace(piece, landmarks=tuple(m for m in piece.landmarks if m.name != landmark))


def test_levels_of_a_leg_keep_their_names_in_a_nest_of_ten_sizes(tmp_path):
    """Words stand on the lines of one size; the thigh line of a size lies where the crotch line of another does."""
    trousers = choir_trousers.choir_trousers()
    print_pattern(trousers, tmp_path / "bought.pdf", "sheet")
    now, _ = read(join_pages(read_pdf(tmp_path / "bought.pdf")))
    for size in trousers.sizes:
        for name in ("trouser front", "trouser back"):
            was, piece = trousers.at(size).piece(name), now.at(size).piece(name)
            by = piece.landmark("crotch point") - was.landmark("crotch point")
            for line in was.lines:
                start = piece.line(line.name).start
                assert start == pytest.approx(line.path.start + by, abs=0.3), (size, name, line.name)


# -- a sheet in other conventions: inches, no layers, other words, the other hand, upside down, points along curves --

INCH = 25.4
WORDS = {"trouser front": "PANTS FRONT", "trouser back": "PANTS BACK", "waistband": "WAISTBAND",
         "bodice front": "CENTER FRONT PANEL", "bodice side front": "SIDE FRONT PANEL",
         "bodice back": "CENTER BACK PANEL", "bodice side back": "SIDE BACK PANEL"}


def sheet_in_inches(garment, names, path, flip):
    """An SVG whose user unit is an inch; every piece is a chain of short straight lines at its cutting line."""
    body, x = [], 1.0
    for name in names:
        piece = garment.piece(name)
        if flip:
            piece = piece.mirrored(0j, 1j)
        outline = [p for line in cutting_line(piece) for p in line.flatten(0.3)[:-1]]
        left, top = min(p.real for p in outline), max(p.imag for p in outline)

        def put(p, left=left, top=top, x=x):
            return f"{x + (p.real - left) / INCH:.4f},{1 + (top - p.imag) / INCH:.4f}"

        def drawn(points, closed=False, put=put):
            return f'<path d="M{" L".join(map(put, points))}{" Z" if closed else ""}"/>'
        body.append(drawn(outline, closed=True))
        for dart in piece.darts:
            first, second = piece.feet(dart)
            body += [drawn((first, dart.apex)), drawn((dart.apex, second))]
        tail, head = piece.grain.start, piece.grain.end
        barb = (head - tail) / abs(head - tail) * 9
        body += [drawn((tail, head)), drawn((head - barb + barb * 0.5j, head, head - barb - barb * 0.5j))]
        at = put((tail + head) / 2 + 12).split(",")
        body.append(f'<text x="{at[0]}" y="{at[1]}" font-size="0.3" stroke="none" fill="black">{WORDS[name]}</text>')
        for i, edge in enumerate(e for e in piece.edges if e.allowance != 15.0):
            body.append(f'<text x="{at[0]}" y="{float(at[1]) + 0.4 * i + 0.4:.3f}" font-size="0.2" stroke="none" '
                        f'fill="black">{edge.name} {edge.allowance / 10:g} cm</text>')
        x += (max(p.real for p in outline) - left) / INCH + 1.0
    high = 46
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{x:.3f}in" height="{high}in" viewBox="0 0 {x:.3f} {high}">'
        f'<g fill="none" stroke="black" stroke-width="0.02">{"".join(body)}</g>'
        '<text x="1" y="45" font-size="0.4">Seam allowance 5/8 in included</text></svg>', encoding="utf-8")


@pytest.mark.parametrize("flip", [False, True], ids=["usual hand", "other hand"])
@pytest.mark.parametrize(("garment", "names"), [
    (choir_trousers.choir_trousers().at("7"), ("trouser back", "trouser front", "waistband")),
    (princess_dress.princess_dress().at("2"),
     ("bodice side front", "bodice back", "bodice side back", "bodice front"))])
def test_a_sheet_drawn_by_others_gets_the_same_names(garment, names, flip, tmp_path):
    sheet_in_inches(garment, names, tmp_path / "sheet.svg", flip)
    now, _ = read(join_pages(open_drawing(tmp_path / "sheet.svg")))
    found = now.garments[0]
    assert {p.name for p in found.pieces} == set(names)
    for name in names:
        was, read_back = garment.piece(name), found.piece(name)
        assert {e.name for e in read_back.edges} == {e.name for e in was.edges}
        assert [d.name for d in read_back.darts] == [d.name for d in was.darts]
        for edge in was.edges:
            long = was.sewn_length(edge.name)  # the sheet says 5/8 in where 15 mm were drawn
            assert read_back.sewn_length(edge.name) == pytest.approx(long, abs=3.0), edge.name
    told = {s.name for s in found.seams}
    assert told >= ({"trouser side seam", "inseam"} if "trouser front" in names else
                    {"princess seam front", "princess seam back", "side seam", "shoulder", "side shoulder"})
