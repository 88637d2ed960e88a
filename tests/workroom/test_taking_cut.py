"""A make file taken in keeps what it says of cloth and cutting, and is cut as before."""

import pytest

from toilewright import demo
from toilewright.make.outcome import NAMES
from toilewright.make.recipe import read_make
from toilewright.workroom.cloths import lay_wish, wishes_of
from toilewright.workroom.documents import Kind
from toilewright.workroom.recipes import recipe
from toilewright.workroom.taking import take_make

CUTTING = """
[[cloth]]
use       = "self"
width     = "150 cm"
length    = "6 m"
shrinkage = ["3 %", "1 %"]
stretch   = ["0 %", "20 %"]
weight    = 140
one_way   = true
repeat    = { along = "8 cm", across = "6 cm", first_along = "2 cm" }
match     = ["centre front", "side seam"]
flaws     = [["30 cm", "40 cm", "4 cm", "5 cm"]]
prices    = { "115 cm" = 9, "150 cm" = 12.5 }
envelope  = { "150 cm" = "3.2 m" }
fold      = "30 cm"

[[cloth]]
use    = "contrast"
width  = "115 cm"
fold   = "open"
pieces = ["sleeve frill"]

[[cloth]]
use     = "lining"
outline = [["0 cm", "0 cm"], ["190 cm", "0 cm"], ["130 cm", "80 cm"]]
sided   = false
washed  = true

[lay]
gap = "4 mm"

[allowances]
hem = "4 cm"
"bodice front/neck" = "6 mm"
notches = "outward"

[[corner]]
piece = "skirt front"
at = "hem/side seam"
cut = "folded back"

[[extra]]
kind = "tie"
edge = "bodice back side seam"
length = "90 cm"
width = "3 cm"

[[extra]]
kind = "frill"
edge = "sleeve frill hem"
depth = "8 cm + 10.5 cm"
tiers = 2
ratio = 1.75
"""


@pytest.fixture
def room(tmp_path, open_room):
    return open_room(tmp_path / "room")


@pytest.fixture(scope="module")
def file(table):
    path = table / "cutting.toml"
    path.write_text((table / demo.MAKE).read_text(encoding="utf-8") + CUTTING, encoding="utf-8")
    return path


def test_what_a_make_file_says_of_cutting_is_kept(room, file):
    said, taken = read_make(file, NAMES), take_make(room, file).document
    kept = recipe(taken)
    assert kept.allowances == said.allowances and len(kept.allowances) == 2
    assert kept.corners == said.corners and kept.notches == said.notches is not None
    assert kept.extras == said.extras and len(kept.extras) == 2
    shelf = {thing.id: thing.document for thing in room.things(Kind.CLOTH)}
    assert wishes_of(taken, shelf) == said.cloths
    assert lay_wish(taken).gap == said.lay.gap == 4.0
    assert [bool(row.cloth) for row in taken.lays] == [True, False, True]
    assert set(taken.cloths) == set(shelf) and len(shelf) == 2


def test_the_same_cloth_is_not_put_on_the_shelf_twice(room, file):
    take_make(room, file)
    take_make(room, file)
    assert len(room.things(Kind.CLOTH)) == 2 and len(room.things(Kind.MAKE)) == 2


def test_what_the_shelf_has_no_place_for_is_noted(room, table):
    path = table / "noted.toml"
    path.write_text((table / demo.MAKE).read_text(encoding="utf-8") + """
[[cloth]]
width = "140 cm"
squaring = "3 cm"
margin = "20 cm"
grain_tolerance = 2
overhang = "7 cm"
""", encoding="utf-8")
    take_make(room, path)
    (cloth,) = room.things(Kind.CLOTH)
    for words in ("3.0 cm to square each end", "20.0 cm for mishaps", "2 degrees", "7.0 cm"):
        assert words in cloth.document.note


def test_makes_of_the_same_lay_are_taken_along(room, table):
    path = table / "together.toml"
    path.write_text((table / demo.MAKE).read_text(encoding="utf-8") + f'\n[lay]\nwith = ["{demo.MAKE}"]\n',
                    encoding="utf-8")
    make = take_make(room, path).document
    (other,) = make.lay_with
    assert room.get(other).document.title == "Concert dress for the alto"
