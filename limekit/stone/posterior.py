"""What a trial burn says of the fire and the stone: a posterior on a grid, the same every time it is run.

Unknown are the gas temperature; the reaction coefficient and the lime shell's
conductivity; how well heat passes to a piece, in the trial's fire and again in
the kiln; and how much better or worse than the middle a piece lay. The
temperature has a grid of its own; the others are told by ways they may be
together, spread evenly over their chances. Each piece burns in the reduced
model at every temperature each way; how it lay is a factor on its time in the
heat, lognormal about 1, whose spread is one more unknown. What was weighed and
measured is compared with what burnt.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

import numpy as np
from scipy.special import ndtr, ndtri

from limekit.estimate import Estimate, weighted
from limekit.facts import Fact, fact
from limekit.limestone import Stone
from limekit.stone.front import Piece, gas_pressure, threshold
from limekit.stone.glow import glow_spread
from limekit.stone.march import time_to
from limekit.stone.moment import Make
from limekit.stone.reduced import burn_all

REMEMBERED = 64  # pieces, and answers to a slider
LEVELS = 24
LEAST_CHANCE = 1e-6  # of any level, so that no note can forbid one
APART = 3.0  # deviations, beyond which glow and thermometer deny each other
DEVIATIONS = np.linspace(-2.5, 2.5, 9)  # of a normal law, from its middle
CHANCES = np.exp(-0.5 * DEVIATIONS**2) / np.sum(np.exp(-0.5 * DEVIATIONS**2))
SPREADS = np.linspace(fact("lay_spread").low, fact("lay_spread").high, 6)  # of lay, evenly over the published range
WAYS, STRIDE = 121, 21  # that stone and fires may be, on a lattice of the steps 1, 21, 21², … mod 121
LAYS = np.linspace(-0.9, 0.9, 13)  # log of the factor on a piece's time
STRETCH = 80  # marks to ten hours of a piece's heat, and to any length of a trial in twice as many
MARKS = 60.0 * np.expm1(0.08 * np.arange(2 * STRETCH + 1))  # s, at which what has burnt is kept
FAR = 8.0  # deviations, from which a bell is less than 1e-13 of its height and no misreading is
NINETY = float(ndtri(0.95))  # half a 90 % range in deviations
FIFTY = float(ndtri(0.75))  # half a 50 % range


def lognormal(known: Fact, deviations):
    """Return values of the lognormal law whose median a fact is and whose 90 % range is the fact's.

    `deviations` are standard ones from the middle; a range that is not even about it keeps its two sides.
    """
    deviations = np.asarray(deviations)
    far = np.where(deviations < 0, np.log(known / known.low), np.log(known.high / known)) / NINETY
    return known * np.exp(far * deviations)


def level_prior(pieces, co2_fraction: float) -> tuple[np.ndarray, np.ndarray]:
    """Return the grid's gas temperatures (K) and their prior, from glow seen and thermometers read.

    Notes
    -----
    The levels reach from where the stone gives way to the hottest fire, whatever was noted, so that
    an edited note burns nothing again. Glow noted on several pieces is one eye and one set of
    tables, so it counts once. Without glow or thermometer every level is as likely.
    """
    floor, ceiling = float(threshold(gas_pressure(np.min(co2_fraction)))), float(fact("hottest_fire"))
    levels = floor + (np.arange(LEVELS) + 0.5) / LEVELS * (ceiling - floor)
    if glow_denied(pieces):
        return levels, np.full(LEVELS, 1.0 / LEVELS)
    logs = np.zeros(LEVELS)
    for mean, deviation in _noted(pieces):
        logs -= 0.5 * ((levels - mean) / deviation) ** 2
    prior = np.exp(logs - logs.max())
    prior = prior / prior.sum() + LEAST_CHANCE
    return levels, prior / prior.sum()


def _noted(pieces) -> list[tuple[float, float]]:
    """Return the mean and deviation (K) of the fire by glow and by thermometer, where either was noted."""
    glows = [glow_spread(piece.glow) for piece in pieces if piece.glow]
    read = [piece.gas_temperature for piece in pieces if piece.gas_temperature is not None]
    by_glow = [tuple(np.mean(glows, axis=0))] if glows else []
    by_thermometer = [(float(np.mean(read)), fact("thermometer_error") / NINETY)] if read else []
    return by_glow + by_thermometer


def glow_denied(pieces) -> bool:
    """Whether glow and thermometer lie further apart than both their errors allow."""
    noted = _noted(pieces)
    if len(noted) < 2:
        return False
    (one, spread), (other, error) = noted
    return abs(one - other) > APART * math.hypot(spread, error)


UNKNOWN = (
    "reaction_coefficient",
    "lime_conductivity",
    "heat_transfer_coefficient",
    "heat_transfer_coefficient",
    "stove_co2_fraction",
)


class Ways(NamedTuple):
    """What may be unknown of a stone and of the fires it lies in, equally likely one by one; shape (121,).

    The reaction coefficient (m/s), the lime's conductivity (W/mK), heat transfer to a piece in the
    trial's fire and in the kiln (W/m²K), and carbon dioxide in the trial's gas (share).
    """

    reaction_coefficient: np.ndarray
    lime_conductivity: np.ndarray
    trial_transfer: np.ndarray
    kiln_transfer: np.ndarray
    trial_co2: np.ndarray


@functools.cache
def ways() -> Ways:
    """Return the ways, each unknown by its published law; the first is the middle of all.

    Notes
    -----
    Way n has of unknown j the share (n 21^j + 60 mod 121 + ½)/121 of its chances below it: a lattice, on which
    every unknown alone is spread evenly, and all of them together are about unrelated.
    """
    places = (np.outer(STRIDE ** np.arange(len(UNKNOWN)), np.arange(WAYS)) + WAYS // 2) % WAYS
    laws = ndtri((places + 0.5) / WAYS)
    return Ways(*(lognormal(fact(key), law) for key, law in zip(UNKNOWN, laws, strict=True)))


Fire = tuple[tuple[float, ...], Stone, float | tuple[float, ...], float]


@functools.lru_cache(maxsize=REMEMBERED)
def _history(diameter: float, steps: int, fire: Fire) -> np.ndarray:
    """Burn one piece at every grid point and keep the share burnt at the first `MARKS`."""
    levels, stone, co2_fraction, start_temperature = fire
    pace, conductivity, transfer, *_ = ways()
    stone = stone.but(reaction_coefficient=pace, lime_conductivity=conductivity)
    piece = Piece.of(stone, diameter, heat_transfer_coefficient=transfer)
    makes = Make.of(piece.with_each(lambda figure: np.tile(np.zeros(WAYS) + figure, LEVELS)))
    pressures = np.tile(np.zeros(WAYS) + gas_pressure(np.array(co2_fraction)), LEVELS)
    return burn_all(makes, np.repeat(levels, WAYS), pressures, start_temperature, np.diff(MARKS)[:steps])


@functools.lru_cache(maxsize=REMEMBERED)
def piece_table(diameter: float, time: float, fire: Fire) -> np.ndarray:
    """Return the share of a piece (m) burnt at each of `LAYS` and each grid point, shape (13, points).

    The time (s) in the heat is that of a piece which lay in the middle way, the fire as in `Posterior.fire`.

    Notes
    -----
    What a piece does in time is remembered at marks that are the same whatever is asked, so that a record
    edited in one row, or in its minutes, burns little or nothing again.
    """
    places = np.interp(time * np.exp(LAYS), MARKS, np.arange(len(MARKS)))
    before = places.astype(int)
    history = _history(diameter, STRETCH if before[-1] < STRETCH else 2 * STRETCH, fire)
    part = (places - before)[:, None]
    return history[before] * (1.0 - part) + history[before + 1] * part


@dataclass(frozen=True)
class Seen:
    """What was measured on one piece, with its deviations; None where nothing was. Widths in metre.

    It burns like a sphere of its diameter; the share burnt is by weight, and a core of 0 means none larger than its
    error. How it slaked is heeded only where neither of those is there.
    """

    diameter: float
    conversion: float | None = None
    conversion_error: float = 0.0
    core: float | None = None
    core_error: float = 0.0
    slaking: str | None = None

    def likelihood(self, burnt: np.ndarray) -> np.ndarray:
        """Return how likely this is, to a factor, where a share of the piece has burnt (any shape)."""
        misread, core, error = fact("misreading_share"), self.core, self.core_error
        likely = np.ones_like(burnt)

        def width(shares):
            return self.diameter * np.cbrt(1.0 - shares)

        def share(width):
            return 1.0 - (width / self.diameter) ** 3

        if self.conversion is not None:
            read, deviation = self.conversion, self.conversion_error
            ends = read - FAR * deviation, read + FAR * deviation
            bell = _between(burnt, *ends, lambda shares: np.exp(-0.5 * ((shares - read) / deviation) ** 2))
            likely = likely * _with_misreading(bell, deviation, misread)
        if core:
            ends = share(core + FAR * error), share(core - FAR * error)
            bell = _between(burnt, *ends, lambda shares: np.exp(-0.5 * ((width(shares) - core) / error) ** 2))
            likely = likely * _with_misreading(bell, error / self.diameter, misread)
        elif core is not None:
            least = share((1.0 + 0.5 * FAR) * error)
            unseen = _between(burnt, least, np.inf, lambda shares: ndtr((error - width(shares)) / (0.5 * error)))
            likely = likely * ((1.0 - misread) * unseen + 0.5 * misread)
        if self.conversion is None and self.core is None and self.slaking in ("partly", "not"):
            through, not_below = fact("slakes_through_from"), fact("slakes_partly_from")
            blur = fact("slaking_blur")
            whole, some = ndtr((burnt - through) / blur), ndtr((burnt - not_below) / blur)
            word = some - whole if self.slaking == "partly" else 1.0 - some
            likely = likely * ((1.0 - misread) * word + misread / 3.0)
        return likely


def _between(burnt, least, most, of):
    """Return what it is of the shares burnt between two, and 0 of all others, of which it would be next to that."""
    near = (burnt > least) & (burnt < most)
    found = np.zeros_like(burnt)
    found[near] = of(burnt[near])
    return found


def _with_misreading(bell, deviation, misread):
    return (1.0 - misread) / (deviation * np.sqrt(2.0 * np.pi)) * bell + misread


def lay_weights(spreads: np.ndarray) -> np.ndarray:
    """Return the weight of each of `LAYS` under each spread of lay, shape (13, spreads)."""
    bells = np.exp(-0.5 * (LAYS[:, None] / spreads) ** 2)
    return bells / bells.sum(axis=0)


@functools.lru_cache(maxsize=REMEMBERED)
def told_by(seen: Seen, time: float, fire: Fire) -> np.ndarray:
    """Return the log of how likely it is, to a factor, that a piece is seen so after a time (s) in the heat.

    By grid point and spread of lay, shape (points, 6); remembered, since other pieces change nothing of it.
    """
    return np.log(seen.likelihood(piece_table(seen.diameter, time, fire)).T @ lay_weights(SPREADS))


def posterior(prior, told) -> np.ndarray:
    """Return the probability of each grid point and spread of lay, shape (points, 6), all together 1.

    The prior is that of the levels; ways and spreads are equally likely beforehand. What is `told` comes from
    `told_by`, one a piece.
    """
    logs = np.repeat(np.log(prior), WAYS)[:, None] + sum(told)
    found = np.exp(logs - logs.max())
    return found / found.sum()


@dataclass(frozen=True, eq=False)
class Posterior:
    """What an assessment knows, in plain SI floats.

    Parameters
    ----------
    levels, prior : ndarray, shape (24,)
        Gas temperatures, K, and their probability before the stones were heard.
    probability : ndarray, shape (24 · 121, 6)
        By level and way, and by spread of lay, of its `spreads`.
    stone : Stone
        As it was taken to be before the trial.
    co2_fraction : float or tuple
        In the trial's gas, one or by way.
    start_temperature : float
        K.
    """

    levels: np.ndarray
    prior: np.ndarray
    probability: np.ndarray
    stone: Stone
    co2_fraction: float | tuple[float, ...]
    start_temperature: float
    spreads: ClassVar = SPREADS

    @classmethod
    def untried(cls, stone: Stone, co2_fraction: float, start_temperature: float) -> Posterior:
        """Return what is known of a stone before any trial: the published ranges."""
        levels, prior = level_prior([], co2_fraction)
        alike = posterior(prior, [np.zeros((len(levels) * WAYS, len(SPREADS)))])
        return cls(levels, prior, alike, stone, co2_fraction, start_temperature)

    @property
    def fire(self) -> Fire:
        """What `piece_table` needs of the trial: gas temperatures (K), stone, its carbon dioxide, the start (K)."""
        return tuple(self.levels.tolist()), self.stone, self.co2_fraction, self.start_temperature

    @property
    def by_level(self) -> np.ndarray:
        """The probability of each gas temperature, shape (24,)."""
        return self.probability.reshape(LEVELS, -1).sum(axis=1)

    def of_stone(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Return the paces (m/s) and conductivities (W/mK) of stones that may be, each of shape (121,).

        With them the probability of each with each spread of lay, shape (121, 6).
        """
        known = ways()
        together = self.probability.reshape(LEVELS, WAYS, -1).sum(axis=0)
        return known.reaction_coefficient, known.lime_conductivity, together

    def found(self) -> tuple[Estimate, Estimate]:
        """Return the stone's reaction coefficient (m/s) and its lime's conductivity (W/mK)."""
        *known, together = self.of_stone()
        pace, conductivity = (weighted(one, together.sum(axis=1)) for one in known)
        return pace, conductivity

    def times(self, diameter: float, gas_temperature: float, co2_fraction: float, conversion: float) -> np.ndarray:
        """Return a middling piece's burning times (s) in a kiln, way by way: shape (121,)."""
        asked = diameter, gas_temperature, co2_fraction, self.start_temperature, conversion
        return _times(self.stone, *map(float, asked))

    def middling_times(self, sizes, levels, co2_fraction: float, conversion: float) -> dict[float, np.ndarray]:
        """Return a middling stone's burning times (s) over sizes (m) by gas temperature (K); nan if it never burns."""
        asked = tuple(map(float, sizes)), tuple(map(float, levels)), float(co2_fraction), float(conversion)
        return dict(_middling_times(self, *asked))

    def with_lay(self, middle: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Return values, and their weights, that logs of shape (121,) take on as pieces lie well or badly."""
        logs = middle[:, None, None] + SPREADS[:, None] * DEVIATIONS
        return np.exp(logs), self.of_stone()[2][..., None] * CHANCES

    def burnt(self, diameter: float, time: float) -> Estimate:
        """Return the share burnt of a piece (m) after a time (s) in the trial's own fire."""
        shares = piece_table(diameter, time, self.fire)
        return weighted(shares, lay_weights(SPREADS) @ self.probability.T)


@functools.lru_cache(maxsize=REMEMBERED)
def _times(stone: Stone, diameter, gas_temperature, co2_fraction, start_temperature, conversion) -> np.ndarray:
    """Return `Posterior.times`, kept for the next time a slider asks: no trial changes them."""
    pace, conductivity, _, transfer, _ = ways()
    stone = stone.but(reaction_coefficient=pace, lime_conductivity=conductivity)
    piece = Piece.of(stone, diameter, heat_transfer_coefficient=transfer)
    found = time_to(piece, gas_temperature, gas_pressure(co2_fraction), start_temperature, conversion)
    found.flags.writeable = False
    return found


@functools.lru_cache(maxsize=REMEMBERED)
def _middling_times(known: Posterior, sizes: tuple, levels: tuple, co2_fraction: float, conversion: float) -> dict:
    """Return `Posterior.middling_times`, kept likewise."""
    pace, conductivity = known.found()
    stone = known.stone.but(reaction_coefficient=pace.median, lime_conductivity=conductivity.median)
    piece = Piece.of(stone, np.array(sizes)[:, None])
    pressure = gas_pressure(co2_fraction)
    hot = [level for level in levels if level > threshold(pressure)]
    times = time_to(piece, np.array(hot), pressure, known.start_temperature, conversion)
    never = np.full(len(sizes), np.nan)
    found = {level: times[:, hot.index(level)] if level in hot else never for level in levels}
    for one in (times, never):
        one.flags.writeable = False
    return found
