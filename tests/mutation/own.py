"""A module's own tests: its doctests, the file of its name and those that import it; if few, those of what leans on it."""

from __future__ import annotations

import ast
import time
from functools import cache
from itertools import accumulate
from pathlib import Path

from fork import in_child, run_pytest
from reach import STORE

FEWEST = 2  # test files, below which those of what leans on a module are its own too
LONGEST = 90.0  # s of processor: a file that takes longer, as many do where loops run as written, judges nothing


@cache
def _imports(path: Path) -> set[str]:
    """Return the modules that a file names, dotted."""
    named = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            named |= {one.name for one in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            named |= {node.module, *(f"{node.module}.{one.name}" for one in node.names)}
    return named


class Own:
    """Which tests name which module, and how long they take unspoilt; in the place of a `reach.Reach`."""

    def __init__(self, modules: list[Path], test_files: list[Path], workers: int):
        self.test_files = [path for path in test_files if path.parts[0] == "tests"]
        self.files = {path: self._of(path) for path in modules}
        timed = sorted({name for names in self.files.values() for name in names})
        STORE.mkdir(exist_ok=True)
        codes = in_child([lambda name=name: _time(name) for name in timed], workers, [LONGEST] * len(timed))
        self.failed = {name for name, code in zip(timed, codes, strict=True) if code}
        self.seconds = {name: float(_clock(name).read_text()) for name in timed if name not in self.failed}

    def _of(self, module: Path) -> list[str]:
        found, named, leaning, seen = [module] if ">>>" in module.read_text() else [], [], [module], set()
        while leaning and len(named) < FEWEST:
            names = {".".join(path.with_suffix("").parts) for path in leaning}
            stems = {f"test_{path.stem}.py" for path in leaning}
            named += [path for path in self.test_files if path.name in stems or names & _imports(path)]
            seen |= set(leaning)
            leaning = [
                path
                for path in sorted(Path("limekit").rglob("[!_]*.py"))
                if path not in seen and names & _imports(path)
            ]
        return list(dict.fromkeys(map(str, found + named)))

    def tests_for(self, path: Path, line: int, budget: float) -> list[list[str]]:
        """Return the tests to judge a mutant by, a file each, the quickest first, of four budgets at most."""
        usable = sorted((name for name in self.files[path] if name in self.seconds), key=self.seconds.get)
        spent = accumulate(self.seconds[name] for name in usable)
        return [
            [name] for name, seconds in zip(usable, spent, strict=True) if seconds < 4 * budget or name == usable[0]
        ]

    def cost(self, files: list[list[str]]) -> float:
        """Return what the tests take together, s."""
        return sum(self.seconds[name] for names in files for name in names)


def _clock(name: str) -> Path:
    return STORE / f"{name.replace('/', '-')}.seconds"


def _time(name: str) -> int:
    began = time.process_time()
    code = run_pytest([name])
    _clock(name).write_text(f"{time.process_time() - began}")
    return code
