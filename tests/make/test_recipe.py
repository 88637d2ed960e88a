"""The make file: what is read, what is filled in, and one sentence for each slip."""

import pytest

from toilewright.body import Wish, body_of
from toilewright.errors import FileError, InputError, NameUnknown, UnitError
from toilewright.make.recipe import PAPERS, read_make, wishes

NAMES = {"high round back": ("high round back", 1.0), "hump": ("high round back", 1.0),
         "forward shoulder": ("forward shoulder", 1.0), "fba": ("full bust", 1.0), "full bust": ("full bust", 1.0),
         "small bust": ("full bust", -1.0)}
HEAD = 'pattern = "dress.pdf"\ntape = "alto.toml"\n'


@pytest.fixture
def make(tmp_path):
    for name in ("dress.pdf", "alto.toml", "labels.toml"):
        (tmp_path / name).write_text("", encoding="utf-8")

    def write(text, head=HEAD):
        path = tmp_path / "choir.toml"
        path.write_text(head + text, encoding="utf-8")
        return path
    return write


def test_the_shortest_make(make, tmp_path):
    recipe = read_make(make(""))
    assert recipe.title == "choir" and recipe.pattern == tmp_path / "dress.pdf" and recipe.labels is None
    assert (recipe.size, recipe.sizes, recipe.alterations, recipe.standing) == ("auto", (), (), True)
    assert recipe.papers == PAPERS and recipe.unit == ""


def test_amounts_without_a_unit_are_in_the_unit_of_the_tape_sheet(make, tmp_path):
    (tmp_path / "alto.toml").write_text('unit = "inches"', encoding="utf-8")
    text = '[ease]\nbust = 3\n[[alteration]]\nname = "hump"\namount = "3/8"\n'
    recipe = read_make(make(text), NAMES)
    assert recipe.unit == "" and dict(recipe.ease) == pytest.approx({"bust": 76.2})
    assert recipe.alterations[0].amount == pytest.approx(9.525)
    recipe = read_make(make('unit = "cm"\n' + text), NAMES)
    assert recipe.alterations[0].amount == pytest.approx(3.75) and recipe.unit == "cm"


def test_a_full_make(make, tmp_path):
    recipe = read_make(make("""
title = "Concert dress"
labels = "labels.toml"
unit = "inches"
[size]
hip = 6
bust = "4"
[ease]
bust = "3 1/2"
upper_arm = "5 cm"
[[alteration]]
name = "Hump"
amount = "auto"
[[alteration]]
name = "full bust"
amount = '1/2'
piece = "bodice front"
[print]
papers = ["Sheet", "a4"]
"""), NAMES)
    assert recipe.sizes == (("bust", "4"), ("hip", "6")) and recipe.size == ""
    assert dict(recipe.ease) == pytest.approx({"bust": 88.9, "upper arm": 50.0})
    assert recipe.alterations == (Wish("high round back"), Wish("full bust", 12.7, {"piece": "bodice front"}))
    assert recipe.papers == ("a4", "sheet") and recipe.unit == "in" and recipe.labels == tmp_path / "labels.toml"


def test_a_size_may_be_a_bare_number(make):
    assert read_make(make("size = 5")).size == "5"
    assert read_make(make('size = "Auto"')).size == "auto"


BODY = body_of("Alto", {"bust": 900}, alterations=(
    Wish("hump", 10.0), Wish("forward shoulder", None), Wish("fba", 5.0, {"piece": "x"})))


def test_standing_alterations_come_first_and_the_make_may_replace_them(make):
    recipe = read_make(make('[[alteration]]\nname = "full bust"\n[[alteration]]\nname="hump"\namount = 2\n'), NAMES)
    assert [(w.name, w.amount) for w in wishes(recipe, BODY, NAMES)] == [
        ("forward shoulder", None), ("full bust", 5.0), ("full bust", None), ("high round back", 20.0)]


def test_the_make_may_do_without_the_standing_ones(make):
    recipe = read_make(make('standing = false\n[[alteration]]\nname = "full bust"\n'), NAMES)
    assert [w.name for w in wishes(recipe, BODY, NAMES)] == ["full bust"]


def test_a_standing_alteration_nobody_knows_is_told(make):
    with pytest.raises(NameUnknown, match="tape sheet of Alto"):
        wishes(read_make(make("")), BODY, {"full bust": ("full bust", 1.0)})


def test_an_alias_may_turn_the_sign(make):
    (small,) = read_make(make('[[alteration]]\nname = "Small bust"\namount = "1 cm"\n'), NAMES).alterations
    assert small == Wish("full bust", -10.0)


@pytest.mark.parametrize(("text", "kind", "words"), [
    ('[[alteration]]\nname = "high rond back"', NameUnknown, 'did you mean "high round back"'),
    ('[[alteration]]\nname = "full bust"\namount = "lots"', UnitError, 'alteration "full bust"'),
    ("sizes = 4", NameUnknown, 'did you mean "size"'),
    ("[size]\nbusk = 4", NameUnknown, 'did you mean "bust"'),
    ("[size]", InputError, "is empty"),
    ("size = [4]", InputError, '"size"'),
    ("size = true", InputError, '"size"'),
    ('[ease]\nbust = "8 ells"', UnitError, '"bust" in "ease"'),
    ('[ease]\nbust = "92 m"', InputError, "how much larger"),
    ('[ease]\nknee = "1 cm"', NameUnknown, '"ease"'),
    ('[print]\npapers = ["a5"]', NameUnknown, "a4"),
    ("[print]\npapers = [5]", InputError, "papers"),
    ("standing = 3", InputError, "standing"),
    ('labels = "no.toml"', FileError, 'labels "no.toml"'),
    ("unit = 'ell'", UnitError, "ell"),
    ("title = 'a", FileError, "line 3"),
])
def test_each_slip_gets_one_sentence(make, text, kind, words):
    with pytest.raises(kind) as caught:
        read_make(make(text), NAMES)
    assert words in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize(("head", "words"), [
    ('tape = "alto.toml"\n', "which pattern"), ('pattern = "dress.pdf"\n', "which tape"),
    ('pattern = "other.pdf"\ntape = "alto.toml"\n', 'pattern "other.pdf"')])
def test_files_that_are_not_named_or_not_there(make, head, words):
    with pytest.raises(InputError, match=words):
        read_make(make("", head))


def test_where_no_name_is_near_the_alterations_are_listed_once_each(make):
    with pytest.raises(NameUnknown, match=r'known here: "high round back", "forward shoulder", "full bust"\.$'):
        read_make(make('[[alteration]]\nname = "zzz"\n'), NAMES)
