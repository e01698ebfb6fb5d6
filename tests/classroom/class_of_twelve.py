"""Try the class's hub on this machine: twelve learners at once run the heaviest lessons, each in their own server.

``python tests/classroom/class_of_twelve.py`` prints the memory a learner takes, the seconds for one alone and for all
together, and every fault; then one learner asks for far too much memory, and the others must not notice. Started by
root, each learner has an account, and one pries into another's and the hub's. It wants ``pip install -e '.[classroom]'``
and a Python that ordinary accounts may run. Linux only: memory is read from /proc.
"""

import argparse
import math
import os
import platform
import re
import statistics
import sys
import tempfile
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from hub_client import Hub, Learner, run
from websocket import WebSocketException

from limekit.__main__ import main as limekit
from limekit.course.ladder import lesson

HEAVIEST = [lesson("sizing").notebook, lesson("burn_day").notebook]  # most memory; most time
MEGABYTE = 1e6
BUSY = "import time; print(time.process_time())"
GREEDY = "held = []\nfor _ in range(400):\n    held.append(bytearray(b'x') * 10_000_000)"


def shares(folder):
    """Return {learner: {process: (kind, PSS, USS)}} in bytes, for every process of a learner's in this class."""
    found = {}
    for process in Path("/proc").glob("[0-9]*"):
        try:
            settings = dict(
                one.split(b"=", 1) for one in (process / "environ").read_bytes().split(b"\0") if b"=" in one
            )
            if os.getsid(int(process.name)) != int(process.name):  # a server about to start a lesson
                continue
            home = Path(os.fsdecode(settings.get(b"HOME", b"")))
            if home.parent != folder / "learners":
                continue
            lines = [line.split() for line in (process / "smaps_rollup").read_text().splitlines()[1:]]
            kilobytes = {line[0].rstrip(":"): int(line[1]) for line in lines}
            kind = "lesson" if b"ipykernel" in (process / "cmdline").read_bytes() else "server"
        except (OSError, ValueError, IndexError):
            continue
        own = kilobytes["Private_Clean"] + kilobytes["Private_Dirty"]
        found.setdefault(home.name, {})[process.name] = (kind, kilobytes["Pss"] * 1024, own * 1024)
    return found


class Watch(threading.Thread):
    """Look at the memory of all learners every two seconds, and keep the most that each process and learner had."""

    def __init__(self, folder):
        super().__init__(daemon=True)
        self.folder, self.over = folder, threading.Event()
        self.processes, self.learners = {}, {}

    def run(self):
        while not self.over.wait(2):
            for name, held in shares(self.folder).items():
                whole = tuple(sum(one[n] for one in held.values()) for n in (1, 2))
                self.learners[name] = tuple(map(max, whole, self.learners.get(name, (0, 0))))
                for number, (kind, *sizes) in held.items():
                    before = self.processes.get(number, (kind, 0, 0))
                    self.processes[number] = (kind, *map(max, sizes, before[1:]))

    def told(self):
        """Print median and worst, PSS and USS, of servers, of lessons and of whole learners."""
        groups = {kind: [one[1:] for one in self.processes.values() if one[0] == kind] for kind in ("server", "lesson")}
        for kind, sizes in {**groups, "learner, all lessons open": list(self.learners.values())}.items():
            for name, which in (("PSS", 0), ("USS", 1)):
                held = [size[which] / MEGABYTE for size in sizes]
                print(
                    f"  {kind:26} {name}  median {statistics.median(held):5.0f} MB  worst {max(held):5.0f} MB"
                    f"  ({len(held)} seen)"
                )


def work(learner, lessons):
    """Open each lesson and run it; return {lesson: (seconds, the processor's seconds)} and the faults."""
    seconds, faults = {}, []
    for name in lessons:
        began, processor = time.monotonic(), math.nan
        try:
            wire = learner.kernel(name)
            before = float(run(wire, BUSY)[0])
            for number, source in enumerate(learner.lesson(name)):
                _, error = run(wire, source)
                if error:
                    faults.append(f"{learner.name}, {name}, cell {number}: {error.splitlines()[0][:120]}")
            processor = float(run(wire, BUSY)[0]) - before
        except (OSError, WebSocketException) as fault:
            faults.append(f"{learner.name}, {name}, at {datetime.now():%H:%M:%S}: {fault}")
        seconds[name] = time.monotonic() - began, processor
    return seconds, faults


