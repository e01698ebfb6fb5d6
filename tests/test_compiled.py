"""Compiled or plain the answer is one; compiled loops are kept under all they follow from, once, for all who read them."""

import ast
import importlib
import inspect
import json
import os
import shutil
import subprocess
import sys
from collections import defaultdict
from concurrent.futures import ThreadPoolExecutor
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path
from types import ModuleType, SimpleNamespace

import numpy as np
import pytest

from limekit import assess_trial, burn_stone, burning_time, compiled, fire_kiln, size_kiln
from limekit.kiln.column.run import run
from limekit.stone import march, resolved
from limekit.stone.reduced import burn_each
from limekit.stone.trial import Trial, TrialPiece
from limekit.units import HOUR

HERE = Path(__file__).parents[1]
FIRE = """
from limekit import burn_stone, fire_kiln, size_kiln
stone = burn_stone.plain(diameter=0.05, gas_temperature=1273.15, time=7200.0)
fired = fire_kiln.plain(size_kiln.plain(200.0, 0.06), hours=7200.0, levels=2)
print([float(one).hex() for one in (stone.conversion, stone.core_temperature, fired.conversion, fired.fuel_used)])
"""
SIZE = size_kiln.plain(200.0, 0.06)
needs_numba = pytest.mark.skipif(not compiled.available(), reason="no numba, or it is turned off")


def answer(script, **environment):
    environment = os.environ | {"PYTHONPATH": str(HERE)} | environment
    return subprocess.run(
        [sys.executable, "-W", "ignore", "-c", script], env=environment, capture_output=True, text=True, check=True
    ).stdout


def modules():
    return [importlib.import_module(name) for name in compiled.ROOMS]


def written():
    """Every function that is compiled, as written."""
    entries = (one.py_func for room in modules() for one in vars(room).values() if isinstance(one, compiled.entry))
    return {*compiled._PARTS, *entries}


def figures():
    """Name -> values: what stands at the top of the rooms, worked out of nothing but figures."""
    found = defaultdict(set)
    for room in modules():
        for node in ast.parse(Path(room.__file__).read_text()).body:
            if isinstance(node, ast.Assign) and not any(isinstance(one, ast.Call) for one in ast.walk(node.value)):
                names = [one.id for one in ast.walk(node.targets[0]) if isinstance(one, ast.Name)]
                leans = {one.id for one in ast.walk(node.value) if isinstance(one, ast.Name)}
                if leans <= set(found):
                    for name in names:
                        found[name].add(repr(getattr(room, name)))
            elif isinstance(node, ast.Assign) and ast.unparse(node.value).startswith("range("):
                for one in node.targets[0].elts:
                    found[one.id].add(repr(getattr(room, one.id)))
    return found


def test_compiled_loops_lean_on_nothing_that_their_key_does_not_hold():
    """A fact frozen into machine code would outlive its change; so would a figure of a module not in the key."""
    known, functions, own = figures(), written(), {room.__name__ for room in modules()}
    assert len(functions) > 40
    for function in functions:
        for name in function.__code__.co_names:
            if name not in function.__globals__:
                continue
            value, at = function.__globals__[name], f"{function.__module__}.{function.__name__}: {name}"
            if isinstance(value, ModuleType):
                assert value.__name__ == "numpy", at
            elif inspect.isfunction(value) or isinstance(value, type):
                assert value.__module__ in own, at
            else:
                assert type(value) in (int, float), at
                assert repr(value) in known[name], at
        assert set(function.__code__.co_freevars) == set(), function


@pytest.mark.slow
@needs_numba
def test_a_changed_fact_changes_the_answer_even_of_loops_compiled_before():
    """The very folder compiled under the old facts is read on purpose: facts come to it as arguments."""
    changed = """
from limekit import compiled, tables
rows = tables.rows
def larger(row):
    return row | {{part: str(1.2 * float(row[part])) for part in ("value", "low", "high") if row[part]}}
def changed(name):
    return tuple(larger(row) if row.get("key") == "{fact}" else row for row in rows(name))
tables.rows, compiled.key = changed, lambda: "{key}"
"""
    usual = answer(FIRE)
    for fact in ("stefan_boltzmann", "lime_conductivity", "heat_transfer_coefficient"):
        before = changed.format(fact=fact, key=compiled.key())
        found = answer(before + FIRE)
        assert found != usual, fact
        plainly = json.loads(answer(before + FIRE, NUMBA_DISABLE_JIT="1").replace("'", '"'))
        assert [float.fromhex(one) for one in json.loads(found.replace("'", '"'))] == pytest.approx(
            [float.fromhex(one) for one in plainly], rel=1e-6
        )


