"""The cloth of a make file: what is read, what is left after washing, and one sentence for each slip."""

import tomllib
from dataclasses import replace
from itertools import pairwise
from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.requirement import SoldBy
from toilewright.errors import FileError, InputError, NameUnknown, ToilewrightError, UnitError
from toilewright.make.cloth_entries import crosses_itself, part_of, ring_of, weight_of, width_of
from toilewright.make.cloth_wish import at_width, check_pieces, cut_from, price_at
from toilewright.make.recipe import read_make
from toilewright.make.recipe_cloth import read_cloth, read_cloths, read_lay

WHERE = 'make file "choir.toml"'


def read(text, unit="cm"):
    return read_cloths(tomllib.loads(text), unit, WHERE)


def one(text, unit="cm"):
    return read(f"[[cloth]]\n{text}", unit)[0]


def test_no_cloth_says_nothing():
    assert read("") == ()


def test_everything_that_can_be_said():
    wish = one('''
        width = "140 cm"
        selvedge = "1,5 cm"
        length = "3 m"
        shrinkage = ["97 cm of 100 cm", "1 %"]
        stretch = ["0 %", "60 cm of 50 cm"]
        weight = 120
        one_way = true
        sided = false
        repeat = { along = "8 cm", across = 6, first_along = "10 cm", first_across = "0 cm" }
        match = ["centre front", "side  seam"]
        border = "20 cm"
        flaws = [["30 cm", "40 cm", "4 cm", "5 cm"], [["1", "1"], ["3", "9"], ["5", "1"]]]
        price = "12,50"
        prices = { "110/112 cm" = 9.5 }
        envelope = { "140 cm" = "3,2 m", "115 cm" = "4 m" }
        fold = "30 cm"
        grain_tolerance = "1 deg"
        squaring = "2 cm"
        margin = "10 cm"
        pieces = ["sleeve frill", "waist tie"]''')
    cloth = wish.cloth
    assert cloth.width == pytest.approx(1400 * 0.99 - 30)  # washed, then between the selvedges
    assert cloth.length == pytest.approx(3000 * 0.97 - 40)  # washed, both ends squared
    assert (cloth.shrinks_along, cloth.shrinks_across) == (0.03, 0.01)
    assert (cloth.stretch_along, cloth.stretch_across) == (0, 0.2)
    assert (cloth.weight, cloth.one_way, cloth.sided, cloth.border, cloth.price) == (120, True, False, 200, 12.5)
    assert (cloth.repeat.along, cloth.repeat.across, cloth.repeat.first_along) == (80, 60, 20)  # 10 cm is 8 and 2 more
    assert cloth.flaws[0] == (300 + 400j, 340 + 400j, 340 + 450j, 300 + 450j)
    assert cloth.flaws[1] == (50 + 10j, 30 + 90j, 10 + 10j)  # was given clockwise
    assert (wish.fold, cloth.fold, cloth.fold_depth, cloth.grain_tolerance) == (Fold.DEPTH, Fold.DEPTH, 300, 1)
    assert wish.match == ("centre front", "side seam") and wish.pieces == ("sleeve frill", "waist tie")
    assert dict(wish.prices) == {0.0: 12.5, 1100.0: 9.5} and dict(wish.envelope) == {1150: 4000, 1400: 3200}
    assert (wish.use, wish.bought_width, wish.bought_length, wish.margin) == ("self", 1400, 3000, 100)


def test_what_is_not_said_is_left_open():
    wish = one("")
    assert (wish.fold, wish.bought_width, wish.bought_length, wish.cloth.length) == (None, None, None, None)
    assert wish.cloth.width == 1380 and wish.cloth.sided and not wish.cloth.one_way and wish.cloth.price is None


def test_lengths_without_a_unit_are_in_hers_and_cloth_is_sold_by_it():
    wish = one('width = 45\nprice = 9\nfold = "lengthwise"', "in")
    assert wish.bought_width == pytest.approx(45 * 25.4) and wish.sold_by is SoldBy.YARD
    assert wish.cloth.price == pytest.approx(9 / 0.9144)  # of one metre
    assert one('width = 45\nprice = 9\nsold_by = "metre"', "in").cloth.price == 9


