"""Kilns side by side, each a column of hearth and levels: what they hold, and what moves on in them."""

from __future__ import annotations

import numpy as np

from limekit.chemistry import CARBON_DIOXIDE, MAGNESIUM_CARBONATE, WATER
from limekit.facts import fact
from limekit.kiln.column.charge import Charge
from limekit.kiln.column.gas import AIR_SHARES, table
from limekit.kiln.column.standing import Kiln, Now
from limekit.kiln.column.updraught import Updraught
from limekit.kiln.wall.in_time import Wall
from limekit.stone.moment import Make, State
from limekit.stone.reduced import Stones


class Column:
    """Stones, wall and gas of kilns side by side, which `limekit.kiln.column.run` moves on. All figures in SI floats.

    Parameters
    ----------
    charge : Charge
    wall : Wall
        Of ``(levels + 1) × columns`` levels, the hearth first, columns side by side.
    air_temperature, start_temperature : float
        Outside and of the stone, K.
    air_pressure : float
        Pa.
    coefficient : float
        From gas to wall, W/m²K.

    Attributes
    ----------
    stones : Stones
        Of shape (levels, sizes, columns).
    now : Now
        All that moves on, stones and wall with it.
    """

    def __init__(
        self,
        charge: Charge,
        wall: Wall,
        air_temperature: float,
        start_temperature: float,
        air_pressure: float,
        coefficient: float = fact("heat_transfer_coefficient"),
    ) -> None:
        self.charge, self.wall, self.coefficient = charge, wall, float(coefficient)
        self.air_temperature, self.air_pressure = float(air_temperature), float(air_pressure)
        levels, columns, start = len(charge.mass), charge.columns, float(start_temperature)
        self.stones = Stones(charge.piece, start, charge.like)
        self.stones.state = State(*(one.copy() for one in self.stones.state))
        piece = charge.piece
        areas = charge.mass[:, :, None] / (charge.rings * piece.density * piece.volume_by_face)
        self._faces = (wall.face_area * self.coefficient).reshape(levels + 1, columns)
        self._faces[1:] += (areas * piece.heat_transfer_coefficient).sum(axis=1)
        own = np.full((columns, levels), start)
        self.now = Now(
            stones=self.stones.state,
            up=Updraught(np.full((columns, levels + 2), start), *np.zeros((3, columns, levels))),
            gas=np.full((columns, levels + 1), start),
            co2_pressure=np.zeros((columns, levels)),
            takes=self._faces[1:].T.copy(),
            own=own,
            own_before=own.copy(),
            wall_modes=wall.state,
            wall_flux=wall.flux,
            wall_taken=wall.heat_taken,
            wall_lost=wall.heat_lost,
        )

    @property
    def gas_temperature(self) -> np.ndarray:
        """Mean in the hearth and in each level over the last step; K, shape (levels + 1, columns)."""
        return self.now.gas.T

    @property
    def flue_temperature(self) -> np.ndarray:
        """Of the gas as it leaves; K, shape (columns,)."""
        return self.now.up.between[:, -1]

    @property
    def kiln(self) -> Kiln:
        """What of the kilns stays as it is."""
        charge, piece, rings = self.charge, self.charge.piece, self.charge.rings
        by_size = np.zeros((len(charge.sizes), charge.columns))
        makes = Make.of(piece.with_each(lambda figure: by_size + figure))
        latent = piece.water * fact("drying_heat") + makes.warming.magnesia
        by_burnt = (latent + piece.carbonate * fact("dissociation_heat_at_25")) / piece.density
        return Kiln(
            makes=makes,
            mass=np.ascontiguousarray(charge.mass / rings),
            by_burnt=by_burnt,
            by_water=float(fact("drying_heat") - fact("water_vaporisation_heat")),
            gaps=charge.mass.sum(axis=1) / (rings * piece.density) * charge.porosity / (1.0 - charge.porosity),
            faces=self._faces,
            wall=self.wall.modes,
            wall_area=self.wall.face_area.reshape(self._faces.shape),
            coefficient=self.coefficient,
            table=table(),
            air_temperature=self.air_temperature,
            air_pressure=self.air_pressure,
            air=tuple(AIR_SHARES.tolist()),
            carbon_dioxide=float(CARBON_DIOXIDE),
            water=float(WATER),
        )

    @property
    def burnt(self) -> tuple[np.ndarray, np.ndarray]:
        """Mean shares of the calcium carbonate and of the magnesium carbonate that have burnt, each (members,)."""
        piece, calcium = self.charge.piece, self.charge.mean(self.stones.conversion)
        gone = self.charge.mean(self.stones.gone[1]) - calcium * piece.carbonate / piece.density * CARBON_DIOXIDE
        magnesium = piece.magnesium_carbonate * CARBON_DIOXIDE / MAGNESIUM_CARBONATE
        return calcium, np.clip(gone / magnesium, 0.0, 1.0) if magnesium else np.ones_like(calcium)

    @property
    def stones_heat(self) -> np.ndarray:
        """Heat in the stones, with what burning and drying took up; J, shape (members,)."""
        kiln, (water, _) = self.kiln, self.stones.gone
        held = self.stones.heat_held + kiln.by_burnt * self.stones.conversion
        return self.charge.mass.sum() * self.charge.mean(held - kiln.by_water * water)
