"""What the guesses make of words, shapes and sheets that we did not draw ourselves."""

import json
from dataclasses import replace
from math import pi
from pathlib import Path as FilePath

import pytest
from raw_builders import mapped_raw, raw_pattern

from toilewright.blocks.chart import CHART
from toilewright.blocks.concert import concert_dress
from toilewright.geometry import Affine, Path
from toilewright.intake.amounts import edge_amount
from toilewright.intake.assemble import build_pattern
from toilewright.intake.charts import read_chart
from toilewright.intake.drawing import Word
from toilewright.intake.kinds import kind_of_name, line_name
from toilewright.intake.labels import guess_labels
from toilewright.intake.open import open_drawing
from toilewright.intake.piece_corners import rolled
from toilewright.intake.raw import RawPattern
from toilewright.intake.recognise import recognise
from toilewright.pattern import Cut, Edge, EdgeKind, Garment, Pattern, Piece

FOREIGN = FilePath(__file__).parent.parent / "data" / "foreign"
DRESS = concert_dress()
THREE = Pattern(DRESS.name, ("3", "4", "5"), tuple(DRESS.at(s) for s in ("3", "4", "5")))


@pytest.mark.parametrize(("text", "kind"), [
    ("front", "bodice front"), ("bodice back", "bodice back"), ("vorderteil", "bodice front"),
    ("rückenteil oberteil", "bodice back"), ("skirt back", "skirt back"), ("rock vorderteil", "skirt front"),
    ("front skirt", "skirt front"), ("wrap skirt front", "wrap skirt front"), ("sleeve", "sleeve"), ("ärmel", "sleeve"),
    ("ruffle for sleeve", "sleeve frill"), ("skirt frill", "skirt tier"), ("tier", "skirt tier"),
    ("front facing", "front neck facing"), ("back neck facing", "back neck facing"), ("waist band", "waistband"),
    ("belt", "waist tie"), ("tie", "waist tie"),
    ("pocket", None), ("facing", None), ("cuff", None), ("skirt side front", None), ("trouser front pocket", None),
    ("trouser front", "trouser front"), ("pants back", "trouser back"), ("hose vorderteil", "trouser front"),
    ("hinterhose", "trouser back"), ("pantalon devant", "trouser front"), ("short sleeve", "sleeve"),
    ("side front", "bodice side front"), ("side front panel", "bodice side front"),
    ("bodice side back", "bodice side back"), ("center front panel", "bodice front"),
    ("front, right side", "bodice front"),
    ("collar", "collar"), ("stehkragen", "collar"), ("back yoke", "back yoke"), ("yoke", "back yoke"),
    ("skirt yoke", None), ("waistband facing", None), ("trouser front facing", None),
])
def test_names_in_several_languages(text, kind):
    assert kind_of_name(text) == kind


@pytest.mark.parametrize(("text", "edge", "amount"), [
    ("hem 3 cm", "hem", 30.0), ("Hem allowance: 1 1/4 in", "hem", 31.75), ("Saumzugabe 4cm", "hem", 40.0),
    ("2 cm at centre back", "centre back", 20.0), ("Center back 5/8\"", "centre back", 15.875),
    ("side seam", "side seam", None),
    ("outer edge 0.6 cm, centre back 2 cm", "centre back", 20.0), ("1.5 cm seam allowance", "hem", None),
    ("Saum 1½ Zoll", "hem", 38.1), ("hem ¾ in", "hem", 19.05),
])
def test_allowances_in_words(text, edge, amount):
    assert edge_amount([Word(text, 0j, 4.0)], edge) == (amount if amount is None else pytest.approx(amount))


def test_lines_are_known_by_their_words():
    assert line_name("LENGTHEN OR SHORTEN HERE") == "lengthen or shorten"
    assert line_name("natural waistline") == "waist line"
    assert line_name("place pocket here") is None
    assert [line_name(words) for words in ("HIGH HIP", "hip line", "crotch line", "KNEE", "calf", "elbow line")] == [
        "high hip line", "hip line", "crotch line", "knee line", "calf line", "elbow line"]
    assert line_name("lengthen or shorten here, above the knee") == "lengthen or shorten"


