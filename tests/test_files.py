"""A person's files under two kernels at once, killed writers, full disks, links and marks: with real processes."""

import json
import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from limekit import __main__ as verbs
from limekit.course.folder import lessons
from limekit.errors import InputError
from limekit.pictures.pages import Page
from limekit.records import files
from limekit.records.kiln_record import Record
from limekit.records.sheets import write_blank_csv

ROUNDS = 150
KEYS = "kiln_height", "kiln_diameter"
KERNELS = multiprocessing.get_context("spawn")


def _save_together(path, key, together, said):
    """Load, meet the other kernel, keep a value of one's own, save; ROUNDS times, each save made slow on the way."""
    to_the_disk = os.fsync
    os.fsync = lambda file: (time.sleep(0.01), to_the_disk(file))
    for turn in range(ROUNDS):
        record = Record.load(path).keep("kiln", **{key: f"{1 + turn / 1000} m"})
        together.wait()
        try:
            record.save()
            saved = True
        except InputError as refused:
            saved = "changed since" not in str(refused)
        together.wait()
        there = Record.load(path)
        said.put((turn, key, saved, there["kiln"].get(key) == record["kiln"][key]))
        together.wait()


@pytest.mark.slow
def test_of_two_kernels_that_save_at_once_none_loses_what_it_was_told_is_saved(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text('[kiln]\nlargest_stone = "80 mm"\n')
    together, said = KERNELS.Barrier(2, timeout=120), KERNELS.Queue()
    kernels = [KERNELS.Process(target=_save_together, args=(path, key, together, said)) for key in KEYS]
    for kernel in kernels:
        kernel.start()
    told = [said.get(timeout=300) for _ in range(2 * ROUNDS)]
    for kernel in kernels:
        kernel.join()
    assert [one for one in told if one[2] and not one[3]] == [], "saved, it was said, and is not there"
    assert sum(saved for _, _, saved, _ in told) == ROUNDS
    assert not [one.name for one in tmp_path.iterdir() if one.name.startswith(".")]


def _write_new(path, together, said):
    together.wait()
    try:
        write_blank_csv(path)
        said.put("written")
    except InputError as refused:
        said.put("taken" if "there already" in str(refused) else str(refused))


def test_of_two_that_write_a_new_file_one_is_told_that_it_is_taken(tmp_path):
    together, said = KERNELS.Barrier(2, timeout=60), KERNELS.Queue()
    two = [KERNELS.Process(target=_write_new, args=(tmp_path / "my_trial.csv", together, said)) for _ in range(2)]
    for one in two:
        one.start()
    assert sorted(said.get(timeout=60) for _ in two) == ["taken", "written"]


def test_one_who_holds_a_file_for_good_is_named_and_nothing_is_written(tmp_path, monkeypatch):
    monkeypatch.setattr(files, "PATIENCE", 0.2)
    with files.held(tmp_path / "mine.toml"), pytest.raises(InputError, match="another has been saving"):
        files.write_whole(tmp_path / "mine.toml", b"other")
    assert list(tmp_path.iterdir()) == []


KILLED = """
import os, signal, sys
from limekit.records import files
call, nth = getattr(os, sys.argv[2]), int(sys.argv[3])
def killed(*given, count=[0]):
    count[0] += 1
    if count[0] == nth:
        os.kill(os.getpid(), signal.SIGKILL)
    return call(*given)
setattr(os, sys.argv[2], killed)
files.write_whole(sys.argv[1], b"new")
"""


@pytest.mark.skipif(os.name != "posix", reason="a process is killed another way")
@pytest.mark.parametrize("at", [("fsync", 1), ("replace", 1), ("replace", 2), ("replace", 3)], ids=str)
def test_what_a_killed_save_left_is_swept_up_by_the_next(tmp_path, at):
    path = tmp_path / "mine.toml"
    for text in (b"first", b"second"):
        files.write_whole(path, text)
    done = subprocess.run([sys.executable, "-c", KILLED, str(path), at[0], str(at[1])], check=False)
    assert done.returncode == -signal.SIGKILL
    assert path.read_bytes() == b"second"
    assert [one for one in tmp_path.iterdir() if one.name.startswith(".")]
    files.write_whole(path, b"third")
    assert path.read_bytes() == b"third"
    assert b"second" in [one.read_bytes() for one in tmp_path.glob("mine.toml.*")]
    assert not [one.name for one in tmp_path.iterdir() if one.name.startswith(".")]


SMALL_DISK = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))
from limekit.__main__ import main
sys.exit(main(["copy", sys.argv[1]]))
"""


@pytest.mark.skipif(os.name != "posix", reason="room is limited another way")
def test_a_full_disk_leaves_no_cut_lesson(tmp_path):
    done = subprocess.run(
        [sys.executable, "-c", SMALL_DISK, str(tmp_path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "room on the disk" in done.stderr
    whole = {lesson.name: lesson.read_bytes() for lesson in lessons()}
    assert {one.name: one.read_bytes() for one in tmp_path.iterdir()}.items() <= whole.items()


@pytest.mark.parametrize("cut", [b"", b'{\n "cells": [', b"\0" * 4096, b"[]"], ids=["none", "half", "zeros", "other"])
def test_a_copied_lesson_that_is_not_whole_is_replaced_and_kept_beside(tmp_path, cut):
    verbs.main(["copy", str(tmp_path)])
    first, second = (tmp_path / lesson.name for lesson in lessons()[:2])
    first.write_bytes(cut)
    second.write_text(json.dumps({"cells": [], "metadata": {"mine": True}, "nbformat": 4, "nbformat_minor": 5}))
    mine = second.read_bytes()
    verbs.main(["copy", str(tmp_path)])
    assert first.read_bytes() == lessons()[0].read_bytes()
    assert Path(f"{first}.1").read_bytes() == cut
    assert second.read_bytes() == mine


WRITERS = {
    "record": lambda path: Record.load("none.toml").keep("kiln", kiln_height="2 m").save(path),
    "page": lambda path: Page("<p>design</p>", "a design").save(path),
    "table": write_blank_csv,
    "file": lambda path: files.write_whole(path, b"new"),
}


@pytest.mark.parametrize("write", WRITERS.values(), ids=WRITERS)
def test_a_link_to_nothing_is_not_written_through(tmp_path, write):
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(InputError, match="a link to"):
        write(link)
    assert [one.name for one in tmp_path.iterdir()] == ["link"]


def test_a_copy_of_the_lessons_does_not_write_through_a_link_to_nothing(tmp_path):
    (tmp_path / "course").mkdir()
    (tmp_path / "course" / lessons()[0].name).symlink_to(tmp_path / "elsewhere")
    assert verbs.main(["copy", str(tmp_path / "course")]) == 2
    assert not (tmp_path / "elsewhere").exists()


@pytest.mark.parametrize("name", ["page", "file"])
def test_a_file_marked_read_only_is_not_written_over(tmp_path, name):
    path = tmp_path / "mine.html"
    path.write_text("mine")
    path.chmod(0o444)
    with pytest.raises(InputError, match="marked read-only"):
        WRITERS[name](path)
    assert path.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [path]


def test_a_record_marked_read_only_is_not_written_over_even_if_told(tmp_path):
    path = tmp_path / "my_kiln.toml"
    path.write_text('[kiln]\nlargest_stone = "80 mm"\n')
    path.chmod(0o444)
    with pytest.raises(InputError, match="marked read-only"):
        Record.load(path).keep("kiln", kiln_height="2 m").save(even_if_changed=True)
    assert "kiln_height" not in path.read_text()


def test_what_is_said_already_is_not_written_again(tmp_path):
    assert files.write_whole(tmp_path / "page.html", b"one")
    assert not files.write_whole(tmp_path / "page.html", b"one")
    assert [one.name for one in tmp_path.iterdir()] == ["page.html"]
