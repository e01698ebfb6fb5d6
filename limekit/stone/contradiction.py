"""Where a piece's weights and its core disagree, and the likeliest reason why."""

from __future__ import annotations

import dataclasses
import math
import re
from dataclasses import dataclass

from limekit import chemistry
from limekit.edge import edge
from limekit.facts import fact
from limekit.kinds import guarded
from limekit.stone.trial import FoundConversion, Trial, TrialPiece, conversion_by_core, conversion_by_weight
from limekit.units import GRAMS, MM, Share

SHOWN = 0.001  # difference of two shares that shows in percent with one decimal
FEWEST = 3  # comparable pieces before anything is said of the whole stone
MOST_OF_THEM = 2 / 3  # that err alike before the stone itself is suspected

REMEDIES = {
    "wet stone": "Dry the next pieces until their weight stands still; if they still lose too much, suspect magnesia.",
    "lost crumbs": "Burn the next piece on a tray and weigh everything that is left.",
    "clay or other inert in the piece": "Burn such a piece wholly and take its loss on ignition.",
    "weighed late": "Weigh lime as soon as it is cool: it takes up water and carbon dioxide from the air.",
    "broken core": "Break the next piece once, through the middle, and measure the core where it is widest.",
    "magnesia or moisture in the whole stone": "Dry a piece, burn it wholly and take its loss on ignition.",
    "less carbonate in the whole stone": "Burn a piece wholly and take its loss on ignition.",
}
BROKEN = r"\b(crumb|burst|spall|chip|lost|broke)"
WET = r"\b(wet|damp|soaked|rain)"
LATE = r"\b(late|next (day|morning)|(day|morning) after|overnight|hours later|days|powder)"


@dataclass(frozen=True)
class Comparison:
    """What a piece's weights and its core each say of the share burnt, if measured, and why they may disagree.

    They `agree` where they differ by no more than their errors; None where one of them is missing. `cause` and
    `evidence` are the likely cause of a contradiction and what speaks for it, or empty.
    """

    name: str
    by_weight: FoundConversion | None
    by_core: FoundConversion | None
    agree: bool | None = None
    cause: str = ""
    evidence: str = ""

    @property
    def remedy(self) -> str:
        """What would keep or settle it next time, or empty."""
        return REMEDIES.get(self.cause, "")

    @property
    def verdict(self) -> str:
        """The comparison in words."""
        found = [f"by weight {self.by_weight}"] if self.by_weight else []
        found += [f"by core {self.by_core}"] if self.by_core else []
        said = f"{self.name}: burnt {' and '.join(found)}" if found else f"{self.name}: neither weighed nor broken open"
        if not self.cause:
            return f"{said}; they agree." if self.agree else f"{said}."
        against = "more than can burn" if self.agree is None else "they disagree"
        return f"{said}; {against}. Likely {self.cause}: {self.evidence} {self.remedy}"

    def __str__(self) -> str:
        return self.verdict


@edge
def compare_piece(
    piece: TrialPiece,
    calcium_carbonate: Share = fact("calcium_carbonate"),
    magnesium_carbonate: Share = 0.0,
    stone_moisture: Share = fact("stone_moisture"),
) -> Comparison:
    """Compare what a piece's weights and its core say of the share burnt, and name what contradicts.

    Parameters
    ----------
    piece : TrialPiece
        One that slaked through without a core being measured counts as having none.
    calcium_carbonate, magnesium_carbonate, stone_moisture : Share
        Of the stone, as in `conversion_by_weight`.

    Returns
    -------
    Comparison
        The cause is the likeliest on the evidence of this piece alone, and no proof.

    Raises
    ------
    InputError
        As `conversion_by_weight` and `conversion_by_core` do.

    Notes
    -----
    Weights and core agree where |x − y| ≤ √(a² + b²), with the shares x and y that they find and the halves
    a and b of their ranges that face each other.
    """
    by_weight = by_core = None
    if piece.mass_before is not None and piece.mass_after is not None:
        stone = (calcium_carbonate, magnesium_carbonate, stone_moisture)
        by_weight = conversion_by_weight.plain(piece.mass_before, piece.mass_after, *stone)
    if piece.core is not None:
        by_core = conversion_by_core.plain(piece.largest_size, piece.core, piece.middle_size, piece.smallest_size)
    found = Comparison(piece.name, by_weight, by_core)
    if by_weight is None:
        return found
    limit = by_core or FoundConversion(1.0, 1.0, 1.0)
    too_light = by_weight.conversion > limit.conversion
    more, less = (by_weight, limit) if too_light else (limit, by_weight)
    errors = math.hypot(more.conversion - more.conversion_low, less.conversion_high - less.conversion)
    agree = more.conversion - less.conversion <= errors
    if by_core:
        found = dataclasses.replace(found, agree=agree)
    if agree or not (by_core or too_light):
        return found
    expected, least = (
        piece.mass_before * (1.0 - chemistry.loss_on_ignition.plain(burnt * calcium_carbonate, magnesium_carbonate))
        for burnt in (limit.conversion, limit.conversion_high)
    )
    cause, evidence = _why_too_light(piece, expected, least) if too_light else _why_too_heavy(piece, expected)
    return dataclasses.replace(found, cause=cause, evidence=evidence)


