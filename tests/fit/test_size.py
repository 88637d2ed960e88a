"""Size advice: by the chart, then by the real ease of the pieces."""

import pytest

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.concert import concert_dress
from toilewright.body import body_of
from toilewright.errors import InputError
from toilewright.fit.chart_size import nearest_size
from toilewright.fit.size import advise
from toilewright.geometry import Path
from toilewright.pattern import BodyChart, Cut, Edge, EdgeKind, Garment, Grain, InnerLine, Pattern, Piece

INCH = 25.4
DRESS = concert_dress()


def tube(name, centre, waist, hip, armhole):
    """Half a front or back, straight-sided between bust or waist (top) and hip (bottom); mm."""
    names = ("hem", "side seam", "armhole" if armhole else "waist", centre)
    corners = [0j, complex(hip, 0), complex(hip if not armhole else waist, 400), 400j]
    kinds = (EdgeKind.HEM, EdgeKind.SEAM, EdgeKind.SEAM, EdgeKind.FOLD)
    edges = [Edge(n, Path.line(corners[i], corners[(i + 1) % 4]), kinds[i]) for i, n in enumerate(names)]
    lines = (InnerLine("bust line", Path.line(300j, 300j + waist)),) if armhole else (
        InnerLine("hip line", Path.line(200j, 200j + hip)),)
    if armhole:
        edges[0] = Edge("waist", Path.line(corners[0], corners[1]))
    return Piece(name, tuple(edges), grain=Grain(10 + 10j, 10 + 300j), lines=lines, cut=Cut())


def dress(bust, waist, hip, ease=(90, 25, 65)):
    """A plain dress whose pieces measure the body plus ease: halves of bodice and skirt, front and back."""
    b, w, h = ((body + e) / 4 for body, e in zip((bust, waist, hip), ease, strict=True))
    # The bust line lies 300 of 400 above the waist: aim the straight side through it.
    top = w + (b - w) * 4 / 3
    pieces = []
    for side in ("front", "back"):
        bodice = tube(f"bodice {side}", f"centre {side}", top, w, armhole=True)
        pieces.append(bodice)
        skirt = tube(f"skirt {side}", f"centre {side}", h, h, armhole=False)
        pieces.append(skirt)
    return Garment(tuple(pieces))


def pattern(sizes, rows, ease=(90, 25, 65), skirt_only=False):
    chart = BodyChart(sizes, tuple(zip(("bust girth", "waist girth", "hip girth"), rows, strict=True)))
    garments = [dress(*values, ease=ease) for values in zip(*rows, strict=True)]
    if skirt_only:
        garments = [Garment(tuple(p for p in g.pieces if p.name.startswith("skirt"))) for g in garments]
    return Pattern("plain", sizes, tuple(garments), chart)


def inches(*values):
    return tuple(v * INCH for v in values)


def even(low, high, n):
    return inches(*(low + (high - low) * i / (n - 1) for i in range(n)))


def test_the_ten_size_chart_of_the_trade():
    """30-24-33 to 48-42-51 in: 34-28-37 is size 3 (common practice, check value without a published source)."""
    sizes = tuple(["1", "2", "3", "4", "5", "6", "7", "8", "9", "10"])
    rows = (even(30, 48, 10), even(24, 42, 10), even(33, 51, 10))
    advice = advise(pattern(sizes, rows), body_of("x", dict(zip(("bust", "waist", "hip"), inches(34, 28, 37),
                                                                strict=True))))
    assert advice.size == "3" and advice.straight and advice.chart_size == "3"
    assert [m.size for m in advice.by_measure] == ["3", "3", "3"]


# Waist and hip from 23 / 32 1/2 (size 6) to 32 / 42 in (size 18), uneven steps; the rows between are ours.
UNEVEN = BodyChart(("6", "8", "10", "12", "14", "16", "18"), (
    ("waist girth", inches(23, 24, 25, 26.5, 28, 30, 32)), ("hip girth", inches(32.5, 33.5, 34.5, 36, 38, 40, 42))))


def test_an_uneven_chart_is_entered_row_by_row():
    """28 / 38 in is size 14 (common practice, check value without a published source)."""
    assert nearest_size(UNEVEN, "waist girth", 28 * INCH) == "14"
    assert nearest_size(UNEVEN, "hip girth", 38 * INCH) == "14"
    # Even steps between the ends would have said otherwise: 23 + 9 x 4 / 6 = 29 in at size 14.
    assert nearest_size(UNEVEN, "waist girth", 29 * INCH) == "16"
    assert nearest_size(UNEVEN, "bust girth", 900) is None


