"""The sheet of a trial burn: one row a piece, in any spreadsheet."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from limekit import glossary
from limekit.chemistry import loss_on_ignition
from limekit.facts import Fact, fact
from limekit.glossary import entry
from limekit.kinds import guarded
from limekit.limestone import USUAL_STONE, Stone
from limekit.records.columns import Column
from limekit.records.table_file import Row, read_table
from limekit.stone.glow import COLOURS
from limekit.stone.trial import ROUNDING, SHAPES, SLAKING, Trial, TrialPiece
from limekit.units import Kelvin, Kilogram, Metre, Second, from_si

COLUMNS = (
    Column("piece", required=True, about="a name or number, scratched on the stone or its tin"),
    Column("mass_before", Kilogram),
    Column("largest_size", Metre, required=True),
    Column("middle_size", Metre),
    Column("smallest_size", Metre),
    Column("shape", words=SHAPES, about="as it lay in the fire; of a slab or shell measure how thick it is"),
    Column("time_in_heat", Second, required=True),
    Column("glow", words=COLOURS, about="colour of the stone, judged in shade"),
    Column("gas_temperature", Kelvin),
    Column("mass_after", Kilogram),
    Column("core_size", Metre),
    Column("slaking", words=SLAKING, about="how the cooled piece fell to powder in plenty of water"),
    Column("note", about="anything odd: wet, broken, crumbs lost, weighed late"),
)
THIN = SHAPES[1:]
MOST_LOST = 1.0 - (1.0 - entry("stone_moisture").high) * (1.0 - loss_on_ignition.plain(0.0, 1.0))  # of wet magnesite
SLIMMEST = 0.01  # of the cube over a piece's largest width: the least that a flake of stone fills


def read_trial(path, stone: Stone = USUAL_STONE, **made_of) -> Trial:
    """Read a trial burn from a CSV file with one row a piece.

    Parameters
    ----------
    path : str, path-like or pandas.DataFrame
        A DataFrame with such columns, or a file separated by commas, semicolons or tabs;
        its first row names the columns with their units, as in
        ``largest_size [mm]``, and a cell may carry its own, as in ``8 cm``. ``piece``,
        ``largest_size`` and ``time_in_heat`` are needed in every row, with both weights, the core
        or the slaking.
    stone : Stone
        What the pieces are made of. Without an analysis the kit's figures are assumed, and that they were dry.
    **made_of
        Its fields one by one: ``calcium_carbonate=0.95``.

    Returns
    -------
    Trial
        In SI floats; ``remarks`` says what was assumed.

    Raises
    ------
    RecordError
        With every fault in the file, by row and column; nothing is half-read.
    InputError
        If the stone's shares are out of band.

    Examples
    --------
    >>> from limekit.records.examples import example_path
    >>> len(read_trial(example_path("trial_example.csv")).pieces)
    12
    """
    stone = Stone.of(stone, "stone").but(**Stone.read(**made_of))
    table = read_table(path, COLUMNS)
    first_row: dict[str, int] = {}
    for row in table.rows:
        for column, words in _contradictions(row):
            table.fault(row.number, column, words)
        name = row.values.get("piece")
        if name in first_row:
            table.fault(row.number, "piece", f'"{name}" is the name of row {first_row[name]} too')
        elif name:
            first_row[name] = row.number
    table.refuse_faults()
    pieces = tuple(_piece(**row.values) for row in table.rows)
    assumed = [
        f"{glossary.label(name).capitalize()} is assumed: {share:.3g}, {share.low:g} to {share.high:g}."
        for name, share in stone.made_of.items()
        if isinstance(share, Fact)
    ]
    if not stone.magnesium_carbonate:
        assumed.append("The stone is taken to hold no magnesium carbonate.")
    return Trial(pieces, stone, remarks=(*assumed, *table.remarks))


def _piece(piece: str, note: str | None = None, **measured) -> TrialPiece:
    return TrialPiece(piece, note=note or "", **measured)


def _contradictions(row: Row) -> Iterator[tuple[str, str]]:
    """Yield column and words for what cannot be in a row, as far as its cells could be read."""
    cell = row.values.get
    weighed = cell("mass_before") is not None and cell("mass_after") is not None
    if weighed and cell("mass_after") > cell("mass_before") + fact("balance_error"):
        yield "mass_after", "more than mass_before; lime left lying gains weight, and stone cannot"
    lost = 1.0 - cell("mass_after") / cell("mass_before") if weighed else 0.0
    if lost > MOST_LOST:
        yield "mass_after", f"{100 * lost:.0f} % lost, and no stone loses over {100 * MOST_LOST:.0f} %; crumbs too?"
    widths = [(name, cell(name)) for name in ("largest_size", "middle_size", "smallest_size") if cell(name)]
    for (larger, most), (smaller, least) in itertools.pairwise(widths):
        if least > most * ROUNDING:
            yield smaller, f"more than {larger}"
    if cell("shape") in THIN and cell("smallest_size") is None and "smallest_size" not in row.unread:
        yield "smallest_size", f"none; a {cell('shape')} burns by its thickness, so measure that"
    if cell("core_size") and cell("largest_size") and cell("core_size") > cell("largest_size") * ROUNDING:
        yield "core_size", "more than largest_size; a core is part of its piece"
    if cell("mass_before") and cell("largest_size"):
        most = fact("calcite_density") * cell("largest_size") ** 3
        if not SLIMMEST * most <= cell("mass_before") <= most:
            fits = f"{SLIMMEST * most:.3g} to {most:.3g} kg"
            yield "mass_before", f"stone of that size weighs {fits}; is a unit wrong?"
    told = weighed or cell("core_size") is not None or cell("slaking") not in (None, "not tried")
    if not told and not row.unread & {"mass_before", "mass_after", "core_size", "slaking"}:
        yield "slaking", "nothing says how far it burnt; both weights, core_size or slaking is wanted"


@guarded
def trial_table(trial: Trial):
    """Return a trial's pieces as a table to look at, with units in its headings.

    Returns
    -------
    pandas.DataFrame
        One row a piece, by name; columns in which nothing was written down are left out.
    """
    import pandas as pd

    of_words = {column.heading for column in COLUMNS if not column.unit}
    shown = {
        heading: pd.Series(cells, dtype=str if heading in of_words else float)
        for heading, cells in trial_columns(trial).items()
    }
    return pd.DataFrame(shown).set_axis(pd.Index([piece.name for piece in trial.pieces], name="piece"))


def trial_columns(trial: Trial) -> dict[str, list]:
    """Return what was written down of a trial's pieces, by heading with its unit; None where nothing was."""
    shown = {}
    for column in COLUMNS[1:]:
        cells = [getattr(piece, column.name) for piece in trial.pieces]
        if column.unit:
            cells = [
                None if cell is None else from_si(cell, column.unit, column.entry.unit).magnitude for cell in cells
            ]
        if any(cell not in (None, "") for cell in cells):
            shown[column.heading] = cells
    return shown
