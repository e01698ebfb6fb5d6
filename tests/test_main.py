import os
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from limekit import __main__ as verbs

LESSONS = sorted(path.name for path in (Path(__file__).parents[1] / "notebooks").glob("*.ipynb"))


def test_copying_brings_every_lesson_and_overwrites_none(tmp_path, capsys):
    folder = tmp_path / "my course"
    folder.mkdir()
    (folder / LESSONS[0]).write_text("mine")
    assert verbs.main(["copy", str(folder)]) == 0
    assert sorted(path.name for path in folder.iterdir()) == LESSONS
    assert (folder / LESSONS[0]).read_text() == "mine"
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


def check_opened(called):
    assert called["command"][:4] == [sys.executable, "-m", "jupyter", "lab"]
    assert called["command"][4].endswith("00_start_here.ipynb")
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


def test_elsewhere_it_waits_for_jupyterlab(monkeypatch):
    called = {}
    monkeypatch.setattr(verbs, "os", SimpleNamespace(name="nt", pathsep=os.pathsep, environ=os.environ))
    monkeypatch.setattr(verbs.subprocess, "call", lambda command, **how: called.update(command=command, **how) or 0)
    assert verbs.main(["open"]) == 0
    check_opened(called)


@pytest.mark.parametrize("words", [["open", "nowhere"], ["copy", "/dev/null/inside"]])
def test_what_cannot_be_done_is_said(words, capsys):
    assert verbs.main(words) == 2
    assert capsys.readouterr().err
