"""Whatever the code cites stands in SOURCES.md."""

import re
from pathlib import Path

ROOT = Path(__file__).parent.parent
CITED = re.compile(
    r"\b(?:(?:ISO(?:/IEC)?|EN|BS) \d{3,5}(?:-\d+)?|ASTM [DF]\d+|C-\d{3}\b|E-\d{3}\b|Threads|Schneider|Abramowitz|"
    r"de Boor|Central Washington University|Liechty|USDA Home Economics Research Report \d+|Montana|Nebraska|"
    r"New Dressmaker|Broyden|Woman's Institute)")


def test_every_citation_is_in_the_bibliography():
    listed = (ROOT / "SOURCES.md").read_text(encoding="utf-8")
    missing = {}
    for folder in ("src", "tests"):
        for path in (*(ROOT / folder).rglob("*.py"), *(ROOT / folder).rglob("*.toml"), *(ROOT / folder).rglob("*.js")):
            if path == Path(__file__):
                continue
            for key in CITED.findall(path.read_text(encoding="utf-8")):
                if key not in listed:
                    missing.setdefault(key, str(path.relative_to(ROOT)))
    assert not missing
