"""The log of a reactivity test: minutes and degrees, in any spreadsheet."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from limekit.edge import edge
from limekit.records.columns import Column
from limekit.records.table_file import read_table
from limekit.units import Kelvin, Second

COLUMNS = (
    Column("time_in_water", Second, required=True),
    Column("mix_temperature", Kelvin, required=True),
    Column("note", about="anything odd: lumps, stirring stopped, thermometer moved"),
)


@dataclass(frozen=True, eq=False)
class SlakingLog:
    """Times and temperatures of a test, for `limekit.read_reactivity`; ``remarks`` says what was understood."""

    log_times: Second
    log_temperatures: Kelvin
    remarks: tuple[str, ...] = ()


@edge
def read_slaking_log(path) -> SlakingLog:
    """Read the log of a reactivity test from a CSV file with one row a reading.

    Parameters
    ----------
    path : str, path-like or pandas.DataFrame
        A DataFrame with such columns, or a file separated by commas, semicolons or tabs;
        its first row names the columns with their units:
        ``time_in_water [min]`` and ``mix_temperature [degC]``, with a ``note`` as you like.

    Raises
    ------
    RecordError
        With every fault in the file, by row and column; nothing is half-read.

    Examples
    --------
    >>> from limekit.records.examples import example_path
    >>> print(read_slaking_log(example_path("slaking_log_example.csv")).log_temperatures[0])
    20 °C
    """
    table = read_table(path, COLUMNS)
    for before, row in pairwise(table.rows):
        times = [one.values.get("time_in_water") for one in (before, row)]
        if None not in times and times[1] <= times[0]:
            table.fault(row.number, "time_in_water", f"not later than in row {before.number}")
    if len(table.rows) == 1:
        table.fault(table.rows[0].number, "", "the only reading; two are wanted, and one every half minute is better")
    table.refuse_faults()
    times, temperatures = (np.array([row.values[column.name] for row in table.rows]) for column in COLUMNS[:2])
    return SlakingLog(times, temperatures, tuple(table.remarks))
