"""Loops compiled to machine code where numba is at hand; the same text runs as plain Python where it is not.

`part` marks a function that compiled code may call, `entry` one that the kit calls from outside. Both stay plain
functions to read and to test; numba is imported when an entry is first called, not before. What numba makes is
kept in a folder named by what went into it: the sources, the facts, the versions, the processor. A folder is whole
or is not there, and is never written to again: any number of kernels may read it at once, in an installation that
nobody may write to.
"""

from __future__ import annotations

import functools
import hashlib
import importlib
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path
from threading import Lock

import numpy as np
from filelock import FileLock

ROOMS = (
    "limekit.compiled",
    "limekit.stone.warming",
    "limekit.stone.front",
    "limekit.stone.shell",
    "limekit.stone.moment",
    "limekit.stone.reduced",
    "limekit.stone.march",
    "limekit.stone.cells",
    "limekit.stone.resolved",
    "limekit.fire.air_way",
    "limekit.kiln.wall.in_time",
    "limekit.kiln.column.gas",
    "limekit.kiln.column.updraught",
    "limekit.kiln.column.rings",
    "limekit.kiln.column.standing",
    "limekit.kiln.column.step",
    "limekit.kiln.column.run",
)
FACTS = Path(__file__).parent / "data" / "facts.csv"
LOCATOR = "limekit.compiled.Kept"
HOME, OFF, MAKING = "LIMEKIT_COMPILED", "NUMBA_DISABLE_JIT", "LIMEKIT_COMPILING"
WAITING = "Compiling the kit's loops for this computer, once: a minute or so ..."
UNKEPT = "There is no folder to keep the kit's compiled loops in: each lesson will compile them anew."
SLOWER = "numba is not to be had: the kit's loops run as plain Python, and a firing takes half a minute."
LATEST = 8  # folders kept, so that kits of several versions do not take each other's
_PARTS: list[Callable] = []
_ONE_AT_A_TIME = Lock()


def anywhere(condition) -> bool:
    """Whether something holds, in a number or anywhere in an array."""
    return bool(np.count_nonzero(condition))


def largest(values) -> float:
    """Return a number itself, or the largest of an array."""
    return np.max(values)


def choose(condition, one, other):
    """Return one or the other, number by number."""
    return np.where(condition, one, other)


def part(function: Callable) -> Callable:
    """Mark a function as one that compiled code calls; it is returned as it is."""
    _PARTS.append(function)
    return function


class entry:  # noqa: N801
    """A function that is compiled when it is first called; `py_func` is the function as written.

    Parameters
    ----------
    function : callable
    makes_arrays : bool
        Whether it makes arrays as it runs. Where none is made none need be counted, which halves the time.
    """

    def __init__(self, function: Callable, makes_arrays: bool = True) -> None:
        functools.update_wrapper(self, function)
        self.py_func = function
        self._options = {"error_model": "numpy", "nogil": True, "_nrt": makes_arrays}
        self._compiled: Callable | None = None

    def __call__(self, *arguments):
        """Run it, compiled where that is to be had."""
        if not available():
            return self.py_func(*arguments)
        with _ONE_AT_A_TIME:
            if self._compiled is None:
                self._compiled = _compile(self.py_func, self._options)
        return self._compiled(*arguments)


def side_by_side(function: Callable, asked) -> list:
    """Return what a function makes of each thing asked, in as many threads as there are processors.

    Loops and numpy let one another go on meanwhile.
    """
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return list(pool.map(function, asked))


def available() -> bool:
    """Whether loops are to be compiled: numba is installed and not turned off by ``NUMBA_DISABLE_JIT``."""
    return os.environ.get(OFF, "0") in ("", "0") and find_spec("numba") is not None


@functools.cache
def key() -> str:
    """Return what the compiled loops follow from, as one word: sources, facts, versions and processor."""
    from llvmlite import binding

    parts = hashlib.sha256()
    for room in ROOMS:
        parts.update(Path(find_spec(room).origin).read_bytes())
    parts.update(FACTS.read_bytes())
    versions = [version(one) for one in ("numba", "llvmlite", "numpy")]
    processor = binding.get_process_triple(), binding.get_host_cpu_name(), binding.get_host_cpu_features().flatten()
    settings = sorted(f"{name}={value}" for name, value in os.environ.items() if name.startswith("NUMBA_"))
    parts.update("\n".join([*versions, sys.version, *processor, *settings]).encode())
    return parts.hexdigest()[:20]