# EN 13402-3, women: body measures by size code in cm (from memory).
STANDARD = BodyChart(tuple(["76", "80", "84", "88", "92", "96", "100", "104"]), (
    ("bust girth", tuple(10.0 * v for v in (76, 80, 84, 88, 92, 96, 100, 104))),
    ("waist girth", tuple(10.0 * v for v in (60, 64, 68, 72, 76, 80, 84, 88))),
    ("hip girth", tuple(10.0 * v for v in (84, 88, 92, 96, 100, 104, 108, 112)))))


@pytest.mark.parametrize("size", STANDARD.sizes)
def test_bodies_of_a_published_table_come_back_with_their_size(size):
    plain = pattern(STANDARD.sizes, tuple(v for _, v in STANDARD.rows))
    at = STANDARD.sizes.index(size)
    body = body_of("x", {n: v[at] for n, v in STANDARD.rows})
    advice = advise(plain, body)
    assert (advice.size, advice.straight) == (size, True)
    # 1 cm off, still nearer to it than to a neighbour.
    for off in (-10, 10):
        assert advise(plain, body_of("x", {n: v[at] + off for n, v in STANDARD.rows})).size == size


@pytest.mark.parametrize("size", DRESS.sizes)
def test_the_choirs_own_chart_comes_back_straight(size):
    advice = advise(DRESS, body_of("x", chart_body(size)))
    assert (advice.size, advice.straight, advice.by_place["hip"]) == (size, True, size)


def alto(**more):
    return body_of("Alto", chart_body("4") | {k.replace("_", " "): v for k, v in more.items()}, waist_place="natural")


def test_half_way_between_two_sizes_takes_the_larger():
    assert nearest_size(STANDARD, "bust girth", 860) == "88"


def test_a_straight_size_is_kept_while_the_real_ease_will_do():
    # 2 cm more hip than size 4: 72 - 20 is still the handbooks' least of 2 in.
    advice = advise(DRESS, alto(hip_girth=980))
    assert advice.straight and advice.size == "4"
    # The chart would have sent her hip (98.5) to size 5 (100.2); say what that would buy.
    advice = advise(DRESS, alto(hip_girth=984))
    assert advice.straight and any("not needed" in r and "size 5 for the hip" in r for r in advice.reasons)


def test_a_blend_where_the_straight_size_is_too_small():
    advice = advise(DRESS, alto(hip_girth=1040))
    assert dict(advice.blend) == {"bust": "4", "waist": "4", "hip": "6"}
    assert any("Straight, size 4 would have -0.8 cm" in r and "size 6 has 7.8 cm" in r for r in advice.reasons)


def test_a_blend_where_the_straight_size_would_hang():
    advice = advise(DRESS, alto(hip_girth=850))
    assert dict(advice.blend)["hip"] in ("2", "3") and any("hang" in r for r in advice.reasons)


def test_a_full_bust_is_chosen_by_the_upper_bust():
    """Full minus upper bust of 5 cm or more (Texas AgriLife Extension E-372)."""
    advice = advise(DRESS, alto(bust_girth=960))
    assert advice.size == "4" and any("full bust" in r and "bust room" in r for r in advice.reasons)
    # Without the upper bust the bust alone decides, and the tape sheet is asked for it.
    measures = {k: v for k, v in chart_body("4").items() if k != "upper bust girth"} | {"bust girth": 985}
    advice = advise(DRESS, body_of("x", measures))
    assert advice.chart_size == "6" and any("take the upper bust too" in r for r in advice.reasons)


def test_just_under_five_centimetres_the_bust_decides():
    advice = advise(DRESS, alto(bust_girth=945, upper_bust_girth=896))
    assert advice.chart_size == "5"
    assert advise(DRESS, alto(bust_girth=945, upper_bust_girth=895)).by_measure[1].size == "5"
    assert advise(DRESS, alto(bust_girth=945, upper_bust_girth=850)).chart_size == "4"


def test_without_upper_bust_on_the_chart_the_drafted_cup_stands_in():
    plain = pattern(STANDARD.sizes, tuple(v for _, v in STANDARD.rows))
    body = body_of("x", {"bust": 950, "upper bust": 830, "waist": 720, "hip": 960})
    assert advise(plain, body).chart_size == "88"     # 830 + 50.8 = 880.8