def test_washed_cloth_does_not_shrink_again():
    wish = one('width = "140 cm"\nlength = "2 m"\nwashed = true\nshrinkage = ["5 %", "5 %"]')
    assert (wish.cloth.width, wish.cloth.length, wish.cloth.shrinks_along) == (1380, 1950, 0)


def test_a_remnant_is_its_outline():
    wish = one('outline = [["0", "0"], ["90 cm", "80 cm"], ["150 cm", "0"]]')
    assert (wish.cloth.width, wish.cloth.length, wish.selvedge, wish.squaring) == (800, 1500, 0, 0)
    assert wish.cloth.outline == (1500 + 0j, 900 + 800j, 0j)  # turned counter-clockwise


def test_a_knit_may_come_out_of_the_wash_longer():
    assert one('shrinkage = ["105 cm of 100 cm", "4 %"]').cloth.shrinks_along == pytest.approx(-0.05)


@pytest.mark.parametrize(("said", "mm"), [
    ("90 cm", 900), ("110/112 cm", 1100), ("44-45 in", 44 * 25.4), ("60in", 60 * 25.4), (150, 1500), ("1,4 m", 1400),
    ('45"', 45 * 25.4)])
def test_widths_as_shops_name_them(said, mm):
    assert width_of(said, "cm", "width") == pytest.approx(mm)


@pytest.mark.parametrize(("said", "grams"), [
    (120, 120), ("120", 120), ("120 g/m2", 120), ("4 oz/yd2", 135.6), ("10 oz", 339.1)])
def test_weights(said, grams):
    assert weight_of(said, "weight") == pytest.approx(grams, abs=0.1)


BAD = {
    'width = "5 cm"': "200|20.0 cm .* selvedges included",
    "width = true": "A length was expected",
    "width = nan": "not a length",
    'width = "wide"': "cannot be read",
    "widht = 1": 'did you mean "width"',
    'shrinkage = ["60 %", "1 %"]': "from -20 % to 40 %",
    'shrinkage = ["97 cm of 0 cm", "1 %"]': "a part from",
    'shrinkage = ["97 ells of 100 cm", "1 %"]': "not a unit",
    'shrinkage = "3 %"': "lengthways and across",
    'shrinkage = ["3 %"]': "lengthways and across",
    "shrinkage = [true, 1]": "a part from",
    "shrinkage = [nan, 1]": "a part from",
    'stretch = ["-3 %", "0"]': "from 0 % to 300 %",
    'length = "4 cm"': "5.0 cm",
    'length = "7 cm"\nshrinkage = ["40 %", "0"]': "nothing is left",
    'weight = "heavy"': "square metre weighs",
    "weight = 1": "square metre weighs",
    'one_way = "yes"': "true \\(nap",
    "washed = 1": "washed already",
    "repeat = 8": "should be a table",
    'repeat = { alnog = "8 cm" }': 'did you mean "along"',
    'repeat = { along = "2 mm" }': "leave it out",
    'repeat = { first_across = "2 cm" }': "add  across",
    "match = 3": "list of names",
    'match = [" "]': "list of names",
    'border = "3 m"': "138.0 cm",
    "flaws = 3": "places to keep clear of",
    'flaws = [["30 cm", "140 cm", "4 cm", "4 cm"]]': "Flaw 1 .* outside the cloth",
    'length = "1 m"\nflaws = [["2 m", "40 cm", "4 cm", "4 cm"]]': "outside the cloth",
    'flaws = [["30 cm", "40 cm", "0", "4 cm"]]': "no area",
    'flaws = [["30 cm", "40 cm"]]': "Flaw 1 .* three corners or more",
    'flaws = [["-3 cm", "40 cm", "4 cm", "4 cm"]]': "length from 0.0 cm",
    'outline = [["0", "0"], ["10", "10"], ["10", "0"], ["0", "10"]]': "crosses itself",
    'outline = [["0", "0"], ["10", "0"], ["20", "0"]]': "doubles back|no area",
    'outline = [["0", "0"], ["0", "0"], ["0", "0"]]': "crosses itself|no area",
    'width = "40 cm"\noutline = [["0", "0"], ["90", "0"], ["90", "80"]]': "in width",
    'length = "50 cm"\noutline = [["0", "0"], ["90", "0"], ["90", "80"]]': "in length",
    "price = -1": "such as 12.5, of one metre",
    'price = "12 crowns"': "such as 12.5",
    "price = nan": "such as 12.5",
    "prices = 3": "table by width",
    'prices = { "wide" = 3 }': "A width in",
    'prices = { "140 cm" = 3, "1400 mm" = 4 }': "one width twice",
    'envelope = { "140 cm" = "1 cm" }': '"envelope" of',
    'sold_by = "ell"': '"metre", "yard"',
    'fold = "lengthwize"': 'did you mean "lengthwise"',
    'fold = "depth"': "way to fold",
    'fold = "80 cm"': "less than half",
    'fold = "1 cm"': '"open", "lengthwise"',
    "grain_tolerance = 9": "angle from 0 to 5",
    'grain_tolerance = "askew"': "angle from 0 to 5",
    'selvedge = "20 cm"': "1 cm",
    'squaring = "2 m"': "2.5 cm",
    'margin = "-1 cm"': "20 cm",
    'overhang = "1 mm"': "7 cm",
    'pieces = [""]': "list of names",
    'use = ""': "what it is for",
    "use = 3": "quotation marks",
}