def homes() -> tuple[Path, ...]:
    """Return where compiled loops may be kept: with the installation, for all who use it, else each for themselves."""
    if given := os.environ.get(HOME):
        return (Path(given),)
    from platformdirs import user_cache_path

    return Path(sys.prefix) / "share" / "limekit" / "compiled", user_cache_path("limekit", appauthor=False)


def kept() -> Path | None:
    """Return the folder in which compiled loops are kept; None where they are still to be compiled."""
    if making := os.environ.get(MAKING):
        return Path(making)
    return next((home / key() for home in homes() if os.path.isdir(home / key())), None)


def prepare(tell: Callable[[str], None]) -> Path | None:
    """Compile in a process of its own what is not yet compiled, and keep it; None where nothing can be kept.

    Where another process is at it, it is waited for.

    Parameters
    ----------
    tell : callable
        Told one line before a wait, or why there is none.
    """
    if not available():
        tell(SLOWER)
        return None
    if (found := kept()) is not None:
        return found
    home = next(filter(_may_write, homes()), None)
    if home is None:
        tell(UNKEPT)
        return None
    tell(WAITING)
    with FileLock(home / "making.lock"):
        return kept() or _make(home, tell)


def _make(home: Path, tell: Callable[[str], None]) -> Path | None:
    with tempfile.TemporaryDirectory(dir=home, prefix="making-") as making:
        made = Path(making) / "made"
        made.mkdir()
        command = [sys.executable, "-c", "from limekit.course.ahead import run_loops; run_loops()"]
        own = {"env": os.environ | {MAKING: str(made)}, "cwd": Path(__file__).parents[1]}
        done = subprocess.run(command, **own, capture_output=True, text=True)
        if done.returncode:
            why = done.stderr.strip().splitlines() or [f"the compiler was stopped ({done.returncode})"]
            tell(f"They could not be compiled beforehand: {why[-1]}")
            return None
        for path in (made, *made.rglob("*")):
            path.chmod(0o755 if path.is_dir() else 0o644)  # for all who use the installation, whoever made it
        made.rename(home / key())
    older = [one for one in home.iterdir() if one.is_dir()]
    for old in sorted(older, key=lambda one: one.stat().st_mtime)[:-LATEST]:
        shutil.rmtree(old, ignore_errors=True)
    return home / key()


def _may_write(folder: Path) -> bool:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        tempfile.TemporaryFile(dir=folder).close()
    except OSError:
        return False
    return True


@functools.cache
def _numba():
    """Return numba, told of every part, and where what it compiles is kept."""
    import numba
    from numba.core.caching import _CacheLocator
    from numba.extending import overload, register_jitable

    class Kept(_CacheLocator):
        """The folder named by what the loops follow from: never stale, and read where it may not be written."""

        def get_cache_path(self) -> str:
            return str(kept())

        def get_source_stamp(self) -> str:
            return key()

        def get_disambiguator(self) -> str:
            return ""

        @classmethod
        def from_function(cls, py_func, py_file):
            return cls()

    globals()["Kept"] = Kept  # numba looks it up by name

    for room in ROOMS:
        importlib.import_module(room)
    overload(anywhere)(lambda condition: lambda condition: bool(condition))
    overload(largest)(lambda values: lambda values: values)
    overload(choose)(lambda condition, one, other: lambda condition, one, other: one if condition else other)
    for function in _PARTS:
        register_jitable(error_model="numpy")(function)
    return numba


def _tell(line: str) -> None:
    print(line, file=sys.stderr, flush=True)


def _compile(function: Callable, options: dict) -> Callable:
    try:
        numba = _numba()
    except ImportError as fault:  # as where numpy is newer than numba knows
        _tell(f"{fault}: {SLOWER}")
        return function
    if prepare(_tell) is None:
        return numba.njit(**options)(function)
    before, numba.config.CACHE_LOCATOR_CLASSES = numba.config.CACHE_LOCATOR_CLASSES, LOCATOR
    try:
        return numba.njit(**options, cache=True)(function)
    finally:
        numba.config.CACHE_LOCATOR_CLASSES = before
