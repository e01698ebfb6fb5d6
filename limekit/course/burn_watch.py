"""A burning night kept in view: the folder's log read as it grows, and a page of what it says, for a phone.

All that is known lies in the folder, so that a machine that slept or was started anew goes on where the log is.
"""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from limekit.edge import plain
from limekit.errors import InputError, RecordError
from limekit.estimate import Estimate, shown
from limekit.kiln.logged import BurnLog
from limekit.kiln.replay import WAYS, Replay, fed_lately, replay_burn
from limekit.pictures.night_page import BigFigure, NightPage
from limekit.plan.parts import people_for
from limekit.plan.plan import Plan
from limekit.plan.worked import Worked
from limekit.records import files
from limekit.records.burn_log import read_burn_log
from limekit.records.examples import example_path
from limekit.records.kiln_keys import places_of
from limekit.records.kiln_record import Record
from limekit.records.logger_file import read_logger
from limekit.safety import DEFER, caution_table
from limekit.units import DAY, HOUR, MINUTE

RECORD, LOG, TRIAL, PAGE = "my_kiln.toml", "my_burn_log.csv", "my_trial.csv", "burn_day.html"
EVERY = 10.0  # s, between two looks at the folder
CAUTIONS = ("carbon_monoxide", "heat", "collapse", "fire", "closing")
TITLE = "Burn day, live"
MOST_BYTES = 1_000_000
BELL = "\a"
PORT = 8088
INVENTED, INVENTED_LINES = "burn_log_example.csv", 26  # to midnight
INVENTED_KILN = {"stone": "500 kg", "largest_stone": "100 mm", "chimney_height": "1.5 m"}
INVENTED_NIGHT = (
    "An invented night, to read. Nothing here is live: the log, the kiln and its wood are the course's example, and "
    "no sign on this page says anything of a fire of yours."
)