def test_without_names_shape_and_marks_tell():
    names = {p[0].name: f"piece {i + 1}" for i, p in enumerate(raw_pattern(THREE).pieces)}
    raw = raw_pattern(THREE)
    wanted = ("bodice front", "bodice back", "sleeve", "skirt front", "skirt back")
    nameless = replace(raw, pieces=tuple(
        tuple(replace(p, name=names[p.name], words=(), cut_count=None, mirrored=None) for p in sizes)
        for sizes in raw.pieces if sizes[0].name in wanted))
    labels = guess_labels(nameless)
    assert {p.printed: p.name for p in labels.pieces} == {names[n]: n for n in wanted}
    assert {p.name: p.cut for p in labels.pieces}["sleeve"] == Cut(2, mirrored=True)
    _, findings = build_pattern(nameless, labels)
    assert {f.code for f in findings} == {"piece-by-shape"}
    assert all(s.confirmed for s in labels.seams if s.seam.name in ("shoulder", "side seam", "armhole", "waist"))


def test_a_drawn_seam_line_is_believed():
    piece = DRESS.at("4").piece("bodice back")
    raw = raw_pattern(THREE)
    both = replace(raw, pieces=(tuple(
        replace(p, seam_drawn=THREE.at(p.size).piece("bodice back").outline, words=()) for p in raw.pieces[1]),))
    pattern, _ = build_pattern(both, guess_labels(both))
    now = pattern.at("4").piece("bodice back")
    assert now.edge("centre back").allowance == pytest.approx(20.0, abs=0.2)  # measured, not said
    assert now.area == pytest.approx(piece.area, rel=1e-5)


def test_unknown_pieces_get_plain_edges_and_a_note():
    ring = Path.polyline((0j, 120 + 0j, 150 + 80j, 60 + 140j, -30 + 80j, 0j))
    raw = raw_pattern(THREE)
    pocket = replace(raw.pieces[0][0], name="pocket", outline=ring, notches=(), darts=(), lines=(), fold=None, words=())
    raw = replace(raw, pieces=(tuple(replace(pocket, size=s) for s in raw.sizes),))
    pattern, findings = build_pattern(raw, guess_labels(raw))
    assert [e.name for e in pattern.at("3").piece("pocket").edges] == [f"edge {i}" for i in range(1, 6)]
    assert [f.code for f in findings] == ["edges-unnamed"]


def test_the_same_name_twice_makes_one_edge():
    raw = raw_pattern(THREE)
    labels = guess_labels(raw)
    tie = next(p for p in labels.pieces if p.name == "waist tie")
    edges = tuple(replace(e, name="long edge", kind=EdgeKind.SEAM) if e.name == "end" else e for e in tie.edges)
    joined = replace(labels, pieces=(replace(tie, edges=edges),), seams=())
    pattern, _ = build_pattern(raw, joined)
    assert {e.name for e in pattern.at("3").piece("waist tie").edges} == {"long edge", "fold", "band end"}


def test_mouths_that_would_not_be_caught_are_redrawn_and_reported():
    raw = raw_pattern(THREE, at_seam=True)
    front = raw.pieces[0][0]
    dart = max(front.darts, key=lambda d: d.first.real)
    a, b = sorted(front.outline.nearest(p)[0] for p in (dart.first, dart.second))
    parts = front.outline.cut_at((a, b))
    middle = (dart.first + dart.second) / 2
    hollow = middle + 0.1 * (dart.apex - middle)
    cut = Path.joined([parts[0], Path.polyline((parts[0].end, hollow, parts[2].start)), parts[2]])
    raw = replace(raw, sizes=("3",), pieces=((replace(front, outline=cut),),))
    pattern, findings = build_pattern(raw, guess_labels(raw))
    assert any(f.code == "dart-mouth" for f in findings)
    was = DRESS.at("3").piece("bodice front")
    assert pattern.at("3").piece("bodice front").edge("side seam").path.length == pytest.approx(
        was.edge("side seam").path.length, abs=0.1)