@needs_numba
def test_whatever_the_loops_follow_from_changes_their_key(monkeypatch, tmp_path):
    from llvmlite import binding

    keys = {compiled.key()}

    def is_new():
        key = compiled.key.__wrapped__()
        assert key not in keys
        keys.add(key)

    for name in compiled.ROOMS:
        with monkeypatch.context() as patch:
            edited = tmp_path / f"{name}.py"
            edited.write_bytes(Path(find_spec(name).origin).read_bytes() + b"\n")
            at = {name: SimpleNamespace(origin=edited)}
            patch.setattr(compiled, "find_spec", lambda one, at=at: at.get(one) or find_spec(one))
            is_new()
    with monkeypatch.context() as patch:
        edited = tmp_path / "facts.csv"
        edited.write_bytes(compiled.FACTS.read_bytes() + b"\n")
        patch.setattr(compiled, "FACTS", edited)
        is_new()
    for package in ("numba", "llvmlite", "numpy"):
        with monkeypatch.context() as patch:
            patch.setattr(compiled, "version", lambda one, at=package: "0.0" if one == at else version(one))
            is_new()
    for asked in ("get_process_triple", "get_host_cpu_name"):
        with monkeypatch.context() as patch:
            patch.setattr(binding, asked, lambda: "another")
            is_new()
    for setting in ("NUMBA_CPU_NAME", "NUMBA_OPT"):
        with monkeypatch.context() as patch:
            patch.setenv(setting, "1")
            is_new()
    assert compiled.key.__wrapped__() == compiled.key()


@needs_numba
def test_plain_python_says_the_same():
    stone, fired = (
        burn_stone.plain(diameter=0.05, gas_temperature=1273.15, time=7200.0),
        fire_kiln.plain(SIZE, hours=HOUR, levels=1),
    )
    assert resolved.march._compiled
    assert run._compiled
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(sys.modules, "numba", None)
        assert not compiled.available()
        plain, plainly = (
            burn_stone.plain(diameter=0.05, gas_temperature=1273.15, time=7200.0),
            fire_kiln.plain(SIZE, hours=HOUR, levels=1),
        )
    assert stone.conversion == pytest.approx(plain.conversion, rel=1e-9)
    assert 0.0 < plain.conversion < 1.0
    assert fired.conversion == pytest.approx(plainly.conversion, rel=1e-6, abs=1e-12)
    assert fired.fuel_used == pytest.approx(plainly.fuel_used, rel=1e-6)
    assert plainly.fuel_used > 0.0


@needs_numba
def test_whatever_the_kit_asks_for_was_compiled_beforehand():
    """No learner waits for a compiler in the middle of a lesson: nothing is asked for that is not in the folder."""
    fire_kiln.plain(SIZE, hours=HOUR, levels=3, arrangement="graded", stone_moisture=0.04, air_door="open")
    fire_kiln.plain(SIZE, hours=HOUR, levels=1, stoking=[(0.0, 6.0 / HOUR), (HOUR, 0.0)], chimney_height=2.0)
    for shape in ("slab", "cylinder", "sphere"):
        burn_stone.plain(diameter=0.05, gas_temperature=1273.15, time=3600.0, shape=shape, stone_moisture=0.03)
    times = burning_time.plain(np.array([0.02, 0.05]), 1273.15, model="reduced", lime_conductivity=0.5)
    assert times[0] < burning_time.plain(0.05, 1273.15, model="reduced")
    assess_trial.plain(Trial((TrialPiece("any", 0.02, 600.0, core_size=0.01),)), co2_fraction=0.1)
    for one in (run, resolved.march, march.march, burn_each):
        assert len(one._compiled.signatures) == 1
        assert not one._compiled.stats.cache_misses


@pytest.mark.slow
@needs_numba
def test_a_folder_that_may_not_be_written_to_serves_all_who_read_it(tmp_path):
    answer(FIRE)
    folder = shutil.copytree(compiled.kept(), tmp_path / compiled.key())
    before = {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in folder.iterdir()}
    for path in (*folder.iterdir(), folder, tmp_path):
        path.chmod(path.stat().st_mode & ~0o222)
    script = (
        FIRE
        + """
from limekit.kiln.column.run import run
print(sum(run._compiled.stats.cache_hits.values()), sum(run._compiled.stats.cache_misses.values()))
"""
    )
    try:
        with ThreadPoolExecutor(2) as learners:
            told = list(learners.map(lambda _: answer(script, LIMEKIT_COMPILED=str(tmp_path)), range(2)))
    finally:
        tmp_path.chmod(0o755)
        folder.chmod(0o755)
    assert told[0] == told[1]
    assert told[0].splitlines()[-1] == "1 0"
    assert {path: (path.stat().st_mtime_ns, path.read_bytes()) for path in folder.iterdir()} == before


