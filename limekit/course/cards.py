"""What stands around a lesson: computed words, cautions, the learner's own files, a check of the machine."""

from __future__ import annotations

import html
import itertools
import os
import platform
import re
from importlib import metadata, resources
from pathlib import Path
from typing import TYPE_CHECKING

from limekit.errors import InputError, not_among
from limekit.pictures.shown import Shown, colour
from limekit.safety import DEFER, Caution, caution_table

if TYPE_CHECKING:
    from limekit.plan.plan import Plan
    from limekit.records.kiln_record import Record

RECORD = Path("my_kiln.toml")
TELLING = {  # of a stone, and what a plan does without
    "my_trial.csv": "it is planned by published figures until you burn a trial of it",
    "my_slaking_log.csv": "how lively its lime is, nobody knows yet",
}
BULLET, BOLD = "- ", re.compile(r"\*\*(.+?)\*\*")
DATA = Path(str(resources.files("limekit").joinpath("data")))


class Said(Shown):
    """Words with computed numbers in them; `say` shows them."""

    def __init__(self, markdown: str) -> None:
        self.markdown = markdown

    def __repr__(self) -> str:
        return self.markdown

    def _html(self) -> str:
        shown = []
        for is_list, lines in itertools.groupby(self.markdown.splitlines(), lambda line: line.startswith(BULLET)):
            marked = [BOLD.sub(r"<strong>\1</strong>", html.escape(line)) for line in lines if line.strip()]
            if is_list:
                shown.append(f"<ul>{''.join(f'<li>{line.removeprefix(BULLET)}</li>' for line in marked)}</ul>")
            else:
                shown += [f"<p>{line}</p>" for line in marked]
        return "".join(shown)


def say(markdown: str) -> None:
    """Show words with computed numbers in them; as plain text they read the same.

    Parameters
    ----------
    markdown : str
        Usually an f-string. ``**bold**``, lines that begin with ``- `` and paragraphs are all the Markdown
        there is; every other sign stands for itself, so that no word out of a person's file becomes
        more than a word.
    """
    from IPython.display import display

    display(Said(markdown))


class Cautions(Shown):
    """Cautions set out as a note; `cautions` makes it."""

    def __init__(self, shown: list[Caution]) -> None:
        self.shown = shown

    def __repr__(self) -> str:
        lines = [f"{one.title}. {one.text} [{one.basis}]" for one in self.shown]
        return "\n".join(["Usual cautions here", *lines, DEFER])

    def _html(self) -> str:
        items = "".join(
            f"<li style='margin:4px 0'><strong>{html.escape(one.title)}.</strong> {html.escape(one.text)} "
            f"<span style='font-size:14px'>[{html.escape(one.basis)}]</span></li>"
            for one in self.shown
        )
        style = (
            f"border:2px solid {colour('warn-color0')};box-sizing:border-box;max-width:1100px;"
            "padding:8px 14px;font-size:15px;line-height:1.45"
        )
        return (
            f"<div role='note' aria-label='Usual cautions' style='{style}'><strong>Usual cautions here</strong>"
            f"<ul style='margin:4px 0;padding-left:1.3em'>{items}</ul><em>{html.escape(DEFER)}</em></div>"
        )


def cautions(*keys: str) -> Cautions:
    """Return the usual cautions that belong to a step.

    Parameters
    ----------
    keys : str
        Rows of ``data/cautions.csv``; none for all of them.

    Returns
    -------
    Cautions

    Raises
    ------
    InputError
        If there is no such caution.
    """
    table = caution_table()
    for key in keys:
        if key not in table:
            raise not_among(table, "cautions()", key, 'cautions("{near}")')
    return Cautions([table[key] for key in keys] or list(table.values()))


