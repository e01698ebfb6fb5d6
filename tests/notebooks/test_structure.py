"""What every notebook must be: a card at the top, thin code, stored results, nothing heavy, nothing typed that is computed."""

import ast
import json
import re
from pathlib import Path

import pytest
import renumber

from limekit.course.ladder import ladder

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))
CARD = re.compile(
    r"# [^\n]+\?\n\n[^*]+\?\n\n"
    r"\*\*Before you start\*\*\n\n- \*\*Time:\*\* \d+ minutes\n- \*\*To hand:\*\* [^*]+\n- \*\*Take care:\*\* [^*]+\n\n"
    r"\*\*In your hands at the end\*\*\n\n[^*]+"
)
LINK = re.compile(r"\[([^\]]+)\]\((\w+\.ipynb)\)")
NUMBER_UNLINKED = re.compile(r"(?<!\[)\blessons? \d", re.IGNORECASE)
MOST_LINES, MOST_LINES_A_CELL, MOST_BYTES = 40, 15, 400_000
NUMBER_WITH_UNIT = re.compile(
    r"\d\s*(°C|degC|K\b|%|kg\b|g\b|mm\b|cm\b|m\b|m³|m²|L\b|litres?\b|tonnes?\b|Pa\b|MJ\b|kJ\b|kW\b|atm\b)"
)
CODE_SPAN = re.compile(r"`[^`]*`")
ALTLESS = re.compile(r"!\[\s*\]\(|<img(?![^>]*\balt=.[^'\"])", re.IGNORECASE)
PICTURES = {"application/vnd.plotly.v1+json", "image/png", "image/svg+xml"}


def cells(path, kind):
    notebook = json.loads(path.read_text(encoding="utf-8"))
    return [cell | {"source": "".join(cell["source"])} for cell in notebook["cells"] if cell["cell_type"] == kind]


def code_lines(source):
    return [line for line in source.splitlines() if line.strip() and not line.strip().startswith("#")]


def is_lesson(cell):
    return "lesson" in cell["metadata"].get("tags", [])


def is_box(cell):
    return re.search(r"\b(beside|lesson\.hold)\(", cell["source"]) is not None


def test_there_are_notebooks():
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
class TestNotebook:
    def test_opens_with_a_card(self, path):
        first = json.loads(path.read_text(encoding="utf-8"))["cells"][0]
        assert first["cell_type"] == "markdown"
        assert CARD.fullmatch("".join(first["source"])), "title and question; before you start; in your hands"

    def test_every_code_cell_has_been_run_clean(self, path):
        for cell in cells(path, "code"):
            assert cell["execution_count"], f"never run: {cell['source'][:60]}"
            for output in cell["outputs"]:
                assert output["output_type"] != "error"
                assert output.get("name") != "stderr"

    def test_runs_from_the_top_in_order(self, path):
        counts = [cell["execution_count"] for cell in cells(path, "code")]
        assert counts == list(range(1, len(counts) + 1))

    def test_is_light_and_carries_no_widget_state(self, path):
        notebook = json.loads(path.read_text(encoding="utf-8"))
        assert path.stat().st_size < MOST_BYTES
        assert "widgets" not in notebook["metadata"]
        assert notebook["metadata"]["kernelspec"]["name"] == "python3"

    def test_code_is_thin(self, path):
        sources = [code_lines(cell["source"]) for cell in cells(path, "code") if not is_lesson(cell)]
        assert max(map(len, sources)) <= MOST_LINES_A_CELL
        assert sum(map(len, sources)) <= MOST_LINES

    def test_code_defines_nothing_and_imports_the_kit_alone(self, path):
        for cell in cells(path, "code"):
            for node in ast.walk(ast.parse(cell["source"])):
                if is_lesson(cell):
                    continue
                assert not isinstance(node, ast.FunctionDef | ast.ClassDef | ast.Lambda)
                if isinstance(node, ast.Import):
                    assert all(name.name.split(".")[0] == "limekit" for name in node.names)
                if isinstance(node, ast.ImportFrom):
                    assert node.module.split(".")[0] == "limekit"

    def test_asks_something(self, path):
        assert any("check(" in cell["source"] for cell in cells(path, "code"))

    def test_shows_the_usual_cautions(self, path):
        assert any("cautions(" in cell["source"] for cell in cells(path, "code"))

    def test_every_picture_speaks(self, path):
        for cell in cells(path, "markdown"):
            assert not ALTLESS.search(cell["source"]), "a picture without alt text"
        for cell in cells(path, "code"):
            for output in cell["outputs"]:
                if PICTURES & set(output.get("data", {})):
                    text = "".join(output["data"].get("text/plain", ""))
                    assert len(text.split()) >= 6, f"a picture that says nothing: {text!r}"
                    assert not text.startswith("Figure(")

    def test_prose_types_no_figure_the_kit_could_compute(self, path):
        for cell in cells(path, "markdown")[1:]:
            prose = CODE_SPAN.sub("", cell["source"])
            typed = [found.group() for found in NUMBER_WITH_UNIT.finditer(prose)]
            assert not typed, f"typed into prose, to be computed with say(): {typed}"

    def test_reads_and_writes_beside_itself_only(self, path):
        for cell in cells(path, "code"):
            assert not re.search(r"\.\./|https?://|[\"']/|%\w|^!", cell["source"], re.MULTILINE)


