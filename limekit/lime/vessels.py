"""What to slake in, how full and how hot, and what is refused with its caution."""

from __future__ import annotations

import math
from dataclasses import dataclass

from limekit import tables
from limekit.errors import InputError, not_among
from limekit.facts import fact
from limekit.safety import caution_table
from limekit.units import LITRES, ZERO_CELSIUS


def refusal(asked: str, got: str, wanted: str, example: str) -> InputError:
    """Return an error to raise, with the caution against boiling over in it."""
    return InputError(asked, got, f"{wanted}. Caution: {caution_table()['boil_over'].text.removesuffix('.')}", example)


@dataclass(frozen=True)
class Vessel:
    """Something that is safe to slake in, whose outside and open top lose heat to the air, W/m²K.

    `temperature_most` is the hottest it stands, in kelvin; infinite where boiling does no harm.
    """

    name: str
    loss: float
    temperature_most: float
    note: str

    def stand(self, temperature: float) -> None:
        """Raise `InputError`, with the caution, for what would soften it."""
        if temperature > self.temperature_most:
            got = f"a {self.name}, with lime and water that reach {temperature - ZERO_CELSIUS:.0f} °C"
            most = f"{self.temperature_most - ZERO_CELSIUS:.0f} °C at most"
            wanted = f"{most}: more water or less lime, or a steel vessel"
            raise refusal("vessel_kind", got, wanted, 'vessel_kind="open steel drum"')


def vessel_names() -> tuple[str, ...]:
    """Return every vessel that ``data/vessels.csv`` speaks of, safe or not."""
    return tuple(tables.by("vessel", "vessels"))


def slaking_vessel(vessel_kind: str) -> Vessel:
    """Return a vessel to slake in, by its name.

    Parameters
    ----------
    vessel_kind : str
        A row of ``data/vessels.csv``.

    Raises
    ------
    InputError
        If there is no such vessel, or it is not safe to slake in.
    """
    rows = tables.by("vessel", "vessels")
    safe = [name for name, row in rows.items() if row["use"] == "yes"]
    if not isinstance(vessel_kind, str) or vessel_kind not in rows:
        raise not_among(safe, "vessel_kind", vessel_kind)
    row = rows[vessel_kind]
    if vessel_kind not in safe:
        got = f"'{vessel_kind}': {row['note'].removesuffix('.').lower()}"
        raise refusal("vessel_kind", got, f"one of {', '.join(safe)}", f'vessel_kind="{safe[0]}"')
    most = float(row["temperature_most"]) + ZERO_CELSIUS if row["temperature_most"] else math.inf
    return Vessel(vessel_kind, float(row["loss"]), most, row["note"])


def filled(lime_charge: float, water: float) -> float:
    """Return the room that lime and water take before they slake, m³; slaked they take less."""
    return water / fact("water_density") + lime_charge / fact("quicklime_density")


def check_fill(lime_charge: float, water: float, vessel_volume: float) -> None:
    """Raise `InputError` for a vessel more than half full: above the fact ``slaking_fill_most``."""
    volume, room = filled(lime_charge, water), fact("slaking_fill_most") * vessel_volume
    if volume > room:
        got = (
            f"too big a charge: {LITRES * volume:.0f} L of lime and water in a vessel of {LITRES * vessel_volume:.0f} L"
        )
        wanted = f"{LITRES * room:.0f} L at most, a vessel half full"
        raise refusal("vessel_volume", got, wanted, f'vessel_volume="{math.ceil(LITRES * 2 * volume)} L"')


def outside(volume: float, vessel_volume: float) -> float:
    """Return the wetted side, bottom and top of a volume in a round vessel as wide as it is tall, m²."""
    width = (4.0 * vessel_volume / math.pi) ** (1.0 / 3.0)
    floor = math.pi * width**2 / 4.0
    return 2.0 * floor + math.pi * width * volume / floor
