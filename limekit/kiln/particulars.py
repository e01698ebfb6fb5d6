"""The particulars of a kiln drawn up: what, how much, how far it may be out and what it rests on, line by line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from limekit.edge import plain
from limekit.estimate import Span, shown
from limekit.facts import fact
from limekit.fire.fuel import fuels
from limekit.kiln.fittings import chimney
from limekit.units import HOUR, MM

DRAUGHT_SPREAD = fact("draught_spread")


class Row(NamedTuple):
    """One line of a design sheet, in words."""

    label: str
    value: str
    spread: str
    rests_on: str


def _ends(span: Span, digits: int = 2) -> str:
    if span.low == span.high:
        return "as given"
    low = getattr(span.low, "magnitude", span.low)
    return f"{shown(low, digits)} to {shown(span.high, digits)}"


def _known(*keys: str) -> str:
    said = (fact(key) for key in keys)
    return "; ".join(dict.fromkeys("common practice" if one.tag == "practice" else one.basis for one in said))


def spanned(label: str, span: Span, rests_on: str, digits: int = 2) -> Row:
    """Return a line of a figure with its ends."""
    return Row(label, shown(span.middle, digits), _ends(span), rests_on)


def charging(design) -> Iterator[Row]:
    """Yield what is charged and the room for it, line by line, of a `KilnDesign` of quantities."""
    proportions = _known("flare_charge_density", "flare_height_to_diameter")
    yield spanned("Stone to charge", design.stone, "mass balance from stone to putty", 3)
    yield Row("Largest stone", shown(design.size.largest_stone), "", "what the burning time is worked out for")
    yield spanned("Kiln, inside diameter", design.kiln_diameter, proportions)
    yield spanned("Kiln, inside height", design.kiln_height, proportions)


def building(design) -> Iterator[Row]:
    """Yield what is built, line by line, of a `KilnDesign` of quantities."""
    size, waste = design.size, fact("brick_waste")
    across, out = design.kiln_diameter, size.outer_diameter - size.kiln_diameter
    wall = ", ".join(
        f"{shown(thickness)} {words}"
        for words, thickness in (
            ("firebrick", size.lining_thickness),
            ("dry sand", size.fill_thickness),
            ("brick or stone", size.outer_thickness),
        )
    )
    vault = f"{shown(size.vault_span, 2)} wide, {shown(size.vault_height, 2)} high"
    mouth = f"{size.mouths} of {shown(size.mouth_width.magnitude, 2)} by {shown(size.mouth_height, 2)}"
    eyes = f"{size.draw_eyes} of {shown(size.draw_eye_size.magnitude, 2)} by {shown(size.draw_eye_size, 2)}"
    bricks = f"{size.fire_bricks} firebricks, {size.common_bricks} common bricks"
    arches = f"{size.arch_bricks} firebricks on edge, the ring {shown(size.lining_thickness)} thick"
    dome = f"about {size.vault_stones} of {shown(size.largest_stone)}, {shown(size.vault_mass, 2)} of the charge"
    flat = f"{fact('tie_width') * MM:.0f} by {fact('tie_thickness') * MM:.0f} mm"
    ties = f"{size.ties} bands of flat iron, {flat}, {shown(size.tie_length, 2)} in all"
    grate = f"{size.grate_bars} bars, each {shown(size.grate_bar_length, 2)}, over an ash pit"

    yield Row("Wall, from the fire outward", wall, "", _known("lining_thickness"))
    outer = Span(*(end + out for end in (across.middle, across.low, across.high)))
    yield spanned("Kiln, outside diameter", outer, "inside diameter and wall")
    yield Row("Fire vault of stone", vault, "", _known("flare_charge_density", "stone_bulk_density"))
    yield Row("Stones set in the vault", dome, "", f"one stone thick; {_known('stone_bulk_density')}")
    yield Row("Firing mouths, width by height", mouth, "", _known("mouth_share"))
    yield Row("Draw eyes, each with a slab", eyes, "", "as wide together as the mouths; common practice")
    wasted = f"{100 * waste.low:.0f} to {100 * waste.high:.0f} % waste"
    yield from _chimney(size)
    yield Row("Bricks for the wall alone", bricks, wasted, "brick sizes from memory; waste: common practice")
    yield Row(
        "Bricks for the arches over the mouths", arches, wasted, f"rise a quarter of the span; {_known('arch_rise')}"
    )
    yield Row("Iron ties", ties, "", f"spacing: {_known('tie_spacing')}; iron: {_known('tie_width')}")
    yield Row(
        "Grate, where one is wanted",
        grate,
        "",
        f"bars: {_known('grate_bar_width')}; without one wood burns on the hearth",
    )


def _chimney(size) -> Iterator[Row]:
    high, wide = plain(size.chimney_height), plain(size.chimney_diameter)
    if not high:
        yield Row("Chimney over the draw eyes", "none", "", "the eyes alone draw")
        return
    made, waste = chimney(high, wide), fact("brick_waste")
    held = f", held by {made.guys} guys of wire" if made.guys else ""
    yield Row(
        "Chimney over the draw eyes",
        f"{shown(high, 2)} m, {MM * wide:.0f} mm across",
        "",
        "as wide as the eyes together; a hood of clay or steel gathers them",
    )
    yield Row(
        "as a flue of sheet steel",
        f"{shown(made.steel, 2)} kg on the cover{held}",
        "",
        f"sheet: {_known('flue_steel_thickness')}; steel: {_known('steel_density')}",
    )
    yield Row(
        "or of brick, half a brick thick",
        f"{made.bricks} common bricks, {shown(made.brickwork, 2)} kg",
        f"{100 * waste.low:.0f} to {100 * waste.high:.0f} % waste",
        "on a footing of its own beside the kiln, never on the cover; iron bands as round the wall",
    )


def burning(design) -> Iterator[Row]:
    """Yield what is burnt and what comes of it, line by line, of a `KilnDesign` of quantities."""
    turn, wood, feed = fact("watch_time"), fuels()[design.fuel].label, design.draught.fuel_rate_most
    turns = Span(*(math.ceil(plain(getattr(design.firing_time, end)) / turn) for end in ("middle", "low", "high")))
    burnt = fact("flare_conversion")
    conversion = f"{100 * burnt.low:.0f} to {100 * burnt.high:.0f} % burnt; {_known('flare_conversion')}"
    yield spanned("Firing in all", design.firing_time, "fired in the model; its range by real kilns")
    yield spanned(f"Turns of {shown(turn / HOUR)} h at the fire", turns, _known("watch_time"))
    yield spanned(f"Fuel: {wood}", design.fuel_mass, "fired in the model; its range by real kilns")
    yield spanned("Fuel an hour, on the mean", design.fuel_rate, "fuel over hours of firing")
    yield spanned("Cooling, closed, by rule", design.cooling_time, _known("cooling_pace"))
    yield spanned("By rule: firing in all", design.rule_time, _rule_of(design))
    yield spanned(
        "By rule: fuel", design.demand.fuel_mass, "heat of dissociation over the kiln's efficiency, to hold against it"
    )
    fed = Span(feed, (1.0 - DRAUGHT_SPREAD) * feed, (1.0 + DRAUGHT_SPREAD) * feed)
    yield spanned("Fuel an hour that the draught can burn", fed, "draught against charge, ±30 %")
    yield spanned("Drawn from the kiln", design.drawn, conversion)
    yield spanned("Quicklime in it", design.quicklime, conversion)
    if design.keeping.as_putty:
        yield spanned("Putty", design.putty_volume, conversion)
    else:
        yield Row("Putty", "none", "", f"{design.keeping.way}: see above")
    yield spanned("The charge sinks by the finish", design.sinking, _known("charge_sinking"))


def _rule_of(design) -> str:
    parts = (
        ("heating up", design.heat_up_time),
        ("the largest stone", design.burning_time),
        ("soak", design.soak_time),
    )
    return f"to hold against the firing: {', '.join(f'{name} {shown(part.middle)}' for name, part in parts)}"
