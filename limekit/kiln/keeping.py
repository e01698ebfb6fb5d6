"""How a fire is kept: what is fed, how much air comes in, and when it is let out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from limekit.facts import fact
from limekit.things import Thing
from limekit.units import TONNE, Kelvin, KilogramPerSecond, Second, Share

AirDoor = Literal["minded", "open"]


@dataclass(frozen=True, repr=False)
class Fire(Thing):
    """A fire as it is to be kept.

    Parameters
    ----------
    fire_temperature : Kelvin, optional
        Of the gas as the fire gives it, held by the air let in; `excess_air` is then not heeded.
    excess_air : Share
        Air beyond the least that burns the fuel, held by the air door.
    air_door : {"minded", "open"}
        Open, all the air that the kiln draws comes in, needed or not, whatever the two before say.
    stoking_rate : KilogramPerSecond, optional
        Fuel that those at the mouth feed at most, once the fire is full; less where the draught cannot
        burn so much. Without it, what is fed to a kiln of that size (`usual_stoking_rate`).
    stoking : sequence, optional
        Fuel fed hour by hour instead: one rate, or pairs of a time and the rate from then on.
    heat_up_time : Second, optional
        In which the fire grows steadily from kindling to its full, so that wet stone does not burst; none
        lets it grow as fast as the draught does. Without it, as is usual for a kiln of that size
        (`usual_slow_start`), or none where `stoking` says all.
    flame_share : Share
        Of the fire's heat, that its flames give among the lowest stones and not in the hearth.
    damper : Share
        Open share of the flue.
    fuel_unburnt : Share
        Of the fuel's heat, in smoke and embers.
    fuel_surplus : Share
        Of what burns, what is fed besides where the draught burns less than arms can feed, as in real
        firings; it leaves as smoke and embers too. At 0 no log is fed in vain.
    hours : Second, optional
        The fire is let out after them even if the charge is not done. Without them it is let out
        when the charge is done, or a whole day has brought nothing more.
    conversion : Share, optional
        Mean over the charge at which it is done, 0.95 where nothing is said; at 1 the last stone is
        waited for.

    Examples
    --------
    >>> Fire(excess_air=0.8, stoking=[("0 h", "8 kg/h"), ("6 h", "14 kg/h")])
    Fire(excess_air=0.8, stoking=[('0 h', '8 kg/h'), ('6 h', '14 kg/h')])
    """

    fire_temperature: Kelvin | None = None
    excess_air: Share = fact("excess_air")
    air_door: AirDoor = "minded"
    stoking_rate: KilogramPerSecond | None = None
    stoking: Sequence | None = None
    heat_up_time: Second | None = None
    flame_share: Share = fact("flame_share")
    damper: Share = 1.0
    fuel_unburnt: Share = fact("fuel_unburnt")
    fuel_surplus: Share = fact("fuel_surplus")
    hours: Second | None = None
    conversion: Share | None = None


USUAL_FIRE = Fire.plain()


def usual_stoking_rate(stone: float) -> float:
    """Return the fuel that is fed to a kiln at its full (kg/s), for its stone in kg: a (stone/1 t)^b."""
    return fact("stoking_rate_at_a_tonne") * (stone / TONNE) ** fact("stoking_rate_exponent")


def usual_slow_start(stone: float) -> float:
    """Return the time (s) in which a fire is let grow, for the kiln's stone in kg: as `usual_stoking_rate`."""
    return fact("slow_start_of_a_tonne") * (stone / TONNE) ** fact("slow_start_exponent")
