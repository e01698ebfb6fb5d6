"""A class on one machine: the hub's settings and the instructor's page, written into a folder."""

from __future__ import annotations

import functools
import os
import shlex
import sys
from html import escape
from importlib import metadata, resources
from pathlib import Path
from string import Template

from limekit import tables
from limekit.course import door, hub
from limekit.errors import InputError
from limekit.facts import Fact, load
from limekit.records import files
from limekit.records.printing import html_page
from limekit.records.sheets import STYLE

BYTE, GIGABYTE = 8, 8e9  # bits, a fact's SI unit
LIMIT = 5  # times the heaviest lesson, for what a learner tries besides
NEEDED = ("jupyterhub", "configurable-http-proxy")
CONFIG, PAGE = "jupyterhub_config.py", "for_the_instructor.html"
SETTINGS = '''"""The class's hub; what may be set here beside it is in JupyterHub's own manual."""

from pathlib import Path

from limekit.course.hub import configure

configure(
    get_config(),
    Path(__file__).parent,
    address="{address}",
    port={port},
    learners={learners},
    limit={limit},  # bytes of data for one lesson
)
'''
PAGE_STYLE = """
@page { size: A4 portrait; margin: 14mm; }
body { font-size: 11pt; max-width: 48rem; }
h1 { font-size: 18pt; margin: 0 0 2mm; }
h2 { font-size: 13pt; margin: 4mm 0 1mm; break-after: avoid; }
p, li { margin: 1mm 0; }
pre { border: 0.3mm solid #444; padding: 1.5mm; white-space: pre-wrap; overflow-wrap: anywhere; }
table { width: auto; }
"""


@functools.cache
def measured(key: str) -> Fact:
    """Return one figure of ``data/classroom/measured.csv``, measured on machines and not on lime."""
    return load(tables.rows("classroom/measured"))[key][0]


def machine_memory() -> float:
    """Return this machine's memory, in bits as facts have it."""
    return os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") * BYTE


def learners_carried(memory: float, lessons_open: int = 1) -> int:
    """Return how many learners a memory (bits) carries, each with so many of the heaviest lesson open.

    It goes by the most that any learner of the trial took, and is 0 where not even one fits.
    """
    learner = measured("server_memory").high + lessons_open * measured("lesson_memory").high
    return max(0, int((memory - measured("machine_memory")) // learner))


def class_missing() -> list[str]:
    """Return what a class wants and this machine has not, each as a few words."""
    missing = []
    if os.name == "nt":
        missing.append("Linux or macOS, as JupyterHub does not run on Windows")
    for name in NEEDED:
        try:
            metadata.version(name)
        except metadata.PackageNotFoundError:
            missing.append(name)
    return missing


def write_classroom(folder: Path, address: str = "127.0.0.1", port: int = 8000, learners: int = 12) -> list[Path]:
    """Write the hub's settings and the instructor's page into a folder; earlier versions are kept beside them.

    Parameters
    ----------
    folder : path-like
        The class's folder; learners' own are made in it when they log in.
    address : str
        This machine alone, or its own address in the room's network.
    port : int
        1024 to 65533; the two after it are used inside the machine.
    learners : int
        1 to 12.

    Returns
    -------
    list of pathlib.Path
        The files that are new or changed.

    Raises
    ------
    InputError
        On Windows, for an address open to more than the room, or a port or a number that will not do.
    """
    if os.name == "nt":
        raise InputError("a class", "Windows", "Linux or macOS, as JupyterHub does not run on Windows")
    if not 1 <= learners <= 12:
        raise InputError("learners in a class", str(learners), "1 to 12", "--learners 12")
    if not 1024 <= port <= 65533:
        raise InputError("port of a class", str(port), "1024 to 65533", "--port 8000")
    address = hub.room_address(address)
    folder = files.folder(folder).resolve()
    limit = int(LIMIT * measured("lesson_memory").high / BYTE)
    texts = {
        CONFIG: SETTINGS.format(address=address, port=port, learners=learners, limit=limit),
        PAGE: instructors_page(folder, address, port, learners, limit),
    }
    return [folder / name for name, text in texts.items() if files.write_whole(folder / name, text.encode())]


def instructors_page(folder: Path, address: str, port: int, learners: int, limit: int) -> str:
    """Return the instructor's page, for A4, with the figures of the machine it is written on."""
    python, url = shlex.quote(sys.executable), f"http://{address}:{port}"
    server, lesson, alone = (measured(one) for one in ("server_memory", "lesson_memory", "lesson_time"))
    memory, cores = machine_memory(), os.cpu_count() or 1
    alone_here = address.startswith("127.")
    words = {
        "learners": learners,
        "python": python,
        "start": f"{python} -m jupyterhub -f {shlex.quote(str(folder / CONFIG))}",
        "again": f"{python} -m limekit classroom {shlex.quote(str(folder))} --address 192.168.1.20",
        "standing": f"As written now, it is {url}, and "
        + ("this machine alone reaches it." if alone_here else "no other."),
        "url": url,
        "port": port,
        "folders": folder / "learners",
        "instructor": hub.INSTRUCTOR,
        "memory": f"{memory / GIGABYTE:.1f}",
        "cores": cores,
        "kept": f"{measured('machine_memory') / GIGABYTE:.0f}",
        "server": _up_to(server),
        "lesson": _up_to(lesson),
        "wait": f"{max(alone, alone * learners / cores):.0f}",
        "alone": f"{alone:.0f}",
        "basis": lesson.basis,
        "note": lesson.note,
        "note_time": alone.note,
        "limit": f"{limit / 1e9:.1f}",
        "idle": hub.IDLE // 60,
        "free": door.FREE,
        "longest": door.LONGEST,
    }
    rows = (f"<tr><td>{opened}</td><td>{learners_carried(memory, opened)}</td></tr>" for opened in (1, 2, 3))
    body = Template(resources.files("limekit").joinpath("data/classroom/page.html").read_text(encoding="utf-8"))
    filled = body.substitute({key: escape(str(word)) for key, word in words.items()}, carried="".join(rows))
    return html_page("A class on one machine", STYLE + PAGE_STYLE, filled)


def _up_to(known: Fact) -> str:
    return f"{known / BYTE / 1e6:.0f} to {known.high / BYTE / 1e6:.0f}"
