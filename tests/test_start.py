"""The starter: standard library alone, readable by old Pythons, one sentence when something is missing."""

import ast
import importlib.util
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TREE = ast.parse((ROOT / "start.py").read_text(encoding="utf-8"))


@pytest.fixture
def start():
    spec = importlib.util.spec_from_file_location("start", ROOT / "start.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_it_uses_the_standard_library_alone():
    names = {a.name.split(".")[0] for n in ast.walk(TREE) if isinstance(n, ast.Import) for a in n.names}
    assert names and names <= set(sys.stdlib_module_names)
    assert not [n for n in ast.walk(TREE) if isinstance(n, ast.ImportFrom)]


def test_an_old_python_can_read_it():
    new = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.Match, ast.AsyncFunctionDef)
    assert not [n for n in ast.walk(TREE) if isinstance(n, new)]
    assert not [n for n in ast.walk(TREE) if isinstance(n, ast.FunctionDef) and n.returns]


def test_an_old_python_is_told(start, monkeypatch, capsys):
    monkeypatch.setattr(start.sys, "version_info", (3, 8, 2))
    with pytest.raises(SystemExit) as left:
        start.check_python()
    assert left.value.code == 2
    said = capsys.readouterr().err
    assert "3.11" in said and "3.8" in said and said.count("\n") == 1


@pytest.mark.parametrize("code, expected", [
    ("raise SystemExit('NewConnectionError: Temporary failure in name resolution')", "cannot be reached"),
    ("raise SystemExit('THESE PACKAGES DO NOT MATCH THE HASHES')", "not the one that the lock file names"),
    ("raise SystemExit('No space left')", "No space left"),
])
def test_a_failing_installation_is_told_in_one_sentence(start, capsys, code, expected):
    with pytest.raises(SystemExit):
        start.run_pip([sys.executable, "-c", code])
    said = capsys.readouterr().err
    assert expected in said and said.count("\n") == 1


def test_it_never_takes_away_the_environment_that_it_runs_in(start, monkeypatch, tmp_path, capsys):
    (tmp_path / "kept").write_text("library", encoding="ascii")
    monkeypatch.setattr(start, "HOME", str(tmp_path))
    monkeypatch.setattr(start.sys, "prefix", str(tmp_path))
    with pytest.raises(SystemExit):
        start.make_environment()
    assert (tmp_path / "kept").exists()
    assert "python3 start.py" in capsys.readouterr().err


def test_an_environments_own_interpreter_means_the_same_environment(start):
    code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); import start; print(start.fingerprint('run'))"
    both = {subprocess.run([python, "-c", code], capture_output=True, text=True, check=True).stdout
            for python in (sys.executable, sys._base_executable)}
    assert both == {start.fingerprint("run") + "\n"}


def test_without_words_it_opens_the_worktable(start, monkeypatch):
    told = []
    monkeypatch.setattr(start, "set_up", told.append)
    monkeypatch.setattr(start, "become", lambda command, folder: told.append((command[1:], folder)))
    start.main([])
    assert told == ["run", (["-m", "toilewright", "worktable"], None)]


def test_packages_that_the_tests_need_are_named_where_they_cannot_be_installed(start, monkeypatch, tmp_path, capsys):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.delenv("CHROMIUM", raising=False)
    assert "chromium" in start.missing_packages()
    with pytest.raises(SystemExit) as left:
        start.bring_packages(["chromium", "postgresql"])
    said = capsys.readouterr().err
    assert left.value.code == 2
    assert "sudo apt-get install chromium postgresql" in said and said.count("\n") == 1


def test_packages_are_installed_where_that_can_be_done(start, monkeypatch, tmp_path, capfd):
    monkeypatch.setenv("PATH", str(tmp_path))
    noted = tmp_path / "noted"
    for name, line in (("env", 'shift; exec "$@"'), ("sudo", 'shift; [ "$1" = true ] || exec "$@"'),
                       ("apt-get", f'echo "$@" >> {noted}; [ "$5" != lost ]')):
        (tmp_path / name).write_text(f"#!/bin/sh\n{line}\n", encoding="utf-8")
        (tmp_path / name).chmod(0o755)
    start.bring_packages([])
    assert not noted.exists()
    start.bring_packages(["chromium"])
    assert noted.read_text(encoding="utf-8").splitlines() == [
        "-qq update", "-qq install -y --no-install-recommends chromium"]
    with pytest.raises(SystemExit):
        start.bring_packages(["lost"])
    assert "could not be installed" in capfd.readouterr().err


def test_the_readme_names_every_command_and_file():
    from toilewright.cli import app
    from toilewright.make import buying_files, deliver, lay_files

    text = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = [name for name in app if not name.startswith("-")]
    assert commands
    for command in commands:
        assert re.search(rf"start\.py {command}\b", text), command
    for name in (*deliver.FILES, *lay_files.FILES, *buying_files.FILES):
        assert f"`{name}`" in text, name
