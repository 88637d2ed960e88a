"""Runs the benchmarks: every bench_*.py here has ``run() -> dict``; ``run.py [NAME ...] [--json]``.

Names may be written with hyphens. The figures of one that is asked for alone stand at the top as well.
"""

import importlib.util
import json
import sys
from pathlib import Path

HERE = Path(__file__).parent


def load(path):
    spec = importlib.util.spec_from_file_location(path.stem, path)
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module  # its functions can be sent to other processes
    spec.loader.exec_module(module)
    return module


def main(words):
    as_json = "--json" in words
    wanted = [w.replace("-", "_") for w in words if not w.startswith("-")]
    known = {p.stem.removeprefix("bench_"): p for p in sorted(HERE.glob("bench_*.py"))}
    unknown = [w for w in wanted if w not in known]
    if unknown:
        sys.stderr.write(f'There is no benchmark called "{unknown[0]}"; known here: {", ".join(known)}.\n')
        return 2
    results = {name: load(path).run() for name, path in known.items() if not wanted or name in wanted}
    if as_json and len(wanted) == 1:
        results |= results[wanted[0]]
    if as_json:
        print(json.dumps(results, indent=2))
    else:
        for name, figures in results.items():
            print(name)
            for key, value in figures.items():
                shown = f"{value:.3f}" if isinstance(value, float) else value
                print(f"  {key}: {shown}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
