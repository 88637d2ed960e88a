"""The toiles of one make: read from its file, answered, accepted into it, and standing beside each other."""

import json
import tomllib
from dataclasses import replace

import pytest

from toilewright import demo
from toilewright.body.tape import read_tape
from toilewright.errors import AlterationError, InputError, NameUnknown, UnitError
from toilewright.fit.toile.observations import Observation
from toilewright.fit.toile.sayings import read_saying
from toilewright.known import Origin
from toilewright.make.outcome import NAMES, make_up, size_up
from toilewright.make.reading import read_pattern
from toilewright.make.recipe import Toile, read_make
from toilewright.make.result import make_result
from toilewright.make.toile import beside, predict_make, read_toile, read_toiles, sewn_for
from toilewright.make.toile_file import draw_prediction, write_reading
from toilewright.make.toile_result import prediction_lines, prediction_result, read_lines, read_result

BELOW, ABOVE = "dart ends 1.5 cm below the bust point", "dart ends 8 mm above the bust point"
TOILES = """
[[toile]]
date = 2026-11-25
saw = ["dart ends 2 cm below the bust point", "back neck pulls, opened by 1"]

[[toile]]
saw = "sleeve binds"

[[alteration]]
name = "raise bust dart"
amount = "2"
from = "toile 1"
plus_minus = "4 mm"
side = "left"
"""


@pytest.fixture
def make_file(table, tmp_path):
    for name in (demo.PATTERN, demo.TAPE):
        (tmp_path / name).write_bytes((table / name).read_bytes())
    path = tmp_path / demo.MAKE
    path.write_bytes((table / demo.MAKE).read_bytes())
    return path


@pytest.fixture(scope="module")
def bought(table):
    return read_pattern(table / demo.PATTERN)


@pytest.fixture
def advise(bought):
    """A make file up to its size, its pattern read already."""
    def sized(path):
        make = read_make(path, NAMES)
        return size_up(make, read_tape(make.tape), bought)

    return sized


def more(path, text):
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")
    return path


# -- in the make file -------------------------------------------------------------------------------------


def test_toiles_and_what_was_read_off_them_stand_in_the_recipe(make_file):
    make = read_make(more(make_file, TOILES), NAMES)
    first = (Observation("dart ends below the bust point", 20.0), Observation("back neck pulls", 10.0))
    assert make.toiles == (Toile(first, "2026-11-25"), Toile((Observation("sleeve binds"),)))
    own = make.alterations[-1]
    assert (own.name, own.amount, own.came_from, own.spread, dict(own.options)) == (
        "bust dart height", -20.0, "toile 1", 4.0, {"side": "left"})


@pytest.mark.parametrize(("text", "error", "said"), [
    ('[[toile]]\nsaw = ["dart ends below the moon"]', InputError, "toile 1 of make file .*not understood"),
    ('[[toile]]\nsaw = ["dart ends 2 cm below the bust point by 1 cm"]', UnitError, "more than one length"),
    ("[[toile]]\nsaw = [3]", InputError, "list of sayings"),
    ('[[toile]]\nsore = "x"', NameUnknown, 'known here: "saw"'),
    ('[[toile]]\ndate = 3\nsaw = "sleeve binds"', InputError, "should be a day"),
    ('[toile]\nsaw = "sleeve binds"', InputError, "should be repeated"),
    ('[print]\ntoile = "yes"', InputError, "should be true"),
    ('[[alteration]]\nname = "full bust"\nplus_minus = "x"', UnitError, "plus_minus"),
    ('[[alteration]]\nname = "full bust"\nmakes = "two"', InputError, "how many makes"),
])
def test_what_cannot_be_used_is_said_with_its_place(make_file, text, error, said):
    with pytest.raises(error, match=said):
        read_make(more(make_file, f"\n{text}\n"), NAMES)


