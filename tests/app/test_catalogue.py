"""Every word that a person reads comes from the catalogue; every colour from one place; nothing is inline."""

import re
from pathlib import Path

import pytest

from toilewright.app.words import catalogue, say

APP = Path(__file__).parents[2] / "src" / "toilewright" / "app"
TEMPLATES = sorted((APP / "templates").rglob("*.html"))
SCRIPTS = sorted((APP / "static" / "js").rglob("*.js"))
STYLES = sorted((APP / "static" / "css").rglob("*.css"))
SOURCES = [*TEMPLATES, *SCRIPTS, *sorted(APP.rglob("*.py"))]
NAME = pytest.mark.parametrize("path", [*TEMPLATES, *SCRIPTS], ids=lambda p: p.name)
SCREENS = {p.stem for p in (APP / "words" / "en").glob("*.toml")}
QUOTED = re.compile(rf"""["'`]((?:{'|'.join(sorted(SCREENS))})\.[a-z0-9_]*)(["'`]|\$\{{|\{{)?""")


def mentions(path):
    """Keys and beginnings of keys that a file writes down: (text, is it whole?)."""
    for key, end in QUOTED.findall(path.read_text(encoding="utf-8")):
        yield key, end in ("\"", "'", "`") and not key.endswith("_")


def test_every_phrase_that_is_asked_for_is_there():
    phrases = catalogue()
    missing = {(p.name, key) for p in SOURCES for key, whole in mentions(p)
               if whole and key not in phrases and f"{key}_one" not in phrases
               and not key.endswith((".html", ".js", ".css", ".toml", ".json", ".pdf", ".svg", ".dxf"))}
    assert missing == set()


def test_every_phrase_is_used():
    said = {m for p in SOURCES for m in mentions(p)}
    whole = {key for key, complete in said if complete}
    starts = tuple(key for key, complete in said if not complete)
    assert [start for start in starts if start.endswith(".")] == []  # would let a whole file pass
    unused = [key for key in catalogue()
              if not {key, key.removesuffix("_one")} & whole and not key.startswith(starts)]
    assert unused == []


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.name)
def test_templates_hold_no_words_of_their_own(path):
    text = path.read_text(encoding="utf-8")
    text = re.sub(r"{#.*?#}|{{.*?}}|{%.*?%}|<!--.*?-->", " ", text, flags=re.S)
    shown = re.findall(r">([^<]*[A-Za-z]{2}[^<]*)<", re.sub(r"<(svg)\b.*?</\1>", "", text, flags=re.S))
    shown += re.findall(r'\b(?:title|aria-label|placeholder|alt)="([^"]*[A-Za-z]{2}[^"]*)"', text)
    assert [s.strip() for s in shown] == []


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: p.name)
def test_templates_hold_no_inline_style_or_script(path):
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"\sstyle=|\son[a-z]+=\"|javascript:", text)
    assert all("src=" in tag or 'type="application/json"' in tag for tag in re.findall(r"<script[^>]*>", text))


@pytest.mark.parametrize("path", [p for p in STYLES if p.name != "base.css"], ids=lambda p: p.name)
def test_colours_are_named_in_one_place(path):
    assert re.findall(r"#[0-9a-fA-F]{3,8}\b|\b(?:rgb|hsl)a?\(", path.read_text(encoding="utf-8")) == []


def test_a_page_says_what_is_decided_on_it():
    pages = [p for p in (APP / "templates").glob("*.html") if p.name != "base.html"]
    silent = [p.name for p in pages if "Decides:" not in p.read_text(encoding="utf-8").split("#}")[0]]
    assert silent == []


def test_one_thing_is_said_in_the_singular(monkeypatch):
    monkeypatch.setattr("toilewright.app.words.catalogue", lambda: {"a.n": "{n} pins", "a.n_one": "one pin"})
    assert say("a.n", n=1) == "one pin"
    assert say("a.n", n=3) == "3 pins"
    with pytest.raises(KeyError):
        say("a.needle")


def test_what_she_types_is_no_place_to_be_filled(monkeypatch):
    monkeypatch.setattr("toilewright.app.words.catalogue", lambda: {"a.b": "{what} by {whom}, {not_given}"})
    assert say("a.b", what="{whom}", whom="her") == "{whom} by her, {not_given}"


@NAME
def test_scripts_fetch_nothing_from_elsewhere(path):
    text = path.read_text(encoding="utf-8")
    assert [u for u in re.findall(r"""["'(`](?:https?:)?//[^"'`)\s]+""", text) if "www.w3.org" not in u] == []
