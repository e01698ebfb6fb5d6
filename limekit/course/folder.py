"""Where the lessons are, and a folder of one's own with a copy of them."""

from __future__ import annotations

import json
from importlib import metadata
from pathlib import Path

from limekit.course.ladder import ladder
from limekit.errors import InputError
from limekit.records import files

SOURCE = Path(__file__).resolve().parents[2]
BESIDE = SOURCE / "notebooks"
OWN_FILES = ("my_*.toml", "my_*.csv")
FIRST = next(iter(ladder().values())).file


def lessons() -> list[Path]:
    """Return the lessons in order: those beside the kit, or where it was installed from a wheel, the wheel's.

    Raises
    ------
    InputError
        If none came with it.
    """
    if (BESIDE / FIRST).is_file():
        return sorted(BESIDE.glob("*.ipynb"))
    shipped = sorted(
        Path(file.locate()).resolve() for file in metadata.files("limekit") or () if file.suffix == ".ipynb"
    )
    if not shipped:
        raise InputError("the lessons", f"none with the kit in {SOURCE}", "the folder or the wheel it came in", "")
    return shipped


def copy_lessons(folder: Path) -> list[Path]:
    """Copy lessons that are not in a folder, or not whole there; return those copied.

    Raises
    ------
    InputError
        If the folder or the disk refuses; no lesson is left cut.
    """
    folder = files.folder(folder)
    return [there for lesson in lessons() if _bring(lesson, there := folder / lesson.name)]


def bring_own_files(folder: Path) -> list[Path]:
    """Copy what a learner kept beside the kit's own lessons to a folder that has none of that name; return the copies.

    Raises
    ------
    InputError
        If the folder or the disk refuses.
    """
    folder = files.folder(folder)
    found = (path for kind in OWN_FILES for path in sorted(BESIDE.glob(kind)) if path.is_file())
    return [
        files.write_new(folder / path.name, path.read_bytes()) for path in found if not (folder / path.name).exists()
    ]


def differing(folder: Path) -> list[str]:
    """Return the names of lessons in a folder that are not the kit's own of today, apart from what they show."""
    return [one.name for one in lessons() if (there := folder / one.name).is_file() and _source(there) != _source(one)]


def _source(lesson: Path) -> list:
    return [cell.get("source") for cell in json.loads(lesson.read_bytes())["cells"]]


def _bring(lesson: Path, there: Path) -> bool:
    with files.held(there) as file:
        if file.path.exists() and _is_whole(file.path):
            return False
        file.write(lesson.read_bytes())
    return True


def _is_whole(lesson: Path) -> bool:
    """Whether a lesson can be opened; what a full disk cut short can not."""
    try:
        return "cells" in json.loads(lesson.read_bytes())
    except (ValueError, TypeError):
        return False
