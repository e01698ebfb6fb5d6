"""Where the lessons are, and a folder of one's own with a copy of them."""

from __future__ import annotations

import shutil
from importlib import metadata
from pathlib import Path

from limekit.errors import InputError

SOURCE = Path(__file__).resolve().parents[2]
BESIDE = SOURCE / "notebooks"
FIRST = "00_start_here.ipynb"


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
    """Copy lessons that are not yet in a folder; return those copied."""
    folder.mkdir(parents=True, exist_ok=True)
    wanted = [(lesson, folder / lesson.name) for lesson in lessons()]
    return [there for lesson, there in wanted if not there.exists() and shutil.copyfile(lesson, there)]
