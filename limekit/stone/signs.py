"""What drawn lime shows of its burning: the signs of too little and too much fire, and what to change.

The signs stand in ``data/burn_signs.csv``, one a row: where one looks, what is
seen, what it means, what to change next time. A row with something in `given`
holds only where that was seen too, and then takes the place of the plain one.
"""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from typing import Literal

from limekit import tables
from limekit.chemistry import loss_on_ignition
from limekit.edge import PUBLISHED, Ground, edge
from limekit.errors import InputError
from limekit.facts import fact
from limekit.units import Share

UNSEEN = "not seen"
VERDICTS = {"under": "under-burnt", "over": "over-burnt", "right": "rightly burnt"}
UNEVEN, CONTRADICTORY, ENOUGH = "unevenly burnt", "look again", "burnt enough"
TELL_ENOUGH_ONLY = {"core", "weight", "sound"}
HALF = 0.5  # of a piece, by volume

Heft = Literal["not seen", "light", "heavy"]
Slakes = Literal["not seen", "quick", "medium", "slow", "late", "partly", "not"]
Sound = Literal["not seen", "ring", "thud"]
Skin = Literal["not seen", "clean", "shrunken", "glassy", "discoloured"]
Plaster = Literal["not seen", "sound", "pops"]


@dataclass(frozen=True)
class Sign:
    """One row of the signs: `look` and `seen`, in words `sign`, what it `means`, and the `change` it asks for."""

    look: str
    seen: str
    given: str
    sign: str
    means: str
    change: str
    tag: str
    source: str

    @property
    def changes(self) -> tuple[str, ...]:
        """The sentences of `change`, one by one."""
        return tuple(re.findall(r"\S[^.]*\.", self.change))


@dataclass(frozen=True)
class Diagnosis:
    """How the lime was burnt, by which signs, and what to change next time.

    It was "under-burnt", "over-burnt", "unevenly burnt" or "rightly burnt"; "burnt enough" where nothing seen tells
    whether it was too much; "look again" where the signs contradict each other.
    """

    verdict: str
    signs: tuple[str, ...]
    changes: tuple[str, ...]
    basis: tuple[Ground, ...] = ()

    def __str__(self) -> str:
        return f"{self.verdict}: {'; '.join(self.signs)}. {' '.join(self.changes)}"


@functools.cache
def burn_signs() -> tuple[Sign, ...]:
    """Return every sign of under-, over- and right burning the kit knows; ``pandas.DataFrame`` makes a table of it."""
    return tuple(Sign(**row) for row in tables.rows("burn_signs"))


@functools.cache
def unburnt_allowed() -> float:
    """Return the share of a pure stone that may stay unburnt in the best building lime, CL 90 of EN 459-1.

    It follows from the carbon dioxide that lime may hold (from memory).
    """
    gas, loss = fact("cl90_carbon_dioxide_most"), loss_on_ignition.plain(1.0)
    return gas * (1.0 - loss) / (loss * (1.0 - gas))


@edge
def diagnose(
    core_ratio: Share | None = None,
    conversion: Share | None = None,
    heft: Heft = "not seen",
    slakes: Slakes = "not seen",
    skin: Skin = "not seen",
    plaster: Plaster = "not seen",
    sound: Sound = "not seen",
) -> Diagnosis:
    """Say from what was seen whether lime is under-, over- or rightly burnt, and what to change.

    Parameters
    ----------
    core_ratio : Share, optional
        Width of the core over the width of the piece, broken through the middle; 0 for none.
    conversion : Share, optional
        Share of the carbonate burnt, by the weight lost.
    heft : {"not seen", "light", "heavy"}
        In the hand, for its size.
    slakes : {"not seen", "quick", "medium", "slow", "late", "partly", "not"}
        "quick" starts within 5 minutes, "medium" within 30, "slow" later; "late" swells after
        hours, when all seemed slaked; "partly" leaves a lump.
    skin : {"not seen", "clean", "shrunken", "glassy", "discoloured"}
    plaster : {"not seen", "sound", "pops"}
    sound : {"not seen", "ring", "thud"}
        Of two pieces knocked together.

    Raises
    ------
    InputError
        If nothing was seen.

    Notes
    -----
    share unburnt = core_ratio³, held against (G/(1 − G)) ((1 − L)/L), with the carbon dioxide G that CL 90
    lime may hold and the loss L of a pure stone: 5 % of it unburnt, a core of 0.38 of the width. Signs of
    too little and of too much fire together mean an uneven burn; either alone outweighs signs of a
    right one; a sign that contradicts another asks for a check, and until that is made there is no
    other verdict.

    Examples
    --------
    >>> print(diagnose(core_ratio=0.5, slakes="partly").verdict)
    under-burnt
    """
    seen = {}
    if core_ratio is not None:
        seen["core"] = "none" if core_ratio == 0.0 else _size_of(core_ratio**3)
    if conversion is not None:
        seen["weight"] = "full" if 1.0 - conversion <= unburnt_allowed() else "short"
    seen |= {"heft": heft, "sound": sound, "slaking": slakes, "skin": skin, "plaster": plaster}
    seen = {look: what for look, what in seen.items() if what != UNSEEN}
    if not seen:
        example = 'diagnose(core_ratio=0.3, slakes="quick")'
        raise InputError("diagnose()", "nothing seen", "one sign at least", example)
    found = [_sign(look, what, seen) for look, what in seen.items()]
    means = {sign.means for sign in found}
    if "check" in means:
        verdict, asking = CONTRADICTORY, [sign for sign in found if sign.means == "check"]
    elif {"under", "over"} <= means:
        verdict, asking = UNEVEN, [_sign("burn", "uneven", seen)]
    elif means == {"right"} and seen.keys() <= TELL_ENOUGH_ONLY:
        verdict, asking = ENOUGH, [_sign("burn", "enough", seen)]
    else:
        mean = next(mean for mean in VERDICTS if mean in means)
        verdict, asking = VERDICTS[mean], [sign for sign in found if sign.means == mean]
    return Diagnosis(
        verdict=verdict,
        signs=tuple(sign.sign for sign in found),
        changes=tuple(dict.fromkeys(change for sign in asking for change in sign.changes)),
        basis=tuple(Ground(sign.look, sign.seen, PUBLISHED[sign.tag], sign.source) for sign in found),
    )


def _size_of(core: float) -> str:
    return "small" if core <= unburnt_allowed() else "large" if core <= HALF else "most"


def _sign(look: str, what: str, seen: dict[str, str]) -> Sign:
    also = {"", *(f"{other} {shown}" for other, shown in seen.items())}
    rows = [row for row in burn_signs() if (row.look, row.seen) == (look, what) and row.given in also]
    return max(rows, key=lambda row: len(row.given))
