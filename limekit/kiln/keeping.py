"""How a fire is kept: what is fed, how much air comes in, and when it is let out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from limekit.facts import fact
from limekit.things import Thing
from limekit.units import Kelvin, Second, Share

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
    stoking : sequence, optional
        Fuel fed: one rate, or pairs of a time and the rate from then on. Without it, as much as
        the draught can burn.
    heat_up_time : Second
        In which the fire grows steadily to that, so that wet stone does not burst; none lets it
        grow as fast as the draught does.
    damper : Share
        Open share of the flue.
    fuel_unburnt : Share
        Of the fuel's heat, in smoke and embers.
    hours : Second, optional
        The fire is let out after them even if the charge is not done. Without them it is let out
        when the charge is done, or a whole day has brought nothing more.
    conversion : Share, optional
        Mean over the charge at which it is done, 0.95 where nothing is said; at 1 the last stone is
        waited for.

    Examples
    --------
    >>> Fire(excess_air=0.8, heat_up_time="6 h", stoking=[("0 h", "8 kg/h"), ("6 h", "14 kg/h")])
    Fire(excess_air=0.8, stoking=[('0 h', '8 kg/h'), ('6 h', '14 kg/h')], heat_up_time="6 h")
    """

    fire_temperature: Kelvin | None = None
    excess_air: Share = fact("excess_air")
    air_door: AirDoor = "minded"
    stoking: Sequence | None = None
    heat_up_time: Second = 0.0
    damper: Share = 1.0
    fuel_unburnt: Share = fact("fuel_unburnt")
    hours: Second | None = None
    conversion: Share | None = None


USUAL_FIRE = Fire.plain()
