"""The house's own rules: floors kept, style kept, light to import, everything shipped."""

import ast
import dataclasses
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest

import limekit

ROOT = Path(__file__).parents[1]
CARD = {"README.md", "DEVELOPERS.md", "pyproject.toml", "notebooks", "limekit", "tests", "images"}
HEAVY = ("scipy", "pandas", "plotly", "ipywidgets", "pint", "numpy")


def run(*command):
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


@pytest.mark.parametrize(
    "command",
    [("lint-imports",), ("ruff", "check", "."), ("ruff", "format", "--check", ".")],
    ids=["floors", "lint", "format"],
)
def test_the_house_is_in_order(command):
    code, said = run(str(Path(sys.executable).with_name(command[0])), *command[1:])
    assert code == 0, said


def test_the_top_level_is_the_design_card():
    code, listed = run("git", "ls-files", "-co", "--exclude-standard")
    if code:
        pytest.skip("not a git checkout")
    assert {line.split("/")[0] for line in listed.splitlines()} - CARD == {
        line.split("/")[0] for line in listed.splitlines() if line.startswith(".")
    }


def test_importing_the_kit_is_light():
    asked = f"import limekit, sys; print([m for m in {HEAVY!r} if m in sys.modules])"
    assert run(sys.executable, "-c", asked) == (0, "[]\n")


def test_every_public_name_is_there_and_documented():
    for name in limekit.__all__:
        assert getattr(limekit, name).__doc__, name


def test_public_names_are_listed_by_module_in_order():
    assert list(limekit._HOMES) == sorted(limekit._HOMES)
    with pytest.raises(AttributeError, match=r"it has .*mass_balance"):
        limekit.mas_balance  # noqa: B018


def test_what_the_kit_needs_is_declared():
    declared = {line.split(">")[0].split("<")[0].split(";")[0].strip() for line in metadata.requires("limekit") or ()}
    imported = {"anywidget", "ipywidgets", "numpy", "pandas", "pint", "plotly", "scipy", "tomlkit", "jupyterlab"}
    assert imported <= declared


def _science():
    """Every module below pictures and course."""
    for one in pkgutil.walk_packages(limekit.__path__, "limekit."):
        if not one.name.startswith(("limekit.course", "limekit.pictures", "limekit.__main__")):
            yield importlib.import_module(one.name)


def test_what_holds_arrays_is_compared_as_a_thing_since_arrays_have_no_one_truth():
    for module in _science():
        for name, made in inspect.getmembers(module, dataclasses.is_dataclass):
            holds = any("ndarray" in str(field.type) for field in dataclasses.fields(made))
            assert not (holds and made.__dataclass_params__.eq), f"{module.__name__}.{name}: write eq=False"


WRITES = {"write_text", "write_bytes", "touch", "unlink", "mkdir", "makedirs", "mkstemp", "NamedTemporaryFile"}
WRITES |= {"rename", "replace", "copyfile", "copy", "copy2", "move", "to_csv", "write_html", "to_excel", "dump"}
MODULES_THAT_WRITE = {"os", "shutil", "tempfile", "json", "tomlkit", "pickle"}  # for names that text has too
TEXT_HAS_TOO = {"replace", "copy", "dump"}
OPENS_TO_WRITE = set("wax+")


def _opens_for_writing(path):
    """Yield the calls in a file that open, make, move or take away a file."""
    for one in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(one, ast.Call):
            continue
        name = getattr(one.func, "attr", getattr(one.func, "id", ""))
        of = getattr(getattr(one.func, "value", None), "id", "")
        words = [
            word.value for word in [*one.args, *(key.value for key in one.keywords)] if isinstance(word, ast.Constant)
        ]
        modes = {word for word in words if isinstance(word, str) and len(word) <= 3 and OPENS_TO_WRITE & set(word)}
        writes = name in WRITES and (name not in TEXT_HAS_TOO or of in MODULES_THAT_WRITE)
        if writes or (name in ("open", "fdopen") and modes) or (of == "os" and name == "open"):
            yield f"{path.relative_to(ROOT)}:{one.lineno}: {of}.{name}"


def test_one_module_opens_files_for_writing():
    home = ROOT / "limekit" / "records" / "files.py"
    apart = {home, ROOT / "limekit" / "compiled.py"}  # whose folder of machine code holds no person's file
    found = [
        call
        for path in sorted((ROOT / "limekit").rglob("*.py"))
        if path not in apart
        for call in _opens_for_writing(path)
    ]
    assert found == [], "write with limekit.records.files, which locks, and keeps what was there"
    assert len(list(_opens_for_writing(home))) >= 5, "the test no longer sees a call that writes"


