"""``python -m limekit``: open the course, copy it, carry it, hold a class, make the sheets; ``--help`` tells how."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path

from limekit.compiled import prepare
from limekit.course.ahead import environment
from limekit.course.folder import FIRST, bring_own_files, copy_lessons, differing, lessons
from limekit.errors import InputError

OWN = Path("lime_course")
RECKONING = ("workshop", "watch", "pages", "classroom", "stick")  # the verbs that want compiled loops


def open_course(folder: Path | None = None) -> int:
    """Become JupyterLab with the first lesson of a folder open; where no process can, wait for it to end.

    JupyterLab saves what it opens, so without a folder it is a copy, in `OWN`: the kit's own lessons stay as they are.
    """
    if folder is None:
        folder = OWN
        copied, own = copy_lessons(folder), bring_own_files(folder)
        if copied or own:
            print(
                f"{len(copied)} lessons and {len(own)} files of yours copied to {folder}; the kit's stay as they are."
            )
        if changed := differing(folder):
            print(f"Not as the kit has it today, so yours or of an older kit: {', '.join(changed)}.")
            print(f"To have one anew, move it out of {folder} and open the course again.")
    first = folder / FIRST
    if not first.is_file():
        raise InputError("the course", f"no {FIRST} in {folder}", "a folder with the lessons", "python -m limekit open")
    prepare(print)
    command = [sys.executable, "-m", "jupyter", "lab", FIRST]
    if os.name == "posix":
        os.chdir(folder)
        os.execve(command[0], command, os.environ | environment(os.environ))
    return subprocess.call(command, cwd=folder, env=os.environ | environment(os.environ))


def check(for_class: bool) -> int:
    """Say what this machine has and lacks; return 0 where it is ready."""
    from limekit.course import machine_check

    found = machine_check()
    print(found)
    missing = list(found.missing)
    if for_class:
        from limekit.course.classroom import class_missing

        missing += class_missing()
        print(f"For a class are missing: {', '.join(class_missing())}." if class_missing() else "A class can be held.")
    return 1 if missing else 0


def _arguments() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m limekit", description="The course on burning lime.")
    verbs = parser.add_subparsers(dest="verb", required=True)
    about = {
        "open": "open a copy of the course in JupyterLab",
        "copy": "copy the lessons to a folder of your own",
        "check": "say whether this machine is ready",
        "sheets": "write the blank sheets, to print",
        "workshop": "write the dated pack of a workshop from my_kiln.toml and my_workshop.toml, to print",
        "watch": "keep burn_day.html in a folder up to date from its record, log and logger's file",
        "pages": "run the lessons and write each as a page, to read and to print",
        "classroom": "write what a class on this machine needs, and the instructor's page",
        "stick": "fill a folder to install from with no network",
    }
    verb = {name: verbs.add_parser(name, help=words, description=words) for name, words in about.items()}
    verb["open"].add_argument("folder", nargs="?", type=Path, help="where the lessons are")
    for name in ("copy", "sheets", "workshop", "watch", "pages", "classroom", "stick"):
        verb[name].add_argument("folder", type=Path)
    verb["pages"].add_argument("--lessons", type=Path, help="a folder with lessons and files of your own")
    verb["watch"].add_argument("--once", action="store_true", help="write the page once and end")
    verb["watch"].add_argument("--at", metavar="ADDRESS", help="serve it too, reading only, as on 192.168.1.20:8088")
    verb["check"].add_argument("--class", dest="for_class", action="store_true", help="also for holding a class")
    verb["classroom"].add_argument("--address", default="127.0.0.1", help="the machine's own, in the room's network")
    verb["classroom"].add_argument("--port", type=int, default=8000)
    verb["classroom"].add_argument("--learners", type=int, default=12, help="1 to 12")
    verb["stick"].add_argument("to_pip", nargs=argparse.REMAINDER, help="words for pip download, such as --platform")
    return parser


def _written(asked: argparse.Namespace) -> list[Path]:
    if asked.verb == "copy":
        return copy_lessons(asked.folder)
    if asked.verb == "sheets":
        from limekit.records.forms import write_sheets

        return write_sheets(asked.folder)
    if asked.verb == "workshop":
        from limekit.course.pack import FILE, NONE, write_pack

        made = write_pack(asked.folder)
        print("\n".join(made.contradictions) or NONE)
        if asked.folder / FILE in made.written:
            print(f"{FILE} is an invented example: change it to yours, and make the pack again.")
        return made.written
    if asked.verb == "pages":
        from limekit.course.export import export

        return export(asked.folder, sorted(asked.lessons.glob("*.ipynb")) if asked.lessons else lessons())
    if asked.verb == "classroom":
        from limekit.course.classroom import write_classroom

        return write_classroom(asked.folder, asked.address, asked.port, asked.learners)
    from limekit.course.stick import write_stick

    return write_stick(asked.folder, asked.to_pip)


def main(arguments: list[str] | None = None) -> int:
    """Do one of the verbs; return 0 where it went well."""
    asked = _arguments().parse_args(arguments)
    try:
        if asked.verb == "open":
            return open_course(asked.folder)
        if asked.verb == "check":
            return check(asked.for_class)
        if asked.verb in RECKONING:
            prepare(print)
        if asked.verb == "watch":
            from limekit.course.burn_watch import watch_folder

            return watch_folder(asked.folder, asked.once, asked.at)
        made = _written(asked)
    except (InputError, OSError) as fault:
        print(fault, file=sys.stderr)
        return 2
    print(f"{len(made)} written to {asked.folder}; nothing that was there is lost.")
    if asked.verb == "classroom":
        print(f"Read {asked.folder / 'for_the_instructor.html'} first.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
