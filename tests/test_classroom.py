import ast
import html
import re

import pytest

from limekit.course import classroom
from limekit.course.classroom import GIGABYTE, learners_carried, measured, write_classroom
from limekit.errors import InputError


def test_the_settings_tell_the_hub_what_was_asked(tmp_path):
    write_classroom(tmp_path, "10.0.0.5", 8100, 7)
    call = next(
        one
        for one in ast.walk(ast.parse((tmp_path / classroom.CONFIG).read_text()))
        if isinstance(one, ast.Call) and getattr(one.func, "id", "") == "configure"
    )
    told = {word.arg: ast.literal_eval(word.value) for word in call.keywords}
    assert (told["address"], told["port"], told["learners"]) == ("10.0.0.5", 8100, 7)
    assert told["limit"] * 8 > measured("lesson_memory").high


def test_a_machine_carries_what_its_memory_holds():
    kept, learner = measured("machine_memory"), measured("server_memory").high + measured("lesson_memory").high
    assert learners_carried(kept + 3 * learner) == 3
    assert learners_carried(kept + 2.9 * learner) == 2
    assert learners_carried(kept) == learners_carried(0) == 0
    assert learners_carried(16 * GIGABYTE, 1) > learners_carried(16 * GIGABYTE, 3) > 0


def test_the_page_gives_this_machines_figures_and_the_cautions(monkeypatch, tmp_path):
    monkeypatch.setattr(classroom, "machine_memory", lambda: 8 * GIGABYTE)
    write_classroom(tmp_path / "a & b", "192.168.1.20", 8000, 12)
    page = (tmp_path / "a & b" / classroom.PAGE).read_text()
    words = html.unescape(re.sub(r"<[^>]*>|\s+", " ", page))
    assert "It has 8.0 GB" in words
    for opened in (1, 2, 3):
        assert f"<td>{opened}</td><td>{learners_carried(8 * GIGABYTE, opened)}</td>" in page
    for said in (
        "does not run on Windows",
        "under an account of their own",
        "any learner's lesson can read and change every folder",
        "Never open it to the internet",
        "http://192.168.1.20:8000",
    ):
        assert re.sub(r"\s+", " ", said) in re.sub(r"\s+", " ", words)
    assert str(tmp_path / "a & b") in words
    assert '<html lang="en">' in page
    assert "$" not in page
    assert "http://" not in page.replace("http://192.168.1.20:8000", "")


@pytest.mark.parametrize(
    "asked", [{"learners": 0}, {"learners": 13}, {"port": 80}, {"port": 65534}, {"address": "0.0.0.0"}]
)
def test_a_class_that_cannot_be_held_is_refused_and_nothing_is_written(asked, tmp_path):
    with pytest.raises(InputError):
        write_classroom(tmp_path / "class", **asked)
    assert not (tmp_path / "class").exists()


def test_windows_is_refused(monkeypatch, tmp_path):
    monkeypatch.setattr(classroom, "os", type("Windows", (), {"name": "nt"}))
    with pytest.raises(InputError, match="Windows"):
        write_classroom(tmp_path)
    assert any("Windows" in one for one in classroom.class_missing())
