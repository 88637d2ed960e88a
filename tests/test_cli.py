"""The commands as a shell sees them: exit codes, one sentence for each slip, nothing half-written."""

import json
import subprocess
import sys

import pytest

from toilewright import demo
from toilewright.make.deliver import FILES


def shell(*words, cwd=None):
    return subprocess.run([sys.executable, "-m", "toilewright", *map(str, words)], capture_output=True, text=True,
                          cwd=cwd, check=False)


def one_sentence(done):
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    lines = done.stderr.strip().splitlines()
    assert len(lines) == 1, done.stderr
    return lines[0]


def test_read_tells_sizes_pieces_and_writes_labels(table):
    done = shell("read", table / demo.PATTERN, "--labels", table / "names.toml", "--json")
    assert done.returncode == 0, done.stderr
    report = json.loads(done.stdout)
    assert report["sizes"] == [str(n) for n in range(1, 11)]
    assert report["allowance_mm"] == 15.0
    assert len(report["pieces"]) == 13
    front = next(p for p in report["pieces"] if p["name"] == "bodice front")
    assert set(front["sizes"]) == set(report["sizes"])
    assert {"width_mm", "height_mm", "area_mm2", "perimeter_mm"} <= set(front["sizes"]["5"])
    assert (table / "names.toml").read_text(encoding="utf-8").startswith("#")


def test_size_gives_reasons_and_real_ease(table):
    done = shell("size", table / demo.MAKE, "--json")
    report = json.loads(done.stdout)
    assert report["sizes"]["chosen"] == {"all": "5"}
    bust = next(e for e in report["ease"] if e["place"] == "bust")
    assert bust["ease_mm"] == pytest.approx(bust["garment_mm"] - bust["body_mm"], abs=1e-3)
    assert bust["minimum_mm"] > 0 and bust["source"]


def test_a_size_left_out_of_a_blend_follows_the_nearest_place(table):
    """The hip of a dress that is cut 4 at the bust and 6 at the waist is a 6."""
    hips = {}
    for size in ('"4"', '"6"', '{ bust = "4", waist = "6" }'):
        recipe = table / "by-place.toml"
        recipe.write_text((table / demo.MAKE).read_text(encoding="utf-8").replace('size = "auto"', f"size = {size}"),
                          encoding="utf-8")
        report = json.loads(shell("size", recipe, "--json").stdout)
        hips[size] = next(e["garment_mm"] for e in report["ease"] if e["place"] == "hip")
    four, six, blended = hips.values()
    assert blended == pytest.approx(six, abs=0.5) and six - four > 20


def test_make_writes_every_file_and_the_seams_sew(table, tmp_path):
    done = shell("make", table / demo.MAKE, "--out", tmp_path / "out", "--json")
    assert done.returncode == 0, done.stderr
    assert {p.name for p in (tmp_path / "out").iterdir()} == set(FILES)
    result = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))
    assert result == json.loads(done.stdout)
    assert {s["verdict"] for s in result["seams"]} == {"sews"}
    for seam in result["seams"]:
        low, high = seam["allowed_ease_mm"]
        assert low - 1.0 <= seam["length_b_mm"] - seam["length_a_mm"] <= high + 1.0, seam["name"]
    made = {a["name"]: a for a in result["alterations"] if a["made"]}
    assert {"high round back", "forward shoulder", "bust dart height"} <= set(made)
    moved = next(m for m in result["landmarks"] if m["piece"] == "bodice front" and m["name"] == "bust dart point")
    assert moved["before"][1] - moved["after"][1] == pytest.approx(made["bust dart height"]["amount_mm"], abs=0.05)


def test_the_same_recipe_gives_the_same_files(table, tmp_path):
    for name in ("one", "two"):
        assert shell("make", table / demo.MAKE, "--out", tmp_path / name).returncode == 0
    for name in FILES:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes(), name


def test_a_failing_make_leaves_nothing_behind(table, tmp_path):
    bad = table / "bad.toml"
    bad.write_text((table / demo.MAKE).read_text(encoding="utf-8").replace('amount = "2 cm"', 'amount = "-90 cm"'),
                   encoding="utf-8")
    said = one_sentence(shell("make", bad, "--out", tmp_path / "out"))
    assert "lengthen or shorten" in said
    assert not (tmp_path / "out").exists()


def test_an_unknown_alteration_is_met_with_the_nearest_name(table, tmp_path):
    bad = table / "typo.toml"
    bad.write_text((table / demo.MAKE).read_text(encoding="utf-8").replace("bust dart height", "bust dart hight"),
                   encoding="utf-8")
    assert 'did you mean "bust dart height"' in one_sentence(shell("make", bad, "--out", tmp_path / "out"))


def test_out_that_is_a_file_is_said(table, tmp_path):
    (tmp_path / "out").write_text("mine", encoding="utf-8")
    one_sentence(shell("make", table / demo.MAKE, "--out", tmp_path / "out"))
    assert (tmp_path / "out").read_text(encoding="utf-8") == "mine"


def test_the_demo_goes_from_the_bought_sheet_to_the_cloth(tmp_path):
    done = shell("demo", "--out", tmp_path, "--json")
    assert done.returncode == 0, done.stderr
    assert {path.name for path in tmp_path.iterdir()} >= {*FILES, demo.PATTERN, "lay.json", "lay.svg", "lay.pdf"}
    lay = json.loads((tmp_path / "lay.json").read_text(encoding="utf-8"))
    assert lay == json.loads(done.stdout)["lay"]
    assert lay["certificate"]["passed"] and lay["cloth"]["layers"] == "folded"


def test_a_negative_width_is_no_option(table, tmp_path):
    said = one_sentence(shell("lay", table / demo.MAKE, "--width", "-3cm", "--out", tmp_path / "out"))
    assert "-3" in said and not (tmp_path / "out").exists()


@pytest.mark.parametrize("words", [
    ("read", "no-such.pdf"), ("size", "no-such.toml"), ("make", "no-such.toml", "--out", "x"), ("mkae",),
    ("read",), ("make", "x.toml"),
])
def test_slips_get_one_sentence(words, tmp_path):
    one_sentence(shell(*words, cwd=tmp_path))
    assert not list(tmp_path.iterdir())


def test_errors_have_one_shape_for_machines(tmp_path):
    done = shell("read", tmp_path / "no-such.pdf", "--json")
    assert done.returncode == 2
    assert set(json.loads(done.stdout)["error"]) == {"kind", "text"}


@pytest.mark.parametrize("command", ["read", "size", "make", "demo"])
def test_every_command_has_help(command):
    done = shell(command, "--help")
    assert done.returncode == 0 and "--json" in done.stdout
