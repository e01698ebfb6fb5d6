"""What a trial burn shows: how far each piece burnt, and how hot the fire may have been."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

import numpy as np

from limekit.estimate import Estimate
from limekit.pictures import looks
from limekit.pictures.picture import BESIDE, Picture
from limekit.stone.contradiction import Comparison
from limekit.stone.trial import FoundConversion, TrialPiece
from limekit.units import MM, ZERO_CELSIUS


def burnt_and_heat(
    pieces: Sequence[TrialPiece],
    comparisons: Sequence[Comparison],
    edited: int,
    sizes: np.ndarray,
    burnt: Sequence[Estimate],
    levels: np.ndarray,
    before: np.ndarray,
    after: np.ndarray,
) -> Picture:
    """Draw the share burnt against size, measured and by the model, beside the fire's temperature.

    Parameters
    ----------
    pieces, comparisons
        One a piece, in plain SI floats.
    edited : int
        The place of the piece to point out.
    sizes : ndarray, shape (sizes,)
        m, at which the model's band is drawn.
    burnt : sequence of Estimate
        Share burnt at each size, in the trial's fire.
    levels, before, after : ndarray, shape (levels,)
        Gas temperatures (K) and the probability of each before and after the stones were heard.
    """
    drawn = Picture("What the stones say")
    across = MM * sizes
    low, high, middle = ([100.0 * getattr(one, end) for one in burnt] for end in ("low", "high", "median"))
    drawn.band("model, nine times in ten", across, low, high, looks.LIME)
    drawn.line("model, middle", across, middle, looks.LIME, "dash", showlegend=False)
    for word, ways, colour, marker, shift in (
        ("by weight", [one.by_weight for one in comparisons], looks.INK, "circle", -0.5),
        ("by core", [one.by_core for one in comparisons], looks.STONE, "diamond", 0.5),
    ):
        _points(drawn, word, pieces, ways, colour, marker, shift)
    shown = comparisons[edited].by_core or comparisons[edited].by_weight
    drawn.marks(
        "the piece edited",
        [MM * pieces[edited].diameter],
        [100.0 * shown.conversion if shown else 0.0],
        marker={"color": looks.INK, "symbol": "circle-open", "size": 24, "line": {"width": 2.5}},
        hoverinfo="skip",
    )
    celsius = levels - ZERO_CELSIUS
    step = celsius[1] - celsius[0]
    for word, chance, line in (
        ("glow and thermometer alone", before, (looks.INK, "dot")),
        ("with the stones", after, (looks.FIRE, "solid")),
    ):
        drawn.line(word, celsius, 100.0 * chance / step, *line, shape="hvh", legend="legend2", **BESIDE)
    return drawn.panes(0.49, 0.62).laid(
        height=500,
        legend=looks.key_under(0.0),
        legend2=looks.key_under(0.62),
        margin={"b": 135},
        xaxis={"title": "size of the piece [mm]"},
        yaxis={"title": "share burnt [%]", "range": [-4, 112]},
        xaxis2={"title": "temperature of the fire [°C]"},
        yaxis2={"title": "chance in each degree [%]", "rangemode": "tozero"},
    )


def _points(drawn, word, pieces, ways: Sequence[FoundConversion | None], colour, marker, shift) -> None:
    shown = [(piece, found) for piece, found in zip(pieces, ways, strict=True) if found]
    middle, low, high = (
        [100.0 * getattr(found, end) for _, found in shown]
        for end in ("conversion", "conversion_low", "conversion_high")
    )
    drawn.marks(
        word,
        [MM * piece.diameter + shift for piece, _ in shown],
        middle,
        error_y=looks.whiskers(middle, low, high, thickness=1.5, width=4),
        text=[escape(piece.name) for piece, _ in shown],
        hovertemplate="%{text}: %{y:.0f} %<extra></extra>",
        marker={"color": colour, "symbol": marker, "size": 10},
    )
