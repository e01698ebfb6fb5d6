"""From a trial burn to what the fire did, and to how long a kiln must burn the same stone."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Annotated

import numpy as np

from limekit import chemistry
from limekit.compiled import side_by_side
from limekit.edge import Fields, Ground, edge, rests_on
from limekit.errors import InputError
from limekit.estimate import Estimate, shown, together, weighted
from limekit.facts import fact
from limekit.limestone import MADE_OF, USUAL_STONE, Stone
from limekit.stone.burning import refuse_cold_gas
from limekit.stone.contradiction import Comparison, compare_trial
from limekit.stone.narrowing import NextMeasurement, rank_measurements
from limekit.stone.posterior import (
    NINETY,
    SPREADS,
    Posterior,
    Seen,
    glow_denied,
    level_prior,
    posterior,
    told_by,
    ways,
)
from limekit.stone.trial import Trial, TrialPiece
from limekit.units import HOUR, MM, Kelvin, Metre, Second, Share, Unit

SIZES = 12
AT_THE_END = 1e-3  # of a size, within which an answer is the end of the band and no answer
SURPRISING = 2.0  # deviations of the prior, from which the stones are said to deny glow and thermometer
UNTRIED = ("heat_transfer_coefficient", "co2_diffusivity")  # of a kiln's, whatever a trial finds
ENOUGH = 4  # pieces, below which the range is said to rest on too few

EstimatedKelvin = Annotated[Estimate, Unit("K", "level")]
EstimatedSecond = Annotated[Estimate, Unit("s")]
EstimatedMetre = Annotated[Estimate, Unit("m")]
EstimatedPace = Annotated[Estimate, Unit("m/s")]
EstimatedConductivity = Annotated[Estimate, Unit("W/m/K")]
EstimatedShare = Annotated[Estimate, Unit("")]


@dataclass(frozen=True, eq=False)
class Assessment:
    """What a trial burn tells: the fire it was, the stone it had, and what follows for a kiln.

    Every figure is a median with its 90 and 50 % ranges. The ranges hold the errors of scale,
    ruler and eye, the spread of how pieces lay, and what the published figures leave open on the
    reaction coefficient, the lime's conductivity, heat transfer to a piece (in the trial's fire, and
    again in the kiln) and, where it was not given, the trial's carbon dioxide; diffusion is held at
    the value of the basis.
    `stone` is the trial's, with the two medians. A stone of which nothing was burnt (`Assessment.untried`) has
    no fire.
    """

    stone: Stone
    gas_temperature: EstimatedKelvin | None
    reaction_coefficient: EstimatedPace
    lime_conductivity: EstimatedConductivity
    lay_spread: EstimatedShare
    comparisons: tuple[Comparison, ...]
    remarks: tuple[str, ...]
    posterior: Posterior = field(repr=False)
    basis: tuple[Ground, ...] = ()

    def __str__(self) -> str:
        return "\n".join([f"fire: {self.gas_temperature or 'none'}", *self.remarks])

    @classmethod
    def untried(
        cls,
        stone: Stone,
        co2_fraction: float = fact("co2_fraction"),
        start_temperature: float = fact("start_temperature"),
    ) -> Assessment:
        """Return what published figures say of a stone before any trial, in SI floats; the gas is the kiln's."""
        known = Posterior.untried(stone, float(co2_fraction), float(start_temperature))
        lay = weighted(SPREADS, known.probability.sum(axis=0))
        return cls(stone, None, *known.found(), lay, (), ("No trial of this stone: published figures alone.",), known)

    @edge
    def forecast(
        self,
        diameter: Metre,
        gas_temperature: Kelvin,
        co2_fraction: Share = fact("co2_fraction"),
        conversion: Share = fact("burnt_through"),
    ) -> EstimatedSecond:
        """Return how long a kiln needs for a stone of this kind.

        Parameters
        ----------
        diameter : Metre
            Of the piece.
        gas_temperature : Kelvin
            In the kiln, around the piece.
        co2_fraction : Share
            In the kiln's gas.
        conversion : Share
            To be reached.

        Returns
        -------
        Estimate
            Of the time in the hot gas, from cold stone on, for a piece that may lie well or badly; of several
            where lists or arrays are given.

        Raises
        ------
        InputError
            If the gas is no hotter than the dissociation temperature.

        Notes
        -----
        ln t = ln t(k, λ, α) + s z: the burning time with each reaction coefficient k, conductivity λ and heat
        transfer α of the posterior, each spread of lay s and a normal deviate z; the ranges are its weighted quantiles.
        """
        refuse_cold_gas(gas_temperature, co2_fraction)
        made = _forecast(self.posterior, diameter, gas_temperature, co2_fraction, conversion)
        return replace(made, basis=self._grounds)

    @edge
    def largest_stone(
        self,
        time: Second,
        gas_temperature: Kelvin,
        co2_fraction: Share = fact("co2_fraction"),
        conversion: Share = fact("burnt_through"),
    ) -> EstimatedMetre:
        """Return how large a stone may be to burn through in a time.

        Parameters
        ----------
        time : Second
            In the hot gas.
        gas_temperature, co2_fraction, conversion
            As in `forecast`.

        Returns
        -------
        Estimate
            Of the diameter; of several where lists or arrays are given. Sort to the low end of the range
            to have few cores.

        Raises
        ------
        InputError
            If the gas is no hotter than the dissociation temperature, or the time is for stones
            outside what kilns take.

        Notes
        -----
        The diameter d at which the time of `forecast` is t(d) = time, stone by stone of the posterior.
        """
        refuse_cold_gas(gas_temperature, co2_fraction)
        asked = np.broadcast(time, gas_temperature, co2_fraction, conversion)
        each = [_largest(self.posterior, *(float(part) for part in one)) for one in asked]
        return replace(together(each, asked.shape) if asked.shape else each[0], basis=self._grounds)

    @property
    def _grounds(self) -> tuple[Ground, ...]:
        if self.gas_temperature is None:
            return rests_on("reaction_coefficient", "lime_conductivity", "lay_spread", *UNTRIED)
        return Ground("trial", f"{len(self.comparisons)} pieces", "given", ""), *rests_on(
            "heat_transfer_coefficient", *UNTRIED
        )

    @edge
    def next_measurement(
        self, diameter: Metre, gas_temperature: Kelvin, co2_fraction: Share = fact("co2_fraction")
    ) -> tuple[NextMeasurement, ...]:
        """Say which further measurement would narrow the forecast for a stone most.

        Parameters
        ----------
        diameter, gas_temperature, co2_fraction
            The forecast to be narrowed, as in `forecast`.

        Returns
        -------
        tuple of NextMeasurement
            The most telling first.
        """
        refuse_cold_gas(gas_temperature, co2_fraction)
        return rank_measurements(self.posterior, diameter, gas_temperature, co2_fraction)


