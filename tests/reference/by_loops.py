"""The kit's loops for the column, one step at a time."""

from types import SimpleNamespace

import numpy as np

from limekit.compiled import entry
from limekit.kiln.column.column import Column
from limekit.kiln.column.run import LINE, line_ahead
from limekit.kiln.column.standing import Bench
from limekit.kiln.column.step import LEAST, STILL, Closeness, over_time, step_kiln


class Steps(Column):
    """Kilns side by side, moved on by a step of any gas."""

    clock, moved = None, staticmethod(entry(step_kiln))

    def step(self, seconds, gas_in, fire_heat, leak):
        """Move all on, and return what flowed: arrays that end on members."""
        self.clock = np.ones(LINE + 2) if self.clock is None else self.clock
        kiln, ahead = self.kiln, line_ahead(self.clock, seconds)
        bench, close = Bench.of(kiln, rings=1), Closeness()
        warms = over_time(kiln, bench, seconds)
        told = []
        for member, (heat, gaps) in enumerate(zip(fire_heat, leak.T, strict=True)):
            gas = tuple((gas_in[:, member] + STILL * np.array(kiln.air)).tolist())
            side, bench.leak[:] = np.zeros(len(gaps)), gaps + LEAST
            moved = self.moved(kiln, self.now, bench, member, seconds, ahead, warms, gas, float(heat), side, close)
            told.append((heat, moved.flue, moved.stones, moved.wall, bench.leaks.copy(), gas, moved.gas_out))
        names = ("fire", "flue", "stones", "wall", "leaks", "gas_in", "gas_out")
        return SimpleNamespace(
            **{name: np.array(one).T for name, one in zip(names, zip(*told, strict=True), strict=True)}
        )