def test_points_that_are_cut_off_square_are_one_corner():
    ring = (0j, 400 + 0j, 480 + 30j, 0 + 160j)  # a tie with a sharp end: the allowance is cut off there
    sides = [Path.line(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    piece = Piece("scarf", tuple(Edge(f"edge {i}", side) for i, side in enumerate(sides)))
    pattern = Pattern("scarf", ("1",), (Garment((piece,)),))
    raw = raw_pattern(pattern)
    assert len(raw.pieces[0][0].outline.nodes) > 6
    now, findings = build_pattern(raw, guess_labels(raw))
    assert {f.code for f in findings} == {"edges-unnamed"}
    assert now.at("1").piece("scarf").area == pytest.approx(piece.area, rel=1e-9)
    assert len(now.at("1").piece("scarf").edges) == 4


def test_double_lines_are_one():
    raw = raw_pattern(THREE)
    path = next(p for p, words in raw.pieces[0][1].lines if words == "lengthen or shorten")
    double = tuple(replace(p, lines=(*p.lines, (path.moved(8j), ""), (path.moved(90j), ""))) for p in raw.pieces[0])
    labels = guess_labels(replace(raw, pieces=(double,)))
    assert labels.pieces[0].lines == ("bust line", "lengthen or shorten", "", "line")


@pytest.mark.parametrize("corners", [0, 1, 2])
def test_round_pieces_have_one_edge(corners):
    k = 55.2284749831
    ring = Path((100 + 0j, 100j, -100 + 0j, -100j, 100 + 0j), (
        (100 + k * 1j, k + 100j), (-k + 100j, -100 + k * 1j), (-100 - k * 1j, -k - 100j), (k - 100j, 100 - k * 1j)))
    if corners:
        ring = Path((*ring.nodes[:3], ring.nodes[0]), (*ring.handles[:2], None))
    if corners == 1:
        ring = Path((0j, 0j), ((200 + 200j, -200 + 200j),))
    base = replace(raw_pattern(THREE).pieces[0][0], name="pocket", notches=(), darts=(), lines=(), fold=None, words=())
    sizes = tuple(replace(base, size=s, outline=ring.mapped(Affine.scale(f))) for s, f in (("1", 1.0), ("2", 1.1)))
    raw = RawPattern(("1", "2"), (sizes,), 10.0, "cutting", None)
    pattern, findings = build_pattern(raw, guess_labels(raw))
    assert {f.code for f in findings} == {"edges-unnamed"}
    assert len(pattern.at("2").piece("pocket").edges) == max(corners, 1)
    if not corners:
        assert pattern.at("1").piece("pocket").area == pytest.approx(pi * 90**2, rel=1e-3)


def test_an_outline_of_thousands_of_corners_is_read_in_bounded_time():
    edge = [complex(x, 5 * (x % 2)) for x in range(4000)]
    ring = Path.polyline((*edge, 4000 + 900j, 900j, edge[0]))
    pinked = replace(raw_pattern(THREE).pieces[0][0], outline=ring, notches=(), darts=(), lines=(), fold=None)
    raw = RawPattern(("3", "4"), ((replace(pinked, size="3"), replace(pinked, size="4")),), None, "seam", None)
    labels = guess_labels(raw)
    assert len(labels.pieces[0].edges) == 40
    assert {f.code for f in build_pattern(raw, labels)[1]} == {"edges-unnamed"}


def test_a_piece_of_a_known_name_but_another_shape_keeps_plain_edges():
    raw = raw_pattern(THREE)
    front = raw.pieces[0][1]
    side = rolled(front.outline, front.outline.nearest(front.fold[1])[0])
    side = side.split(side.length - abs(front.fold[0] - front.fold[1]))[0]
    other = side.mirrored(0j, 1j).reversed().with_ends(start=side.end, end=side.start)
    whole = replace(front, outline=Path.joined([side, other]), fold=None, darts=(), notches=())
    raw = replace(raw, sizes=("4",), pieces=((whole,),))
    labels = guess_labels(raw)
    assert all(e.name == f"edge {i}" for i, e in enumerate(labels.pieces[0].edges, start=1))
    assert [f.code for f in build_pattern(raw, labels)[1]] == ["edges-unnamed"]


def test_darts_that_cannot_be_trued_are_kept_and_reported():
    raw = raw_pattern(THREE)
    front = raw.pieces[0][1]
    dart = min(front.darts, key=lambda d: d.first.real)
    shut = replace(dart, second=dart.first)
    over = replace(dart, first=dart.first + 8, second=dart.second + 8)
    one_size = replace(raw, sizes=("4",))
    codes = {}
    for name, darts in (("shut", (shut,)), ("over", (dart, over))):
        sheet = replace(one_size, pieces=((replace(front, darts=darts, notches=()),),))
        pattern, findings = build_pattern(sheet, guess_labels(sheet))
        codes[name] = {f.code for f in findings}
        assert pattern.at("4").has("bodice front")
    assert codes == {"shut": {"dart-narrow"}, "over": {"dart-untrue"}}


def test_two_darts_are_numbered_alike_on_both_hands():
    raw = raw_pattern(THREE)
    back = raw.pieces[1][1]
    dart = back.darts[0]
    beside = replace(dart, first=dart.first + 60, second=dart.second + 60, apex=dart.apex + 60)
    twice = replace(back, darts=(dart, beside))
    sheet = replace(raw, sizes=("4",), pieces=((twice,),))
    f = Affine(0j, -1 + 0j, 900 + 0j)
    for drawn, place in ((sheet, Affine()), (mapped_raw(sheet, f), f)):
        pattern, _ = build_pattern(drawn, guess_labels(drawn))
        made = pattern.at("4").piece("bodice back")
        assert abs(made.dart("waist dart").apex - place(dart.apex)) < 0.1
        assert abs(made.dart("waist dart 2").apex - place(dart.apex + 60)) < 0.1


def test_a_waist_dart_alone_shows_the_bust_point_too():
    raw = raw_pattern(THREE)
    fronts = tuple(replace(p, darts=(min(p.darts, key=lambda d: d.first.real),)) for p in raw.pieces[0])
    pattern, _ = build_pattern(replace(raw, pieces=(fronts,)), guess_labels(replace(raw, pieces=(fronts,))))
    for size in THREE.sizes:
        was = DRESS.at(size).piece("bodice front").landmark("bust point")
        assert abs(pattern.at(size).piece("bodice front").landmark("bust point") - was) < 0.2


def seam_of(labels, name):
    return next(s for s in labels.seams if s.seam.name == name)


def test_a_wide_skirt_is_gathered_onto_the_waist():
    raw = raw_pattern(THREE)

    def wide(name, piece):
        width = 1.5 * DRESS.at(piece.size).piece(f"bodice {name}").sewn_length("waist")
        ring = Path.polyline((0j, width + 15, complex(width + 15, 630), 630j, 0j))
        return replace(piece, outline=ring, darts=(), notches=(), lines=(), fold=(630j, 0j))
    pieces = {p[0].name: p for p in raw.pieces}
    skirts = tuple(tuple(wide(n, p) for p in pieces[f"skirt {n}"]) for n in ("front", "back"))
    labels = guess_labels(replace(raw, pieces=(pieces["bodice front"], pieces["bodice back"], *skirts)))
    waist = seam_of(labels, "waist")
    assert waist.seam.ratio == pytest.approx(1.5, abs=0.01) and waist.confirmed
    assert seam_of(labels, "side seam").seam.ratio is None


def test_a_tier_on_a_bodice_without_a_skirt_is_gathered_onto_its_waist():
    raw = raw_pattern(THREE)
    kept = tuple(p for p in raw.pieces if p[0].name in ("bodice front", "bodice back", "skirt tier"))
    waist = seam_of(guess_labels(replace(raw, pieces=kept)), "waist").seam
    assert {r.piece for r in waist.b} == {"skirt tier"} and waist.ratio > 2


def test_the_recommended_cloth_is_read():
    raw = replace(raw_pattern(THREE), words=(Word("Cloth: lawn, light wool.", 0j, 4.0), Word("A title", 40j, 9.0)))
    pattern, _ = build_pattern(raw, guess_labels(raw))
    assert (pattern.name, pattern.cloth) == ("A title", "lawn, light wool")


# -- charts -----------------------------------------------------------------------------------------


def table(rows, unit="cm", title="Body measures in {}"):
    words = [Word(title.format(unit), 10 + 300j, 3.0)]
    for i, (name, values) in enumerate(rows):
        y = 290 - 6 * i
        words.append(Word(name, complex(10, y), 3.0))
        words += [Word(text, complex(80 + 15 * k, y + 0.1), 3.0) for k, text in enumerate(values)]
    return tuple(words)


def chart_of(words, sizes):
    return read_chart(RawPattern(sizes, (), None, "cutting", None, words))


def test_the_envelopes_chart_is_read_in_cm():
    rows = [(n, [f"{v / (1 if 'slope' in n else 10):g}" for v in values]) for n, values in CHART.rows]
    assert chart_of(table(rows), CHART.sizes) == CHART


def test_charts_in_inches_with_fractions_and_everyday_names():
    rows = [("Size", ["8", "10", "12"]), ("Bust", ["31 1/2", "32,5", "34"]), ("Waist", ["24", "25", "26 1/2"]),
            ("Back waist length", ["15 3/4", "16", "16 1/4"]), ("Price", ["1", "2", "3"])]
    chart = chart_of(table(rows, "inches"), ("8", "10", "12"))
    assert dict(chart.rows) == {
        "bust girth": pytest.approx((800.1, 825.5, 863.6)), "waist girth": pytest.approx((609.6, 635.0, 673.1)),
        "back neck point to waist": pytest.approx((400.05, 406.4, 412.75))}
    untold = chart_of(table(rows, "", "Chart"), ("8", "10", "12"))
    assert dict(untold.rows) == dict(chart.rows)


def test_rows_of_another_length_are_no_chart():
    assert chart_of(table([("Bust", ["80", "84"])]), ("8", "10", "12")) is None


# -- sheets of other programs -----------------------------------------------------------------------


@pytest.mark.parametrize("name", [
    "inkscape-layers.svg", "inkscape-plain.svg", "libreoffice-sheet.svg", "cairo-sheet.svg", "plain.dxf",
    "blocks-metric.dxf", "cairo-sheet.pdf", "inkscape-sheet.pdf"])
def test_foreign_sheets_become_patterns(name):
    raw = recognise(open_drawing(FOREIGN / name))
    pattern, findings = build_pattern(raw, guess_labels(raw))
    assert not [f for f in findings if f.code not in ("seam-lengths", "piece-by-shape", "dart-mouth")]
    for garment in pattern.garments:
        assert {p.name: len(p.edges) for p in garment.pieces} == {"bodice front": 6, "bodice back": 6, "sleeve": 4}
        front = garment.piece("bodice front")
        assert front.dart("bust dart").edge == "side seam" and front.edge("centre front").kind is EdgeKind.FOLD
        assert garment.piece("bodice back").dart("waist dart").edge == "waist"
        assert [n.name for n in garment.piece("sleeve").notches] == ["front notch", "shoulder point", "back notch"]


def curve_of(numbers):
    """A path of master.json."""
    start, *rest = ([complex(*n[i:i + 2]) for i in range(0, len(n), 2)] for n in numbers)
    return Path((start[0], *(p[-1] for p in rest)), tuple(tuple(p[:2]) if len(p) == 3 else None for p in rest))


@pytest.mark.parametrize(("name", "unit"), [("inkscape-plain.svg", "metric"), ("cairo-sheet.pdf", "metric"),
                                            ("inkscape-layers.svg", "inch")])
def test_foreign_sheets_come_back_at_the_seam_line_they_were_drawn_from(name, unit):
    master = json.loads((FOREIGN / "master.json").read_text())
    raw = recognise(open_drawing(FOREIGN / name))
    pattern, _ = build_pattern(raw, guess_labels(raw))
    for drawn in master["pieces"]:
        for size in master["sizes"]:
            truth, piece = drawn[unit][size], pattern.at(size).piece(drawn["name"].lower())
            seam = curve_of(truth["seam"])
            hung = next(e for e in piece.edges if e.name in ("hem", "waist")).path.start
            by = hung - min(seam.nodes, key=lambda p: p.real + p.imag)
            for edge in piece.edges:
                if not piece.darts_on(edge.name):
                    assert max(seam.nearest(p - by)[1] for p in edge.path.flatten(0.5)) < 0.1
            assert [d.edge for d in piece.darts] == [{"bodice front": "side seam", "bodice back": "waist"}[piece.name]
                                                     for _ in truth["darts"]]