def seen_on(piece: TrialPiece, compared: Comparison) -> Seen | None:
    """Return what a piece shows the posterior, or None where nothing on it was measured.

    Where weights and core contradict each other the core is believed, since it can be looked at.
    """
    diameter = piece.diameter
    by_weight, by_core = compared.by_weight, compared.by_core
    if by_weight and (compared.agree is False or (compared.cause and not by_core)):
        by_weight = None
    known = {}
    if by_weight:
        half = 0.5 * (by_weight.conversion_high - by_weight.conversion_low)
        known |= {"conversion": by_weight.conversion, "conversion_error": half / NINETY}
    if by_core:
        if piece.core:
            far, near = (
                diameter * np.cbrt(max(1.0 - share, 0.0)) for share in (by_core.conversion_low, by_core.conversion_high)
            )
            known |= {"core": 0.5 * (far + near), "core_error": 0.5 * (far - near) / NINETY}
        else:
            known |= {"core": 0.0, "core_error": float(fact("core_error"))}
    if not known and piece.slaking not in ("partly", "not"):
        return None
    return Seen(diameter, slaking=piece.slaking, **known)


@edge
def assess_trial(
    trial: Trial,
    co2_fraction: Share | None = None,
    start_temperature: Kelvin = fact("start_temperature"),
) -> Assessment:
    """Work out from a trial burn what the fire did and what the stone is like.

    Parameters
    ----------
    trial : Trial
        From `limekit.read_trial`.
    co2_fraction : Share, optional
        In the gas of the trial's fire, if it was measured. Without it, what a wood stove's may hold.
    start_temperature : Kelvin
        Of the stones before.

    Raises
    ------
    InputError
        If no piece of the trial was weighed, broken open or slaked.

    Notes
    -----
    Bayes' rule, p(fire, stone, lay | pieces) ∝ p(fire, stone, lay) Π p(piece | fire, stone, lay), on a fixed
    grid of gas temperature × ways × spread of lay; a way has a reaction coefficient, a lime conductivity,
    heat transfer in the trial's fire and in the kiln, and the trial's carbon dioxide. Prior: published
    ranges as lognormal laws, glow by the disagreement of the tables, thermometers by their
    error.
    """
    comparisons = compare_trial(trial)
    pairs = [
        (piece, seen)
        for piece, compared in zip(trial.pieces, comparisons, strict=True)
        if (seen := seen_on(piece, compared))
    ]
    if not pairs:
        got = "a trial with no piece weighed after, broken open or slaked"
        wanted = "at least one piece with a weight after burning, a core size or how it slaked"
        raise InputError("assess_trial", got, wanted, 'one row with core_size "12 mm"')
    pieces = [piece for piece, _ in pairs]
    usual = () if co2_fraction is not None else rests_on("stove_co2_fraction")
    gas = tuple(map(float, ways().trial_co2)) if co2_fraction is None else float(co2_fraction)
    levels, prior = level_prior(pieces, gas)
    fire = (tuple(levels.tolist()), trial.stone, gas, float(start_temperature))
    told = side_by_side(lambda pair: told_by(pair[1], float(pair[0].time_in_heat), fire), pairs)
    known = Posterior(levels, prior, posterior(prior, told), *fire[1:])
    pace, conductivity = known.found()
    return Assessment(
        stone=trial.stone.but(reaction_coefficient=pace.median, lime_conductivity=conductivity.median),
        gas_temperature=weighted(levels, known.by_level),
        reaction_coefficient=pace,
        lime_conductivity=conductivity,
        lay_spread=weighted(SPREADS, known.probability.sum(axis=0)),
        comparisons=comparisons,
        remarks=(*trial.remarks, *_remarks(pieces, comparisons, known)),
        posterior=known,
        basis=usual,
    )


