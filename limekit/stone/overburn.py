"""Over-burning: how much heat for how long dulls the lime, as an index of which only the order is claimed.

Lime left in the fire sinters: its grains grow and its pores close, so that it
slakes late or not at all. Temperature matters more than time (Lezzerini 2024).
The index counts hours at 1150 °C that would do the same, each hour weighed by
exp(−(E/R)(1/T − 1/T_d)) with an assumed activation energy E. The lines between
its words are burns that were tried: two marbles were at their liveliest after
2 h at 1050 °C and still slaked after 2 h at 1200 (Leontakianakos 2013); pure
lime was dead-burnt after 6 h at 1400 to 1550 (Can. J. Chem. 33:881, 1955).
Between those two lies a factor of some hundreds, so where lime dies in it is
a guess.
"""

from __future__ import annotations

import numpy as np

from limekit.edge import edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import JoulePerMole, Kelvin, Second

BANDS = (
    ("overburn_dead_from", "dead-burnt risk"),
    ("overburn_hard_from", "hard-burnt"),
    ("overburn_medium_from", "medium-burnt"),
)
SOFT = "soft-burnt"
ALIKE = 1e-6


def _exponent(temperature, activation_energy: float):
    return activation_energy / fact("gas_constant") * (1.0 / fact("dead_burnt_from") - 1.0 / temperature)


def index_so_far(times, temperatures, activation_energy: float = fact("overburn_activation_energy")):
    """Return the over-burning index (s) at each reading, shape (n, ...), of many stones at once.

    Times (s, in order) are of shape (n,), temperatures (K) of shape (n, ...); the activation energy in J/mol.
    """
    exponent = _exponent(temperatures, activation_energy)
    growth = np.diff(exponent, axis=0)
    growth = np.where(np.abs(growth) < ALIKE, ALIKE, growth)
    steps = np.diff(times).reshape(-1, *[1] * (exponent.ndim - 1))
    index = np.zeros(exponent.shape)
    index[1:] = np.cumsum(steps * np.exp(exponent[:-1]) * np.expm1(growth) / growth, axis=0)
    return index


@edge
def overburn_index(
    temperature: Kelvin,
    hold_time: Second,
    overburn_activation_energy: JoulePerMole = fact("overburn_activation_energy"),
) -> Second:
    """Return the hours at 1150 °C that would dull lime as much as a time at one temperature.

    Parameters
    ----------
    temperature : Kelvin
        Of the stone, not of the gas.
    hold_time : Second
        That it is held there.
    overburn_activation_energy : JoulePerMole
        Assumed, 120 to 500 kJ/mol; at 0 time alone would count.

    Returns
    -------
    Second
        Only its order is claimed: of two burns, the one with the greater index is the harder burnt.

    Notes
    -----
    index = t exp((E/R) (1/T_d − 1/T)), with the activation energy E, the gas constant R and the fact
    ``dead_burnt_from`` T_d.

    Examples
    --------
    >>> print(overburn_index("1050 degC", "3 h"))
    0.2823 h
    """
    return float(hold_time * np.exp(_exponent(temperature, overburn_activation_energy)))


@edge
def overburn_history(
    burn_times: Second,
    stone_temperatures: Kelvin,
    overburn_activation_energy: JoulePerMole = fact("overburn_activation_energy"),
) -> Second:
    """Return the over-burning index of a stone whose temperature was followed.

    Parameters
    ----------
    burn_times : Second
        Times of the readings (n,), never backward.
    stone_temperatures : Kelvin
        Of the stone at those times (n,).
    overburn_activation_energy : JoulePerMole
        See `overburn_index`.

    Raises
    ------
    InputError
        If there are fewer than two readings, times and temperatures differ in number, or a
        time runs backward.

    Notes
    -----
    index = ∫ exp((E/R) (1/T_d − 1/T)) dt, as in `overburn_index`. Between readings the weight is taken to
    grow or fall by equal shares in equal times, which is near the truth for a steady rise; a straight
    line would overstate a coarse log.
    """
    times, temperatures = np.asarray(burn_times), np.asarray(stone_temperatures)
    if times.ndim != 1 or times.shape != temperatures.shape or len(times) < 2:
        got = f"{times.size} times and {temperatures.size} temperatures"
        raise InputError("burn_times and stone_temperatures", got, "as many of one as of the other, two at least")
    steps = np.diff(times)
    if (steps < 0.0).any():
        back = int(np.argmax(steps < 0.0)) + 2
        raise InputError("burn_times", f"reading {back} before reading {back - 1}", "times in order")
    return float(index_so_far(times, temperatures, overburn_activation_energy)[-1])


@edge
def overburn_class(overburn_index: Second) -> str:
    """Return the word for an over-burning index.

    Parameters
    ----------
    overburn_index : Second
        From `overburn_index` or `overburn_history`.

    Returns
    -------
    str
        "soft-burnt", from 0.2 h "medium-burnt", from 2 h "hard-burnt", from 100 h "dead-burnt
        risk". Of the last line no more is known than that it lies between 6 and 2000 h, and
        lower where the stone holds clay. Slake a piece to be sure.

    Examples
    --------
    >>> overburn_class(overburn_index("900 degC", "24 h"))
    'soft-burnt'
    """
    return next((word for key, word in BANDS if overburn_index >= fact(key)), SOFT)
