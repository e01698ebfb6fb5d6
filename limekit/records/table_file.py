"""Read a table that a person keeps in a spreadsheet, with every fault in it named at once.

The csv module reads the rows rather than pandas, because it knows which row
of the spreadsheet each record stood in and leaves every cell as it was typed.
"""

from __future__ import annotations

import csv
import difflib
import io
import itertools
import math
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from limekit.edge.figures import band
from limekit.errors import InputError, RecordError, not_among
from limekit.records import files
from limekit.records.columns import Column
from limekit.units import quantity, split_text, to_si

MOST_BYTES = 1_000_000
MOST_ROWS = 2_000
LONGEST_CELL, LONGEST_FAULT, LONGEST_HEADING = 500, 300, 60  # characters
NOTE = "note"
DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab"}

_HEADER = re.compile(r"(?P<name>[^\[(]*)(?:[\[(](?P<unit>[^\])]*)[\])])?\s*")
_NUMBERED = re.compile(r"#\d")
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_COMMA_OR_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}(?!\d)")


@dataclass
class Row:
    """One row: its number in the spreadsheet, its values in SI floats, and the cells nobody could read."""

    number: int
    values: dict[str, float | str | None] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)


@dataclass
class Table:
    """What was read from a file: rows, remarks on what was understood, and the faults found by row."""

    path: str
    rows: list[Row] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    row_of_fault: dict[str, float] = field(default_factory=dict)

    def fault(self, row: int, column: str, words: str) -> None:
        """Note what is wrong in a row and column, or without a column in the row as a whole."""
        line = f"row {row}, column {column}: {words}" if column else f"row {row}: {words}"
        self.row_of_fault.setdefault(line if len(line) <= LONGEST_FAULT else f"{line[:LONGEST_FAULT]}…", row)

    def fault_of_all(self, words: str) -> None:
        """Note what is wrong with the file as a whole; it is told last."""
        self.row_of_fault.setdefault(words, math.inf)

    @property
    def faults(self) -> tuple[str, ...]:
        """Every fault in the order of the rows, each told once."""
        return tuple(sorted(self.row_of_fault, key=self.row_of_fault.__getitem__))

    def refuse_faults(self) -> None:
        """Raise `RecordError` with every fault, if there is one."""
        if self.row_of_fault:
            raise RecordError(self.path, self.faults)


@dataclass(frozen=True)
class _Found:
    """A column as the file has it: the sheet's column and the header's unit."""

    column: Column
    unit: str


def read_table(path, columns: tuple[Column, ...]) -> Table:
    """Read a comma, semicolon or tab separated table whose first row names its columns, as far as it can be read.

    A DataFrame is read as the file it would be saved as without its index: its first row is row 2. Blank rows and rows
    that begin with ``#`` are passed over but counted. Raises `RecordError` if there is no text with a header to read.

    Notes
    -----
    A decimal comma is understood where commas do not separate the cells, unless other numbers in the
    file have a decimal point; and between tabs not where every comma has three digits after it, as a
    thousands mark would.
    """
    if hasattr(path, "itertuples"):
        return _Reader("the table given", columns).read(_as_file(path))
    path = files.as_path(path)
    return _Reader(str(path), columns).read(files.read_text(path, MOST_BYTES))