@pytest.mark.parametrize("text", BAD, ids=[k.replace("\n", " ") for k in BAD])
def test_a_slip_is_said_with_its_cloth(text):
    with pytest.raises(InputError, match=BAD[text]) as problem:
        one(text)
    said = str(problem.value)
    assert said[-1] in ".?" and "\n" not in said and "choir.toml" in said


def test_two_rows_for_one_use_and_a_piece_below_two_cloths():
    with pytest.raises(InputError, match='both for "self"'):
        read('[[cloth]]\n[[cloth]]\nuse = "self"')
    with pytest.raises(InputError, match="what it is for"):
        read("[[cloth]]\n[[cloth]]\nwidth = 140")
    with pytest.raises(InputError, match=r'"cuff" .* below two cloths, "self" and "contrast"'):
        read('[[cloth]]\npieces = ["cuff"]\n[[cloth]]\nuse = "contrast"\npieces = ["cuff"]')


def test_pieces_are_cut_from_the_cloth_that_names_them():
    wishes = read('[[cloth]]\n[[cloth]]\nuse = "contrast"\npieces = ["cuff"]')
    assert [cut_from(wishes, name, "lining") for name in ("cuff", "body")] == ["contrast", "lining"]
    check_pieces(wishes, ["cuff", "body"])
    with pytest.raises(NameUnknown, match='did you mean "cuffs"'):
        check_pieces(wishes, ["cuffs", "body"])


def test_a_price_is_that_of_its_width_or_of_any():
    wish = one('price = 10\nprices = { "140 cm" = 12, "90 cm" = 7 }')
    assert [price_at(wish, w) for w in (900, 1150, 1400, 1410)] == [7, 10, 12, 12]
    assert price_at(one('prices = { "140 cm" = 12 }'), 900) is None


def test_another_width_is_cloth_off_the_bolt():
    wish = one('width = "140 cm"\nlength = "2 m"\nshrinkage = ["0", "2 %"]\nfold = "60 cm"\n'
               'flaws = [["1", "1", "1", "1"]]')
    other = at_width(wish, 900.0)
    assert other.width == pytest.approx(900 * 0.98 - 20) and (other.length, other.flaws) == (None, ())
    assert (other.fold, other.fold_depth) == (Fold.LENGTHWISE, 0.0)  # 60 cm would be more than half of it
    assert at_width(wish, 1600.0).fold is Fold.DEPTH


# -- the whole make file -----------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path):
    for name in ("dress.pdf", "alto.toml", "soprano.toml"):
        (tmp_path / name).write_text("", encoding="utf-8")
    return tmp_path


