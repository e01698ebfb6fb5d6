"""Try a stick: install from it with no network in a fresh environment, look at the machine, copy the course, run a lesson.

``python tests/classroom/stick_without_network.py`` first fills a stick, which wants the network; with a folder that
is one already, it takes that. It prints the seconds of each step, and stops at the first that fails.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from limekit.course.ladder import lesson

DEAD = "http://127.0.0.1:9"
CUT_OFF = ["unshare", "--map-root-user", "--net"]
LESSON = lesson("how_hot_how_long").file
CALL_OUT = "import socket; socket.create_connection(('192.0.2.1', 80), timeout=3)"


def cut_off():
    """Return words before a command that leave it no network but this machine's own, where the system allows it."""
    able = subprocess.run([*CUT_OFF, "true"], capture_output=True, check=False).returncode == 0
    if able:
        return [*CUT_OFF, "sh", "-c", 'ip link set lo up 2>/dev/null; exec "$@"', "sh"]
    return []


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("stick", nargs="?", type=Path)
    stick = parser.parse_args().stick
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        if stick is None:
            stick = folder / "stick"
            step("fill the stick", [sys.executable, "-m", "limekit", "stick", str(stick)], None, folder)
        held = sum(wheel.stat().st_size for wheel in (stick / "wheels").iterdir())
        print(f"the stick holds {len(list((stick / 'wheels').iterdir()))} wheels, {held / 1e6:.0f} MB")
        try_out(stick.resolve(), folder)


def try_out(stick, folder):
    alone = cut_off()
    print("no network at all" if alone else "the network stands; pip and the lesson are sent to a dead proxy")
    settings = {key: value for key, value in os.environ.items() if not key.startswith(("PIP_", "PYTHONPATH"))}
    settings |= dict.fromkeys(("http_proxy", "https_proxy", "HTTP_PROXY", "HTTPS_PROXY"), DEAD)
    settings |= {"PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": os.devnull, "HOME": str(folder), "LIMEKIT_RECORD": "example"}
    python = str(folder / "lime" / "bin" / "python")
    steps = {
        "environment": [sys.executable, "-m", "venv", "lime"],
        "install": [
            python,
            "-m",
            "pip",
            "install",
            "-q",
            "--no-index",
            "--find-links",
            str(stick / "wheels"),
            "limekit",
        ],
        "check": [python, "-m", "limekit", "check"],
        "copy": [python, "-m", "limekit", "copy", "my_course"],
        "run": [python, "-m", "nbconvert", "--to", "notebook", "--execute", "--output", "run", f"my_course/{LESSON}"],
    }
    if (
        alone
        and subprocess.run([*alone, sys.executable, "-c", CALL_OUT], capture_output=True, check=False).returncode == 0
    ):
        raise SystemExit("the network is not cut off")
    for name, command in steps.items():
        step(name, [*alone, *command], settings, folder)
    ask = [python, "-c", "import limekit; print(limekit.__file__)"]
    kit = subprocess.check_output(ask, cwd=folder, env=settings, text=True)
    if not kit.startswith(str(folder)):
        raise SystemExit(f"the kit came from {kit}")
    print(f"{len(list((folder / 'my_course').glob('[0-9]*.ipynb')))} lessons; {LESSON} ran from the installed kit")


def step(name, command, environment, folder):
    """Do one step, and print its seconds and its last words."""
    began = time.monotonic()
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{name} failed:\n{done.stdout}{done.stderr}")
    print(f"{name:12} {time.monotonic() - began:6.1f} s  {(done.stdout.splitlines() or [''])[-1]}", flush=True)


if __name__ == "__main__":
    main()