def pry(hub, first, others):
    """Let one learner try what only the hub or another may; return what they got."""
    wanted = {
        "another's folder": f"import os; os.listdir({str(hub.folder / 'learners' / others[0].name)!r})",
        "the hub's files": f"import os; os.listdir({str(hub.folder / 'hub')!r})",
        "the hub's tokens": f"open('/proc/{hub.process.pid}/environ').read()",
        "the hub's settings": f"open({str(hub.folder / 'jupyterhub_config.py')!r}, 'a')",
        "the hub's end": f"import os; os.kill({hub.process.pid}, 15)",
    }
    wire = first.kernel("pry")
    got = {what: run(wire, source)[1] for what, source in wanted.items()}
    print("a learner who pries:", *(f"{what}: {said or 'had it'}" for what, said in got.items()), sep="\n  ")
    slow = [Learner(hub, others[0].name).log_in(own="guessing-at-it") for _ in range(6)]
    if any(slow) or "429 POST /hub/login" not in hub.said():
        got["another's password"] = None
    return [f"a learner had {what}" for what, said in got.items() if not said or "Permission" not in said]


def print_seconds(heading, times, lessons):
    print(heading)
    for name in lessons:
        taken, busy = zip(*(one[name] for one in times), strict=True)
        print(
            f"  {name:12} median {statistics.median(taken):6.1f} s  slowest {max(taken):6.1f} s"
            f"  of the processor {statistics.median(busy):6.1f} s"
        )


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--learners", type=int, default=12)
    parser.add_argument("--port", type=int, default=18200)
    parser.add_argument("--lessons", nargs="+", default=HEAVIEST)
    parser.add_argument("--one-account", action="store_true", help="all under nobody's, though root starts it")
    asked = parser.parse_args()
    load = os.getloadavg()[0]
    print(
        f"{datetime.now():%Y-%m-%d %H:%M}, {os.cpu_count()} cores, load before {load:.1f}, Python {platform.python_version()}, Linux "
        f"{platform.release()}"
    )
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder).resolve()
        made = limekit(["classroom", str(folder), "--learners", str(asked.learners), "--port", str(asked.port)])
        if made:
            return made
        with Hub(folder, asked.port, asked.one_account) as hub:
            return hold(hub, asked)


def hold(hub, asked):
    """Hold the class; return how many faults there were."""
    faults = []
    stranger = Learner(hub, "stranger")
    if stranger.log_in("wrong-pass-word"):
        faults.append("a wrong password was taken")
    for name in ("../escape", "a b", ""):
        if Learner(hub, name).log_in():
            faults.append(f'the name "{name}" was taken')

    first, *others = [Learner(hub, f"learner{number:02d}") for number in range(1, asked.learners + 1)]
    watch = Watch(hub.folder)
    watch.start()
    if not first.log_in():
        faults.append("the class password was refused")
    print(f"the first learner's page came after {first.start():.1f} s")
    alone, wrong = work(first, asked.lessons)
    faults += wrong
    print_seconds("one alone:", [alone], asked.lessons)

    with ThreadPoolExecutor(asked.learners) as room:
        taken = list(room.map(Learner.log_in, others))
        faults += [f"{other.name} was refused" for other, ok in zip(others, taken, strict=True) if not ok]
        waits = list(room.map(Learner.start, others))
        print(f"{len(others)} more pages came after {statistics.median(waits):.1f} s, the last {max(waits):.1f} s")
        done = list(room.map(lambda learner: work(learner, asked.lessons), [first, *others]))
    faults += [fault for _, wrong in done for fault in wrong]
    print_seconds(f"{asked.learners} together:", [times for times, _ in done], asked.lessons)
    late = Learner(hub, "one-too-many")
    late.log_in()
    if late.web.get(f"{hub.url}/hub/spawn", timeout=60).url.startswith(late.server):
        faults.append("a learner more than the class is for got a server")
    watch.over.set()
    watch.join()
    print("memory, the most each held:")
    watch.told()

    wires = {learner.name: learner.kernel("limit") for learner in (first, *others)}
    _, said = run(wires[first.name], GREEDY)
    print(f"asking for 4 GB: {said}")
    if said is None:
        faults.append("a learner was given 4 GB")
    for learner in others:
        if run(wires[learner.name], "print(6 * 7)") != ("42\n", None):
            faults.append(f"{learner.name} noticed")
    if hub.apart and others:
        faults += pry(hub, first, others)
    copies = {path.name: len(list(path.glob("*.ipynb"))) for path in (hub.folder / "learners").iterdir()}
    print(f"folders: {len(copies)}, lessons in each: {set(copies.values())}")
    print(f"{len(faults)} faults", *faults, sep="\n  ")
    if faults:
        print(
            "what the hub and the servers complained of:", *re.findall(r"^\[[EC] .*", hub.said(), re.M)[:20], sep="\n  "
        )
    return len(faults)


if __name__ == "__main__":
    sys.exit(main())
