"""A plan worked out: each part from the decisions it rests on, in plain SI floats, when it is first asked for."""

from __future__ import annotations

import math
from collections.abc import Iterable, Set
from dataclasses import dataclass, replace
from functools import cached_property

from limekit.estimate import Span
from limekit.facts import fact
from limekit.fire.fuel import Fuel, lower_heating_value
from limekit.grading import StoneVerdict, judge_stone
from limekit.kiln.column.charge import read_sizes
from limekit.kiln.column.stoking import BurntFuel
from limekit.kiln.cooling import Cooling, cool_kiln
from limekit.kiln.design import BurningTime, KilnDesign, design_kiln
from limekit.kiln.firing import Firing, fire_kiln
from limekit.kiln.keeping import Fire
from limekit.kiln.kiln import Kiln
from limekit.kiln.learning import Learnt
from limekit.kiln.lighting import BESIDE
from limekit.kiln.schedule import StokingSchedule, stoking_schedule
from limekit.ledger.carbon import CarbonLedger, carbon_ledger, fuel_carbon
from limekit.lime.reactivity import Reactivity, read_reactivity
from limekit.limestone import MADE_OF, Stone
from limekit.plan.burns import Fired, learnt_fuel, learnt_hours
from limekit.plan.decisions import FUEL, INSIDE, OWN_BURNS, Decisions
from limekit.plan.parts import Forecast, Lime, Mortar, People, Putty, mortar_of, people_for
from limekit.records.kiln_keys import CARBONATES
from limekit.records.own_burns import OwnBurn
from limekit.records.slaking_log import SlakingLog
from limekit.records.workshop import Calendar, KilnKind, StepName, kiln_kind, plan_back
from limekit.stone.assessment import Assessment, assess_trial
from limekit.stone.trial import Trial

OF_STONE = (*MADE_OF, "clay", "density", "reaction_coefficient", "lime_conductivity")
OF_FUEL = (FUEL, "fuel_moisture")
OF_FIRE = (*OF_FUEL, "excess_air", "fire_temperature", "conversion", "stoking_rate", "air_temperature")
OF_CHARGE = (
    *("stone", "putty_volume", "putty_density", "kiln_diameter", "kiln_height"),
    *(*MADE_OF, "clay", "conversion"),
)
OF_KILN = (
    *(*OF_CHARGE, "height_to_diameter", "largest_stone", "smallest_stone"),
    *("chimney_height", "altitude", "laid", "wall_kind", "cover"),
)
OF_FIRING = tuple(dict.fromkeys((*OF_KILN, *OF_FIRE, *OF_STONE)))
OF_FORECAST = (*OF_FIRING, OWN_BURNS)
RESTS_ON = {  # part by part
    "assessment": CARBONATES,
    "verdict": (*CARBONATES, "clay"),
    "fuel": OF_FUEL,
    "fire": OF_FIRE,
    "stone": tuple(dict.fromkeys((*OF_CHARGE, *OF_STONE))),
    "kiln": OF_KILN,
    "design": (*OF_FIRING, "gas_temperature", "co2_fraction"),
    **dict.fromkeys(("firing", "cooling"), OF_FIRING),
    **dict.fromkeys(("forecast", "ledger"), OF_FORECAST),
    "reactivity": (),
    "lime": (*OF_CHARGE, "available_lime"),
    **dict.fromkeys(("putty", "mortar"), OF_CHARGE),
    **dict.fromkeys(("people", "schedule"), (*OF_FORECAST, "helpers")),
    "calendar": (*OF_FORECAST, "wanted_on"),
}
OF_SIZES = frozenset(("charge_fines", "arrangement"))  # how sizes are mixed and lie; the kiln's designer does not ask
BESIDE_RECORD = OF_SIZES | {"damper", "hours", "layers", "flame_share", "heat_up_time"}  # that sliders move
MIXED = "mixed"  # all sizes at every height
TOLD = ("largest_stone", "smallest_stone", *BESIDE)  # to the kiln's designer