def test_numbers_minutes_map_table_and_the_way_on_are_as_the_rows_have_them():
    root = NOTEBOOKS[0].parents[1]
    assert renumber.renames(root, ladder()) == {}
    assert list(renumber.rewrites(root, ladder())) == [], "python tests/notebooks/renumber.py puts it right"


def figures_alone(source):
    """Yield every number in a learner's code that the kit would take for SI floats, and every second spelled out."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Constant) and node.value in (3600, 86400, 273.15):
            yield node.value
        if isinstance(node, ast.Call) and ".plain" in ast.unparse(node.func):
            given = [*node.args, *(one.value for one in node.keywords)]
            yield from (ast.unparse(one) for one in given if re.search(r"\d", ast.unparse(one)))


def test_a_figure_in_si_floats_is_found():
    assert list(figures_alone("plan.plain.but(hours=24 * 3600.0)")) == ["24 * 3600.0", 3600.0]
    assert list(figures_alone("plan.with_(chimney_height='3 m')")) == []


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
class TestFigures:
    def test_a_learner_meets_no_si_floats(self, path):
        assert [
            found for cell in cells(path, "code") if not is_box(cell) for found in figures_alone(cell["source"])
        ] == []

    def test_a_sum_by_hand_says_the_unit_of_every_number(self, path):
        for box in filter(is_box, cells(path, "code")):
            told = [line for line in box["source"].splitlines() if re.match(r"[\w, ]+ = .*\d", line)]
            assert [line for line in told if "#" not in line and "limekit." not in line and "plan." not in line] == []

    def test_it_shows_what_an_answer_rests_on(self, path):
        shown = [
            "".join(output["data"].get("text/plain", ""))
            for cell in cells(path, "code")
            for output in cell["outputs"]
            if "data" in output
        ]
        assert any(one.startswith("What this rests on\n") and one.count("\n") >= 2 for one in shown)


BOXES = [path for path in NOTEBOOKS if any(map(is_box, cells(path, "code")))]


@pytest.mark.parametrize("path", BOXES, ids=lambda path: path.stem)
def test_a_sum_done_by_hand_is_short_and_agrees_with_the_kit(path):
    (box,) = filter(is_box, cells(path, "code"))
    assert 4 <= len([line for line in code_lines(box["source"]) if "import" not in line]) <= 9
    said = "".join(part for output in box["outputs"] for part in output["data"]["text/plain"])
    assert "so plain a sum may be out by" in said


def test_the_sums_that_carry_the_kit_are_done_by_hand():
    slugs = {path.stem.partition("_")[2] for path in BOXES}
    assert slugs >= {
        "what_fire_does",
        "how_hot_how_long",
        "fuel_and_air",
        "draught",
        "walls",
        "slake",
        "money_and_carbon",
    }


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
class TestLinks:
    def test_every_one_leads_to_a_lesson_and_the_last_words_to_the_next(self, path):
        links = [link for cell in cells(path, "markdown") for link in LINK.findall(cell["source"])]
        assert {name for _, name in links} <= {other.name for other in NOTEBOOKS}
        for words, name in links:
            if words.endswith("?"):
                target = cells(path.with_name(name), "markdown")[0]["source"].splitlines()[0]
                assert target == f"# {words}"
        after = NOTEBOOKS.index(path) + 1
        if after < len(NOTEBOOKS):
            assert NOTEBOOKS[after].name in cells(path, "markdown")[-1]["source"]

    def test_a_lesson_named_by_its_number_is_linked_so_that_the_number_is_kept_true(self, path):
        for cell in [*cells(path, "markdown"), *cells(path, "code")]:
            assert not NUMBER_UNLINKED.search(cell["source"])


@pytest.mark.parametrize("page", ["notebooks/" + ladder()["start_here"].file, "README.md"])
def test_map_and_table_name_every_lesson_with_its_own_question(page):
    said = (NOTEBOOKS[0].parents[1] / page).read_text(encoding="utf-8")
    for path in NOTEBOOKS[1:]:
        question = cells(path, "markdown")[0]["source"].splitlines()[0].removeprefix("# ")
        assert path.name in said
        assert question in said, f"{page} words {path.stem} otherwise"
