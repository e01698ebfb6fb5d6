"""Which tests run which lines, found by running each test file once under coverage."""

from __future__ import annotations

import ast
import hashlib
import json
import os
import time
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path

from fork import in_child, run_pytest

STORE = Path(".mutation")
MODULE_LEVEL = ""
FILES = 8


@dataclass
class Reach:
    """What the tests are known to reach: file -> line -> tests, how long each takes, s, and what failed unspoilt."""

    lines: dict[str, dict[int, set[str]]] = field(default_factory=lambda: defaultdict(lambda: defaultdict(set)))
    seconds: dict[str, float] = field(default_factory=dict)
    failed: set[str] = field(default_factory=set)

    def tests_for(self, path: Path, line: int, budget: float) -> list[list[str]]:
        """Return the tests to judge a mutant by, file by file, the file most likely to notice it first.

        Tests that run the line are taken before the rest of the files that run its module, the quick ones first, up to `budget` seconds
        and eight files: a cached table or a shared fixture runs in the first test that wants it, and those that
        read what it made serve as well.
        """
        module = self.lines.get(str(path), {})
        near, far = module.get(line, set()), set().union(*module.values()) if module else set()
        near = near if _in_a_function(path, line) else set()
        reaching = {test.split("::")[0] for test in far}
        far = {test for test in self.seconds if test.split("::")[0] in reaching}
        files, spent = defaultdict(list), 0.0
        for test in sorted(far - self.failed, key=lambda test: (test not in near, self.seconds[test], test)):
            spent += self.seconds[test]
            if files and spent > budget:
                break
            files[test.split("::")[0]].append(test)

        def standing(tests: list[str]) -> tuple[bool, int]:
            return f"test_{path.stem}.py" not in tests[0], -len(near.intersection(tests))

        return sorted(files.values(), key=standing)[:FILES]

    def cost(self, files: list[list[str]]) -> float:
        """Return what the tests take together, s."""
        return sum(self.seconds[test] for tests in files for test in tests)


class _Watch:
    """A pytest plugin: one coverage context a test, and the processor time that each took."""

    def __init__(self, coverage):
        self.coverage, self.seconds, self.failed = coverage, defaultdict(float), set()

    def pytest_runtest_logstart(self, nodeid):
        self.coverage.switch_context(_function(nodeid))
        self.seconds[_function(nodeid)] -= time.process_time()

    def pytest_runtest_logfinish(self, nodeid):
        self.seconds[_function(nodeid)] += time.process_time()

    def pytest_runtest_logreport(self, report):
        if report.failed:
            self.failed.add(_function(report.nodeid))


def _in_a_function(path: Path, line: int) -> bool:
    """Whether a line is run by calls; any other is run once, by whichever test happens to import the module first."""
    functions = (node for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.FunctionDef))
    return any(node.body[0].lineno <= line <= node.end_lineno for node in functions)


def _function(nodeid: str) -> str:
    """Return the test without its parameters, whose names may hold a figure that a mutant changes."""
    return nodeid.split("[")[0]


def _run_one(test_file: Path, modules: list[Path], into: Path) -> None:
    os.environ["COVERAGE_CORE"] = "ctrace"
    from coverage import Coverage

    coverage = Coverage(data_file=None, include=[str(path.resolve()) for path in modules], messages=False)
    watch = _Watch(coverage)
    coverage.start()
    run_pytest([str(test_file)], [watch])
    coverage.stop()
    data, lines = coverage.get_data(), {}
    for path in modules:
        contexts = data.contexts_by_lineno(str(path.resolve()))
        tests = {line: sorted(set(names) - {MODULE_LEVEL}) for line, names in contexts.items()}
        lines[str(path)] = {line: names for line, names in tests.items() if names}
    into.write_text(json.dumps({"lines": lines, "seconds": watch.seconds, "failed": sorted(watch.failed)}))


def _print_of(paths: list[Path]) -> str:
    return hashlib.sha256(b"\0".join(path.read_bytes() for path in paths)).hexdigest()[:16]


def find_reach(modules: list[Path], test_files: list[Path], workers: int) -> Reach:
    """Run what has not been run since it last changed, and return what all of it reaches."""
    STORE.mkdir(exist_ok=True)
    package = _print_of(sorted(Path("limekit").rglob("*.py")))
    kept = {path: STORE / f"{path.stem}-{package}-{_print_of([path])}.json" for path in test_files}
    wanted = [path for path in test_files if not kept[path].exists()]
    in_child([lambda path=path: _run_one(path, modules, kept[path]) for path in wanted], workers)
    reach = Reach()
    for old in {*STORE.glob("*-*.json")} - {*kept.values()}:
        old.unlink()
    for test_file, path in kept.items():
        if not path.exists():
            reach.failed.add(str(test_file))
            continue
        found = json.loads(path.read_text())
        reach.seconds |= found["seconds"]
        reach.failed |= set(found["failed"])
        for module, lines in found["lines"].items():
            for line, tests in lines.items():
                reach.lines[module][int(line)] |= set(tests)
    return reach
