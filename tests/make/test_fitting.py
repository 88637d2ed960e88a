"""What a body asks of a pattern, from a make file; and the list of alterations."""

import json

import pytest

from toilewright import demo
from toilewright.cli import main
from toilewright.fit.alterations import ALTERATIONS


@pytest.fixture
def said(capsys):
    def run(*words):
        with pytest.raises(SystemExit) as left:
            main([str(w) for w in words])
        assert not left.value.code
        return capsys.readouterr().out
    return run


def test_every_alteration_is_listed(said):
    rows = json.loads(said("alterations", "--json"))
    assert [r["name"] for r in rows] == [a.name for a in ALTERATIONS]
    for row in rows:
        assert {"name", "group", "source", "min_mm", "max_mm", "needs"} <= set(row)
        assert row["group"] and row["source"] and row["min_mm"] < row["max_mm"] and isinstance(row["needs"], list)
    words = said("alterations")
    assert all(row["name"] in words for row in rows) and "a dart called \"bust dart\"" in words


def test_a_make_is_told_what_to_alter(table, said):
    told = json.loads(said("fit", table / demo.MAKE, "--json"))
    doing = {r["name"]: r for r in told["prescriptions"] if r["worth_doing"]}
    lower = doing["bust dart height"]
    assert lower["amount_mm"] > 5 and lower["plus_minus_mm"] >= 5
    assert "Your bust point is" in lower["reason"] and "lower the dart" in lower["reason"]
    # Those worth doing stand first.
    assert [r["worth_doing"] for r in told["prescriptions"]] == sorted(
        (r["worth_doing"] for r in told["prescriptions"]), reverse=True)
    names = {name for r in told["prescriptions"] for name in r["needs_measure"]}
    assert {e["name"] for e in told["estimates"]} <= names
    words = said("fit", table / demo.MAKE)
    assert words.index("1. ") < words.index("lower the dart")


def test_a_measure_that_was_not_taken_is_estimated_and_nothing_is_cut_by_it(table, said, tmp_path):
    for name in (demo.PATTERN, demo.MAKE):
        (tmp_path / name).write_bytes((table / name).read_bytes())
    sheet = (table / demo.TAPE).read_text(encoding="utf-8")
    lines = [line for line in sheet.splitlines() if "bust_point" not in line and "bust point" not in line]
    (tmp_path / demo.TAPE).write_text("\n".join(lines), encoding="utf-8")
    told = json.loads(said("fit", tmp_path / demo.MAKE, "--json"))
    (row,) = [r for r in told["prescriptions"] if r["name"] == "bust dart height"]
    assert row["needs_measure"] == ["neck shoulder point to bust point"] and not row["worth_doing"]
    assert row["amount_mm"] == 0 and "nine of ten bodies" in row["reason"]
    guessed = {e["name"]: e for e in told["estimates"]}["neck shoulder point to bust point"]
    assert guessed["may_cut"] is False and guessed["low_mm"] < guessed["value_mm"] < guessed["high_mm"]


def test_the_measure_that_would_tell_most_is_asked_for_next(table, said, tmp_path):
    for name in (demo.PATTERN, demo.MAKE):
        (tmp_path / name).write_bytes((table / name).read_bytes())
    sheet = (table / demo.TAPE).read_text(encoding="utf-8")
    gone = ("bust_point", "bust point", "across_back", "across back")
    lines = [line for line in sheet.splitlines() if not any(word in line for word in gone)]
    (tmp_path / demo.TAPE).write_text("\n".join(lines), encoding="utf-8")
    told = json.loads(said("fit", tmp_path / demo.MAKE, "--json"))
    needed = {name for row in told["prescriptions"] for name in row["needs_measure"]}
    ranked = told["next_measures"]
    assert [r["narrows_mm"] for r in ranked] == sorted((r["narrows_mm"] for r in ranked), reverse=True)
    assert ranked[0]["most"] in needed and ranked[0]["narrows_mm"] > 5
    assert f'Measure next: "{ranked[0]["name"]}", ' in said("fit", tmp_path / demo.MAKE)


def test_a_wrap_skirt_that_is_too_small_is_no_pattern_that_needs_nothing(tmp_path, said):
    lengths = {"waist front of the wrap": 19.5, "hip front of the wrap": 26.5, "beyond the centre at waist": 12,
               "beyond the centre at hip": 13, "waist to hip": 21, "waist back of the wrap": 18.5,
               "hip back of the wrap": 26.5, "skirt length": 68}
    sheet = "\n".join(f'"{name}" = {value}' for name, value in lengths.items())
    (tmp_path / "flat.toml").write_text('garment = "wrap skirt"\nsize = "14"\nallowances = "15 mm"\nunit = "cm"\n'
                                        f"[lengths]\n{sheet}\n", encoding="utf-8")
    (tmp_path / "make.toml").write_text('title = "Wrap"\npattern = "flat.toml"\ntape = "tape.toml"\nsize = "14"\n',
                                        encoding="utf-8")
    for waist, hip, fits in ((74, 94, True), (89, 113, False)):
        (tmp_path / "tape.toml").write_text(f'name = "Alto"\nunit = "cm"\nwaist_place = "natural"\n[measures]\n'
                                            f"waist = {waist}\nhip = {hip}\n", encoding="utf-8")
        words = said("fit", tmp_path / "make.toml")
        assert ("Nothing is worth altering" in words) is fits
        assert ("of ease at the hip of the wrap skirt" in words) is not fits