def test_what_a_toile_asked_for_comes_on_top_of_what_stands(make_file, advise):
    plain = make_up(advise(make_file))
    more(make_file, '\n[[alteration]]\nname = "high round back"\namount = "5 mm"\nfrom = "toile 1"\n')
    twice = make_up(advise(make_file))
    humps = [d.order.amount for d in twice.altered.done if d.order.name == "high round back"]
    was = [d.order.amount for d in plain.altered.done if d.order.name == "high round back"]
    assert [k.value for k in humps] == [was[0].value, 5.0]
    assert (humps[1].origin, humps[1].reason) == (Origin.TOILE, "Read off toile 1.")
    assert {"name": "high round back", "amount_mm": 5.0}.items() <= make_result(twice)["alterations"][
        [d.order.amount.value for d in twice.altered.done].index(5.0)].items()
    length = [o.altered.garment.piece("bodice back").edge("centre back").path.length for o in (plain, twice)]
    assert length[1] - length[0] == pytest.approx(5.0, abs=0.5)


# -- answered and accepted ------------------------------------------------------------------------------------


def test_a_reading_is_written_into_the_file_and_everything_else_stays(make_file, advise):
    more(make_file, "# a comment of hers\n")
    was = make_file.read_text(encoding="utf-8")
    sized = advise(make_file)
    read = read_toile(sized, [read_saying(BELOW)], date="2026-11-25")
    write_reading(make_file, read, read.readings[:1], "cm")
    now = make_file.read_text(encoding="utf-8")
    for line in was.splitlines():
        assert line in now
    sheet = tomllib.loads(now)
    assert sheet["toile"] == [{"date": "2026-11-25", "saw": ["dart ends below the bust point by 1.5 cm"]}]
    row = sheet["alteration"][-1]
    assert (row["name"], row["amount"], row["from"]) == ("bust dart height", "-1.5 cm", "toile 1") and row["plus_minus"]
    again = read_make(make_file, NAMES)
    assert again.toiles == (Toile(read.saw, "2026-11-25"),) and again.alterations[-1].amount == pytest.approx(-15.0)


def test_a_make_in_inches_is_told_and_written_in_inches(make_file, advise):
    make_file.write_text('unit = "in"\n' + make_file.read_text(encoding="utf-8"), encoding="utf-8")
    sized = advise(make_file)
    read = read_toile(sized, [read_saying("dart ends 3/4 below the bust point", sized.unit)])
    assert "3/4 in: the dart moves" in read.readings[0].reason and "cm" not in " ".join(read_lines(sized, read))
    assert "cm" not in " ".join(row.sentence for _, told in predict_make(sized) for row in told.rows)
    write_reading(make_file, read, read.readings[:1], sized.unit)
    assert '\n\n[[toile]]\nsaw = ["dart ends below the bust point by 3/4 in"]' in make_file.read_text(encoding="utf-8")
    assert read_make(make_file, NAMES).alterations[-1].amount == pytest.approx(-19.05)


def test_toile_after_toile_stand_beside_each_other(make_file, advise):
    for said in (BELOW, ABOVE):
        read = read_toile(advise(make_file), [read_saying(said)])
        write_reading(make_file, read, read.readings[:1], "cm")
    sized = advise(make_file)
    reads = read_toiles(sized)
    assert [r.name for r in reads] == ["toile 1", "toile 2"]
    row = next(r for r in beside(reads, sized) if r.alteration == "bust dart height")
    assert [round(one.amount.value) for one in row.by_toile] == [-15, 8]
    assert row.made == (pytest.approx(-15.0), pytest.approx(8.0))
    # Each toile was sewn from what was known then: the dart of the second lies 15 mm higher, of the next 7 mm.
    aims = [sewn_for(sized, n).garment.piece("bodice front").landmark("bust point").imag for n in (1, 2, 3)]
    assert [a - aims[0] for a in aims] == [0.0, pytest.approx(15.0, abs=0.2), pytest.approx(7.0, abs=0.2)]
    told = "\n".join(prediction_lines(sized, predict_make(sized), beside(reads, sized)))
    assert "Toile 3" in told and "toile 1 -1.5 cm" in told and "made 0.8 cm" in told


def test_what_it_will_show_follows_what_was_read_off(make_file, advise):
    before = dict(predict_make(advise(make_file)))["both"].at("dart height").by.value
    read = read_toile(advise(make_file), [read_saying(BELOW)])
    write_reading(make_file, read, read.readings[:1], "cm")
    after = dict(predict_make(advise(make_file)))["both"].at("dart height").by.value
    assert before - after == pytest.approx(15.0, abs=0.2)


