"""A kiln: what it measures, holds and is built of, and the way of the air through it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from limekit.edge import Ground, give, plain
from limekit.errors import InputError, told
from limekit.facts import Fact, fact
from limekit.fire.air_way import AirWay
from limekit.fire.bed import Laid, laid_porosity, usual_flues
from limekit.kiln.cover import Cover, open_area
from limekit.kiln.heat import KilnKind
from limekit.kiln.wall.layers import WallKind, wall_kinds
from limekit.things import Kind, Thing
from limekit.units import CubicMetre, Kilogram, Metre, Share, SquareMetre

OUTSIDE = "Outside the data: "  # how a warning begins where nothing is known of such a kiln
WALL = {"lining": "firebrick", "fill": "dry_sand", "outer": "common_brick"}


def usual_wall(kiln_diameter: float) -> tuple[tuple[str, Fact], ...]:
    """Return the usual wall from the fire outward for an inside width in metre: pairs of a material and its metres."""
    width = "narrow" if kiln_diameter < fact("one_mouth_below") else "wide"
    return tuple((material, fact(f"{part}_thickness", width)) for part, material in WALL.items())


@dataclass(frozen=True, repr=False)
class Kiln(Thing):
    """A kiln, inside measures unless the name says otherwise; `size_kiln` makes one whole.

    A shaft has no fire vault, no firing mouth and no grate: those are None or nought, and its draw
    eyes lie at the foot. ``kiln_height`` is filled to the rim; ``bed_height`` is the charge spread
    level and ``hearth_height`` what the vault takes of the height when it is spread level too.
    ``vault_mass`` is a part of the charge. A flare kiln burns its wood on the hearth; its grate is
    for those who want one. ``chimney_height`` is over the draw eyes, and ``layers``, pairs of a
    material and its thickness from the fire outward, are those of a wall other than the usual, and
    ``wall_kind`` names one such as country kilns have; its bricks are not counted. In its first burn a wall has
    ``wall_moisture``, water as a share of its dry mass. A ``cover`` other than earth on slabs with draw eyes in
    it leaves its own share of the section open; "closed in time" is open until the topmost stones glow, and
    slabs are laid on it then. ``altitude`` is that of the ground it stands on.

    A charge that is ``laid`` poured stands level on its hearth, as on a grate. Laid by hand, it stands on
    its own vault: the gas comes in at the vault's crown, the fire has a hearth no lower than
    practice needs, dug out below the floor where the vault is lower, and what a looser charge
    heaps above the rim holds no gas back. Laid with flues, it has ``flues`` of a ``flue_width``, by
    rule where nothing is said of how many.
    """

    kind: KilnKind | None = None
    stone: Kilogram | None = None
    largest_stone: Metre | None = None
    smallest_stone: Metre | None = None
    kiln_diameter: Metre | None = None
    kiln_height: Metre | None = None
    kiln_volume: CubicMetre | None = None
    height_to_diameter: Share | None = None
    bed_height: Metre | None = None
    hearth_height: Metre | None = None
    laid: Laid = "by hand"
    flues: int | None = None
    flue_width: Metre = fact("laid_flue_width")
    vault_span: Metre | None = None
    vault_height: Metre | None = None
    mouths: int | None = None
    mouth_width: Metre | None = None
    mouth_height: Metre | None = None
    air_opening_area: SquareMetre | None = None
    draw_eyes: int | None = None
    draw_eye_size: Metre | None = None
    eye_area: SquareMetre | None = None
    chimney_height: Metre = 0.0
    chimney_diameter: Metre | None = None
    lining_thickness: Metre | None = None
    fill_thickness: Metre | None = None
    outer_thickness: Metre | None = None
    layers: Sequence | None = None
    wall_kind: WallKind | None = None
    wall_moisture: Share = 0.0
    altitude: Metre = 0.0
    cover: Cover | None = None
    outer_diameter: Metre | None = None
    fire_bricks: int | None = None
    common_bricks: int | None = None
    arch_bricks: int | None = None
    ties: int | None = None
    tie_length: Metre | None = None
    vault_mass: Kilogram | None = None
    vault_stones: int | None = None
    grate_bars: int | None = None
    grate_bar_length: Metre | None = None
    warnings: tuple[str, ...] = ()
    basis: tuple[Ground, ...] = field(default=(), compare=False)

    @property
    def diameter(self):
        """The kiln's, inside; a longer name keeps it apart from the diameter of a stone."""
        return self.kiln_diameter

    @property
    def height(self):
        """The kiln's, inside."""
        return self.kiln_height

    @property
    def volume(self):
        """The kiln's, inside."""
        return self.kiln_volume

    @property
    def kiln(self) -> Kiln:
        """Itself, as a whole design has one."""
        return self

    @property
    def outside_data(self) -> tuple[str, ...]:
        """What of its warnings say that nothing is known of such a kiln."""
        return tuple(one for one in self.warnings if one.startswith(OUTSIDE))

    @property
    def wall(self) -> tuple:
        """The wall from the fire outward, as pairs of a material and its thickness."""
        if self.layers is not None:
            return tuple(self.layers)
        if self.wall_kind is not None:
            return wall_kinds()[self.wall_kind]
        if self.lining_thickness is None:
            return usual_wall(self.kiln_diameter)
        return tuple((material, getattr(self, f"{part}_thickness")) for part, material in WALL.items())

    @property
    def is_vaulted(self) -> bool:
        """Whether its charge stands on a vault of its own stone."""
        return self.laid != "poured" and bool(self.vault_height)

    @property
    def foot(self):
        """Height of the charge's foot above the kiln's floor: its vault's crown, or a hearth spread level."""
        return self.vault_height if self.is_vaulted else self.hearth_height

    @property
    def charge_height(self):
        """Height of the charge above its foot."""
        return self.kiln_height - self.vault_height if self.is_vaulted else self.bed_height

    def air_way(self, sauter_diameter: float, **around) -> AirWay:
        """Return the way of the air through it and its stone, in SI floats, with what else bears on it by field."""
        through = {name: getattr(self, name) for name in AirWay.defaults if name in Kiln.defaults}
        laid = {
            "bed_height": self.charge_height,
            "hearth_height": max(self.foot, fact("hearth_least")) if self.is_vaulted else self.hearth_height,
            "bed_porosity": laid_porosity.plain(self.laid, sauter_diameter, self.kiln_diameter),
        }
        if self.flues is None:
            laid["flues"] = usual_flues(self.flue_width, self.kiln_diameter) if self.laid == "with flues" else 0
        if self.cover in ("open", "closed in time") and self.chimney_height:
            got = "an open top under a chimney"
            raise InputError("cover", got, "a chimney stands on a cover with draw eyes", 'cover="slabs"')
        if self.cover is not None:
            laid["eye_area"] = open_area(self.cover, math.pi / 4.0 * self.kiln_diameter**2)
        return AirWay.plain(**(through | laid | {"sauter_diameter": sauter_diameter} | around))

    def __str__(self) -> str:
        held = f"{self.kind or 'some'} kiln"
        shown = give(plain(self), Kiln, "")
        if shown.stone is not None:
            held += f" for {shown.stone:.0f~P} of stone"
        if shown.kiln_diameter is not None and shown.kiln_height is not None:
            held += f", {shown.kiln_diameter:.2f~P} across and {shown.kiln_height:.2f~P} high"
        return f"{held}, with a chimney of {shown.chimney_height:.3g~P}" if plain(self).chimney_height else held

    def __repr__(self) -> str:
        return f"<{self}>"

    @classmethod
    def of(cls, given, asked: str, read: bool = True) -> Kiln:
        """As `Kind.of`, and of what has a kiln, as a whole design does."""
        given = getattr(given, "kiln", given)
        if not isinstance(given, Kiln | Mapping):
            example = 'size_kiln(stone="500 kg", largest_stone="80 mm")'
            raise InputError(asked, told(given), "what size_kiln or design_kiln returns", example)
        return Kind.of(cls, given, asked, read)
