"""A lesson put between two others on a copy of the course: its row and its file are all that is written by hand."""

import re
import shutil

import nbformat
import pytest
import renumber

from limekit import tables
from limekit.course.ladder import in_order, ladder

NEW = {"slug": "in_between", "title": "In between", "minutes": "35", "decides": ""}
QUESTION = "What keeps the rain off?"


@pytest.fixture
def course(tmp_path):
    for folder in ("notebooks", "images"):
        (tmp_path / folder).mkdir()
    shutil.copy(renumber.ROOT / "README.md", tmp_path)
    for one in ladder().values():
        shutil.copy(renumber.ROOT / "notebooks" / one.file, tmp_path / "notebooks")
        (tmp_path / "images" / f"{one.notebook}.png").touch()
    new = nbformat.read(tmp_path / "notebooks" / ladder()["draught"].file, as_version=4)
    new.cells[0].source = re.sub("^# .*", f"# {QUESTION}", new.cells[0].source)
    nbformat.write(new, tmp_path / "notebooks" / "in_between.ipynb")
    return tmp_path


def source(course, lesson, cell):
    return nbformat.read(course / "notebooks" / lesson.file, as_version=4).cells[cell].source


def test_a_lesson_between_two_others_takes_its_number_and_all_that_follow_move_on(course):
    rows = list(tables.rows("lessons"))
    rows.insert(ladder()["draught"].number, NEW)
    lessons = in_order(rows)
    renumber.renumber(course, lessons)

    assert sorted(path.name for path in (course / "notebooks").iterdir()) == [one.file for one in lessons.values()]
    pictures = sorted(path.stem for path in (course / "images").iterdir())
    assert pictures == [one.notebook for slug, one in lessons.items() if slug != "in_between"]
    new, before, after = (lessons[slug] for slug in ("in_between", "fuel_and_air", "draught"))
    assert (before.number, new.number, after.number) == (new.number - 1, new.number, new.number + 1)
    assert f"[{QUESTION}]({new.file})" in source(course, before, -1)
    assert f"]({after.file})" in source(course, new, -1)
    assert "**Time:** 35 minutes" in source(course, new, 0)
    assert f"| {new.number} | [In between]({new.file}) | {QUESTION} | 35 |" in source(course, lessons["start_here"], 3)
    told = (course / "README.md").read_text(encoding="utf-8")
    assert f"| [{new.number} In between](notebooks/{new.file}) | {QUESTION} |" in told
    text = "".join(path.read_text(encoding="utf-8") for path in (course / "notebooks").iterdir()) + told
    named = re.findall(r"\b\d\d_(?:" + "|".join(lessons) + r")\b", text)
    assert {*named} <= {one.notebook for one in lessons.values()}
    for number, file in re.findall(r"\[(?:lesson )?(\d+)\]\((\w+\.ipynb)\)", text, re.IGNORECASE):
        assert file.startswith(f"{int(number):02d}_")
    assert (renumber.rewrites(course, lessons), renumber.renames(course, lessons)) == ({}, {})


def test_a_row_without_its_notebook_moves_nothing(course):
    (course / "notebooks" / "in_between.ipynb").rename(course / "notebooks" / "roof.ipynb")
    with pytest.raises(SystemExit, match="in_between, roof"):
        renumber.renumber(course, in_order([*tables.rows("lessons"), NEW]))
    assert (course / "notebooks" / ladder()["slake"].file).exists()