def _as_file(table) -> str:
    """Return a DataFrame as the text of a file, so that one reader judges both."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(table.columns)
    writer.writerows(table.astype(object).where(table.notna(), "").itertuples(index=False))
    return text.getvalue()


class _Reader:
    """Reads one file; collects what it finds in `table`."""

    def __init__(self, path: str, columns: tuple[Column, ...]) -> None:
        self.columns, self.table = {column.name: column for column in columns}, Table(path)
        self.delimiter = ","
        self.header_row, self.header = 1, []
        self.found: list[_Found | None] = []
        self.strange: dict[int, str] = {}  # by their place, headings of columns that are a person's own
        self.comma_is_decimal = False
        self.with_comma: list[int] = []
        self.with_point: list[int] = []

    def read(self, text: str) -> Table:
        table = self.table
        if sum(1 for _ in io.StringIO(text, newline="")) > MOST_ROWS:
            table.fault_of_all(f"it has more than {MOST_ROWS} rows, too many for a record kept by hand")
            table.refuse_faults()
        records = self._records(text)
        header = next(records, None)
        if header is None:
            table.fault_of_all("it has no row that names the columns")
            table.refuse_faults()
        self._read_header(*header)
        whole = [(row, cells) for row, cells in map(self._row, records) if cells]
        self.comma_is_decimal = self.delimiter == ";" or any(self._has_plain_comma(cells) for _, cells in whole)
        for place, found in enumerate(self.found):
            if found:
                self._read_column(found, [(row, cells[place]) for row, cells in whole])
        for place, heading in self.strange.items():
            self._keep_as_note(heading, [(row, cells[place]) for row, cells in whole])
        if not table.rows and not table.row_of_fault:
            table.fault_of_all("it has no rows under the one that names the columns")
        if self.with_comma and self.with_point:
            comma, point = min(self.with_comma), min(self.with_point)
            table.fault_of_all(f"row {comma} has a decimal comma and row {point} a decimal point; use one")
        elif self.with_comma:
            table.remarks.append("Commas inside numbers were read as decimal commas.")
        return table

    def _has_plain_comma(self, cells: list[str]) -> bool:
        """Whether a number in the row has a comma that can be no thousands mark."""
        figures = [cell for found, cell in zip(self.found, cells, strict=False) if found and found.column.unit]
        return any(_COMMA.search(cell) and not _COMMA_OR_THOUSANDS.match(cell) for cell in figures)

    def _records(self, text: str) -> Iterator[tuple[int, list[str]]]:
        """Yield each row that holds something, the header first, with its number as a spreadsheet shows it."""
        lines = io.StringIO(text, newline="")
        is_header = True
        for number in itertools.count(1):
            line = next(lines, None)
            if line is None:
                return
            if not line.strip(" ,;\t\r\n") or line.lstrip().startswith(("#", "sep=")):
                if not is_header and _NUMBERED.match(line) and len(line.split(self.delimiter)) > 2:
                    words = 'it begins with #, as a comment does; name the piece "1", or write "# 1" for a comment'
                    self.table.fault(number, "", words)
                continue
            if is_header:
                self.delimiter = max(DELIMITERS, key=line.count)
            try:
                cells = next(csv.reader(itertools.chain([line], lines), delimiter=self.delimiter, strict=True))
            except csv.Error as fault:
                self.table.fault(number, "", f"a quotation mark that is not closed or stands inside a cell ({fault})")
                return
            if not cells[0].lstrip().startswith("#"):
                is_header = False
                yield number, [cell.strip() for cell in cells]

    def _read_header(self, number: int, cells: list[str]) -> None:
        self.header_row, self.header, suggested = number, cells, set()
        absent = self.columns.keys() - set(map(_named, cells))
        for place, cell in enumerate(cells):
            parts, name = _HEADER.fullmatch(cell), _named(cell)
            column = self.columns.get(name)
            self.found.append(None)
            if column is None:
                near = difflib.get_close_matches(name, absent, n=1)
                if cell and not near and NOTE in self.columns:
                    self.strange[place] = cell
                elif cell:
                    suggested.update(near)
                    every = f"the columns are {', '.join(one.header for one in self.columns.values())}"
                    known = f'did you mean "{self.columns[near[0]].header}"?' if near else every
                    self.table.fault(number, f'"{cell}"', f"no such column; {known}")
            elif any(found and found.column is column for found in self.found):
                self.table.fault(number, name, "it is there twice")
            elif self._unit_fits(number, column, (parts["unit"] or "").strip()):
                self.found[-1] = _Found(column, (parts["unit"] or "").strip())
            else:
                suggested.add(name)
        here = {found.column.name for found in self.found if found} | suggested
        if len(cells) == 1:
            self.table.fault(number, "", f"one column only; separate the cells by {', '.join(DELIMITERS.values())}")
            return
        for column in self.columns.values():
            if column.required and column.name not in here:
                self.table.fault(number, column.name, f'it is missing; add a column "{column.header}"')

    def _unit_fits(self, number: int, column: Column, unit: str) -> bool:
        if not column.unit or not unit:
            return True
        try:
            to_si(quantity(f"1 {unit}", asked=column.name), column.unit, column.name, "")
        except InputError as fault:
            self.table.fault(
                number, column.name, f'got {fault.got}; wanted {fault.wanted}, for example "{column.header}"'
            )
            return False
        return True

    def _row(self, record: tuple[int, list[str]]) -> tuple[Row, list[str]]:
        """Return a row with a cell for each column of the header, or none where cells have slipped out of place."""
        row, cells = Row(record[0]), record[1]
        self.table.rows.append(row)
        width = len(self.header)
        stray = [cell for place, cell in enumerate(cells) if cell and not (place < width and self.header[place])]
        if stray:
            words = f'"{stray[0]}" stands under no column: a comma inside a number or a note?'
            self.table.fault(row.number, "", words)
            row.unread.update(self.columns)
            return row, []
        return row, cells[:width] + [""] * (width - len(cells))

    def _read_column(self, found: _Found, cells: list[tuple[Row, str]]) -> None:
        """Read the cells of one column into their rows; numbers of one unit are converted together."""
        column, by_unit = found.column, defaultdict(list)
        for row, cell in cells:
            row.values[column.name] = None
            try:
                if len(cell) > LONGEST_CELL:
                    raise InputError(column.name, f"{len(cell)} characters", f"{LONGEST_CELL} at most", '"..."')
                if not cell:
                    if column.required:
                        self.table.fault(row.number, column.name, "it is empty, and every row needs it")
                        row.unread.add(column.name)
                elif column.unit:
                    number, unit = self._number(row, found, cell)
                    by_unit[unit].append((row, cell, number))
                else:
                    row.values[column.name] = self._said(column, cell)
            except InputError as fault:
                self._refuse(row, column, fault)
        for unit, group in by_unit.items():
            self._convert(found, unit, group)

    def _keep_as_note(self, heading: str, cells: list[tuple[Row, str]]) -> None:
        """Put what stands in a column of a person's own beside each row's note."""
        told = _on_one_line(heading)[:LONGEST_HEADING]
        for row, cell in cells:
            if len(cell) > LONGEST_CELL:
                self.table.fault(row.number, told, f"{len(cell)} characters; {LONGEST_CELL} at most")
            elif cell:
                row.values[NOTE] = "; ".join(filter(None, [row.values.get(NOTE), f"{told}: {_on_one_line(cell)}"]))
        self.table.remarks.append(f'"{told}" is no column of this sheet; what stands in it is kept with the notes.')

    def _refuse(self, row: Row, column: Column, fault: InputError) -> None:
        del row.values[column.name]
        row.unread.add(column.name)
        words = f"got {fault.got}; wanted {fault.wanted}, for example {fault.example}"
        self.table.fault(row.number, column.name, words)

    def _number(self, row: Row, found: _Found, cell: str) -> tuple[float, str]:
        """Return the number in a cell and its unit, the header's where it has none of its own."""
        column, example = found.column, f'"{found.column.entry.example}"'
        if self.delimiter != "," and _COMMA.search(cell):
            if _COMMA_OR_THOUSANDS.match(cell) and not self.comma_is_decimal:
                wanted = "a number whose comma cannot be a thousands mark"
                raise InputError(column.name, f'"{cell}"', wanted, '"1200" or "1,20"')
            self.with_comma.append(row.number)
            cell = _COMMA.sub(".", cell, count=1)
        elif "." in cell:
            self.with_point.append(row.number)
        number, unit = split_text(cell, column.name, example)
        return number, unit or found.unit

    def _convert(self, found: _Found, unit: str, group: list[tuple[Row, str, float]]) -> None:
        column, entry, example = found.column, found.column.entry, f'"{found.column.entry.example}"'
        if entry.unit and not unit:
            self.table.fault(self.header_row, column.name, f'it names no unit; write "{column.header}"')
            for row, _, _ in group:
                row.unread.add(column.name)
            return
        try:
            numbers = quantity(np.array([number for _, _, number in group]), unit, column.name, example)
            values = to_si(numbers, column.unit, column.name, example).tolist()
        except InputError as fault:
            for row, cell, _ in group:
                self._refuse(row, column, InputError(column.name, f'"{cell}"', fault.wanted, example))
            return
        low, high, wanted = band(column.unit, column.name)
        for (row, cell, _), value in zip(group, values, strict=True):
            if low <= value <= high:
                row.values[column.name] = value
            else:
                told = cell if unit in cell else f"{cell} {unit}"
                self._refuse(row, column, InputError(column.name, f'"{told}"', wanted, example))

    def _said(self, column: Column, cell: str) -> str:
        if column.words:
            said = re.sub(r"[\s_-]+", " ", cell.lower())
            if said not in column.words:
                raise not_among(column.words, column.name, cell, '"{near}"')
            return said
        if self.delimiter == "," and cell.isdigit() and not column.required:
            raise InputError(column.name, f'"{cell}"', "words; a number here may be one cut in two by a comma", '"1.5"')
        return _on_one_line(cell)


def _named(cell: str) -> str:
    """Return the name of a column out of its heading, ``Largest size [mm]`` as ``largest_size``."""
    parts = _HEADER.fullmatch(cell)
    return re.sub(r"[\s-]+", "_", parts["name"].strip().lower()) if parts else cell


def _on_one_line(cell: str) -> str:
    """Return a cell's words with line ends and signs that cannot be printed as spaces."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in cell).split())
