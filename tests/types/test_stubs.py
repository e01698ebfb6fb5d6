"""The stub of the public functions is fresh, a strict checker believes it, and what comes back is what it says."""

import ast
import dataclasses
import re
import runpy
import subprocess
import sys
import zipfile
from pathlib import Path

import make_stubs
import pytest

from limekit.course import published

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
CALLER = HERE / "caller.py"
QUICK = ("balance", "chemistry", "design", "draught", "fuel", "heat", "ledger", "lime", "stone")


def test_the_stub_is_what_the_signatures_say():
    assert make_stubs.STUB.read_text(encoding="utf-8") == make_stubs.stub(), "run python tests/types/make_stubs.py"


@pytest.mark.slow
def test_a_strict_checker_finds_no_fault_in_a_callers_scripts(tmp_path):
    script = re.search(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)[1]
    readme = tmp_path / "from_a_script.py"
    readme.write_text(script, encoding="utf-8")
    checked = [readme, CALLER, HERE.with_name("trial_from_a_table.py"), make_stubs.STUB]
    command = [sys.executable, "-m", "mypy", "--strict", "--follow-imports=silent", "--cache-dir", tmp_path / "cache"]
    done = subprocess.run(
        [*command, *checked], cwd=tmp_path, env={"MYPYPATH": str(ROOT)}, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_what_a_caller_does_runs():
    runpy.run_path(str(CALLER))


def stub_says():
    """Return what the stub says that each function returns, and each property of each class."""
    functions, classes = {}, {}
    for one in ast.parse(make_stubs.STUB.read_text(encoding="utf-8")).body:
        if isinstance(one, ast.FunctionDef):
            functions[one.name] = ast.unparse(one.returns)
        elif isinstance(one, ast.ClassDef):
            inside = {part.name: ast.unparse(part.returns) for part in one.body if isinstance(part, ast.FunctionDef)}
            if "__call__" in inside:
                functions[one.name.removeprefix("_")] = inside["__call__"]
            classes[one.name] = inside
    return functions, classes


FUNCTIONS, CLASSES = stub_says()


def amiss(value, told: str, where: str):
    """Yield where a result is something else than its stub says."""
    kinds = told.split(" | ")
    if value is None:
        if "None" not in kinds:
            yield f"{where} is None, not {told}"
    elif hasattr(value, "units") or "Quantity" in kinds:
        if not (hasattr(value, "units") and "Quantity" in kinds):
            yield f"{where} is {value!r}, not {told}"
    elif dataclasses.is_dataclass(value):
        name = type(value).__name__
        if not {name, f"{type(value).__module__}.{name}"} & set(kinds) and "Any" not in kinds:
            yield f"{where} is a {name}, not {told}"
        said = CLASSES.get(name, {}) if name in kinds else {}
        for field in dataclasses.fields(value):
            inside = getattr(value, field.name)
            as_written = f"{type(inside).__module__}.{type(inside).__name__} | {type(inside).__name__} | None"
            yield from amiss(inside, said.get(field.name, as_written), f"{where}.{field.name}")
    elif isinstance(value, tuple):
        for place, one in enumerate(value):
            if hasattr(one, "units") and "Quantity" not in told:
                yield f"{where}[{place}] is {one!r}, not {told}"


ONE_EACH = {case.function: case for topic in QUICK for case in published.cases(topic)}


@pytest.mark.parametrize("function", sorted(ONE_EACH))
def test_what_comes_back_is_what_the_stub_says(function):
    answer = published._called(function, ONE_EACH[function].inputs)
    assert list(amiss(answer, FUNCTIONS[function], function)) == []
    if dataclasses.is_dataclass(answer):
        table = answer.to_frame()
        assert table.value.dtype == float
        assert len(table) == len(table.index.unique())


def test_an_editable_install_is_a_path_that_checkers_can_follow(tmp_path):
    build = "import sys; from setuptools.build_meta import build_editable; build_editable(sys.argv[1])"
    copied = tmp_path / "kit"
    subprocess.run(["git", "clone", "-q", "--depth", "1", ROOT.as_uri(), copied], check=True)
    subprocess.run([sys.executable, "-c", build, tmp_path], cwd=copied, check=True, capture_output=True)
    inside = zipfile.ZipFile(next(tmp_path.glob("*.whl")))
    at_start = [name for name in inside.namelist() if "/" not in name]
    assert [name.endswith(".pth") for name in at_start] == [True]
    assert inside.read(at_start[0]).decode().strip() == str(copied)
