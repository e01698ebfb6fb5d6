"""How a burnt shell passes heat on, at rest and as it gives up what it holds.

Steady conduction from gas to front is the first part; what the shell stores or
gives up, taken as even over its volume, adds the second, of which the share
``inward`` passes through the front.
"""

from __future__ import annotations

import numpy as np

from limekit.compiled import part
from limekit.stone.front import SPHERE, shell_path


@part
def shell_conduction(make, core, shell):
    """Return how a burnt shell passes heat on.

    Parameters
    ----------
    make : Make
    core, shell : float or ndarray
        Front's place, 1 to 0, and the shell's volume by outer face; m.

    Returns
    -------
    resistance : float or ndarray
        From gas to front; m²K/W.
    inward : float or ndarray
        Volume whose heat, given up evenly, would pass the front; the rest passes the face; m.
    delay : float or ndarray
        Warmth of the whole shell for each W/m³ it gives up evenly; m·K·m³/W.
    """
    film, conduction = 1.0 / make.heat_transfer_coefficient, make.radius / make.lime_conductivity
    path = shell_path(make.curved, core)
    first, second = shell_integrals(make.curved, core)
    resistance = film + conduction * path
    inward = (shell * film + make.radius * conduction * first) / resistance
    delay = conduction * (make.radius**2 * second - 2.0 * inward * make.radius * first + inward**2 * path)
    return resistance, inward, delay + (shell - inward) ** 2 * film


@part
def shell_integrals(curved, core):
    """Return the shell's two means over volume, each over the radius and allowing for the shape.

    Parameters
    ----------
    curved : int
        As of a `Piece`.
    core : float or ndarray
        Front's place, 1 to 0.

    Returns
    -------
    first, second : float or ndarray
        ``∫ g dv`` and ``∫ u² dg``, with g the way from the outer face to a place in the shell
        (`Piece.shell_path`), v the volume and u the volume between the front and that place.
    """
    square = core**2
    if curved == SPHERE:
        cube = square * core
        return (1.0 - 3.0 * square + 2.0 * cube) / 6.0, (0.2 - cube + 1.8 * cube * square - cube**2) / 9.0
    if not curved:
        return (1.0 - core) ** 2 / 2.0, (1.0 - core) ** 3 / 3.0
    log = np.log(core)
    return (1.0 - square) / 4.0 + square * log / 2.0, (
        (1.0 - square**2) / 4.0 - square * (1.0 - square) - square**2 * log
    ) / 4.0
