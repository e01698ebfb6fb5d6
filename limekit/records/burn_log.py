"""The log of a burn: one row each half hour and at each change, in any spreadsheet."""

from __future__ import annotations

import re
from datetime import timedelta

import numpy as np

from limekit.kiln.logged import PLACES, WORDS, BurnLog
from limekit.records.columns import Column
from limekit.records.table_file import Table, read_table
from limekit.units import DAY, HOUR, Kelvin, Kilogram, Metre, Share

COLUMNS = (
    Column("clock", required=True, about="by the clock, as 14:30; every half hour, and at each change"),
    Column("fuel_fed", Kilogram),
    *(Column(f"{place}_temperature", Kelvin) for place in PLACES),
    Column("glow", words=WORDS["glow"], about="colour of the lowest stones, judged in shade"),
    Column("flame", words=WORDS["flame"], about="at the draw eyes"),
    Column("test_piece", words=WORDS["test_piece"], about="how a piece drawn from the top slaked"),
    Column("sinking", Metre),
    Column("damper", Share),
    Column("weather", about="wind, rain, sun"),
    Column("note", about="who watches, and anything odd"),
)
LEAST_LINES = 2
LONGEST_GAP = 12 * HOUR  # between two lines; a clock that runs further is taken for a slip of the pen
_CLOCK = re.compile(r"([01]?\d|2[0-3])[:.h]([0-5]\d)")


def read_burn_log(path) -> BurnLog:
    """Read the log of a burn from a CSV file with one row a line of the log, from lighting on.

    Parameters
    ----------
    path : str, path-like or pandas.DataFrame
        A DataFrame with such columns, or a file separated by commas, semicolons or tabs;
        its first row names the columns with their units, as in
        ``hearth_temperature [degC]``. ``clock`` is needed in every row: it may pass midnight, and
        no two rows may lie more than 12 h apart. The other columns may be missing, and their
        cells empty; no fuel in a row means that none was fed since the row before.

    Returns
    -------
    BurnLog
        In SI floats; ``remarks`` says what was understood.

    Raises
    ------
    RecordError
        With every fault in the file, by row and column; nothing is half-read.

    Examples
    --------
    >>> from limekit.records.examples import example_path
    >>> log = read_burn_log(example_path("burn_log_example.csv"))
    >>> print(f"{len(log)} lines over {log.times[-1] / 3600:.1f} h, {log.fuel_fed.sum():.0f} kg of fuel")
    37 lines over 24.0 h, 438 kg of fuel
    """
    table = read_table(path, COLUMNS)
    times, lit_at = _times(table)
    if len(table.rows) < LEAST_LINES and not table.faults:
        table.fault_of_all(f"{len(table.rows)} row(s); {LEAST_LINES} at least are wanted, the first at lighting")
    if not table.faults and not any(row.values.get("fuel_fed") for row in table.rows):
        table.fault_of_all("column fuel_fed: no fuel in any row; weigh an armful once and count armfuls")
    table.refuse_faults()

    def figures(name: str) -> np.ndarray:
        cells = (row.values.get(name) for row in table.rows)
        return np.array([np.nan if cell is None else cell for cell in cells])

    def words(name: str) -> tuple:
        return tuple(row.values.get(name) for row in table.rows)

    temperatures = {place: figures(f"{place}_temperature") for place in PLACES}
    return BurnLog(
        times=np.array(times),
        fuel_fed=np.nan_to_num(figures("fuel_fed")),
        temperatures={place: read for place, read in temperatures.items() if np.isfinite(read).any()},
        sinking=figures("sinking"),
        glow=words("glow"),
        flame=words("flame"),
        test_piece=tuple(None if word == "not tried" else word for word in words("test_piece")),
        damper=figures("damper"),
        weather=tuple(word or "" for word in words("weather")),
        notes=tuple(word or "" for word in words("note")),
        remarks=tuple(table.remarks),
        lit_at=lit_at,
    )


def _times(table: Table) -> tuple[list[float], float | None]:
    """Return seconds since the first row, and its clock; each clock that cannot be is noted as a fault."""
    times, before, lit_at = [], None, None
    for row in table.rows:
        said = row.values.get("clock")
        if said is None:
            continue
        found = _CLOCK.fullmatch(said)
        if not found:
            table.fault(row.number, "clock", f'got "{said}"; wanted hours and minutes, for example 14:30')
            continue
        hours, minutes = map(int, found.groups())
        clock = timedelta(hours=hours, minutes=minutes).total_seconds()
        if before is None:
            times.append(0.0)
            lit_at = clock
        else:
            gap = (clock - before) % DAY
            if not 0.0 < gap <= LONGEST_GAP:
                words = "the same as in the row before" if gap == 0.0 else f"{gap / HOUR:.1f} h after the row before"
                table.fault(row.number, "clock", f"{said} is {words}; rows stand in order, 12 h apart at most")
                continue
            times.append(times[-1] + gap)
        before = clock
    return times, lit_at