def test_two_kernels_that_start_at_once_compile_once_and_leave_nothing_half_made(tmp_path):
    script = """
import os, time
from pathlib import Path
from types import SimpleNamespace
from limekit import compiled
def compile(command, env, **_):
    with open("{tally}", "a") as tally:
        tally.write("made ")
    Path(env["LIMEKIT_COMPILING"], "first").write_text("half")
    time.sleep(1.0)
    Path(env["LIMEKIT_COMPILING"], "second").write_text("whole")
    return SimpleNamespace(returncode=0)
compiled.subprocess.run = compile
compiled.key, compiled.available = lambda: "one", lambda: True
said = []
print(sorted(path.name for path in compiled.prepare(said.append).iterdir()), len(said))
""".format(tally=tmp_path / "tally")
    with ThreadPoolExecutor(3) as kernels:
        told = list(kernels.map(lambda _: answer(script, LIMEKIT_COMPILED=str(tmp_path / "home")), range(3)))
    assert {one.split("]")[0] for one in told} == {"['first', 'second'"}
    assert (tmp_path / "tally").read_text() == "made "
    assert sorted(path.name for path in (tmp_path / "home").iterdir() if path.is_dir()) == ["one"]


@pytest.fixture
def empty(monkeypatch, tmp_path):
    """No folder yet, a compiler that writes one line, and a word that stands for the key."""

    def make(command, env, **_):
        Path(env["LIMEKIT_COMPILING"], "loops").write_text("compiled")
        return subprocess.CompletedProcess(command, 0)

    monkeypatch.setenv("LIMEKIT_COMPILED", str(tmp_path))
    monkeypatch.setattr(compiled, "available", lambda: True)
    monkeypatch.setattr(compiled, "key", lambda: "now")
    monkeypatch.setattr(compiled.subprocess, "run", make)
    return tmp_path


def test_one_waits_once_and_is_told_so(empty):
    said = []
    assert compiled.prepare(said.append) == empty / "now"
    assert said == [compiled.WAITING]
    assert compiled.prepare(said.append) == empty / "now"
    assert len(said) == 1
    assert (empty / "now").stat().st_mode & 0o755 == 0o755, "whoever made it, all may read it"


def test_folders_of_long_ago_are_cleared_away_and_the_latest_stay(empty):
    for number in range(compiled.LATEST + 3):
        (empty / f"old{number:02}").mkdir()
        os.utime(empty / f"old{number:02}", (number, number))
    compiled.prepare(print)
    left = sorted(path.name for path in empty.iterdir() if path.is_dir())
    assert left == ["now", *(f"old{number:02}" for number in range(4, compiled.LATEST + 3))]


@pytest.mark.parametrize(("code", "error", "why"), [(1, "Traceback\nNo space left\n", "No space left"), (-9, "", "-9")])
def test_a_compiler_that_fails_says_why_and_leaves_nothing(code, error, why, empty, monkeypatch):
    failed = subprocess.CompletedProcess([], code, stderr=error)
    monkeypatch.setattr(compiled.subprocess, "run", lambda *_, **__: failed)
    said = []
    assert compiled.prepare(said.append) is None
    assert why in said[-1]
    assert not [path for path in empty.iterdir() if path.is_dir()]


def test_where_nothing_can_be_kept_it_is_said(empty, monkeypatch):
    (empty / "a file").touch()
    monkeypatch.setenv("LIMEKIT_COMPILED", str(empty / "a file" / "below"))
    said = []
    assert compiled.prepare(said.append) is None
    assert said == [compiled.UNKEPT]


def test_where_there_is_no_numba_it_is_said(monkeypatch):
    monkeypatch.setitem(sys.modules, "numba", None)
    said = []
    assert compiled.prepare(said.append) is None
    assert said == [compiled.SLOWER]


def test_a_numba_that_does_not_load_is_told_of_and_done_without(monkeypatch, capsys):
    def fails():
        raise ImportError("Numba needs an older NumPy")

    monkeypatch.setattr(compiled, "available", lambda: True)
    monkeypatch.setattr(compiled, "_numba", fails)
    assert compiled.entry(lambda one: one + 1)(2) == 3
    assert "older NumPy" in capsys.readouterr().err


@needs_numba
def test_one_thread_and_many_give_the_same_figures():
    threads = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
    assert answer(FIRE, **dict.fromkeys(threads, "1")) == answer(FIRE, **dict.fromkeys(threads, "4"))
    with ThreadPoolExecutor(4) as pool:
        told = list(pool.map(lambda _: fire_kiln.plain(SIZE, hours=HOUR, levels=2).fuel_used, range(8)))
    assert len(set(told)) == 1
