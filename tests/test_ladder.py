import re
from pathlib import Path

import pytest

from limekit.course.ladder import ladder, lesson
from limekit.errors import InputError

ROOT = Path(__file__).parents[1]


def test_a_lesson_is_found_by_its_slug_and_by_any_name_its_notebook_had():
    one = lesson("slake")
    assert {lesson(name) for name in (one.notebook, one.file, "7_slake", "slake.ipynb")} == {one}
    assert one.name == f"{one.number} Slake"
    with pytest.raises(InputError, match='lesson="slake"'):
        lesson("12_slak")


def test_the_rows_and_the_notebooks_are_the_same_lessons():
    assert [one.file for one in ladder().values()] == sorted(path.name for path in (ROOT / "notebooks").glob("*.ipynb"))


def test_code_and_data_name_a_lesson_by_its_slug_and_never_by_its_number():
    numbered = re.compile(rf"\b\d\d_(?:{'|'.join(ladder())})\b|\blessons? \d", re.IGNORECASE)
    ours = (path for room in ("limekit", "notebooks", "tests") for path in (ROOT / room).rglob("*"))
    pages = {ROOT / "DEVELOPERS.md", *(path for path in ours if path.suffix in (".py", ".csv", ".toml"))}
    found = [
        f"{path.relative_to(ROOT)}: {line.strip()}"
        for path in pages
        for line in path.read_text(encoding="utf-8").splitlines()
        if numbered.search(line)
    ]
    assert len(pages) > 100
    assert found == [], "limekit.course.ladder.lesson gives number and title from the slug"