def mine(name: str, folder: Path | str = ".") -> Path:
    """Return the learner's own file of that name, or the shipped example, and say which.

    Parameters
    ----------
    name : str
        Such as ``my_kiln.toml``.
    folder : path
        Where the learner's files are; the notebook's folder unless said otherwise.

    Returns
    -------
    pathlib.Path
        With ``LIMEKIT_RECORD=example`` in the environment always the example, so that a
        learner's files do not change what a test or a printed sheet shows.

    Raises
    ------
    InputError
        If neither is there.
    """
    if is_there(name, folder):
        print(f"Reading your own {name}.")
        return Path(folder) / name
    ours = {_example_of(path.name): path for path in DATA.glob("*_example.*")}
    if _example_of(name) not in ours:
        raise InputError(
            f'mine("{name}")', "no such file here and no example of it", "a file of the course", 'mine("my_kiln.toml")'
        )
    print(f"No {name} of yours is used: reading the invented example, Ashlet Quarry.")
    return ours[_example_of(name)]


def my_plan(folder: Path | str = ".") -> Plan:
    """Return the plan of the learner's own kiln, or of the shipped example, and say whose files it is made of.

    A stone of the learner's own burns and slakes as their own trial and slaking log tell, never as the example's:
    where there is none of theirs, the plan is made without, and that is said.

    Parameters
    ----------
    folder : path
        Where the learner's files are; the notebook's folder unless said otherwise.

    Returns
    -------
    limekit.Plan

    Raises
    ------
    RecordError
        With every fault of a file.
    """
    from limekit.plan.plan import Plan
    from limekit.records.kiln_record import Record

    record = Record.load(mine(str(RECORD), folder))
    return Plan.of(record, *(_told_of(record, name, without, folder) for name, without in TELLING.items()))


def _told_of(record: Record, name: str, without: str, folder: Path | str) -> Path | None:
    """Return the file that tells how a record's stone burns or slakes, or None where there is only another stone's."""
    if any(record.is_own(f"stone.{one}") for one in record["stone"]) and not is_there(name, folder):
        print(f"No {name} of yours is here, and the example's tells nothing of your stone: {without}.")
        return None
    return mine(name, folder)


def is_there(name: str, folder: Path | str = ".") -> bool:
    """Return whether a file of that name is there, the learner's own and not set aside for the example."""
    return os.environ.get("LIMEKIT_RECORD") != "example" and (Path(folder) / name).is_file()


def _example_of(name: str) -> str:
    """Name what a file is about: ``my_trial.csv`` and ``trial_example.csv`` are one."""
    return name.removeprefix("my_").replace("_example.", ".")


NEEDED = ("ipywidgets", "anywidget", "jupyterlab", "numpy", "pandas", "pint", "plotly", "scipy", "tomlkit")


class MachineCheck(Shown):
    """What this machine has of what the course needs; `machine_check` makes it."""

    def __init__(self, found: dict[str, str | None], can_write: bool) -> None:
        self.found, self.can_write = found, can_write

    @property
    def missing(self) -> list[str]:
        """What is not there, each in words."""
        absent = [name for name, version in self.found.items() if version is None]
        return absent + ([] if self.can_write else ["a folder your files can be saved in"])

    def __repr__(self) -> str:
        if self.missing:
            return f"This machine is not ready. Missing: {', '.join(self.missing)}."
        return "This machine is ready: everything the course needs is here."

    def _html(self) -> str:
        rows = "".join(
            f"<tr><th scope='row' style='text-align:left'>{html.escape(name)}</th>"
            f"<td style='text-align:left'>{html.escape(version or 'missing')}</td></tr>"
            for name, version in [*self.found.items(), ("saving files here", "yes" if self.can_write else "no")]
        )
        return (
            f"<p style='font-size:16px'>{html.escape(repr(self))}</p><details><summary>What was looked at</summary>"
            f"<table style='font-size:14px'>{rows}</table></details>"
        )


def machine_check() -> MachineCheck:
    """Look at Python, the packages and the working folder, and say whether the course can run here.

    Returns
    -------
    MachineCheck
        Its text is one sentence; the versions are in a table behind it.
    """
    found: dict[str, str | None] = {"Python": platform.python_version()}
    for name in NEEDED:
        try:
            found[name] = metadata.version(name)
        except metadata.PackageNotFoundError:
            found[name] = None
    return MachineCheck(found, os.access(Path.cwd(), os.W_OK))
