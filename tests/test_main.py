import os
import platform
import shutil
import sys
from importlib.metadata import PackagePath
from pathlib import Path
from types import SimpleNamespace

import pytest

from limekit import __main__ as verbs
from limekit.course import classroom, folder, stick
from limekit.records import printing

LESSONS = sorted(path.name for path in (Path(__file__).parents[1] / "notebooks").glob("*.ipynb"))


def test_copying_brings_every_lesson_and_overwrites_none(tmp_path, capsys):
    folder = tmp_path / "my course"
    folder.mkdir()
    (folder / LESSONS[0]).write_text('{"cells": ["mine"]}')
    assert verbs.main(["copy", str(folder)]) == 0
    assert sorted(path.name for path in folder.iterdir()) == LESSONS
    assert (folder / LESSONS[0]).read_text() == '{"cells": ["mine"]}'
    assert f"{len(LESSONS) - 1} written" in capsys.readouterr().out
    assert verbs.main(["copy", str(folder)]) == 0
    assert "0 written" in capsys.readouterr().out


def test_sheets_are_written_and_an_earlier_version_is_kept(tmp_path):
    assert verbs.main(["sheets", str(tmp_path)]) == 0
    first = {path.name for path in tmp_path.iterdir()}
    assert {"trial.html", "safety_card.html"} <= first
    (tmp_path / "trial.html").write_text("my notes on it")
    assert verbs.main(["sheets", str(tmp_path)]) == 0
    assert not (tmp_path / "mix.html.1").exists()
    assert (tmp_path / "trial.html.1").read_text() == "my notes on it"


def test_the_machine_is_checked(capsys):
    assert verbs.main(["check"]) == 0
    assert "ready" in capsys.readouterr().out


@pytest.mark.parametrize("asked", [["open"], ["classroom", "class"], ["pages", "pages"]])
def test_loops_are_compiled_before_lessons_open_and_a_class_is_held(asked, monkeypatch, tmp_path):
    said = []
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(verbs, "prepare", lambda tell: said.append("compiled"))
    monkeypatch.setattr(verbs.os, "execve", lambda *_: said.append("opened"))
    monkeypatch.setattr(verbs.subprocess, "call", lambda *_, **__: said.append("opened"))
    monkeypatch.setattr("limekit.course.export.export", lambda *_: said.append("made") or [])
    verbs.main(asked)
    assert said[0] == "compiled"


def check_opened(called):
    assert called["command"][:4] == [sys.executable, "-m", "jupyter", "lab"]
    assert called["command"][4].endswith(folder.FIRST)
    quiet = Path(called["env"]["JUPYTER_CONFIG_PATH"].split(os.pathsep)[0])
    assert list(quiet.rglob("*.json"))


def test_opening_becomes_jupyterlab_so_that_a_key_reaches_it(monkeypatch, tmp_path):
    called = {}
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(verbs.os, "name", "posix")
    monkeypatch.setattr(
        verbs.os, "execve", lambda path, command, env: called.update(path=path, command=command, env=env)
    )
    monkeypatch.setattr(verbs.subprocess, "call", lambda *_, **__: 0)
    verbs.main(["open"])
    assert called["path"] == sys.executable
    check_opened(called)


def test_what_opens_is_a_copy_with_the_learner_s_own_files_and_the_kit_s_lessons_stay(monkeypatch, tmp_path, capsys):
    kit, where = tmp_path / "kit", tmp_path / "home"
    shutil.copytree(folder.BESIDE, kit, ignore=shutil.ignore_patterns("my_*", ".ipynb_checkpoints"))
    where.mkdir()
    monkeypatch.chdir(where)
    monkeypatch.setattr(folder, "BESIDE", kit)
    monkeypatch.setattr(verbs, "prepare", lambda tell: None)
    opened = []
    monkeypatch.setattr(verbs.os, "execve", lambda *_: opened.append(Path.cwd()))
    monkeypatch.setattr(verbs.subprocess, "call", lambda *_, **how: opened.append(how.get("cwd")))
    (kit / "my_kiln.toml").write_text("[kiln]\n")
    (kit / "my_trial.csv").write_text("piece\n")
    before = {path.name: path.read_bytes() for path in kit.iterdir()}
    verbs.main(["open"])
    own = where / "lime_course"
    assert f"{len(LESSONS)} lessons and 2 files of yours copied" in capsys.readouterr().out
    assert sorted(path.name for path in own.iterdir()) == sorted([*LESSONS, "my_kiln.toml", "my_trial.csv"])
    lesson = own / LESSONS[0]
    lesson.write_text(lesson.read_text(encoding="utf-8").replace("import limekit", "import limekit  # mine"), "utf-8")
    (own / "my_kiln.toml").write_text("[kiln] # later\n")
    monkeypatch.chdir(where)
    verbs.main(["open"])
    said = capsys.readouterr().out
    assert "copied" not in said
    assert f"of an older kit: {LESSONS[0]}." in said
    assert (own / "my_kiln.toml").read_text() == "[kiln] # later\n"
    assert "# mine" in lesson.read_text(encoding="utf-8")
    assert {path.name: path.read_bytes() for path in kit.iterdir()} == before
    assert {Path(one).name for one in opened} == {"lime_course"}