@dataclass(frozen=True)
class Night:
    """A night so far, in SI floats: what the log says, and the wood that was stacked (kg)."""

    log: BurnLog
    replay: Replay
    plan: Worked
    stacked: float
    is_stack_told: bool

    @property
    def left(self) -> float:
        """Wood left, kg."""
        return max(self.stacked - float(self.log.fuel_fed.sum()), 0.0)

    @property
    def pace(self) -> float:
        """Wood fed of late, kg/s."""
        return fed_lately(self.log)

    def alarms(self) -> list[str]:
        """Return where the forecast passes the wood or the people, and what to do."""
        hours, found = self.replay.hours_left, []
        if hours is None:
            return ["No finish is in sight as the fire is fed: find out why before the wood is gone."]
        short = hours.high * self.pace - self.left
        if short > 0.0:
            wanted = shown(max(short, 1.0), 2)
            found.append(f"The forecast passes the wood: have {wanted} kg more of dry wood brought now.")
        people = people_for(self.replay.finish.high, self.plan.people.people - 1)
        if not people.enough:
            found.append(f"The forecast passes the people: {people.words} Call fresh ones now.")
        return found

    def page(self, read_at: datetime, notes=()) -> NightPage:
        """Return the page of this night."""
        replay, clock, left = self.replay, self.clock, self.replay.hours_left
        wanted = f"{left.median * self.pace:.0f} to {left.high * self.pace:.0f} kg" if left else "–"
        turn = self.plan.people.watch_time
        change = turn * (self.log.times[-1] // turn + 1.0)
        doubted = ", ".join(replay.lying) or "none"
        figures = (
            BigFigure("hours burnt", f"{self.log.times[-1] / HOUR:.1f} h", f"lit at {clock(0.0)}"),
            BigFigure("burnt", f"{100 * replay.conversion.median:.0f} %", _range(replay.conversion, 100.0, "%", 0)),
            BigFigure(
                "hours left",
                f"{left.median / HOUR:.1f} h" if left else "not in sight",
                f"{_range(left, 1.0 / HOUR, 'h', 1)}; done at {clock(replay.finish.median)}" if left else "",
            ),
            BigFigure(
                "wood left",
                f"{self.left:.0f} kg",
                "as stacked" if self.is_stack_told else "if the plan's wood was stacked",
            ),
            BigFigure("wood wanted", wanted, f"at {self.pace * HOUR:.0f} kg/h" if self.pace else "nothing fed of late"),
            BigFigure("next watch", clock(change), f"turns of {turn / HOUR:.0f} h"),
            BigFigure("thermometer to doubt", doubted, "check it, do not steer by it" if replay.lying else ""),
        )
        known = caution_table()
        return NightPage(
            title=f"{TITLE}: hour {self.log.times[-1] / HOUR:.1f}",
            read_at=f"By the log's line of {clock(self.log.times[-1])}; read at {read_at:%H:%M}.",
            do=f"{WAYS[replay.verdict]}.",
            figures=figures,
            signs=[str(sign) for sign in replay.signs],
            cautions=[*((known[key].title, known[key].text) for key in CAUTIONS), ("Before all", DEFER)],
            alarms=self.alarms(),
            notes=[*notes, *self.log.remarks],
        )

    def clock(self, since: float) -> str:
        """Return the clock so long (s) after lighting."""
        told = round((self.log.lit_at + since) % DAY / MINUTE) % round(DAY / MINUTE)
        return f"{told // 60:02d}:{told % 60:02d}"


def _range(told: Estimate, scale: float, unit: str, digits: int) -> str:
    return f"{scale * told.low:z.{digits}f} to {scale * told.high:z.{digits}f} {unit}"


@dataclass
class Watched:
    """A folder whose night is kept in view, and the page as it was last written."""

    folder: Path
    say: Callable[[str], None] = print
    page: bytes = b""
    _seen: tuple = ()
    _planned: tuple = ()
    _night: Night | None = None
    _rung: list[str] = field(default_factory=list)

    def look(self) -> bool:
        """Read the folder if it changed, write the page, ring where an alarm is new; tell whether it was written.

        Raises
        ------
        RecordError
            If nothing could be read yet.
        """
        seen = self._stamps()
        if seen == self._seen:
            return False
        notes = []
        try:
            self._night = self._read()
        except InputError as fault:
            if self._night is None:
                raise
            notes = [f"Not read this time; what stands here is by the lines before. {fault}"]
        self._seen = seen
        self._write(self._night.page(datetime.now(), notes).html().encode())
        self._ring(self._night.alarms())
        return True

    def _stamps(self) -> tuple:
        known = (self.folder / name for name in (RECORD, LOG, TRIAL, *self._loggers()))
        return tuple((path.stat().st_mtime_ns, path.stat().st_size) if path.is_file() else None for path in known)

    def _loggers(self) -> list[str]:
        try:
            told = Record.load(self.folder / RECORD)["burn"].get("logger")
        except RecordError:
            return []
        return [told] if told else []

    def _read(self) -> Night:
        record = Record.load(self.folder / RECORD)
        log = read_burn_log(self.folder / LOG)
        told = record["burn"]
        if told.get("logger"):
            log = log.joined(read_logger(self.folder / told["logger"], places_of(told.get("logger_places", ""))))
        plan, is_told = self._plan(record), record.is_own("burn.fuel_mass")
        stacked = plain(record.quantity("burn.fuel_mass")) if is_told else plan.forecast.fuel.high
        return Night(log, replay_burn.plain(log, plan.firing), plan, stacked, is_told)

    def _plan(self, record: Record) -> Worked:
        """Return the record's plan, the same one as long as record and trial are the same."""
        trial = self.folder / TRIAL
        asked = str(record), trial.read_bytes() if trial.is_file() else None
        if not self._planned or self._planned[0] != asked:
            self._planned = asked, Plan.of(record, trial if trial.is_file() else None).plain
        return self._planned[1]

    def _write(self, page: bytes) -> None:
        self.page = page
        with files.held(self.folder / PAGE) as file:
            there = file.read(MOST_BYTES)
            file.write(page, keeps=there is not None and f"<title>{TITLE}".encode() not in there)

    def _ring(self, alarms: list[str]) -> None:
        for alarm in alarms:
            if alarm.split(":")[0] not in self._rung:
                self.say(f"{BELL}{datetime.now():%H:%M} {alarm}")
        self._rung = [alarm.split(":")[0] for alarm in alarms]


def invented_night() -> NightPage:
    """Return the page of the example's night as it stood at midnight, which says that it is invented."""
    log = read_burn_log(example_path(INVENTED)).first(INVENTED_LINES)
    plan = Plan.of().with_(**INVENTED_KILN).plain
    night = Night(log, replay_burn.plain(log, plan.firing), plan, plan.forecast.fuel.high, is_stack_told=False)
    by = f"By the log's line of {night.clock(log.times[-1])}."
    return night.page(datetime.now())._replace(title="A burning night, an example", read_at=by, notice=INVENTED_NIGHT)


def watch_folder(folder: Path, once: bool = False, at: str | None = None) -> int:
    """Keep a folder's page up to date until interrupted; serve it, reading only, on an address that is named."""
    watched, told = Watched(files.as_path(folder)), ""
    if once:
        watched.look()
        print(f"{watched.folder / PAGE} is written.")
        return 0
    server = at and serve(watched, at)
    print(f"Watching {watched.folder}; Ctrl-C ends it. The page is {PAGE}.")
    try:
        while True:
            try:
                watched.look()
            except (InputError, OSError) as fault:
                if str(fault) != told:
                    told = str(fault)
                    print(told, file=sys.stderr)
            time.sleep(EVERY)
    except KeyboardInterrupt:
        return 0
    finally:
        if server:
            server.shutdown()


def serve(watched: Watched, address: str) -> ThreadingHTTPServer:
    """Serve the page, and nothing else, on an address such as ``192.168.1.20`` or ``192.168.1.20:8088``.

    Raises
    ------
    InputError
        If that is not an address of this machine, or its port is taken.
    """
    host, _, port = address.partition(":")

    class Reading(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            if self.path not in ("/", f"/{PAGE}"):
                self.send_error(404)
                return
            self.send_response(200)
            for name, value in (("Content-Type", "text/html; charset=utf-8"), ("Cache-Control", "no-store")):
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(watched.page)))
            self.end_headers()
            self.wfile.write(watched.page)

        def log_message(self, *_) -> None:
            """Say nothing of who read."""

    try:
        server = ThreadingHTTPServer((host, int(port or PORT)), Reading)
    except (OSError, ValueError, OverflowError) as fault:
        wanted = "this machine's own in its network, with a port if you like"
        raise InputError("address", f'"{address}" ({fault})', wanted, f"--at 127.0.0.1:{PORT}") from fault
    threading.Thread(target=server.serve_forever, daemon=True).start()
    print(f"The page is served on http://{host}:{server.server_address[1]}/, to read only.")
    return server
