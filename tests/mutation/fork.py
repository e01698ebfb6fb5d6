"""Children that start warm: the heavy libraries are imported once, and each test run is a fork of that."""

from __future__ import annotations

import gc
import importlib
import os
import resource
import signal
import sys
import time
from collections.abc import Callable, Sequence

ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
HEAVY = (
    "cantera",
    "fluids",
    "hypothesis",
    "ht",
    "ipywidgets",
    "pandas",
    "pint",
    "plotly.graph_objects",
    "pytest",
    "scipy.integrate",
    "scipy.interpolate",
    "scipy.linalg",
    "scipy.optimize",
    "scipy.stats",
    "limekit.edge",
    "limekit.estimate",
    "limekit.tables",
)
MEMORY = 4 << 30


def warm_up(compiled: bool = False) -> None:
    """Import what every test wants and no mutant changes."""
    as_written = () if compiled else ("NUMBA_DISABLE_JIT",)  # where a loop is spoilt or watched
    os.environ |= dict.fromkeys((*ONE_THREAD, *as_written), "1") | {
        "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1",
        "LIMEKIT_RECORD": "example",
    }
    sys.path.insert(0, os.getcwd())
    for name in HEAVY:
        importlib.import_module(name)
    from hypothesis import settings

    settings.register_profile("mutation", deadline=None, database=None, derandomize=True)
    gc.freeze()


def run_pytest(tests: Sequence[str], plugins: Sequence[object] = ()) -> int:
    """Run tests in this process with the kit's own settings, but no notebooks and no plugins save hypothesis."""
    import pytest

    options = ["-q", "--assert=plain", "-p", "_hypothesis_pytestplugin", "-p", "no:cacheprovider", "-m", "not browser"]
    own = "--import-mode=importlib --strict-markers" + " --doctest-modules" * tests[0].startswith("limekit")
    first = [] if plugins else ["-x"]
    return pytest.main(
        [*options, "-o", f"addopts={own}", *first, "--hypothesis-profile=mutation", *tests], list(plugins)
    )


def in_child(
    jobs: Sequence[Callable[[], int | None]], workers: int, limits: Sequence[float] | None = None
) -> list[int]:
    """Run each job in a fork, `workers` at a time, and return their exit codes; below zero, the signal that ended it.

    A limit is of processor seconds, so that a busy machine cannot make a fault look found.
    """
    codes, running, waiting = [0] * len(jobs), {}, list(range(len(jobs)))
    while waiting or running:
        while waiting and len(running) < workers:
            index = waiting.pop(0)
            running[_start(jobs[index], limits[index] if limits else None)] = index
        child, status = os.wait()
        codes[running.pop(child)] = os.waitstatus_to_exitcode(status)
    return codes


def _start(job: Callable[[], int | None], limit: float | None) -> int:
    child = os.fork()
    if child:
        return child
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nothing, stream)
    if limit:
        seconds = int(limit + time.process_time()) + 1
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        signal.alarm(20 * seconds)
    code = 1
    try:
        code = job() or 0
    finally:
        os._exit(code)
