"""What to slake in, how full and how hot, and what is refused with its caution."""

from __future__ import annotations

import csv
import difflib
import functools
import math
from dataclasses import dataclass
from importlib import resources

from limekit.errors import InputError
from limekit.facts import fact


def _rows(file: str, key: str) -> dict[str, dict[str, str]]:
    text = resources.files("limekit").joinpath(f"data/{file}").read_text(encoding="utf-8")
    return {row[key]: row for row in csv.DictReader(text.splitlines())}


@functools.cache
def _caution() -> str:
    return _rows("cautions.csv", "key")["boil_over"]["text"]


def refusal(asked: str, got: str, wanted: str, example: str) -> InputError:
    """Return an error to raise, with the caution against boiling over in it."""
    return InputError(asked, got, f"{wanted}. Caution: {_caution().removesuffix('.')}", example)


@dataclass(frozen=True)
class Vessel:
    """Something that is safe to slake in.

    Parameters
    ----------
    name, note : str
    loss : float
        Heat its outside and the open top give to the air, W/m²K.
    temperature_most : float
        Hottest it stands, in kelvin; infinite where boiling does no harm.
    """

    name: str
    loss: float
    temperature_most: float
    note: str

    def stand(self, temperature: float) -> None:
        """Refuse what would soften it.

        Raises
        ------
        InputError
            Above `temperature_most`.
        """
        if temperature > self.temperature_most:
            got = f"a {self.name}, with lime and water that reach {temperature - 273.15:.0f} °C"
            wanted = f"{self.temperature_most - 273.15:.0f} °C at most: more water or less lime, or a steel vessel"
            raise refusal("vessel_kind", got, wanted, 'vessel_kind="open steel drum"')


def vessel_names() -> tuple[str, ...]:
    """Return every vessel that ``data/vessels.csv`` speaks of, safe or not."""
    return tuple(_rows("vessels.csv", "vessel"))


def slaking_vessel(vessel_kind: str) -> Vessel:
    """Return a vessel to slake in, by its name.

    Parameters
    ----------
    vessel_kind : str
        A row of ``data/vessels.csv``.

    Returns
    -------
    Vessel

    Raises
    ------
    InputError
        If there is no such vessel, or it is not safe to slake in.
    """
    rows = _rows("vessels.csv", "vessel")
    safe = [name for name, row in rows.items() if row["use"] == "yes"]
    wanted = f"one of {', '.join(safe)}"
    if vessel_kind not in rows:
        near = difflib.get_close_matches(str(vessel_kind), safe, n=1) or safe
        raise InputError("vessel_kind", repr(vessel_kind), wanted, f'vessel_kind="{near[0]}"')
    row = rows[vessel_kind]
    if vessel_kind not in safe:
        raise refusal(
            "vessel_kind",
            f"'{vessel_kind}': {row['note'].removesuffix('.').lower()}",
            wanted,
            f'vessel_kind="{safe[0]}"',
        )
    most = float(row["temperature_most"]) + 273.15 if row["temperature_most"] else math.inf
    return Vessel(vessel_kind, float(row["loss"]), most, row["note"])


def filled(lime_charge: float, water: float) -> float:
    """Return the room that lime and water take before they slake, m³; slaked they take less."""
    return water / fact("water_density") + lime_charge / fact("quicklime_density")


def check_fill(lime_charge: float, water: float, vessel_volume: float) -> None:
    """Refuse a vessel more than half full.

    Raises
    ------
    InputError
        Above the fact ``slaking_fill_most``.
    """
    volume, room = filled(lime_charge, water), fact("slaking_fill_most") * vessel_volume
    if volume > room:
        got = f"too big a charge: {1000 * volume:.0f} L of lime and water in a vessel of {1000 * vessel_volume:.0f} L"
        wanted = f"{1000 * room:.0f} L at most, a vessel half full"
        raise refusal("vessel_volume", got, wanted, f'vessel_volume="{math.ceil(2000 * volume)} L"')


def outside(volume: float, vessel_volume: float) -> float:
    """Return the wetted side, bottom and top of a volume in a round vessel as wide as it is tall, m²."""
    width = (4.0 * vessel_volume / math.pi) ** (1.0 / 3.0)
    floor = math.pi * width**2 / 4.0
    return 2.0 * floor + math.pi * width * volume / floor
