"""The store from a shell: brought in, worked out, packed, put back."""

import json
import os
import subprocess
import sys

import pytest

from toilewright import demo


@pytest.fixture(scope="module")
def shell(tmp_path_factory):
    home = tmp_path_factory.mktemp("home")

    def run(*words, home=home):
        return subprocess.run([sys.executable, "-m", "toilewright", "workroom", *map(str, words)], capture_output=True,
                              text=True, check=False, env={**os.environ, "TOILEWRIGHT_HOME": str(home)})

    run.home = home
    return run


def told(done):
    assert done.returncode == 0, done.stderr
    return done.stdout


def refused(done):
    assert done.returncode == 2
    assert len(done.stderr.strip().splitlines()) == 1, done.stderr
    return done.stderr


def test_a_make_file_is_brought_in_and_made_up_like_the_file_itself(table, shell, tmp_path):
    assert "empty" in told(shell("list"))
    assert "Concert dress for the alto" in told(shell("take", table / demo.MAKE))
    told(shell("take", table / demo.TAPE))
    rows = json.loads(told(shell("list", "--json")))
    assert sorted(r["kind"] for r in rows) == ["body", "make", "pattern"]  # the sheet was there already
    told(shell("make", "concert dress for the alto", "--out", tmp_path / "kept", "--json"))
    done = subprocess.run([sys.executable, "-m", "toilewright", "make", str(table / demo.MAKE), "--out",
                           str(tmp_path / "file")], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    kept, file = (json.loads((tmp_path / f / "result.json").read_text(encoding="utf-8")) for f in ("kept", "file"))
    assert kept == file
    assert "taken from alto-dress.toml" in told(shell("history", "Concert dress for the alto"))
    assert json.loads(told(shell("size", rows[-1]["id"], "--json")))["sizes"]["chosen"] == {"all": "5"}


def test_everything_goes_into_one_file_and_out_again_elsewhere(table, shell, tmp_path):
    told(shell("take", table / demo.MAKE))
    told(shell("pack", tmp_path / "all.zip"))
    other = tmp_path / "other"
    assert "Concert dress for the alto" in told(shell("unpack", tmp_path / "all.zip", home=other))
    assert told(shell("list", home=other)) == told(shell("list"))


def test_slips_are_one_sentence(table, shell, tmp_path):
    told(shell("take", table / demo.MAKE))
    assert "did you mean" in refused(shell("size", "Concert dres"))
    assert "nothing.toml" in refused(shell("take", tmp_path / "nothing.toml"))
    (tmp_path / "no.zip").write_bytes(b"no pack")
    refused(shell("unpack", tmp_path / "no.zip"))
    refused(shell("restore", "yesterday"))
    assert "server" in refused(shell("backups", "--store", "postgresql://127.0.0.1/choir"))


def test_a_damaged_store_is_reported_and_its_backup_put_back(table, tmp_path, shell):
    home = tmp_path / "home"
    told(shell("take", table / demo.TAPE, home=home))
    told(shell("take", table / demo.MAKE, home=home))
    before = told(shell("list", home=home))
    newest = told(shell("backups", home=home)).split()[0]
    (home / "workroom.db").write_bytes(b"coffee" * 500)
    assert newest in refused(shell("list", home=home)) or "back-up" in refused(shell("list", home=home))
    assert "set-aside" in told(shell("restore", newest, home=home))
    assert set(told(shell("list", home=home)).splitlines()) <= set(before.splitlines())
