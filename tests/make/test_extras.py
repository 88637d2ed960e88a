"""Extra pieces from the make file: read, cut, walked, told, and one sentence for each slip."""

import json
import shlex
import subprocess
import sys
from dataclasses import replace

import pytest

from toilewright import demo
from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.cutting.allowing import AllowanceWish
from toilewright.cutting.extra import KINDS, find_kind
from toilewright.errors import Severity, ToilewrightError
from toilewright.make.allowed import heard
from toilewright.make.deliver import stops_of
from toilewright.make.extra_cards import cards_of
from toilewright.make.finishing import deciders, finish, finished, own_of
from toilewright.make.outcome import NAMES, altered_of, make_up, run_make
from toilewright.make.recipe import read_make
from toilewright.make.recipe_extra import read_extras
from toilewright.make.result import make_result
from toilewright.make.strips_result import extras_lines, extras_result, kinds_lines, kinds_result
from toilewright.pattern.parts import EdgeKind

EVERYTHING = """
[[extra]]
kind = "facing"
edge = "wrap edge"

[[extra]]
kind = "lining"

[[extra]]
kind  = "seam pocket"
edge  = "skirt front side seam"
cloth = "lining"

[[extra]]
kind   = "patch pocket"
edge   = "wrap skirt front wrap edge"
below  = 22
beside = "16 cm"
shape  = "pointed"

[[extra]]
kind  = "interfacing"
piece = "waistband"

[[extra]]
kind     = "bias"
edge     = "armhole"
finished = "8 mm"

[[extra]]
kind  = "frill"
edge  = "skirt hem"
depth = "6 cm"
tiers = 2

[[extra]]
kind   = "tie"
edge   = "bodice front side seam"
at     = "side notch"
length = "80 cm"

[[extra]]
kind    = "casing"
edge    = "sleeve hem"
elastic = "1 cm"
round   = "24 cm"

[[extra]]
kind  = "buttonholes"
edge  = "bodice back centre back"
count = 5

[[extra]]
kind = "waistband"
edge = "wrap skirt waist"
name = "second band"

[[extra]]
kind   = "strap"
edge   = "bodice front neck"
to     = "bodice back neck"
to_at  = "1 cm"
length = "40 cm"

[[extra]]
kind  = "circle skirt"
waist = "70 cm"
part  = "half"

[[extra]]
kind  = "join"
piece = "skirt tier"
parts = 3
"""