def _why_too_light(piece: TrialPiece, expected: float, least: float) -> tuple[str, str]:
    """Name the cause where a piece lost more than its core allows.

    Had the stone been dry it would weigh `expected`, or `least` by the smallest core possible; kg.
    """
    water, water_least = (1.0 - piece.mass_after / dry for dry in (expected, least))
    evidence = f"{100 * water:.1f} % of water in the stone as weighed would explain it"
    if water - water_least >= SHOWN:
        evidence += f" ({100 * water_least:.1f} % at the least)"
    evidence += f", or {GRAMS * (expected - piece.mass_after):z.0f} g of it lost."
    lost, most = 1.0 - piece.mass_after / piece.mass_before, chemistry.loss_on_ignition.plain(1.0)
    if lost > most:
        evidence += f" It lost {100 * lost:.0f} %, and dry pure limestone loses no more than {100 * most:.0f} %."
    if re.search(BROKEN, piece.note, re.IGNORECASE):
        return "lost crumbs", f'The note says "{piece.note}". {evidence}'
    if re.search(WET, piece.note, re.IGNORECASE):
        return "wet stone", f'The note says "{piece.note}". {evidence}'
    return ("wet stone" if water_least <= fact("stone_moisture_most") else "lost crumbs"), evidence


def _why_too_heavy(piece: TrialPiece, expected: float) -> tuple[str, str]:
    """Name the cause where a piece lost less than its core allows; `expected` is its weight had it been dry, kg."""
    allowed = f"a core of {MM * piece.core:.0f} mm allows" if piece.core else "lime without a core would"
    gained = f"It weighs {GRAMS * (piece.mass_after - expected):z.0f} g more than {allowed}."
    if re.search(LATE, piece.note, re.IGNORECASE):
        return "weighed late", f'The note says "{piece.note}". {gained}'
    if piece.core or re.search(BROKEN, piece.note, re.IGNORECASE):
        return "broken core", gained
    if piece.slaking in ("partly", "not"):
        return "weighed late", f"{gained} Nor did it slake through; a core overlooked would show the same."
    carbonate = (1.0 - piece.mass_after / piece.mass_before) / chemistry.loss_on_ignition.plain(1.0)
    fits = f"With no core left its loss fits a stone of {100 * carbonate:.0f} % carbonate"
    if carbonate < fact("carbonate_least"):
        return "weighed late", f"{fits}, and one so poor would hardly slake."
    return "clay or other inert in the piece", f"{fits}."


@guarded
def compare_trial(trial: Trial) -> tuple[Comparison, ...]:
    """Compare weights and cores piece by piece, and suspect the stone where most pieces err alike.

    Returns
    -------
    tuple of Comparison
        One a piece, in the trial's order, in plain floats. Where at least two in three of three or
        more comparable pieces err the same way, the cause named for them is one of the whole stone.

    Raises
    ------
    InputError
        As `compare_piece` does.
    """
    stone = trial.stone.made_of.values()
    found = [compare_piece.plain(piece, *stone) for piece in trial.pieces]
    compared = [one for one in found if one.agree is not None]
    for cause, err_alike in (
        ("magnesia or moisture in the whole stone", {one.name for one in compared if _too_light(one)}),
        ("less carbonate in the whole stone", {one.name for one in compared if one.cause and not _too_light(one)}),
    ):
        if len(err_alike) >= max(FEWEST, MOST_OF_THEM * len(compared)):
            evidence = f"{len(err_alike)} of {len(compared)} pieces err the same way."
            found = [
                dataclasses.replace(one, cause=cause, evidence=evidence) if one.name in err_alike else one
                for one in found
            ]
    return tuple(found)


def _too_light(compared: Comparison) -> bool:
    return bool(compared.cause) and compared.by_weight.conversion > compared.by_core.conversion