def test_an_uneven_figure_is_told_side_by_side(make_file, tmp_path, advise):
    more(make_file, '\n[[alteration]]\nname = "bust dart height"\namount = "1 cm"\nside = "left"\n')
    sized = advise(make_file)
    told = dict(predict_make(sized))
    assert set(told) == {"left", "right"}
    lower = told["left"].at("dart height").by.value - told["right"].at("dart height").by.value
    assert lower == pytest.approx(10.0, abs=0.2)
    draw_prediction(sized, predict_make(sized), tmp_path / "both.svg")
    assert (tmp_path / "both.svg").read_text(encoding="utf-8").count("her bust point") == 2


def test_results_for_machines_are_json(make_file, advise):
    sized = advise(make_file)
    read = read_toile(sized, [read_saying("folds across at the small of the back, pinched 1 cm")])
    plain = json.loads(json.dumps(read_result(sized, read)))
    first = plain["readings"][0]
    assert (first["number"], first["name"], first["amount_mm"], first["try_first"]) == (1, "sway back", 10.0, True)
    assert 0 < first["likelihood"] < 1 and first["plus_minus_mm"] > 0 and first["tells_apart"] and first["reason"]
    more(make_file, TOILES.partition("[[alteration]]")[0])
    assert make_result(make_up(advise(make_file)))["toiles"][0]["saw"][1] == "back neck pulls, opened by 1.0 cm"
    told = json.loads(json.dumps(prediction_result(sized, predict_make(sized), ())))
    assert [one["side"] for one in told["prediction"]] == ["both"] and len(told["prediction"][0]["ease"]) == 6
    lines = read_lines(sized, read)
    assert lines[3].startswith("1. sway back: 1.0 cm give or take") and "our own judgement" in lines[-1]


# -- from a shell --------------------------------------------------------------------------------------------


def run(capsys, *words):
    from toilewright.cli import main

    try:
        main([*map(str, words)])
    except SystemExit as end:
        return end.code, capsys.readouterr()
    return 0, capsys.readouterr()


def test_the_shell_tells_answers_and_accepts(make_file, capsys, tmp_path):
    code, out = run(capsys, "toile", make_file, "--draw", tmp_path / "t.svg")
    assert code == 0 and "The bust dart aims" in out.out and "her bust point" in (tmp_path / "t.svg").read_text()
    code, out = run(capsys, "toile", make_file, "--saw", BELOW, "--saw", "sleeve binds", "--accept", "1", "--json")
    told = json.loads(out.out)
    assert code == 0 and told["accepted"] == ["bust dart height"]
    assert [s["amount_mm"] for s in told["saw"]] == [15.0, None]
    assert 'from = "toile 1"' in make_file.read_text(encoding="utf-8")
    code, out = run(capsys, "toile", make_file, "--json")
    assert json.loads(out.out)["toile"] == 2 and json.loads(out.out)["toiles"][0]["readings"]


@pytest.mark.parametrize(("words", "said"), [
    (("--saw", "it is purple"), "not understood"), (("--accept", "1"), "give --saw again"),
    (("--saw", BELOW, "--accept", "9"), "numbered 1 to"),
    (("--saw", "folds across at the small of the back", "--accept", "1", "--accept", "2"), "the same thing twice"),
    (("--saw", "hem dips in front by 3 cm", "--accept", "1"), "the most that fits")])
def test_the_shell_refuses_in_one_sentence_and_leaves_the_file(make_file, capsys, words, said):
    was = make_file.read_bytes()
    code, out = run(capsys, "toile", make_file, *words)
    assert code == 2 and said in out.err and "Traceback" not in out.err
    assert make_file.read_bytes() == was


def test_an_order_that_cannot_be_made_is_said_when_a_toile_is_read(make_file, advise):
    sized = advise(make_file)
    wrong = replace(sized, make=replace(sized.make, alterations=(replace(sized.make.alterations[0], amount=900.0),)))
    with pytest.raises(AlterationError, match="most that fits"):
        read_toile(wrong, [read_saying(BELOW)])
