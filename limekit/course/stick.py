"""A stick to install from where there is no network: the kit and all it needs, as wheels, with the lessons."""

from __future__ import annotations

import platform
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from limekit.course.export import export
from limekit.course.folder import SOURCE, copy_lessons, lessons
from limekit.course.pack import write_pack
from limekit.errors import InputError
from limekit.records import files
from limekit.records.forms import write_sheets

PARTS = ("pyproject.toml", "README.md", "limekit", "notebooks")
NOTE = """Lime course, to install with no network

Made by Python {python} on {system} {machine}. It is for that system and for Python {minor}, from {python} on; another
machine needs a stick made on its like. The same stick serves several: make it on each, into the same folder.

Linux and macOS, in this folder:

    python3 -m venv lime
    lime/bin/pip install --no-index --find-links wheels limekit
    lime/bin/python -m limekit check
    lime/bin/python -m limekit copy my_course
    lime/bin/python -m limekit open my_course

Windows, in PowerShell:

    py -m venv lime
    lime\\Scripts\\pip install --no-index --find-links wheels limekit
    lime\\Scripts\\python -m limekit check
    lime\\Scripts\\python -m limekit copy my_course
    lime\\Scripts\\python -m limekit open my_course

The first time it is opened the kit compiles its loops for the machine, a minute or so; that wants no network.
Many sticks cannot hold a Python environment: if the first line fails, copy this folder to the machine's own disk first.
Your own course is the folder my_course; what is in it is never written over.
For a class on one machine (Linux or macOS), install 'limekit[classroom]' in place of limekit, then
lime/bin/python -m limekit classroom my_class
The folder lessons holds the lessons to read; they run once the kit is installed. The folder pages holds the same for a
browser, with nothing installed, and papers every sheet to print and the pack of an invented workshop.
"""


def write_stick(folder: Path, to_pip: Sequence[str] = ()) -> list[Path]:
    """Fill a folder with wheels of the kit and all it needs, lessons, pages, papers, and a note on how to install.

    Parameters
    ----------
    folder : path-like
        Made if it is not there; what another machine put there stays.
    to_pip : sequence of str
        Words for ``pip download``, such as ``--platform manylinux2014_aarch64`` for another processor.
        Pip chooses by the rules of the system it runs on, so a stick for another system is made there.

    Returns
    -------
    list of pathlib.Path
        The wheels, the lessons that were not there yet, pages and papers, and the note.

    Raises
    ------
    InputError
        If the kit was installed from a wheel and so cannot be made into one, or pip fails; pip has said why.
    """
    if not (SOURCE / "pyproject.toml").is_file():
        raise InputError("a stick", "a kit without the folder it came in", "that folder, or a copy of a stick", "")
    wheels = files.folder(Path(folder).resolve() / "wheels")
    with tempfile.TemporaryDirectory() as clean:  # what an earlier build left in the kit's own folder stays out
        for part in PARTS:
            put = shutil.copytree if (SOURCE / part).is_dir() else shutil.copyfile
            put(SOURCE / part, Path(clean) / part)
        _pip("wheel", "--no-deps", "--wheel-dir", str(wheels), clean)
    kit = max(wheels.glob("limekit-*.whl"), key=lambda wheel: wheel.stat().st_mtime)
    _pip("download", "--only-binary=:all:", "--dest", str(wheels), f"{kit}[classroom]", *to_pip)
    note = wheels.parent / "read_me_first.txt"
    python = {"python": platform.python_version(), "minor": ".".join(platform.python_version_tuple()[:2])}
    text = NOTE.format(**python, system=platform.system(), machine=platform.machine()).encode()
    files.write_whole(note, text)
    stick, papers = wheels.parent, wheels.parent / "papers"
    to_read = [*copy_lessons(stick / "lessons"), *export(stick / "pages", lessons())]
    return [*sorted(wheels.glob("*.whl")), *to_read, *write_sheets(papers), *write_pack(papers).written, note]


def _pip(*words: str) -> None:
    command = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check", *words]
    if subprocess.call(command):
        raise InputError("a stick", f"a failure of pip {words[0]}", "what pip says above; the network is needed once")
