"""Run each notebook by itself, in a shuffled order, with no network, and compare what it shows with what is stored.

``python tests/notebooks/alone.py`` runs all of them, with names only those; ``--seed 7`` repeats an
order. Each is copied into an empty folder of its own, where nothing of its neighbours can be leant on. In
every Python process of the run a connection, or a look-up of a name, that would leave the machine is
refused and written down.
"""

import argparse
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from limekit.compiled import prepare
from limekit.course.ladder import lesson

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
SETTINGS = "conftest.py"
PYTEST = ("-q", "--nbval-current-env", "--nbval-cell-timeout=600", "-p", "no:cacheprovider", "-p", "no:benchmark")
SHOWS_ITS_NEIGHBOURS = (lesson("the_workshop").file,)  # whose timetables tell which lessons lie beside: may show less

# Read by every Python as it starts: an audit hook cannot be taken off again.
NO_NETWORK = """
import os, socket, sys

def stay_home(event, asked):
    if event in ("socket.connect", "socket.sendto", "socket.getaddrinfo", "socket.gethostbyname"):
        if event in ("socket.connect", "socket.sendto") and asked[0].family not in (socket.AF_INET, socket.AF_INET6):
            return
        address = asked[1] if event in ("socket.connect", "socket.sendto") else asked[0]
        host = address[0] if isinstance(address, tuple) else address
        host = host.decode() if isinstance(host, bytes) else str(host or "")
        if host.startswith("127.") or host in ("", "::1", "localhost", "0.0.0.0", socket.gethostname()):
            return
        with open(os.environ["REACHED_OUT"], "a") as file:
            file.write(f"{event} {host}\\n")
        raise OSError(f"there is no network here: {event} to {host}")

sys.addaudithook(stay_home)
"""


def offline(kept: Path) -> dict[str, str]:
    """Return the environment of a run whose Pythons all stay at home; what reached out is in ``kept/reached``."""
    (kept / "sitecustomize.py").write_text(NO_NETWORK)
    paths = os.pathsep.join(filter(None, [str(kept), str(Path(__file__).parent), os.environ.get("PYTHONPATH")]))
    return os.environ | {"PYTHONPATH": paths, "REACHED_OUT": str(kept / "reached"), "IPYTHONDIR": str(kept / "ipython")}


def network_is_refused() -> bool:
    """Return whether a Python that tries to reach out is refused, and found out."""
    with tempfile.TemporaryDirectory() as name:
        code = "import socket; socket.create_connection(('192.0.2.1', 80), timeout=1)"
        done = subprocess.run([sys.executable, "-c", code], env=offline(Path(name)), capture_output=True, text=True)
        return "there is no network here" in done.stderr and Path(name, "reached").exists()


def run_alone(notebook: Path) -> tuple[bool, str]:
    """Run one notebook in an empty folder; return whether it passed, and what to say of it."""
    with tempfile.TemporaryDirectory() as name:
        kept, folder = Path(name), Path(name, "course")
        folder.mkdir()
        for one in (notebook, notebook.with_name(SETTINGS)):
            shutil.copy(one, folder)
        compared = "--nbval-lax" if notebook.name in SHOWS_ITS_NEIGHBOURS else "--nbval"
        began = time.monotonic()
        done = subprocess.run(
            [sys.executable, "-m", "pytest", compared, *PYTEST, "-c", os.devnull, f"--rootdir={folder}", notebook.name],
            cwd=folder,
            env=offline(kept),
            capture_output=True,
            text=True,
        )
        seconds = time.monotonic() - began
        out = sorted(set((kept / "reached").read_text().splitlines())) if (kept / "reached").exists() else []
        left = sorted(one.name for one in folder.iterdir() if one.name not in (notebook.name, SETTINGS, "__pycache__"))
    passed = done.returncode == 0 and not out
    said = f"{notebook.stem}: {'passed' if passed else 'FAILED'} in {seconds:.0f} s"
    if compared == "--nbval-lax":
        said += "; run, not compared"
    if out:
        said += f"; reached out: {', '.join(out)}"
    if left:
        said += f"; wrote {', '.join(left)}"
    return passed, said if passed else f"{said}\n{done.stdout[-4000:]}{done.stderr[-1000:]}"


def main() -> int:
    """Run the notebooks asked for; return 1 if any failed."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("names", nargs="*", help="notebooks, without them all")
    asked.add_argument("--seed", type=int, default=random.randrange(10_000), help="of the order")
    given = asked.parse_args()
    notebooks = [NOTEBOOKS / lesson(name).file for name in given.names] or sorted(NOTEBOOKS.glob("*.ipynb"))
    random.Random(given.seed).shuffle(notebooks)
    print(f"{len(notebooks)} notebooks, each alone and offline, in the order of seed {given.seed}", flush=True)
    if not network_is_refused():
        print("the network could not be refused, so nothing is shown by this run")
        return 1
    prepare(print)
    failed = 0
    for notebook in notebooks:
        passed, said = run_alone(notebook)
        failed += not passed
        print(said, flush=True)
    print(f"{len(notebooks) - failed} of {len(notebooks)} passed")
    return int(failed > 0)


if __name__ == "__main__":
    sys.exit(main())