@edge
def burning_time_range(
    diameter: Metre,
    gas_temperature: Kelvin,
    co2_fraction: Share = fact("co2_fraction"),
    conversion: Share = fact("burnt_through"),
    stone: Annotated[Stone, Fields(MADE_OF)] = USUAL_STONE,
    start_temperature: Kelvin = fact("start_temperature"),
) -> EstimatedSecond:
    """Return how long a stone must lie in steady hot gas, with the range there is before any trial burn.

    Parameters
    ----------
    diameter, gas_temperature, co2_fraction, conversion, start_temperature
        As in `limekit.burning_time`, of a round piece.
    stone : Stone
        Its make-up, or the fields of that one by one: calcium_carbonate, magnesium_carbonate, stone_moisture.

    Returns
    -------
    Estimate
        The published ranges of reaction coefficient, conductivity and heat transfer, and pieces that lie well or
        badly. The median is `limekit.burning_time` with the kit's figures, by the reduced model.

    Raises
    ------
    InputError
        If the gas is no hotter than the dissociation temperature, or the carbonates come to more than the stone.

    Notes
    -----
    ln t = ln t(k, λ, α) + s z: the burning time with each reaction coefficient k, conductivity λ and heat
    transfer α of their published laws, each spread of lay s and a normal deviate z; the ranges are its
    weighted quantiles.

    Examples
    --------
    >>> print(burning_time_range(diameter="50 mm", gas_temperature="1000 degC"))
    3.46 h (nine times in ten between 2.29 h and 5.28 h)
    """
    refuse_cold_gas(gas_temperature, co2_fraction)
    chemistry.refuse_unburnable(stone.calcium_carbonate, stone.magnesium_carbonate)
    known = Assessment.untried(stone, co2_fraction, start_temperature)
    return Assessment.forecast.plain(known, diameter, gas_temperature, co2_fraction, conversion)