def test_more_ease_than_the_chart_says_means_a_size_down():
    """Big-envelope patterns often carry more ease than the chart suggests (common practice)."""
    roomy = pattern(STANDARD.sizes, tuple(v for _, v in STANDARD.rows), ease=(190, 110, 160))
    body = body_of("x", {"bust": 880, "waist": 720, "hip": 960})
    advice = advise(roomy, body)
    assert advice.chart_size == "88" and advice.size == "80" and advice.straight
    assert any("190" in r or "19.0 cm" in r for r in advice.reasons)
    assert any("cut size 88" in r for r in advice.reasons)
    # Ease she asked for is not spent.
    assert advise(roomy, body, {"bust": 190}).size == "88"


def test_close_skirts_by_the_hip_full_ones_by_the_waist():
    body = body_of("x", {"waist": 720, "hip": 1040})
    close = pattern(STANDARD.sizes, tuple(v for _, v in STANDARD.rows), skirt_only=True)
    assert advise(close, body).chart_size == "96"
    full = pattern(STANDARD.sizes, tuple(v for _, v in STANDARD.rows), ease=(90, 25, 900), skirt_only=True)
    assert advise(full, body).chart_size == "88"


def test_without_a_chart_the_pieces_decide():
    plain = pattern(STANDARD.sizes, tuple(v for _, v in STANDARD.rows))
    bare = Pattern("bare", plain.sizes, plain.garments)
    advice = advise(bare, body_of("x", {"bust": 870, "waist": 700, "hip": 950}))
    # 870 + 76.2 needs 946.2; size 84 has 930, size 88 has 970.
    assert advice.size == "88" and advice.chart_size is None


def test_a_body_beyond_the_chart_is_told():
    advice = advise(DRESS, body_of("x", {"bust": 1400, "waist": 1250, "hip": 1400}))
    assert advice.by_place["bust"] == "10" and any("beyond the chart" in r for r in advice.reasons)


def test_nothing_to_choose_by():
    with pytest.raises(InputError, match="tape sheet has none"):
        advise(DRESS, body_of("x", {"stature": 1650}))


def test_the_table_shows_the_neighbours():
    advice = advise(DRESS, alto())
    assert [size for size, _ in advice.table] == ["2", "3", "4", "5", "6"]
    hips = [next(r for r in rows if r.place == "hip").ease.value for _, rows in advice.table]
    assert hips == sorted(hips) and hips[2] == pytest.approx(72, abs=0.1)


def test_what_was_not_measured_is_said():
    advice = advise(DRESS, body_of("x", {"bust": 900}))
    assert advice.size == "4" and any('no "hip girth"' in r for r in advice.reasons)


def test_pieces_without_names_are_told():
    bare = Pattern("bare", STANDARD.sizes, (Garment(()),) * 8, STANDARD)
    advice = advise(bare, body_of("x", {"bust": 880, "waist": 720, "hip": 960}))
    assert advice.size == "88" and advice.straight
    assert "labels file" in advice.reasons[-1]


def test_no_ease_at_all_is_not_ease_unknown():
    """A size whose hip just fits, with nought to spare, must not be stepped down to."""
    roomy = pattern(STANDARD.sizes, tuple(v for _, v in STANDARD.rows), ease=(190, 110, 40))
    body = body_of("x", {"bust": 880, "waist": 720, "hip": 960})  # the hip of size 84 measures 920 + 40: nought of ease
    assert advise(roomy, body).size == "88"


def test_too_wide_in_every_size_is_not_called_too_narrow():
    advice = advise(DRESS, alto(hip_girth=560))
    words = " ".join(advice.reasons)
    assert "No size is narrow enough at the hip" in words and "gives enough" not in words


def test_a_file_with_some_sizes_of_its_chart():
    """An envelope's chart may list sizes that the file does not hold: the nearest that it holds is where to begin."""
    some = Pattern("some", DRESS.sizes[3:6], DRESS.garments[3:6], DRESS.chart)
    advice = advise(some, body_of("x", chart_body("9")))
    assert advice.size == "6" and advice.straight and advice.chart_size == "9"
    assert any("does not hold size 9; 6 is the nearest" in r for r in advice.reasons)
    assert any("pattern in larger sizes" in r for r in advice.reasons)
    strange = Pattern("strange", ("small", "large"), DRESS.garments[3:5], DRESS.chart)
    advice = advise(strange, body_of("x", chart_body("4")))
    assert advice.size == "small" and advice.chart_size is None
