"""Spoil the science a little, one place at a time, and see whether the tests notice.

::

    python tests/mutation/score.py                    # a seeded sample of every module
    python tests/mutation/score.py --seed 2 limekit/fire limekit/chemistry.py
    python tests/mutation/score.py --again            # of the same draw, only what survived last time
    python tests/mutation/score.py --own limekit/kiln # each module against the tests that name it alone

Sites are drawn in each module in proportion to how many it has; a mutant is judged by the tests that run its line and
its module (see `reach.py`), until one fails. A mutant that outlasts three times what those tests take is counted as
noticed, and told apart. Survivors listed in `equivalent.csv` cannot change any result; each has its reason there, and
they are not tried.

With ``--own`` nothing is run under coverage first: a module's tests are those that `own.py` says, and loops stay
compiled unless one of them is to be spoilt. That takes minutes, not hours, and its score is the lower.
"""

from __future__ import annotations

import argparse
import csv
import importlib
import json
import math
import os
import signal
import sys
import warnings
from collections import Counter, defaultdict
from importlib.machinery import SourceFileLoader
from importlib.util import spec_from_file_location
from pathlib import Path

from fork import in_child, run_pytest, warm_up
from mutants import Mutant, count_sites, draw
from own import Own
from reach import STORE, Reach, find_reach

from limekit.compiled import ROOMS

SCIENCE = (
    "limekit/chemistry.py",
    "limekit/balance.py",
    "limekit/stone",
    "limekit/fire",
    "limekit/kiln",
    "limekit/lime",
)
LEFT_OUT = {"test_house.py"}
LEAST = 2
BUDGET = 20.0


class Spoilt(SourceFileLoader):
    """Loads a module from its mutant's source."""

    def __init__(self, name: str, mutant: Mutant):
        super().__init__(name, str(mutant.path))
        self.mutant = mutant

    def get_code(self, fullname: str):
        with warnings.catch_warnings(action="ignore"):
            return compile(self.mutant.source, str(self.mutant.path.resolve()), "exec")


def _dotted(path: Path) -> str:
    return ".".join(path.with_suffix("").parts)


class Finder:
    """Puts one spoilt module in the place of the sound one."""

    def __init__(self, mutant: Mutant):
        self.name, self.mutant = _dotted(mutant.path), mutant

    def find_spec(self, name, path=None, target=None):
        if name == self.name:
            return spec_from_file_location(name, self.mutant.path.resolve(), loader=Spoilt(name, self.mutant))
        return None


def _judge(mutant: Mutant, files: list[list[str]]) -> int:
    finder = Finder(mutant)
    sys.meta_path.insert(0, finder)
    importlib.import_module(finder.name)
    return next((code for tests in files if (code := run_pytest(tests)) != 0), 0)


def _verdict(code: int) -> str:
    if code in (-signal.SIGXCPU, -signal.SIGALRM, -signal.SIGKILL):
        return "timed out"
    return "survived" if code == 0 else "killed"


def _try_all(mutants: list[Mutant], reach: Reach | Own, workers: int) -> list[str]:
    files = [reach.tests_for(mutant.path, mutant.line, BUDGET) for mutant in mutants]
    reached = [index for index, chosen in enumerate(files) if chosen]
    jobs = [lambda index=index: _judge(mutants[index], files[index]) for index in reached]
    codes = in_child(jobs, workers, [10 + 3 * reach.cost(files[index]) for index in reached])
    found = dict(zip(reached, map(_verdict, codes), strict=True))
    return [found.get(index, "survived") for index in range(len(mutants))]


def _known_equivalent() -> set[tuple[str, str, str]]:
    path = Path(__file__).with_name("equivalent.csv")
    return (
        {(row["path"], row["before"], row["after"]) for row in csv.DictReader(path.open())} if path.exists() else set()
    )


