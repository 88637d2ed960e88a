"""A shell for the tests of bad input: runs commands, and sees that nothing is left behind or spoilt."""

import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

COUNTER = Path(__file__).with_name("counter.py")


@dataclass(frozen=True)
class Done:
    """How a command ended; `changed` names the files that are new, gone or different."""

    code: int
    out: str
    err: str
    changed: tuple[str, ...]

    def sentence(self):
        """The one sentence with which it was refused."""
        assert self.code == 2, (self.code, self.err)
        assert self.changed == ()
        said = self.err.strip()
        assert "\n" not in said
        assert "Traceback" not in said and "no fault of yours" not in said
        assert said[-1] in '.?"' and len(said) < 600
        return said

    def report(self, code=0):
        """What was answered for machines."""
        assert self.code == code, self.err
        return json.loads(self.out)

    def finding(self, name, code=0):
        """The text of the first finding of that name."""
        found = self.report(code)["findings"]
        return next((f["text"] for f in found if f["code"] == name), None) or found


class Shell:
    """The command line in a folder."""

    def __init__(self, said):
        self.said = said
        self.counter = subprocess.Popen([sys.executable, COUNTER], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                        text=True)

    def __call__(self, folder, *words, largest=None):
        before = contents(folder)
        self.counter.stdin.write(json.dumps({"words": [str(w) for w in words], "folder": str(folder),
                                             "said": str(self.said / "said"), "largest": largest}) + "\n")
        self.counter.stdin.flush()
        code = int(self.counter.stdout.readline())
        after = contents(folder)
        out, err = ((self.said / f"said{n}").read_text(encoding="utf-8", errors="replace") for n in (1, 2))
        changed = sorted(n for n in before.keys() | after.keys() if before.get(n) != after.get(n))
        return Done(code, out, err, tuple(changed))

    def close(self):
        self.counter.stdin.close()
        self.counter.wait()
        self.counter.stdout.close()


def contents(folder):
    """Everything in a folder, hidden and temporary things too."""
    return {str(p.relative_to(folder)): p.read_bytes() if p.is_file() else b"folder" for p in Path(folder).rglob("*")}