def _forecast(known: Posterior, diameter, gas_temperature, co2_fraction, conversion) -> Estimate:
    asked = np.broadcast(diameter, gas_temperature, co2_fraction, conversion)
    if np.min(conversion) <= 0.0:
        raise InputError("conversion", f"{np.min(conversion):g}", "a share of the stone to be burnt", "conversion=0.98")
    if asked.shape:
        return together(side_by_side(lambda one: _forecast(known, *one), asked), asked.shape)
    middle = known.times(diameter, gas_temperature, co2_fraction, conversion)
    return weighted(*known.with_lay(np.log(middle)))


def _largest(known: Posterior, time: float, gas_temperature: float, co2_fraction: float, conversion: float) -> Estimate:
    band = fact("smallest_kiln_stone"), fact("largest_kiln_stone")
    sizes = np.geomspace(*band, SIZES)
    logs = np.log(side_by_side(lambda size: known.times(size, gas_temperature, co2_fraction, conversion), sizes))
    needed, weights = known.with_lay(np.zeros(logs.shape[1]))
    found = np.empty_like(needed)
    for stone in range(logs.shape[1]):
        found[stone] = np.exp(np.interp(np.log(time / needed[stone]), logs[:, stone], np.log(sizes)))
    made = weighted(found, weights)
    for end, word in zip(band, ("smaller", "larger"), strict=True):
        if abs(made.median / end - 1.0) < AT_THE_END:
            got = f"{shown(time / HOUR)} h, in which a stone {word} than {MM * end:.0f} mm would burn through"
            wanted = f"a time for stones of {MM * band[0]:.0f} to {MM * band[1]:.0f} mm"
            raise InputError("time", got, wanted, 'time="8 h"')
    return made


def _remarks(pieces: list[TrialPiece], comparisons: tuple[Comparison, ...], known: Posterior) -> list[str]:
    said = [one.verdict for one in comparisons if one.cause]
    if len(pieces) < ENOUGH:
        said.append(
            f"Only {len(pieces)} piece(s) could be used, so the ranges are mostly those of the published figures."
        )
    if not any(piece.glow or piece.gas_temperature is not None for piece in pieces):
        said.append("No glow and no thermometer was noted, so the fire's heat is known from the stones alone.")
    if glow_denied(pieces):
        said.append("Glow and thermometer deny each other, so both count for little here: look at them again.")
    expected = known.prior @ known.levels
    deviation = np.sqrt(known.prior @ (known.levels - expected) ** 2)
    surprise = (known.by_level @ known.levels - expected) / deviation
    if abs(surprise) > SURPRISING:
        word = "hotter" if surprise > 0 else "colder"
        said.append(f"The stones speak for a fire {word} than glow or thermometer allow: look at both again.")
    coreless = {piece.core == 0 for piece in pieces}
    if len(coreless) == 1:
        alike = "burnt through" if coreless.pop() else "kept a core"
        said.append(f"Every piece {alike}: a trial tells most when some burn through and some keep a core.")
    return said