@dataclass(frozen=True, eq=False)
class Worked:
    """Every part of a plan in SI floats, from decisions, a trial and a slaking log; `Plan` gives them with units."""

    decided: Decisions
    trial: Trial | Assessment | None = None
    log: SlakingLog | None = None

    def but(self, **changed) -> Worked:
        """Return another plan with some decisions changed; parts that rest on none of them are not worked out again."""
        made = Worked(self.decided.but(**changed), self.trial, self.log)
        if OWN_BURNS not in changed and self.decided.get(OWN_BURNS):
            made.__dict__["own_firings"] = self.own_firings
        for part, keys in RESTS_ON.items():
            if part in self.__dict__ and not _touched(part, keys, changed.keys()):
                made.__dict__[part] = self.__dict__[part]
        return made

    @cached_property
    def assessment(self) -> Assessment | None:
        """What the trial found; None where there was none."""
        return assess_trial.plain(self.tried) if isinstance(self.trial, Trial) else self.trial

    @cached_property
    def tried(self) -> Trial:
        """The trial's pieces, dried, of the plan's own stone."""
        carbonates = {name: self.decided.get(name) for name in CARBONATES}
        return replace(self.trial, stone=self.trial.stone.but(**carbonates))

    @cached_property
    def heard(self) -> Assessment:
        """What is known of how the stone burns: by its trial, or by published figures."""
        if self.assessment is not None:
            return self.assessment
        return Assessment.untried(self._rock, self.decided.get("co2_fraction"), self.decided.get("air_temperature"))

    @cached_property
    def verdict(self) -> StoneVerdict:
        """What lime the stone gives and how it is kept."""
        return judge_stone.plain(*(self.decided.get(name) for name in RESTS_ON["verdict"]))

    @cached_property
    def _rock(self) -> Stone:
        """The stone as it comes to the kiln, of no mass yet."""
        known = {name: self.decided.values[name] for name in OF_STONE if name in self.decided.values}
        if self.assessment is not None:
            found = self.assessment.stone
            known |= {name: getattr(found, name) for name in ("reaction_coefficient", "lime_conductivity")}
        return Stone.plain(**known)

    @cached_property
    def stone(self) -> Stone:
        """The stone to charge, with what the trial found of it."""
        return self._rock.but(mass=self.design.stone.middle)

    @cached_property
    def fuel(self) -> Fuel:
        """The fuel as it is charged."""
        return Fuel.plain(self.decided.get(FUEL), fuel_moisture=self.decided.get("fuel_moisture"))

    @cached_property
    def burnt_fuel(self) -> BurntFuel:
        """The gas that the fuel makes."""
        return BurntFuel.of(self.fuel.kind, self.fuel.moisture, self.decided.get("air_temperature"))

    @cached_property
    def fire(self) -> Fire:
        """The fire to hold: its air where that is decided, its heat where that is, and each from the other."""
        air, heat = self.decided.get("excess_air"), self.decided.get("fire_temperature")
        if "fire_temperature" in self.decided.own and "excess_air" not in self.decided.own:
            air = max(self.burnt_fuel.excess_air(heat), float(fact("excess_air").low))
        told = {name: self.decided.values[name] for name in Fire.defaults if name in self.decided.values}
        return Fire.plain(**told | {"excess_air": air, "fire_temperature": self.burnt_fuel.temperature(air)})

    @cached_property
    def design(self) -> KilnDesign:
        """The kiln drawn up and fired."""
        known, fire, charge = self.decided, self.fire, self._charge
        largest, heat, co2 = map(known.get, ("largest_stone", "gas_temperature", "co2_fraction"))
        hours = BurningTime.plain()
        if self.assessment or "reaction_coefficient" not in known.values:
            found = Assessment.forecast.plain(self.heard, largest, heat, co2, fire.conversion)
            hours = BurningTime.plain(found.median, found.low, found.high)
        told = {name: known.values[name] for name in TOLD if name in known.values}
        return design_kiln.plain(
            charge.get("putty_volume"),
            self._rock.but(mass=charge.get("stone")),
            kiln=Kiln.plain(**told, height_to_diameter=self._proportion),
            fuel=self.fuel,
            fire=fire,
            putty_density=known.get("putty_density"),
            gas_temperature=heat,
            co2_fraction=co2,
            burning_time=hours,
            air_temperature=known.get("air_temperature"),
        )

    @property
    def _proportion(self) -> float | None:
        known = self.decided
        if known.own >= INSIDE:
            return known.get("kiln_height") / known.get("kiln_diameter")
        return known.if_own("height_to_diameter")

    @property
    def _charge(self) -> dict[str, float]:
        """What decides the charge: the stone at hand, the putty wanted, the kiln that stands, or else the example."""
        known, putty = self.decided, self.decided.if_own("putty_volume")
        if "stone" not in known.own:
            if putty is not None and self.verdict.keeping.as_putty:
                return {"putty_volume": putty}
            if known.own >= INSIDE:
                room = math.pi / 4.0 * known.get("kiln_diameter") ** 2 * known.get("kiln_height")
                return {"stone": fact("flare_charge_density") * room}
        return {"stone": known.get("stone")}

    @cached_property
    def kiln(self) -> Kiln:
        """The kiln itself."""
        return self.design.kiln

    @cached_property
    def firing(self) -> Firing:
        """The firing of that kiln, with its fines where some are left in, and its sizes as they lie."""
        fines, arrangement = self.decided.get("charge_fines", 0.0), self.decided.get("arrangement", MIXED)
        if not fines and arrangement == MIXED:
            return self.design.firing
        asked, kiln = self.design.firing.plan, self.kiln
        sizes = read_sizes(None, kiln.smallest_stone, kiln.largest_stone)
        if fines:
            sizes = {float(fact("fines_size")): fines} | {size: (1.0 - fines) * share for size, share in sizes.items()}
        fire = asked.fire.but(stoking=self.fire.stoking)
        told = {"stone": asked.stone, "fire": fire, "air_temperature": asked.air_temperature}
        return fire_kiln.plain(kiln, self.fuel, **told, stone_sizes=sizes, arrangement=arrangement)

    @cached_property
    def forecast(self) -> Forecast:
        """Hours, fuel and quicklime with their ranges."""
        firing, design = self.firing, self.design
        basis = tuple(dict.fromkeys((*design.basis, *firing.basis)))
        hours = firing.finish and self.learnt_hours.forecast(firing.finish)
        fuel = self.learnt_fuel.forecast(firing.fuel_used)
        return Forecast(hours, fuel, design.quicklime, firing.verdict, basis)

    @property
    def is_fed(self) -> bool:
        """Whether what is fed an hour is decided."""
        return self.fire.stoking_rate is not None or self.fire.stoking is not None

    @property
    def own_and(self) -> str:
        """Words that stand before others' kilns where a kiln's own burns say too how its ranges lie."""
        return "your own burns and " if self.decided.get(OWN_BURNS) else ""

    @property
    def learnt_hours(self) -> Learnt:
        """By what factor this kiln's own burns took longer than the model has it, and how they spread."""
        return learnt_hours(self.own_firings, self.is_fed)

    @property
    def learnt_fuel(self) -> Learnt:
        """The same of fuel."""
        return learnt_fuel(self.own_firings)

    @property
    def firing_time(self) -> float:
        """From lighting until the fire is let out, the model's drawn by what own burns took; s."""
        return self.learnt_hours.factor * self.firing.firing_time

    @property
    def fuel_fed(self) -> float:
        """Fuel from lighting on, drawn likewise; kg."""
        return self.learnt_fuel.factor * self.firing.fuel_used

    @cached_property
    def own_firings(self) -> tuple[Fired, ...]:
        """The kiln's own burns that count, fired."""
        return self.fired(self.decided.get(OWN_BURNS, ()))

    def fired(self, burns: Iterable[OwnBurn]) -> tuple[Fired, ...]:
        """Return burns, each beside the model's firing of its stone as it was laid, all else as this plan has it.

        What a refit found of a burn is no part of it: a kiln that ever has less air than is planned would never be
        learnt of, if each burn were held beside its own air.
        """
        return tuple(Fired(burn, self._fired(**burn.charged)) for burn in burns)

    def _fired(self, **charged) -> Firing:
        return Worked(self.decided.but(**charged), self.trial, self.log).firing if charged else self.firing

    @cached_property
    def schedule(self) -> StokingSchedule:
        """The firing turn by turn."""
        longer, more = self.learnt_hours.factor, self.learnt_fuel.factor
        return stoking_schedule.plain(self.firing, self.people.watch_time / longer).stretched(longer, more)

    @cached_property
    def cooling(self) -> Cooling:
        """The kiln after the fire, closed."""
        return cool_kiln.plain(self.firing)

    @cached_property
    def reactivity(self) -> Reactivity | None:
        """How lively a sample of the lime was in the test; None where none was slaked."""
        return self.log and read_reactivity.plain(self.log.log_times, self.log.log_temperatures)

    @cached_property
    def lime(self) -> Lime:
        """The lime to draw."""
        design = self.design
        return Lime(design.drawn, design.quicklime, self.decided.get("available_lime"), self.reactivity)

    @cached_property
    def putty(self) -> Putty:
        """The putty it makes."""
        return Putty(self.design.putty_volume, self.decided.get("putty_density"), self.design.keeping)

    @cached_property
    def mortar(self) -> Mortar:
        """The bedding mortar that putty makes."""
        return mortar_of(self.design.putty_volume)

    @cached_property
    def ledger(self) -> CarbonLedger:
        """The burn's carbon dioxide."""
        fuel = self.fuel
        heat = lower_heating_value.plain(fuel.kind, fuel.moisture)
        return carbon_ledger.plain(self.design.balance, (fuel_carbon.plain(fuel.kind, self.fuel_fed, heat),))

    @cached_property
    def people(self) -> People:
        """Who keeps the fire."""
        return people_for(self.firing_time, round(self.decided.get("helpers")))

    @property
    def own_steps(self) -> dict[StepName, Span]:
        """What those steps of the calendar take that hang on the kiln itself."""
        hours, cooled = self.forecast.hours, self.cooling.cooling_time
        known = {} if hours is None else {"burn": hours}
        if cooled is not None:
            usual = fact("cooling_time", self.kind.replace(" ", "_"))
            known["cooling"] = Span(cooled, min(cooled, usual.low), max(cooled, usual.high))
        return known

    @property
    def kind(self) -> KilnKind:
        """Which kind of kiln it is, of those whose usual durations are known."""
        return kiln_kind(self.design.stone.middle)

    @cached_property
    def calendar(self) -> Calendar:
        """The way to the day the putty is wanted, with this kiln's own hours."""
        return plan_back(self.decided.get("wanted_on"), kiln=self.kind, known=self.own_steps)


def _touched(part: str, keys: tuple[str, ...], changed: Set[str]) -> bool:
    """Return whether a part that rests on some decisions is another when names, of the record or not, are changed."""
    beside = changed & (BESIDE_RECORD - OF_SIZES if part == "design" else BESIDE_RECORD)
    return bool(changed & set(keys) or (beside and set(OF_FIRE) <= set(keys)))