def written(table, rows, name="extras.toml"):
    path = table / name
    path.write_text((table / demo.MAKE).read_text(encoding="utf-8") + rows, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def outcome(table):
    return run_make(written(table, EVERYTHING))


def test_every_kind_can_stand_in_a_make_file_and_everything_sews(outcome):
    assert {e.wish.kind for e in outcome.extras} == {k.name for k in KINDS if k.build is not None}
    assert not stops_of(outcome)
    seams = {s.name for e in outcome.extras for s in e.built.seams}
    assert seams <= {w.seam for w in outcome.walks if w.sews}


def test_each_is_told_with_cut_size_grain_notches_partner_and_order_of_work(outcome):
    told = json.loads(json.dumps(extras_result(outcome)))
    assert [e["kind"] for e in told["extras"]] == [e.wish.kind for e in outcome.extras]
    for extra in told["extras"]:
        assert extra["order_of_work"] and "{" not in " ".join(extra["order_of_work"])
        for piece in extra["pieces"]:
            assert piece["cut_length_mm"] >= piece["cut_width_mm"] > 0 and piece["count"] >= 1
            assert piece["grain"].startswith(("grain along", "grain across", "on the bias"))
            assert piece["partners"] or piece["lies_on"] or extra["kind"] == "circle skirt", piece["name"]
        assert all(s["verdict"] == "sews" for s in extra["seams"])
    by_kind = {e["kind"]: e for e in told["extras"]}
    pocket = by_kind["patch pocket"]["pieces"][0]
    assert pocket["lies_on"] == ["wrap skirt front"] and pocket["count"] == 2
    partners = {p["piece"] for side in by_kind["seam pocket"]["pieces"][0]["partners"] for p in side}
    assert partners == {"skirt front", "skirt back"}
    lines = "\n".join(extras_lines(outcome))
    assert "patch pocket lies on wrap skirt front" in lines and "{" not in lines
    assert make_result(outcome)["extras"] == extras_result(outcome)["extras"]


def test_the_cards_go_on_with_the_extra_pieces(outcome):
    cards = cards_of(outcome)
    assert len(cards) == len(outcome.altered.done) + len(outcome.extras)
    pocket = next(c for c in cards if c.title.startswith("Patch pocket"))
    assert pocket.title == "Patch pocket, wrap skirt front wrap edge"
    assert any("cut 2" in need for need in pocket.need) and len(pocket.steps) >= 4
    assert any("lies on" in line for line in pocket.check)
    looks = [f.text for e in outcome.extras for f in e.built.worked.findings if f.severity is Severity.LOOK]
    assert looks and set(looks) <= {line for c in cards for line in c.check}


def test_lining_below_a_facing_ends_at_it(outcome):
    lining = next(e for e in outcome.extras if e.wish.kind == "lining")
    assert any(s.name.endswith("to wrap skirt front wrap edge facing") for s in lining.built.seams)
    assert not any(f.code == "lining-before-facing" for f in outcome.findings)


def test_an_allowance_takes_effect_wherever_no_extra_piece_decides(outcome):
    """11.3 mm asked for on every edge of the pattern is there, but for the edges that the extras say are theirs."""
    bare = altered_of(outcome.sized).garment
    asked = [(p.name, e.name) for p in bare.pieces for e in p.edges if e.kind is not EdgeKind.FOLD]
    make = replace(outcome.sized.make, allowances=tuple(AllowanceWish(f"{p}/{e}", 11.3) for p, e in asked))
    done = finished(bare, make)
    silent = {key for key in asked if done.whole.piece(key[0]).edge(key[1]).allowance != 11.3}
    assert silent == deciders(done.extras).keys() & set(asked)
    assert {done_by for key, done_by in deciders(done.extras).items() if key in silent} == {
        "armhole binding", "casing", "skirt hem frill tier 1", "wrap skirt front wrap edge facing"}
    own = own_of(done.whole, done.extras)
    assert [p.name for p in own.pieces] == [p.name for p in bare.pieces]
    for piece, edge in asked:
        there = () if (piece, edge) in silent else ((piece, edge),)
        assert heard(own, deciders(done.extras), f"{piece}/{edge}") == there


def test_a_lining_decides_how_the_outer_edge_of_the_patterns_own_facings_is_cut(outcome):
    facing, outer = "front neck facing", "outer edge"
    lining = next(w for w in outcome.sized.make.extras if w.kind == "lining")
    make = replace(outcome.sized.make, extras=(lining,), allowances=(AllowanceWish(f"{facing}/{outer}", 11.3),))
    done = finished(dress_for(body_of("4")), make)
    assert done.garment.piece(facing).edge(outer).allowance == 10.0
    assert [f.code for f in done.findings if f"{facing}/{outer}" in f.text] == ["allowance-without-effect"]


@pytest.mark.parametrize(("at", "amount", "told"), [
    ("armhole", 10.0, True), ("bodice front/armhole", 10.0, True), ("armhole", 0.0, False),
    ("bodice front", 10.0, False), ("seams", 10.0, False), ("neck", 10.0, False)])
def test_an_allowance_that_changes_nothing_is_told(outcome, at, amount, told):
    make = replace(outcome.sized.make, allowances=(AllowanceWish(at, amount),),
                   extras=tuple(w for w in outcome.sized.make.extras if w.kind == "bias"))
    found = [f for f in finished(outcome.sized.before, make).findings if f.code == "allowance-without-effect"]
    assert [f'for "{at}" changes nothing' in f.text and '"armhole binding"' in f.text for f in found] == [True] * told


def test_the_width_of_the_cloth_is_that_of_the_make(table, outcome):
    rows = '\n[[cloth]]\nwidth = "{}"\n\n[[extra]]\nkind = "frill"\nedge = "skirt hem"\nratio = 2\n'
    makes = [read_make(str(written(table, rows.format(width), "wide.toml")), NAMES) for width in ("150 cm", "75 cm")]
    counts = [finished(outcome.sized.before, make).extras[0].built.pieces[0].cut.count for make in makes]
    assert counts[1] > counts[0]


def test_kinds_are_told_with_options_sources_and_examples():
    told = json.loads(json.dumps(kinds_result()))
    names = {k["kind"] for k in told["kinds"]}
    assert {"tie", "bias", "frill", "circle skirt", "waistband", "casing", "facing", "patch pocket", "seam pocket",
            "lining", "interfacing"} <= names
    for kind in told["kinds"]:
        assert kind["sources"] and kind["options"] and kind["examples"]
        assert all(e["order_of_work"] and e["source"] for e in kind["examples"])


def test_the_examples_that_are_told_can_be_typed():
    """Each line is one command: the kind is one word for the shell, and is found by it."""
    lines = [line.split("strips ")[1] for line in kinds_lines() if line.startswith("  Example: toilewright strips ")]
    assert len(lines) == sum(len(k.examples) for k in KINDS)
    for line in lines:
        words = shlex.split(line.split("  (")[0])
        kind = find_kind(words[0])
        options = dict(zip([w.removeprefix("--") for w in words[1::2]], words[2::2], strict=True))
        assert kind.work(kind.read(options, "cm", "it", alone=True)).figures
    for kind in KINDS:
        assert all(find_kind(alias) is kind for alias in kind.aliases)


@pytest.mark.parametrize("rows, said", [
    ('[[extra]]\nkind = "pockett"\nedge = "side seam"', 'did you mean "pocket"'),
    ('[[extra]]\nedge = "side seam"', "does not say what it is"),
    ('[[extra]]\nkind = "patch pocket"', '"edge"'),
    ('[[extra]]\nkind = "facing"\nedge = "nek"', 'did you mean "neck"'),
    ('[[extra]]\nkind = "facing"\nedge = "neck"\nwidht = "5 cm"', 'did you mean "width"'),
    ('[[extra]]\nkind = "facing"\nedge = "neck"\nwidth = "5 parsecs"', '"width"'),
    ('[[extra]]\nkind = "lining"\npieces = "skirt frnt"', 'did you mean "skirt front"'),
    ('[[extra]]\nkind = "seam pocket"\nedge = "skirt front waist"', "name a side seam"),
    ('[[extra]]\nkind = "lining"\n[[extra]]\nkind = "lining"', "another name"),
    ('extra = "a pocket"', "extra"),
])
def test_slips_get_one_sentence(table, outcome, rows, said):
    path = table / "slip.toml"
    base = (table / demo.MAKE).read_text(encoding="utf-8")
    path.write_text(f"{rows}\n{base}" if rows.startswith("extra") else f"{base}\n{rows}\n", encoding="utf-8")
    with pytest.raises(ToilewrightError) as problem:
        finish(outcome.sized.before, read_make(str(path), NAMES))
    assert said in str(problem.value) and "\n" not in str(problem.value)


def test_nothing_is_read_where_nothing_stands():
    assert read_extras({}, "cm", "a make file") == ()


def test_the_command_answers_a_person_and_a_machine(table):
    path = written(table, '\n[[extra]]\nkind = "patch pocket"\nedge = "skirt front side seam"\n', "one.toml")
    run = [sys.executable, "-m", "toilewright", "strips"]
    told = subprocess.run([*run, str(path), "--json"], capture_output=True, text=True, timeout=120, check=True)
    assert json.loads(told.stdout)["extras"][0]["pieces"][0]["name"] == "patch pocket"
    kinds = subprocess.run([*run, "--json"], capture_output=True, text=True, timeout=120, check=True)
    assert len(json.loads(kinds.stdout)["kinds"]) == len(KINDS)
    wrong = subprocess.run([*run, "pokcet"], capture_output=True, text=True, timeout=120, check=False)
    assert wrong.returncode and "did you mean" in wrong.stderr + wrong.stdout and "Traceback" not in wrong.stderr


def test_extras_of_an_altered_make_stay_when_made_again(outcome):
    again = make_up(outcome.sized)
    assert again.altered.garment == outcome.altered.garment