def test_elsewhere_it_waits_for_jupyterlab(monkeypatch, tmp_path):
    called = {}
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(verbs, "os", SimpleNamespace(name="nt", pathsep=os.pathsep, environ=os.environ))
    monkeypatch.setattr(verbs.subprocess, "call", lambda command, **how: called.update(command=command, **how) or 0)
    assert verbs.main(["open"]) == 0
    check_opened(called)


def test_a_kit_from_a_wheel_copies_its_lessons_before_it_opens_them(monkeypatch, tmp_path, capsys):
    called, wheel = {}, tmp_path / "share"
    shutil.copytree(folder.BESIDE, wheel)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(folder, "BESIDE", tmp_path / "no checkout")
    monkeypatch.setattr(folder.metadata, "files", lambda _: [PackagePath(path.name) for path in wheel.iterdir()])
    monkeypatch.setattr(PackagePath, "locate", lambda self: wheel / self)
    monkeypatch.setattr(verbs.os, "execve", lambda _, command, environment: called.update(where=os.getcwd()))
    monkeypatch.setattr(verbs.subprocess, "call", lambda *_, **__: 0)
    verbs.main(["open"])
    assert sorted(path.name for path in (tmp_path / "lime_course").iterdir()) == LESSONS
    assert called["where"] == str(tmp_path / "lime_course")
    monkeypatch.setattr(folder.metadata, "files", lambda _: None)
    assert verbs.main(["copy", str(tmp_path / "none")]) == 2
    assert "the lessons" in capsys.readouterr().err


def test_what_a_class_needs_is_said_only_if_asked(monkeypatch, capsys):
    monkeypatch.setattr(classroom, "NEEDED", ("pytest", "no-such-hub"))
    assert verbs.main(["check"]) == 0
    assert "class" not in capsys.readouterr().out
    assert verbs.main(["check", "--class"]) == 1
    assert "For a class are missing: no-such-hub." in capsys.readouterr().out
    monkeypatch.setattr(classroom, "NEEDED", ("pytest",))
    assert verbs.main(["check", "--class"]) == 0


def test_a_classroom_is_written_and_an_earlier_version_is_kept(tmp_path, capsys):
    room = tmp_path / "class"
    assert verbs.main(["classroom", str(room)]) == 0
    assert "for_the_instructor.html" in capsys.readouterr().out
    assert verbs.main(["classroom", str(room)]) == 0
    assert sorted(path.name for path in room.iterdir()) == ["for_the_instructor.html", "jupyterhub_config.py"]
    (room / "jupyterhub_config.py").write_text("mine")
    assert verbs.main(["classroom", str(room), "--address", "192.168.1.20", "--learners", "8"]) == 0
    assert (room / "jupyterhub_config.py.1").read_text() == "mine"
    assert "http://192.168.1.20:8000" in (room / "for_the_instructor.html").read_text()


def test_a_stick_holds_the_kit_built_clean_and_what_pip_is_told_to_fetch(monkeypatch, tmp_path):
    told = []

    def pip(command, **_):
        told.append(command[command.index("pip") + 1 :])
        if "wheel" in command:
            assert sorted(os.listdir(command[-1])) == sorted(stick.PARTS)
            (tmp_path / "wheels" / "limekit-0-py3-none-any.whl").touch()
        return 0

    monkeypatch.setattr(stick.subprocess, "call", pip)
    monkeypatch.setattr(printing, "browser", lambda: None)
    assert verbs.main(["stick", str(tmp_path), "--platform", "manylinux2014_aarch64"]) == 0
    assert told[1][-3].endswith("limekit-0-py3-none-any.whl[classroom]")
    assert told[1][-2:] == ["--platform", "manylinux2014_aarch64"]
    assert sorted(path.name for path in (tmp_path / "lessons").iterdir()) == LESSONS
    assert sorted(path.stem for path in (tmp_path / "pages").glob("[01]*.html")) == [Path(one).stem for one in LESSONS]
    assert {"burn_log.html", "safety_poster.html", "workshop_pack.html"} <= set(os.listdir(tmp_path / "papers"))
    assert f"from {platform.python_version()} on" in (tmp_path / "read_me_first.txt").read_text()


def test_a_stick_that_pip_cannot_fill_says_so(monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(stick.subprocess, "call", lambda *_, **__: 1)
    assert verbs.main(["stick", str(tmp_path)]) == 2
    monkeypatch.setattr(stick, "SOURCE", tmp_path)
    assert verbs.main(["stick", str(tmp_path)]) == 2
    said = capsys.readouterr().err
    assert "a failure of pip wheel" in said
    assert "a kit without the folder it came in" in said


@pytest.mark.parametrize(
    "words",
    [
        ["open", "nowhere"],
        ["copy", "/dev/null/inside"],
        ["classroom", "/dev/null/inside"],
        ["stick", "/dev/null/inside"],
    ],
)
def test_what_cannot_be_done_is_said(words, capsys):
    assert verbs.main(words) == 2
    assert capsys.readouterr().err