def test_words_reach_a_page_by_one_door_that_escapes_them():
    doors = {
        "def _repr_html_": {"printing.py", "shown.py", "things.py"},
        "<!DOCTYPE": {"printing.py"},
        "HTML(": {"explorer.py"},
    }
    doors |= {
        "_repr_markdown_": set(),
        "_repr_svg_": set(),
        "text/markdown": {"export.py"},
        "text/html": {"export.py", "burn_watch.py"},
    }
    sources = {path.name: path.read_text(encoding="utf-8") for path in (ROOT / "limekit").rglob("*.py")}
    for sign, homes in doors.items():
        assert {name for name, source in sources.items() if sign in source} == homes, sign


SCIENCE = (
    "balance.py",
    "chemistry.py",
    "grading.py",
    "fire/*.py",
    "kiln/**/*.py",
    "ledger/*.py",
    "lime/*.py",
    "stone/*.py",
)


def _signs_of_nought(path):
    """Yield where an f-string rounds what may lie just below nought, and does not ask for no minus."""
    for one in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not (isinstance(one, ast.FormattedValue) and one.format_spec):
            continue
        spec, said = (ast.unparse(ast.JoinedStr([part]))[2:-1] for part in (one.format_spec.values[-1], one))
        signed = "+" in spec or any(
            isinstance(part, ast.BinOp)
            and isinstance(part.op, ast.Sub)
            and (ast.unparse(part.right) != "ZERO_CELSIUS" or "air" in ast.unparse(part.left))
            for part in ast.walk(one.value)
        )
        if signed and spec.endswith("f") and "z" not in spec:
            yield f"{path.name}:{one.lineno}: {said}"


def test_a_figure_that_may_round_to_nought_is_printed_with_no_minus():
    found = [bare for path in sorted((ROOT / "limekit").rglob("*.py")) for bare in _signs_of_nought(path)]
    assert found == [], "a difference or an air temperature is formatted with z, as in {more:+z.0f}"


PLAIN = {0.25, 0.5, 1.5} | set(range(11)) | {12, 24, 100}  # halves, powers, months, hours of a day, percent
FORMULAS = {"shell_integrals"}  # whose numbers are a formula's own


def _bare_numbers(path):
    """Yield the numbers in a file's functions and defaults that are neither plain nor next to nothing."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    named = {id(one) for part in tree.body if isinstance(part, ast.Assign | ast.AnnAssign) for one in ast.walk(part)}
    named |= {
        id(one)
        for part in ast.walk(tree)
        if isinstance(part, ast.FunctionDef) and part.name in FORMULAS
        for one in ast.walk(part)
    }
    for one in ast.walk(tree):
        if isinstance(one, ast.Constant) and type(one.value) in (int, float) and id(one) not in named:
            tiny = 0.0 < one.value <= 1e-6
            if one.value not in PLAIN and not tiny:
                yield f"{path.name}:{one.lineno}: {one.value}"


def test_numbers_with_a_meaning_are_facts_or_named():
    found = [
        bare for pattern in SCIENCE for path in sorted((ROOT / "limekit").glob(pattern)) for bare in _bare_numbers(path)
    ]
    assert found == [], "give each a row in facts.csv, or a name at the top of its module if it is a method's own"


NO_EQUATION = {
    "a fact or a table's row as it stands": {
        "binder_for",
        "burn_signs",
        "carbonation_heat",
        "fuel_names",
        "glow_sources",
        "glow_temperature",
        "hydration_heat",
        "mix_names",
        "place_names",
        "ready_dates",
        "slaking_vessel",
    },
    "a word for where a figure lies among limits": {
        "bucket_test",
        "building_lime_class",
        "glow_colour",
        "overburn_class",
    },
    "what was given, checked": {"cost_line", "tank"},
    "another function, over and over": {"compare_trial", "shaft_window"},
}


def test_every_public_function_of_the_science_gives_its_equation():
    rooms = {pattern.split("/")[0].removesuffix(".py") for pattern in SCIENCE}
    public = [name for home, names in limekit._HOMES.items() if home.split(".")[0] in rooms for name in names]
    bare = set()
    for name in public:
        one = getattr(limekit, name)
        notes = re.search(r"^Notes\n-----\n(.*?)(?:^\w+\n---|\Z)", inspect.getdoc(one), re.DOTALL | re.MULTILINE)
        if not inspect.isclass(one) and not (notes and re.search("[=∝≤]", notes[1])):
            bare.add(name)
    assert bare == set().union(*NO_EQUATION.values()), "give the equation in Notes, or say here why it needs none"