def made(folder, text):
    path = folder / "choir.toml"
    path.write_text('pattern = "dress.pdf"\ntape = "alto.toml"\n' + text, encoding="utf-8")
    return read_make(path)


def test_a_make_holds_its_cloths_and_its_lay(folder):
    make = made(folder, '[lay]\nwith = "soprano.toml"\ngap = "3 mm"\n'
                        '[[cloth]]\nwidth = 150\n[[cloth]]\nuse = "lining"\n')
    assert [w.use for w in make.cloths] == ["self", "lining"]
    assert (make.lay.others, make.lay.gap) == ((folder / "soprano.toml",), 3.0)
    assert made(folder, "").cloths == () and made(folder, "").lay.gap is None


@pytest.mark.parametrize(("text", "said"), [
    ("lay = 3\n", "table"), ("[lay]\ngpa = 3\n", "did you mean"), ('[lay]\nwith = ["tenor.toml"]\n', "no such file"),
    ('[lay]\ngap = "20 cm"\n', "5.0 cm"), ("[cloth]\nwidth = 3\n", "repeated"), ('[lay]\nwith = 3\n', "list of names")])
def test_slips_of_the_whole(folder, text, said):
    with pytest.raises(ToilewrightError, match=said):
        made(folder, text)


def test_a_make_that_is_not_there_is_a_file_error(folder):
    with pytest.raises(FileError):
        read_lay({"lay": {"with": ["tenor.toml"]}}, "cm", WHERE, folder)


# -- laws --------------------------------------------------------------------------------------------


@given(st.floats(300, 4900), st.floats(-0.19, 0.39), st.floats(0, 50))
def test_a_width_said_in_any_unit_is_the_same(mm, part, selvedge):
    found = []
    for unit, size in (("mm", 1.0), ("cm", 10.0), ("in", 25.4)):
        row = {"width": f"{mm / size:.9f} {unit}", "shrinkage": [0, 100 * part],
               "selvedge": f"{selvedge / size:.9f} {unit}"}
        found.append(read_cloth(row, "cm", WHERE).cloth.width)
    assert found == pytest.approx([mm * (1 - part) - 2 * selvedge] * 3, rel=1e-6)


@given(st.floats(50, 120), st.floats(60, 120))
def test_a_measured_square_and_its_percentage_agree(after, before):
    lost = 1 - after / before
    if -0.2 < lost < 0.4:
        measured = part_of(f"{after:.6f} cm of {before:.6f} cm", "cm", "x", -0.2, 0.4)
        assert measured == pytest.approx(lost, abs=1e-5)
        assert part_of(f"{100 * lost:.6f} %", "cm", "x", -0.2, 0.4) == pytest.approx(measured, abs=1e-5)


@given(st.lists(st.floats(100, 400), min_size=3, max_size=12), st.floats(0, 6))
def test_a_star_shaped_outline_is_simple_and_comes_out_counter_clockwise(radii, turn):
    n = len(radii)
    ring = [r * complex(cos(2 * pi * k / n + turn), sin(2 * pi * k / n + turn)) for k, r in enumerate(radii)]
    assert not crosses_itself(ring)
    assert set(ring_of(ring[::-1], "x")) == set(ring) and set(ring_of(ring, "x")) == set(ring)
    found = ring_of(ring[::-1], "x")
    assert sum((a.conjugate() * b).imag for a, b in pairwise((*found, found[0]))) > 0


@given(st.permutations(range(6)))
def test_crossing_is_what_an_independent_library_says(order):
    from shapely.geometry import Polygon

    spots = [0j, 70 + 5j, 100 + 60j, 60 + 100j, 5 + 80j, 40 + 45j]
    ring = [spots[i] for i in order]
    assert crosses_itself(ring) is not Polygon([(p.real, p.imag) for p in ring]).is_valid


def test_units_keep_their_own_error():
    with pytest.raises(UnitError, match='"width" of cloth "self"'):
        one('width = "14O cm"')


def test_a_wish_is_a_plain_value():
    assert one("") == replace(one(""), cloth=Cloth("self", 1380.0)) and hash(one("")) == hash(one(""))
