"""``python -m limekit``: open the course, copy it to a folder of one's own, check the machine, make the sheets.

python -m limekit open            open the course in JupyterLab, its chatter with the internet off
python -m limekit copy FOLDER     copy the lessons to a folder of your own; nothing there is overwritten
python -m limekit check           say whether this machine has what the course needs
python -m limekit sheets FOLDER   write the blank sheets, to print, into a folder
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
from importlib import resources
from pathlib import Path

from limekit.errors import InputError

LESSONS = Path(__file__).resolve().parents[1] / "notebooks"
FIRST = "00_start_here.ipynb"


def _lessons() -> list[Path]:
    found = sorted(LESSONS.glob("*.ipynb"))
    if not found:
        raise InputError("the lessons", f"none beside the kit, in {LESSONS}", "the folder the kit came in", "")
    return found


def open_course(folder: Path = LESSONS) -> int:
    """Become JupyterLab with the first lesson of a folder open; where no process can, wait for it to end."""
    first = folder / FIRST
    if not first.is_file():
        raise InputError("the course", f"no {FIRST} in {folder}", "a folder with the lessons", "python -m limekit open")
    quiet = str(resources.files("limekit").joinpath("data/jupyter"))
    paths = os.pathsep.join(filter(None, (quiet, os.environ.get("JUPYTER_CONFIG_PATH"))))
    environment = {**os.environ, "JUPYTER_CONFIG_PATH": paths}
    command = [sys.executable, "-m", "jupyter", "lab", str(first)]
    if os.name == "posix":
        os.chdir(folder)
        os.execve(command[0], command, environment)
    return subprocess.call(command, cwd=folder, env=environment)


def copy(folder: Path) -> list[Path]:
    """Copy lessons that are not yet in a folder; return those copied."""
    folder.mkdir(parents=True, exist_ok=True)
    wanted = [(lesson, folder / lesson.name) for lesson in _lessons()]
    made = [there for lesson, there in wanted if not there.exists() and shutil.copyfile(lesson, there)]
    return made


def sheets(folder: Path) -> list[Path]:
    """Write every blank sheet into a folder, as PDF too where a browser can; earlier versions are kept."""
    from limekit.records import files, printing
    from limekit.records.forms import sheet, sheet_names

    folder.mkdir(parents=True, exist_ok=True)
    pages = [folder / f"{name.replace(' ', '_')}.html" for name in sheet_names()]
    written = []
    for name, path in zip(sheet_names(), pages, strict=True):
        new = sheet(name).encode()
        if path.is_file() and path.read_bytes() == new:
            continue
        files.write_whole(path, new)
        written.append(path)
        if printing.browser():
            written.append(printing.print_pdf(path, path.with_suffix(".pdf")))
    return written


def main(arguments: list[str] | None = None) -> int:
    """Do one of the verbs; return 0 where it went well."""
    parser = argparse.ArgumentParser(prog="python -m limekit", description="The course on burning lime.")
    verbs = parser.add_subparsers(dest="verb", required=True)
    opening = verbs.add_parser("open", help="open the course in JupyterLab")
    opening.add_argument("folder", nargs="?", type=Path, default=LESSONS, help="where the lessons are")
    copying = verbs.add_parser("copy", help="copy the lessons to a folder of your own")
    copying.add_argument("folder", type=Path)
    verbs.add_parser("check", help="say whether this machine is ready")
    printing = verbs.add_parser("sheets", help="write the blank sheets, to print")
    printing.add_argument("folder", type=Path)
    asked = parser.parse_args(arguments)
    try:
        if asked.verb == "open":
            return open_course(asked.folder)
        if asked.verb == "check":
            from limekit.course import machine_check

            found = machine_check()
            print(found)
            return 1 if found.missing else 0
        made = copy(asked.folder) if asked.verb == "copy" else sheets(asked.folder)
    except (InputError, OSError) as fault:
        print(fault, file=sys.stderr)
        return 2
    print(f"{len(made)} written to {asked.folder}; nothing that was there is lost.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
