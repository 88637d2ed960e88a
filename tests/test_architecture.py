"""Imports run downward only, modules stay small, and nothing heavy is loaded at start-up."""

import ast
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

SOURCE = Path(__file__).parent.parent / "src" / "toilewright"
LAYERS = [
    {"errors", "units", "tolerance", "known", "files"},
    {"geometry"},
    {"pattern", "body", "draw", "packing"},
    {"fit", "cutting", "blocks"},
    {"intake", "output"},
    {"make"},
    {"workroom"},
    {"app"},
    {"cli", "cli_room", "cli_fit", "cli_cloth", "cli_lay", "cli_strips", "__main__", "__init__", "demo"},
]
# Peers that may be used by others of their own layer, and why.
ALLOWED = {
    ("known", "units"), ("units", "errors"), ("tolerance", "errors"),   # one floor of plain values
    ("blocks", "cutting"), ("fit", "cutting"),                         # allowances are trimmed by both
    ("cli", "demo"), ("cli", "cli_room"), ("cli", "cli_fit"), ("cli_fit", "cli_room"),
    ("cli", "cli_cloth"), ("cli_cloth", "cli_room"), ("cli_cloth", "cli_lay"), ("cli_lay", "cli_room"),
    ("cli", "cli_strips"), ("cli_strips", "cli_room"),
    ("__main__", "cli"), ("demo", "cli"),                              # the rim
}


def level(room):
    return next(i for i, layer in enumerate(LAYERS) if room in layer)


def imported_rooms(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names = [node.module] if node.module != "toilewright" else [f"toilewright.{a.name}" for a in node.names]
        elif isinstance(node, ast.Import):
            names = [a.name for a in node.names]
        for name in names:
            if name.startswith("toilewright."):
                yield name.split(".")[1]


@pytest.mark.parametrize("path", sorted(SOURCE.rglob("*.py")), ids=lambda p: str(p.relative_to(SOURCE)))
def test_imports_run_downward(path):
    parts = path.relative_to(SOURCE).with_suffix("").parts
    room = parts[0]
    for used in imported_rooms(path):
        if used in (room, "__version__"):
            continue
        assert level(used) < level(room) or (room, used) in ALLOWED, f"{'.'.join(parts)} reaches up to {used}"


@pytest.mark.parametrize("path", sorted(SOURCE.rglob("*.py")), ids=lambda p: str(p.relative_to(SOURCE)))
def test_modules_stay_small(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 420


def test_the_core_loads_no_heavy_library():
    code = ("import sys, toilewright.pattern, toilewright.geometry, toilewright.draw;"
            "print([m for m in ('numpy', 'scipy', 'shapely', 'ezdxf', 'reportlab', 'pikepdf') if m in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_worktable_opens_without_any_heavy_library():
    code = ("import sys, toilewright.app.server, toilewright.app.site as site, toilewright.workroom.store as store;"
            "room = store.Workroom.open(sys.argv[1]); site.create_app(room); room.close();"
            "print([m for m in ('numpy', 'scipy', 'shapely', 'ezdxf', 'reportlab', 'pikepdf', 'pypdfium2', 'lxml')"
            " if m in sys.modules])")
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run([sys.executable, "-c", code, folder], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_locks_pin_hashes_and_name_no_index():
    for lock in (SOURCE.parent.parent / "requirements").glob("*.lock"):
        text = lock.read_text(encoding="utf-8")
        assert "--hash=sha256:" in text
        assert "://" not in text and "index" not in text


def test_no_two_test_files_share_a_name():
    names = [p.name for p in Path(__file__).parent.rglob("test_*.py")]
    assert sorted(names) == sorted(set(names))