def _range(share: float, tried: int) -> tuple[float, float]:
    """Return the binomial 90 % range of a share found in so many tries (Wilson 1927)."""
    z2 = 1.645**2 / tried
    middle, half = share + z2 / 2, math.sqrt(share * (1 - share) * z2 + z2**2 / 4)
    return (middle - half) / (1 + z2), (middle + half) / (1 + z2)


def _row(name: str, counts: Counter, share: float | None = None) -> str:
    tried = counts.total()
    share = (tried - counts["survived"]) / tried if share is None else share
    low, high = _range(share, tried)
    figures = f"{tried:6d} {counts['killed']:7d} {counts['survived']:9d} {counts['timed out']:10d}"
    return f"{name:36s} {figures} {100 * share:6.1f} %  {100 * low:3.0f} to {100 * high:.0f} %"


def _report(counts: dict[Path, Counter], sites: dict[Path, int]) -> str:
    """Return the totals by folder and over all, each module weighing by its sites."""
    folders = defaultdict(list)
    for path in counts:
        folders[str(path.parent if path.parent != Path("limekit") else path)].append(path)
        folders["in all"].append(path)
    lines = []
    for name, paths in sorted(folders.items(), key=lambda item: item[0] == "in all"):
        survived = sum(sites[path] * counts[path]["survived"] / counts[path].total() for path in paths)
        share = 1 - survived / sum(sites[path] for path in paths)
        lines.append(_row(name, sum((counts[path] for path in paths), Counter()), share))
    return "\n".join(lines)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("modules", nargs="*", default=SCIENCE, help="files or folders (all the science, if none)")
    parser.add_argument("--sample", type=int, default=600, help="mutants in all, over the modules named (600)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--again", action="store_true", help="try only what survived last time")
    parser.add_argument("--own", action="store_true", help="judge a module by the tests that name it")
    return parser.parse_args()


def main() -> None:
    """Draw, try, and print."""
    asked = _arguments()
    os.chdir(Path(__file__).parents[2])
    named = [Path(name) for name in asked.modules]
    modules = [file for path in named for file in (sorted(path.rglob("[!_]*.py")) if path.is_dir() else [path])]
    warm_up(compiled=asked.own and not any(_dotted(path) in ROOMS for path in modules))
    science = sorted(file for name in SCIENCE for file in [Path(name), *Path(name).glob("*.py")] if file.is_file())
    tests = sorted({*Path("tests").glob("test_*.py"), *science})
    tests = [path for path in tests if path.name not in LEFT_OUT]
    reach = Own(modules, tests, asked.workers) if asked.own else find_reach(science, tests, asked.workers)
    for test in sorted(reach.failed):
        print(f"not used, since it fails unspoilt: {test}")

    sites = {path: count_sites(path) for path in modules}
    each = {path: max(LEAST, round(asked.sample * number / sum(sites.values()))) for path, number in sites.items()}
    last = STORE / "survived.json"
    survived = {tuple(row) for row in json.loads(last.read_text())} if asked.again else None
    equivalent, left = _known_equivalent(), []
    counts = {}
    print(f"{'seed ' + str(asked.seed):36s}  tried  killed  survived  timed out    score  90 % range", flush=True)
    for path in modules:
        mutants = [
            mutant
            for mutant in draw(path, each[path], asked.seed)
            if (key := (str(path), mutant.before, mutant.after)) not in equivalent
            and (survived is None or key in survived)
        ]
        if not mutants:
            continue
        verdicts = _try_all(mutants, reach, asked.workers)
        counts[path] = Counter(verdicts)
        print(_row(str(path), counts[path]), flush=True)
        lost = [mutant for mutant, verdict in zip(mutants, verdicts, strict=True) if verdict == "survived"]
        print("".join(f"    {mutant}\n" for mutant in lost), end="", flush=True)
        left += [(str(path), mutant.before, mutant.after) for mutant in lost]
    last.write_text(json.dumps(left))
    print(_report(counts, sites))


if __name__ == "__main__":
    main()
