"""What a person gives and gets. Made by tests/types/make_stubs.py: do not write here."""
# ruff: noqa
# mypy: disable-error-code="assignment, override, misc"
# pyright: reportIncompatibleVariableOverride=false, reportIncompatibleMethodOverride=false

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Literal, Protocol, TypeAlias, overload
import pandas
import pint
from numpy.typing import NDArray
import os
import datetime
import limekit.balance
import limekit.chemistry
import limekit.edge.grounds
import limekit.estimate
import limekit.facts
import limekit.fire.air_way
import limekit.fire.draught
import limekit.fire.flue
import limekit.fire.fuel
import limekit.grading
import limekit.kiln.column.budget
import limekit.kiln.column.burn
import limekit.kiln.column.history
import limekit.kiln.column.limits
import limekit.kiln.cooling
import limekit.kiln.design
import limekit.kiln.ensemble
import limekit.kiln.firing
import limekit.kiln.forecast
import limekit.kiln.heat
import limekit.kiln.keeping
import limekit.kiln.kiln
import limekit.kiln.lighting
import limekit.kiln.logged
import limekit.kiln.replay
import limekit.kiln.schedule
import limekit.kiln.shaft.state
import limekit.kiln.shaft.steady
import limekit.kiln.wall.buildup
import limekit.kiln.wall.fired
import limekit.kiln.wall.steady
import limekit.ledger.carbon
import limekit.ledger.lines
import limekit.ledger.money
import limekit.ledger.ranges
import limekit.lime.carbonation
import limekit.lime.charges
import limekit.lime.drawing
import limekit.lime.mixes
import limekit.lime.mortar
import limekit.lime.places
import limekit.lime.putty
import limekit.lime.reactivity
import limekit.lime.slaking
import limekit.lime.tanks
import limekit.lime.vessels
import limekit.limestone
import limekit.pictures.glow
import limekit.pictures.sheets
import limekit.plan.figures
import limekit.plan.parts
import limekit.plan.plan
import limekit.plan.search
import limekit.records.columns
import limekit.records.kiln_record
import limekit.records.own_burns
import limekit.records.printing
import limekit.records.roster
import limekit.records.slaking_log
import limekit.records.supplies
import limekit.records.workshop
import limekit.safety
import limekit.stone.assessment
import limekit.stone.burning
import limekit.stone.contradiction
import limekit.stone.glow
import limekit.stone.history
import limekit.stone.narrowing
import limekit.stone.posterior
import limekit.stone.signs
import limekit.stone.trial
import numpy
import pathlib
from limekit import balance as balance
from limekit import chemistry as chemistry
from limekit import compiled as compiled
from limekit import course as course
from limekit import dates as dates
from limekit import edge as edge
from limekit import errors as errors
from limekit import estimate as estimate
from limekit import facts as facts
from limekit import fire as fire
from limekit import frames as frames
from limekit import glossary as glossary
from limekit import grading as grading
from limekit import kiln as kiln
from limekit import kinds as kinds
from limekit import lazy as lazy
from limekit import ledger as ledger
from limekit import lime as lime
from limekit import limestone as limestone
from limekit import pictures as pictures
from limekit import plan as plan
from limekit import records as records
from limekit import safety as safety
from limekit import stone as stone
from limekit import tables as tables
from limekit import things as things
from limekit import units as units
from limekit.errors import InputError as InputError
from limekit.errors import RecordError as RecordError

Quantity: TypeAlias = pint.Quantity[Any]
# A quantity as a person writes it: text, a Quantity, or several. A Number may also come bare.
Amount: TypeAlias = str | Quantity | Sequence[str | Quantity] | pandas.Series[Any]
Number: TypeAlias = Amount | float | Sequence[str | Quantity | float] | NDArray[Any]

__version__: str

class AirWay(limekit.fire.air_way.AirWay):
    def __init__(
        self,
        bed_height: Amount = ...,
        kiln_diameter: Amount = ...,
        sauter_diameter: Amount = ...,
        air_opening_area: Amount = ...,
        eye_area: Amount = ...,
        hearth_height: Amount = ...,
        chimney_height: Amount = ...,
        chimney_diameter: Amount | None = ...,
        bed_porosity: Number = ...,
        altitude: Amount = ...,
        flues: int = ...,
        flue_width: Amount = ...,
        wind_pressure: Amount = ...,
    ) -> None: ...
    @classmethod
    def plain(
        cls,
        bed_height: float = ...,
        kiln_diameter: float = ...,
        sauter_diameter: float = ...,
        air_opening_area: float = ...,
        eye_area: float = ...,
        hearth_height: float = ...,
        chimney_height: float = ...,
        chimney_diameter: float | None = ...,
        bed_porosity: float = ...,
        altitude: float = ...,
        flues: int = ...,
        flue_width: float = ...,
        wind_pressure: float = ...,
    ) -> limekit.fire.air_way.AirWay: ...
    def with_(
        self,
        *,
        bed_height: Amount = ...,
        kiln_diameter: Amount = ...,
        sauter_diameter: Amount = ...,
        air_opening_area: Amount = ...,
        eye_area: Amount = ...,
        hearth_height: Amount = ...,
        chimney_height: Amount = ...,
        chimney_diameter: Amount | None = ...,
        bed_porosity: Number = ...,
        altitude: Amount = ...,
        flues: int = ...,
        flue_width: Amount = ...,
        wind_pressure: Amount = ...,
    ) -> AirWay: ...
    @property
    def bed_height(self) -> Quantity: ...
    @property
    def kiln_diameter(self) -> Quantity: ...
    @property
    def sauter_diameter(self) -> Quantity: ...
    @property
    def air_opening_area(self) -> Quantity: ...
    @property
    def eye_area(self) -> Quantity: ...
    @property
    def hearth_height(self) -> Quantity: ...
    @property
    def chimney_height(self) -> Quantity: ...
    @property
    def chimney_diameter(self) -> Quantity | None: ...
    @property
    def bed_porosity(self) -> Quantity: ...
    @property
    def altitude(self) -> Quantity: ...
    @property
    def flue_width(self) -> Quantity: ...
    @property
    def wind_pressure(self) -> Quantity: ...

class Assessment(limekit.stone.assessment.Assessment):
    @property
    def stone(self) -> Stone: ...
    @property
    def gas_temperature(self) -> Estimate | None: ...
    @property
    def reaction_coefficient(self) -> Estimate: ...
    @property
    def lime_conductivity(self) -> Estimate: ...
    @property
    def lay_spread(self) -> Estimate: ...
    @property
    def posterior(self) -> Posterior: ...
    def to_frame(self) -> pandas.DataFrame: ...
    @classmethod
    def untried(
        cls,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount,
        co2_fraction: float = ...,
        start_temperature: float = ...,
        *,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> Assessment: ...
    def forecast(
        self, diameter: Amount, gas_temperature: Amount, co2_fraction: Number = ..., conversion: Number = ...
    ) -> Estimate: ...
    def largest_stone(
        self, time: Amount, gas_temperature: Amount, co2_fraction: Number = ..., conversion: Number = ...
    ) -> Estimate: ...
    def next_measurement(
        self, diameter: Amount, gas_temperature: Amount, co2_fraction: Number = ...
    ) -> tuple[limekit.stone.narrowing.NextMeasurement, ...]: ...

class Binder(limekit.lime.places.Binder):
    def to_frame(self) -> pandas.DataFrame: ...

class BreakEven(limekit.ledger.money.BreakEven):
    @property
    def saved(self) -> Span: ...
    @property
    def burns(self) -> Span: ...
    @property
    def hourly(self) -> Span | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class BucketTest(limekit.lime.reactivity.BucketTest):
    def to_frame(self) -> pandas.DataFrame: ...

class BurningTime(limekit.kiln.design.BurningTime):
    def __init__(
        self,
        burning_time: Amount | None = ...,
        burning_time_low: Amount | None = ...,
        burning_time_high: Amount | None = ...,
        burning_time_spread: Number = ...,
    ) -> None: ...
    @classmethod
    def plain(
        cls,
        burning_time: float | None = ...,
        burning_time_low: float | None = ...,
        burning_time_high: float | None = ...,
        burning_time_spread: float = ...,
    ) -> limekit.kiln.design.BurningTime: ...
    def with_(
        self,
        *,
        burning_time: Amount | None = ...,
        burning_time_low: Amount | None = ...,
        burning_time_high: Amount | None = ...,
        burning_time_spread: Number = ...,
    ) -> BurningTime: ...
    @property
    def burning_time(self) -> Quantity | None: ...
    @property
    def burning_time_low(self) -> Quantity | None: ...
    @property
    def burning_time_high(self) -> Quantity | None: ...
    @property
    def burning_time_spread(self) -> Quantity: ...

class BurntStone(limekit.stone.burning.BurntStone):
    @property
    def conversion(self) -> Quantity: ...
    @property
    def core_diameter(self) -> Quantity: ...
    @property
    def core_temperature(self) -> Quantity: ...
    @property
    def surface_temperature(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Calendar(limekit.records.workshop.Calendar):
    @property
    def late(self) -> Step | None: ...

class CarbonLedger(limekit.ledger.carbon.CarbonLedger):
    @property
    def process(self) -> Quantity: ...
    @property
    def fossil(self) -> Quantity: ...
    @property
    def biogenic(self) -> Quantity: ...
    @property
    def re_uptake(self) -> Quantity: ...
    @property
    def quicklime(self) -> Quantity: ...
    @property
    def putty_volume(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Carbonation(limekit.lime.carbonation.Carbonation):
    @property
    def carbonated_depth(self) -> Quantity: ...
    @property
    def depth_low(self) -> Quantity: ...
    @property
    def depth_high(self) -> Quantity: ...
    @property
    def weather_factor(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Chromaticity(limekit.pictures.glow.Chromaticity):
    def to_frame(self) -> pandas.DataFrame: ...

class Comparison(limekit.stone.contradiction.Comparison):
    @property
    def by_weight(self) -> FoundConversion | None: ...
    @property
    def by_core(self) -> FoundConversion | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Composition(limekit.chemistry.Composition):
    @property
    def calcium_carbonate(self) -> Quantity: ...
    @property
    def magnesium_carbonate(self) -> Quantity: ...
    @property
    def inert(self) -> Quantity: ...
    @property
    def stone_moisture(self) -> Quantity: ...
    @property
    def loss_on_ignition(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Cooling(limekit.kiln.cooling.Cooling):
    @property
    def cooling_time(self) -> Quantity | None: ...
    @property
    def draw_temperature(self) -> Quantity: ...
    @property
    def lime_temperature(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class CostLine(limekit.ledger.lines.CostLine):
    @property
    def amount(self) -> Span: ...
    @property
    def work(self) -> Span: ...
    def to_frame(self) -> pandas.DataFrame: ...

class CostSheet(limekit.ledger.money.CostSheet):
    @property
    def total(self) -> Span: ...
    @property
    def per_kilogram(self) -> Span: ...
    @property
    def per_litre(self) -> Span: ...
    @property
    def work(self) -> Span: ...
    @property
    def quicklime(self) -> Quantity: ...
    @property
    def putty_volume(self) -> Quantity: ...
    @property
    def yield_spread(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Curing(limekit.lime.carbonation.Curing):
    @property
    def depth_at_frost(self) -> Quantity | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Diagnosis(limekit.stone.signs.Diagnosis):
    def to_frame(self) -> pandas.DataFrame: ...

class Draught(limekit.fire.draught.Draught):
    @property
    def stack_pressure(self) -> Quantity: ...
    @property
    def mass_flux(self) -> Quantity: ...
    @property
    def air_rate(self) -> Quantity: ...
    @property
    def fuel_rate_most(self) -> Quantity: ...
    @property
    def flue_share(self) -> Quantity: ...
    @property
    def pressure_losses(self) -> PressureLosses: ...
    @property
    def chimney_wanted(self) -> Quantity | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Draw(limekit.lime.drawing.Draw):
    @property
    def drawn(self) -> Quantity: ...
    @property
    def good_lime(self) -> Quantity: ...
    @property
    def core(self) -> Quantity: ...
    @property
    def good_share(self) -> Quantity: ...
    @property
    def cored_share(self) -> Quantity: ...
    @property
    def overburnt_share(self) -> Quantity: ...
    @property
    def fines_share(self) -> Quantity: ...
    @property
    def conversion_by_sorting(self) -> Quantity: ...
    @property
    def conversion_by_mass(self) -> Quantity | None: ...
    @property
    def conversion(self) -> Quantity: ...
    @property
    def yield_on_stone(self) -> Quantity | None: ...
    @property
    def carbon_dioxide_left(self) -> Quantity: ...
    @property
    def available_lime(self) -> Quantity: ...
    @property
    def available_in_good(self) -> Quantity: ...
    @property
    def oxide_share(self) -> Quantity: ...
    @property
    def efficiency(self) -> Quantity | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Estimate(limekit.estimate.Estimate):
    @property
    def median(self) -> Quantity: ...
    @property
    def low(self) -> Quantity: ...
    @property
    def high(self) -> Quantity: ...
    @property
    def inner_low(self) -> Quantity: ...
    @property
    def inner_high(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Fire(limekit.kiln.keeping.Fire):
    def __init__(
        self,
        fire_temperature: Amount | None = ...,
        excess_air: Number = ...,
        air_door: Literal["minded", "open"] = ...,
        stoking_rate: Amount | None = ...,
        stoking: Sequence[Any] | None = ...,
        heat_up_time: Amount | None = ...,
        flame_share: Number = ...,
        damper: Number = ...,
        fuel_unburnt: Number = ...,
        fuel_surplus: Number = ...,
        hours: Number | None = ...,
        conversion: Number | None = ...,
    ) -> None: ...
    @classmethod
    def plain(
        cls,
        fire_temperature: float | None = ...,
        excess_air: float = ...,
        air_door: Literal["minded", "open"] = ...,
        stoking_rate: float | None = ...,
        stoking: Sequence[Any] | None = ...,
        heat_up_time: float | None = ...,
        flame_share: float = ...,
        damper: float = ...,
        fuel_unburnt: float = ...,
        fuel_surplus: float = ...,
        hours: float | None = ...,
        conversion: float | None = ...,
    ) -> limekit.kiln.keeping.Fire: ...
    def with_(
        self,
        *,
        fire_temperature: Amount | None = ...,
        excess_air: Number = ...,
        air_door: Literal["minded", "open"] = ...,
        stoking_rate: Amount | None = ...,
        stoking: Sequence[Any] | None = ...,
        heat_up_time: Amount | None = ...,
        flame_share: Number = ...,
        damper: Number = ...,
        fuel_unburnt: Number = ...,
        fuel_surplus: Number = ...,
        hours: Number | None = ...,
        conversion: Number | None = ...,
    ) -> Fire: ...
    @property
    def fire_temperature(self) -> Quantity | None: ...
    @property
    def excess_air(self) -> Quantity: ...
    @property
    def stoking_rate(self) -> Quantity | None: ...
    @property
    def heat_up_time(self) -> Quantity | None: ...
    @property
    def flame_share(self) -> Quantity: ...
    @property
    def damper(self) -> Quantity: ...
    @property
    def fuel_unburnt(self) -> Quantity: ...
    @property
    def fuel_surplus(self) -> Quantity: ...
    @property
    def hours(self) -> Quantity | None: ...
    @property
    def conversion(self) -> Quantity | None: ...

class FireHistory(limekit.stone.history.FireHistory):
    @staticmethod
    def steady(gas_temperature: Amount, co2_fraction: Number = ...) -> FireHistory: ...
    @staticmethod
    def ramp(
        gas_temperature: Amount, gas_rise_time: Amount, co2_fraction: Number = ..., start_temperature: Amount = ...
    ) -> FireHistory: ...
    @staticmethod
    def table(rows: Iterable[tuple[Any, ...]]) -> FireHistory: ...

class FiredWall(limekit.kiln.wall.fired.FiredWall):
    @property
    def heat_taken(self) -> Span: ...
    @property
    def heat_stored(self) -> Quantity: ...
    @property
    def heat_lost(self) -> Quantity: ...
    @property
    def face_temperature(self) -> Quantity: ...
    @property
    def face_hottest(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Firing(limekit.kiln.firing.Firing):
    @property
    def finish(self) -> Quantity | None: ...
    @property
    def hours(self) -> Span | None: ...
    @property
    def fuel(self) -> Span: ...
    @property
    def firing_time(self) -> Quantity: ...
    @property
    def fuel_used(self) -> Quantity: ...
    @property
    def conversion(self) -> Quantity: ...
    @property
    def quicklime(self) -> Quantity: ...
    @property
    def raw_stone(self) -> Quantity: ...
    @property
    def fuel_per_quicklime(self) -> Quantity | None: ...
    @property
    def efficiency(self) -> Quantity: ...
    @property
    def heat_budget(self) -> HeatBudget: ...
    @property
    def lime_temperature(self) -> Quantity: ...
    @property
    def overburnt_share(self) -> Quantity: ...
    @property
    def plan(self) -> FiringPlan: ...
    def to_frame(self) -> pandas.DataFrame: ...

class FiringForecast(limekit.kiln.forecast.FiringForecast):
    @property
    def hours(self) -> Span: ...
    @property
    def fuel(self) -> Span: ...
    @property
    def fuel_per_quicklime(self) -> Span: ...
    @property
    def stoking_rate(self) -> Span: ...
    @property
    def hours_line(self) -> Span: ...
    @property
    def fuel_line(self) -> Span: ...
    def to_frame(self) -> pandas.DataFrame: ...

class FiringRange(limekit.kiln.ensemble.FiringRange):
    @property
    def finish(self) -> Estimate | None: ...
    @property
    def fuel_used(self) -> Estimate | None: ...
    @property
    def firing_time(self) -> Quantity: ...
    @property
    def conversion(self) -> Estimate: ...
    @property
    def quicklime(self) -> Estimate: ...
    @property
    def done_share(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class FlueGas(limekit.fire.flue.FlueGas):
    @property
    def air_mass_ratio(self) -> Quantity: ...
    @property
    def gas_mass_ratio(self) -> Quantity: ...
    @property
    def gas_temperature(self) -> Quantity: ...
    @property
    def co2_fraction(self) -> Quantity: ...
    @property
    def co2_fraction_dry(self) -> Quantity: ...
    @property
    def water_fraction(self) -> Quantity: ...
    @property
    def oxygen_fraction(self) -> Quantity: ...
    @property
    def nitrogen_fraction(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Found(limekit.plan.search.Found):
    @property
    def plan(self) -> Plan | None: ...
    @property
    def smaller(self) -> Plan | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class FoundConversion(limekit.stone.trial.FoundConversion):
    @property
    def conversion(self) -> Quantity: ...
    @property
    def conversion_low(self) -> Quantity: ...
    @property
    def conversion_high(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Fuel(limekit.fire.fuel.Fuel):
    def __init__(self, kind: str = ..., fuel_moisture: Number | None = ...) -> None: ...
    @classmethod
    def plain(cls, kind: str = ..., fuel_moisture: float | None = ...) -> limekit.fire.fuel.Fuel: ...
    def with_(self, *, kind: str = ..., fuel_moisture: Number | None = ...) -> Fuel: ...
    @property
    def fuel_moisture(self) -> Quantity | None: ...

class FuelCarbon(limekit.ledger.carbon.FuelCarbon):
    @property
    def fuel_heat(self) -> Quantity: ...
    @property
    def fossil(self) -> Quantity: ...
    @property
    def biogenic(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class FuelDemand(limekit.kiln.heat.FuelDemand):
    @property
    def fuel_mass(self) -> Span: ...
    @property
    def fuel_per_quicklime(self) -> Span: ...
    @property
    def efficiency(self) -> Span: ...
    @property
    def lower_heating_value(self) -> Quantity: ...
    @property
    def dissociation_heat(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Glow(limekit.stone.glow.Glow):
    @property
    def glow_level(self) -> Quantity: ...
    @property
    def glow_lowest(self) -> Quantity: ...
    @property
    def glow_highest(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class HeatNeed(limekit.kiln.heat.HeatNeed):
    @property
    def dissociation_heat(self) -> Quantity: ...
    @property
    def solid_heat(self) -> Quantity: ...
    @property
    def gas_heat(self) -> Quantity: ...
    @property
    def drying_heat(self) -> Quantity: ...
    @property
    def heat_need(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class HydraulicClass(limekit.grading.HydraulicClass):
    def to_frame(self) -> pandas.DataFrame: ...

class Kiln(limekit.kiln.kiln.Kiln):
    def __init__(
        self,
        kind: Literal["flare", "shaft"] | None = ...,
        stone: Amount | None = ...,
        largest_stone: Amount | None = ...,
        smallest_stone: Amount | None = ...,
        kiln_diameter: Amount | None = ...,
        kiln_height: Amount | None = ...,
        kiln_volume: Amount | None = ...,
        height_to_diameter: Number | None = ...,
        bed_height: Amount | None = ...,
        hearth_height: Amount | None = ...,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        flues: int | None = ...,
        flue_width: Amount = ...,
        vault_span: Amount | None = ...,
        vault_height: Amount | None = ...,
        mouths: int | None = ...,
        mouth_width: Amount | None = ...,
        mouth_height: Amount | None = ...,
        air_opening_area: Amount | None = ...,
        draw_eyes: int | None = ...,
        draw_eye_size: Amount | None = ...,
        eye_area: Amount | None = ...,
        chimney_height: Amount = ...,
        chimney_diameter: Amount | None = ...,
        lining_thickness: Amount | None = ...,
        fill_thickness: Amount | None = ...,
        outer_thickness: Amount | None = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        wall_moisture: Number = ...,
        altitude: Amount = ...,
        cover: Literal["open", "slabs", "clay with holes", "closed in time"] | None = ...,
        outer_diameter: Amount | None = ...,
        fire_bricks: int | None = ...,
        common_bricks: int | None = ...,
        arch_bricks: int | None = ...,
        ties: int | None = ...,
        tie_length: Amount | None = ...,
        vault_mass: Amount | None = ...,
        vault_stones: int | None = ...,
        grate_bars: int | None = ...,
        grate_bar_length: Amount | None = ...,
        warnings: Sequence[str] = ...,
        basis: Sequence[limekit.edge.grounds.Ground] = ...,
    ) -> None: ...
    @classmethod
    def plain(
        cls,
        kind: Literal["flare", "shaft"] | None = ...,
        stone: float | None = ...,
        largest_stone: float | None = ...,
        smallest_stone: float | None = ...,
        kiln_diameter: float | None = ...,
        kiln_height: float | None = ...,
        kiln_volume: float | None = ...,
        height_to_diameter: float | None = ...,
        bed_height: float | None = ...,
        hearth_height: float | None = ...,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        flues: int | None = ...,
        flue_width: float = ...,
        vault_span: float | None = ...,
        vault_height: float | None = ...,
        mouths: int | None = ...,
        mouth_width: float | None = ...,
        mouth_height: float | None = ...,
        air_opening_area: float | None = ...,
        draw_eyes: int | None = ...,
        draw_eye_size: float | None = ...,
        eye_area: float | None = ...,
        chimney_height: float = ...,
        chimney_diameter: float | None = ...,
        lining_thickness: float | None = ...,
        fill_thickness: float | None = ...,
        outer_thickness: float | None = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        wall_moisture: float = ...,
        altitude: float = ...,
        cover: Literal["open", "slabs", "clay with holes", "closed in time"] | None = ...,
        outer_diameter: float | None = ...,
        fire_bricks: int | None = ...,
        common_bricks: int | None = ...,
        arch_bricks: int | None = ...,
        ties: int | None = ...,
        tie_length: float | None = ...,
        vault_mass: float | None = ...,
        vault_stones: int | None = ...,
        grate_bars: int | None = ...,
        grate_bar_length: float | None = ...,
        warnings: tuple[str, ...] = ...,
        basis: tuple[limekit.edge.grounds.Ground, ...] = ...,
    ) -> limekit.kiln.kiln.Kiln: ...
    def with_(
        self,
        *,
        kind: Literal["flare", "shaft"] | None = ...,
        stone: Amount | None = ...,
        largest_stone: Amount | None = ...,
        smallest_stone: Amount | None = ...,
        kiln_diameter: Amount | None = ...,
        kiln_height: Amount | None = ...,
        kiln_volume: Amount | None = ...,
        height_to_diameter: Number | None = ...,
        bed_height: Amount | None = ...,
        hearth_height: Amount | None = ...,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        flues: int | None = ...,
        flue_width: Amount = ...,
        vault_span: Amount | None = ...,
        vault_height: Amount | None = ...,
        mouths: int | None = ...,
        mouth_width: Amount | None = ...,
        mouth_height: Amount | None = ...,
        air_opening_area: Amount | None = ...,
        draw_eyes: int | None = ...,
        draw_eye_size: Amount | None = ...,
        eye_area: Amount | None = ...,
        chimney_height: Amount = ...,
        chimney_diameter: Amount | None = ...,
        lining_thickness: Amount | None = ...,
        fill_thickness: Amount | None = ...,
        outer_thickness: Amount | None = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        wall_moisture: Number = ...,
        altitude: Amount = ...,
        cover: Literal["open", "slabs", "clay with holes", "closed in time"] | None = ...,
        outer_diameter: Amount | None = ...,
        fire_bricks: int | None = ...,
        common_bricks: int | None = ...,
        arch_bricks: int | None = ...,
        ties: int | None = ...,
        tie_length: Amount | None = ...,
        vault_mass: Amount | None = ...,
        vault_stones: int | None = ...,
        grate_bars: int | None = ...,
        grate_bar_length: Amount | None = ...,
        warnings: Sequence[str] = ...,
        basis: Sequence[limekit.edge.grounds.Ground] = ...,
    ) -> Kiln: ...
    @property
    def stone(self) -> Quantity | None: ...
    @property
    def largest_stone(self) -> Quantity | None: ...
    @property
    def smallest_stone(self) -> Quantity | None: ...
    @property
    def kiln_diameter(self) -> Quantity | None: ...
    @property
    def kiln_height(self) -> Quantity | None: ...
    @property
    def kiln_volume(self) -> Quantity | None: ...
    @property
    def height_to_diameter(self) -> Quantity | None: ...
    @property
    def bed_height(self) -> Quantity | None: ...
    @property
    def hearth_height(self) -> Quantity | None: ...
    @property
    def flue_width(self) -> Quantity: ...
    @property
    def vault_span(self) -> Quantity | None: ...
    @property
    def vault_height(self) -> Quantity | None: ...
    @property
    def mouth_width(self) -> Quantity | None: ...
    @property
    def mouth_height(self) -> Quantity | None: ...
    @property
    def air_opening_area(self) -> Quantity | None: ...
    @property
    def draw_eye_size(self) -> Quantity | None: ...
    @property
    def eye_area(self) -> Quantity | None: ...
    @property
    def chimney_height(self) -> Quantity: ...
    @property
    def chimney_diameter(self) -> Quantity | None: ...
    @property
    def lining_thickness(self) -> Quantity | None: ...
    @property
    def fill_thickness(self) -> Quantity | None: ...
    @property
    def outer_thickness(self) -> Quantity | None: ...
    @property
    def wall_moisture(self) -> Quantity: ...
    @property
    def altitude(self) -> Quantity: ...
    @property
    def outer_diameter(self) -> Quantity | None: ...
    @property
    def tie_length(self) -> Quantity | None: ...
    @property
    def vault_mass(self) -> Quantity | None: ...
    @property
    def grate_bar_length(self) -> Quantity | None: ...
    def to_frame(self) -> pandas.DataFrame: ...
    @property
    def kiln(self) -> Kiln: ...

class KilnDesign(limekit.kiln.design.KilnDesign):
    @property
    def fuel_moisture(self) -> Quantity: ...
    @property
    def gas_temperature(self) -> Quantity: ...
    @property
    def chimney_height(self) -> Quantity: ...
    @property
    def size(self) -> Kiln: ...
    @property
    def demand(self) -> FuelDemand: ...
    @property
    def balance(self) -> MassBalance: ...
    @property
    def draught(self) -> Draught: ...
    @property
    def firing(self) -> Firing: ...
    @property
    def stone(self) -> Span: ...
    @property
    def kiln_diameter(self) -> Span: ...
    @property
    def kiln_height(self) -> Span: ...
    @property
    def heat_up_time(self) -> Span: ...
    @property
    def burning_time(self) -> Span: ...
    @property
    def soak_time(self) -> Span: ...
    @property
    def rule_time(self) -> Span: ...
    @property
    def firing_time(self) -> Span: ...
    @property
    def fuel_mass(self) -> Span: ...
    @property
    def cooling_time(self) -> Span: ...
    @property
    def fuel_rate(self) -> Span: ...
    @property
    def quicklime(self) -> Span: ...
    @property
    def drawn(self) -> Span: ...
    @property
    def putty_volume(self) -> Span: ...
    @property
    def sinking(self) -> Span: ...
    def to_frame(self) -> pandas.DataFrame: ...
    @property
    def kiln(self) -> Kiln: ...

class Limewash(limekit.lime.mortar.Limewash):
    @property
    def limewash_volume(self) -> Quantity: ...
    @property
    def putty_volume(self) -> Quantity: ...
    @property
    def water_volume(self) -> Quantity: ...
    @property
    def coats(self) -> Quantity: ...
    @property
    def coating_time(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class MassBalance(limekit.balance.MassBalance):
    @property
    def stone(self) -> Quantity: ...
    @property
    def drawn(self) -> Quantity: ...
    @property
    def quicklime(self) -> Quantity: ...
    @property
    def magnesia(self) -> Quantity: ...
    @property
    def core(self) -> Quantity: ...
    @property
    def inert_mass(self) -> Quantity: ...
    @property
    def carbon_dioxide(self) -> Quantity: ...
    @property
    def carbon_dioxide_left(self) -> Quantity: ...
    @property
    def water_driven_off(self) -> Quantity: ...
    @property
    def hydrate(self) -> Quantity: ...
    @property
    def slaking_water(self) -> Quantity: ...
    @property
    def putty(self) -> Quantity: ...
    @property
    def putty_water(self) -> Quantity: ...
    @property
    def putty_volume(self) -> Quantity: ...
    @property
    def putty_solids(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Means(limekit.plan.search.Means):
    def __init__(
        self,
        helpers: Number | None = ...,
        longest_watch: Amount | None = ...,
        highest_chimney: Amount | None = ...,
        largest_stone: Amount | None = ...,
        wood: Amount | None = ...,
        time_at_hand: Amount | None = ...,
        money: str | float | None = ...,
        fuel_price: str | float | None = ...,
    ) -> None: ...
    @classmethod
    def plain(
        cls,
        helpers: float | None = ...,
        longest_watch: float | None = ...,
        highest_chimney: float | None = ...,
        largest_stone: float | None = ...,
        wood: float | None = ...,
        time_at_hand: float | None = ...,
        money: float | None = ...,
        fuel_price: float | None = ...,
    ) -> limekit.plan.search.Means: ...
    def with_(
        self,
        *,
        helpers: Number | None = ...,
        longest_watch: Amount | None = ...,
        highest_chimney: Amount | None = ...,
        largest_stone: Amount | None = ...,
        wood: Amount | None = ...,
        time_at_hand: Amount | None = ...,
        money: str | float | None = ...,
        fuel_price: str | float | None = ...,
    ) -> Means: ...
    @property
    def helpers(self) -> Quantity | None: ...
    @property
    def longest_watch(self) -> Quantity | None: ...
    @property
    def highest_chimney(self) -> Quantity | None: ...
    @property
    def largest_stone(self) -> Quantity | None: ...
    @property
    def wood(self) -> Quantity | None: ...
    @property
    def time_at_hand(self) -> Quantity | None: ...

class Mix(limekit.lime.mixes.Mix):
    @property
    def lime_parts(self) -> Quantity: ...
    @property
    def sand_parts(self) -> Quantity: ...
    @property
    def coat_least(self) -> Quantity | None: ...
    @property
    def coat_most(self) -> Quantity | None: ...
    @property
    def putty_sieve(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class MixBasis(limekit.lime.mixes.MixBasis):
    @property
    def sand_to_putty(self) -> Quantity: ...
    @property
    def sand_to_quicklime(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class MortarNeed(limekit.lime.mortar.MortarNeed):
    @property
    def mix(self) -> Mix: ...
    @property
    def mortar_volume(self) -> Quantity: ...
    @property
    def putty_volume(self) -> Quantity: ...
    @property
    def putty(self) -> Quantity: ...
    @property
    def quicklime(self) -> Quantity: ...
    @property
    def sand_volume(self) -> Quantity: ...
    @property
    def sand_mass(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Plan(limekit.plan.plan.Plan):
    @property
    def stone(self) -> Stone: ...
    @property
    def fuel(self) -> Fuel: ...
    @property
    def fire(self) -> Fire: ...
    @property
    def kiln(self) -> Kiln: ...
    @property
    def design(self) -> KilnDesign: ...
    @property
    def forecast(self) -> Forecast: ...
    @property
    def firing(self) -> Firing: ...
    @property
    def cooling(self) -> Cooling: ...
    @property
    def lime(self) -> Lime: ...
    @property
    def putty(self) -> Putty: ...
    @property
    def mortar(self) -> Mortar: ...
    @property
    def ledger(self) -> CarbonLedger: ...
    @property
    def people(self) -> People: ...
    @property
    def assessment(self) -> Assessment | None: ...
    @classmethod
    def of(cls, record: Any = ..., trial: Any = ..., slaking_log: Any = ...) -> Plan: ...
    def with_(self, **changed: Any) -> Plan: ...
    @property
    def calendar(self) -> Calendar: ...

class PowerCheck(limekit.records.supplies.PowerCheck):
    @property
    def starting_power_low(self) -> Quantity: ...
    @property
    def starting_power_high(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class PuttyStore(limekit.lime.putty.PuttyStore):
    @property
    def putty_volume(self) -> Quantity: ...
    @property
    def putty(self) -> Quantity: ...
    @property
    def hydrate(self) -> Quantity: ...
    @property
    def putty_density(self) -> Quantity: ...
    @property
    def putty_solids(self) -> Quantity: ...
    @property
    def putty_level(self) -> Quantity: ...
    @property
    def layer_tops(self) -> Quantity: ...
    @property
    def room_left(self) -> Quantity: ...
    @property
    def water_film(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class PuttyYield(limekit.balance.PuttyYield):
    @property
    def quicklime(self) -> Quantity: ...
    @property
    def hydrate(self) -> Quantity: ...
    @property
    def putty(self) -> Quantity: ...
    @property
    def putty_water(self) -> Quantity: ...
    @property
    def putty_volume(self) -> Quantity: ...
    @property
    def putty_solids(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Reactivity(limekit.lime.reactivity.Reactivity):
    @property
    def log_start(self) -> Quantity: ...
    @property
    def peak_temperature(self) -> Quantity: ...
    @property
    def slaking_rise(self) -> Quantity: ...
    @property
    def time_to_60(self) -> Quantity | None: ...
    @property
    def rise_time(self) -> Quantity | None: ...
    @property
    def complete_time(self) -> Quantity | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Record(limekit.records.kiln_record.Record):
    @classmethod
    def load(cls, path: str | os.PathLike[str] = ...) -> Record: ...
    @property
    def stone(self) -> Stone: ...
    @property
    def fuel(self) -> Fuel: ...
    def keep_burn(self, burn_log: Any = ..., replay: Any = ..., **told: Any) -> Record: ...
    def keep(self, section: str, **values: Any) -> Record: ...

class Replay(limekit.kiln.replay.Replay):
    @property
    def finish(self) -> Estimate | None: ...
    @property
    def hours_left(self) -> Estimate | None: ...
    @property
    def conversion(self) -> Estimate: ...
    @property
    def excess_air(self) -> Estimate: ...
    @property
    def loss_factor(self) -> Estimate: ...
    @property
    def fuel_quality(self) -> Estimate: ...
    @property
    def reaction_coefficient(self) -> Estimate: ...
    @property
    def planned_finish(self) -> Quantity | None: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Residue(limekit.lime.slaking.Residue):
    @property
    def residue_share(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Settled(limekit.lime.putty.Settled):
    @property
    def putty_volume(self) -> Quantity: ...
    @property
    def water_over(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class ShaftRun(limekit.kiln.shaft.steady.ShaftRun):
    @property
    def conversion(self) -> Quantity: ...
    @property
    def core_diameter(self) -> Quantity: ...
    @property
    def lime_temperature(self) -> Quantity: ...
    @property
    def top_gas_temperature(self) -> Quantity: ...
    @property
    def hottest_gas(self) -> Quantity: ...
    @property
    def zone_lengths(self) -> Quantity: ...
    @property
    def efficiency(self) -> Quantity: ...
    @property
    def fuel_burnt(self) -> Quantity: ...
    @property
    def conversion_in_practice(self) -> Span: ...
    @property
    def efficiency_in_practice(self) -> Span: ...
    @property
    def stone_rate(self) -> Quantity: ...
    @property
    def fuel_rate(self) -> Quantity: ...
    @property
    def air_rate(self) -> Quantity: ...
    @property
    def residence_time(self) -> Quantity: ...
    @property
    def draught_wanted(self) -> Quantity: ...
    @property
    def stack_pressure(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class ShaftWindow(limekit.kiln.shaft.steady.ShaftWindow):
    def to_frame(self) -> pandas.DataFrame: ...

class Slaking(limekit.lime.slaking.Slaking):
    @property
    def lime_charge(self) -> Quantity: ...
    @property
    def water(self) -> Quantity: ...
    @property
    def quicklime(self) -> Quantity: ...
    @property
    def hydrate(self) -> Quantity: ...
    @property
    def residue(self) -> Quantity: ...
    @property
    def free_water(self) -> Quantity: ...
    @property
    def steam(self) -> Quantity: ...
    @property
    def slaking_rise(self) -> Quantity: ...
    @property
    def end_temperature(self) -> Quantity: ...
    @property
    def boil_limit(self) -> Quantity: ...
    @property
    def water_not_to_boil(self) -> Quantity: ...
    @property
    def water_to_add(self) -> Quantity: ...
    @property
    def water_over(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class SlakingCurve(limekit.lime.charges.SlakingCurve):
    @property
    def slaking_times(self) -> Quantity: ...
    @property
    def slaking_temperatures(self) -> Quantity: ...
    @property
    def unslaked(self) -> Quantity: ...
    @property
    def free_water(self) -> Quantity: ...
    @property
    def steam(self) -> Quantity: ...
    @property
    def heat_lost(self) -> Quantity: ...
    @property
    def hydrate(self) -> Quantity: ...
    @property
    def residue(self) -> Quantity: ...
    @property
    def peak_temperature(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class SlakingLog(limekit.records.slaking_log.SlakingLog):
    @property
    def log_times(self) -> Quantity: ...
    @property
    def log_temperatures(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class SlakingPlan(limekit.lime.charges.SlakingPlan):
    @property
    def charges(self) -> Quantity: ...
    @property
    def charge_mass(self) -> Quantity: ...
    @property
    def charge_interval(self) -> Quantity: ...
    @property
    def slaking_time(self) -> Quantity: ...
    @property
    def peak_temperature(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Span(limekit.estimate.Span):
    @property
    def middle(self) -> Quantity: ...
    @property
    def low(self) -> Quantity: ...
    @property
    def high(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class SteadyWall(limekit.kiln.wall.steady.SteadyWall):
    @property
    def heat_flux(self) -> Quantity: ...
    @property
    def wall_loss(self) -> Span: ...
    @property
    def face_temperature(self) -> Quantity: ...
    @property
    def interface_temperatures(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class StokingSchedule(limekit.kiln.schedule.StokingSchedule):
    @property
    def fuel_used(self) -> Quantity: ...
    @property
    def firing_time(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...
    def stretched(self, longer: float, more: float) -> StokingSchedule: ...

class Stone(limekit.limestone.Stone):
    def __init__(
        self,
        mass: Amount | None = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> None: ...
    @classmethod
    def plain(
        cls,
        mass: float | None = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
    ) -> limekit.limestone.Stone: ...
    def with_(
        self,
        *,
        mass: Amount | None = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> Stone: ...
    @property
    def mass(self) -> Quantity | None: ...
    @property
    def calcium_carbonate(self) -> Quantity: ...
    @property
    def magnesium_carbonate(self) -> Quantity: ...
    @property
    def clay(self) -> Quantity | None: ...
    @property
    def stone_moisture(self) -> Quantity: ...
    @property
    def density(self) -> Quantity: ...
    @property
    def reaction_coefficient(self) -> Quantity: ...
    @property
    def lime_conductivity(self) -> Quantity: ...
    @property
    def co2_diffusivity(self) -> Quantity: ...
    @property
    def stone_conductivity(self) -> Quantity: ...
    @property
    def stone_heat_capacity(self) -> Quantity: ...
    @property
    def lime_heat_capacity(self) -> Quantity: ...

class StoneVerdict(limekit.grading.StoneVerdict):
    @property
    def calcium_oxide(self) -> Quantity: ...
    @property
    def magnesium_oxide(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Tank(limekit.lime.tanks.Tank):
    def to_frame(self) -> pandas.DataFrame: ...

class Trial(limekit.stone.trial.Trial):
    @property
    def stone(self) -> Stone: ...

class WallChoices(limekit.kiln.wall.buildup.WallChoices):
    @property
    def best(self) -> WallChoice: ...
    def to_frame(self) -> pandas.DataFrame: ...

class WallLimits(limekit.kiln.wall.buildup.WallLimits):
    def __init__(
        self, thickness_most: Amount | None = ..., bricks_most: Number | None = ..., fuel_most: Amount | None = ...
    ) -> None: ...
    @classmethod
    def plain(
        cls, thickness_most: float | None = ..., bricks_most: float | None = ..., fuel_most: float | None = ...
    ) -> limekit.kiln.wall.buildup.WallLimits: ...
    def with_(
        self, *, thickness_most: Amount | None = ..., bricks_most: Number | None = ..., fuel_most: Amount | None = ...
    ) -> WallLimits: ...
    @property
    def thickness_most(self) -> Quantity | None: ...
    @property
    def bricks_most(self) -> Quantity | None: ...
    @property
    def fuel_most(self) -> Quantity | None: ...

class Watches(limekit.records.roster.Watches):
    @property
    def longest_stretch(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class Weighing(limekit.chemistry.Weighing):
    @property
    def stone_moisture(self) -> Quantity: ...
    @property
    def loss_on_ignition(self) -> Quantity: ...
    def to_frame(self) -> pandas.DataFrame: ...

class FiringPlan(limekit.kiln.lighting.FiringPlan):
    @property
    def kiln(self) -> Kiln: ...
    @property
    def fuel(self) -> Fuel: ...
    @property
    def stone(self) -> Stone: ...
    @property
    def fire(self) -> Fire: ...

class Forecast(limekit.plan.parts.Forecast):
    @property
    def hours(self) -> Span | None: ...
    @property
    def fuel(self) -> Span: ...
    @property
    def quicklime(self) -> Span: ...

class HeatBudget(limekit.kiln.column.budget.HeatBudget):
    @property
    def dissociation_heat(self) -> Quantity: ...
    @property
    def solid_heat(self) -> Quantity: ...
    @property
    def drying_heat(self) -> Quantity: ...
    @property
    def wall_stored(self) -> Quantity: ...
    @property
    def wall_lost(self) -> Quantity: ...
    @property
    def mouth_loss(self) -> Quantity: ...
    @property
    def cover_loss(self) -> Quantity: ...
    @property
    def flue_heat(self) -> Quantity: ...
    @property
    def unburnt_heat(self) -> Quantity: ...

class Lime(limekit.plan.parts.Lime):
    @property
    def drawn(self) -> Span: ...
    @property
    def quicklime(self) -> Span: ...
    @property
    def available_lime(self) -> Quantity: ...
    @property
    def reactivity(self) -> Reactivity | None: ...

class Mortar(limekit.plan.parts.Mortar):
    @property
    def mix(self) -> Mix: ...
    @property
    def sand_volume(self) -> Span: ...
    @property
    def mortar_volume(self) -> Span: ...

class People(limekit.plan.parts.People):
    @property
    def watch_time(self) -> Quantity: ...

class Posterior(limekit.stone.posterior.Posterior):
    @property
    def stone(self) -> Stone: ...
    @classmethod
    def untried(
        cls,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount,
        co2_fraction: float,
        start_temperature: float,
        *,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> Posterior: ...

class PressureLosses(limekit.fire.draught.PressureLosses):
    @property
    def opening_loss(self) -> Quantity: ...
    @property
    def bed_loss(self) -> Quantity: ...
    @property
    def eye_loss(self) -> Quantity: ...
    @property
    def damper_loss(self) -> Quantity: ...
    @property
    def chimney_loss(self) -> Quantity: ...

class Putty(limekit.plan.parts.Putty):
    @property
    def putty_volume(self) -> Span: ...
    @property
    def putty_density(self) -> Quantity: ...
    @property
    def kept(self) -> Span | None: ...

class Step(limekit.records.workshop.Step):
    @property
    def days(self) -> Span: ...

class WallChoice(limekit.kiln.wall.buildup.WallChoice):
    @property
    def wall_thickness(self) -> Quantity: ...
    @property
    def heat_stored(self) -> Quantity: ...
    @property
    def heat_lost(self) -> Quantity: ...
    @property
    def wall_fuel(self) -> Quantity: ...
    @property
    def fill_volume(self) -> Quantity: ...
    @property
    def stone_volume(self) -> Quantity: ...

class _air_demand(Protocol):
    @overload
    def __call__(self, fuel: str, fuel_moisture: Number = ...) -> Quantity: ...
    @overload
    def __call__(self, fuel: limekit.fire.fuel.Fuel, *, fuel_moisture: Number = ...) -> Quantity: ...
    @staticmethod
    def plain(fuel: str, fuel_moisture: float = ...) -> float: ...

air_demand: _air_demand
"""Return the least dry air that burns a fuel, as kilograms of air a kilogram of fuel."""

class _air_pressure(Protocol):
    @overload
    def __call__(self, altitude: Amount = ...) -> Quantity: ...
    @overload
    def __call__(self, *, altitude: Amount = ..., kiln: limekit.kiln.kiln.Kiln) -> Quantity: ...
    @staticmethod
    def plain(altitude: float = ...) -> float: ...

air_pressure: _air_pressure
"""Return the usual pressure of the air at a height above the sea."""

class _assess_trial(Protocol):
    def __call__(
        self, trial: limekit.stone.trial.Trial, co2_fraction: Number | None = ..., start_temperature: Amount = ...
    ) -> Assessment: ...
    @staticmethod
    def plain(
        trial: limekit.stone.trial.Trial, co2_fraction: float | None = ..., start_temperature: float = ...
    ) -> limekit.stone.assessment.Assessment: ...

assess_trial: _assess_trial
"""Work out from a trial burn what the fire did and what the stone is like."""

class _bed_pressure_drop(Protocol):
    @overload
    def __call__(
        self,
        superficial_velocity: Amount,
        fluid_density: Amount,
        fluid_viscosity: Amount,
        sauter_diameter: Amount,
        bed_height: Amount,
        bed_porosity: Number = ...,
    ) -> Quantity: ...
    @overload
    def __call__(
        self,
        *,
        superficial_velocity: Amount,
        fluid_density: Amount,
        fluid_viscosity: Amount,
        sauter_diameter: Amount,
        bed_height: Amount = ...,
        bed_porosity: Number = ...,
        kiln: limekit.kiln.kiln.Kiln,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        superficial_velocity: float,
        fluid_density: float,
        fluid_viscosity: float,
        sauter_diameter: float,
        bed_height: float,
        bed_porosity: float = ...,
    ) -> float: ...

bed_pressure_drop: _bed_pressure_drop
"""Return the pressure lost in a bed of stones."""

class _binder_for(Protocol):
    def __call__(self, place: str, time_to_frost: Amount | None = ...) -> Binder: ...
    @staticmethod
    def plain(place: str, time_to_frost: float | None = ...) -> limekit.lime.places.Binder: ...

binder_for: _binder_for
"""Say whether pure lime putty suits a place, and what does where it does not."""

def blank_sheet(
    columns: Sequence[limekit.records.columns.Column] = ...,
    title: str = ...,
    rows: int = ...,
    caution: str = ...,
    row_height: int = ...,
    upright: bool = ...,
    usual: Sequence[limekit.safety.Caution] = ...,
    beside: Sequence[str] = ...,
    rows_a_page: int = ...,
) -> limekit.records.printing.PrintedPage: ...

class _boil_limit(Protocol):
    def __call__(
        self, water_temperature: Amount = ..., available_lime: Number = ..., boiling_temperature: Amount = ...
    ) -> Quantity: ...
    @staticmethod
    def plain(
        water_temperature: float = ..., available_lime: float = ..., boiling_temperature: float = ...
    ) -> float: ...

boil_limit: _boil_limit
"""Return the water:lime by mass below which slaking can boil."""

class _bought_carbon(Protocol):
    def __call__(
        self, quicklime: Amount, distance: Amount = ..., carbonation: Number = ..., putty_density: Amount = ...
    ) -> CarbonLedger: ...
    @staticmethod
    def plain(
        quicklime: float, distance: float = ..., carbonation: float = ..., putty_density: float = ...
    ) -> limekit.ledger.carbon.CarbonLedger: ...

bought_carbon: _bought_carbon
"""Return the four lines of bought lime that holds as much CaO, to stand beside your own."""

class _break_even(Protocol):
    def __call__(
        self,
        sheet: limekit.ledger.money.CostSheet,
        price: str | float,
        per: Amount = ...,
        bought_as: Literal["quicklime", "hydrate", "putty"] = ...,
    ) -> BreakEven: ...
    @staticmethod
    def plain(
        sheet: limekit.ledger.money.CostSheet,
        price: float,
        per: float = ...,
        bought_as: Literal["quicklime", "hydrate", "putty"] = ...,
    ) -> limekit.ledger.money.BreakEven: ...

break_even: _break_even
"""Set a burn beside bought lime that holds as much CaO."""

class _bucket_test(Protocol):
    def __call__(self, slaking_starts: Number) -> BucketTest: ...
    @staticmethod
    def plain(slaking_starts: float) -> limekit.lime.reactivity.BucketTest: ...

bucket_test: _bucket_test
"""Judge a lime by the ASTM C5 bucket test: a few lumps dropped in water that covers them, and a watch."""

class _building_lime_class(Protocol):
    def __call__(
        self, calcium_oxide: Number, magnesium_oxide: Number = ..., carbon_dioxide_left: Number = ...
    ) -> str: ...
    @staticmethod
    def plain(calcium_oxide: float, magnesium_oxide: float = ..., carbon_dioxide_left: float = ...) -> str: ...

building_lime_class: _building_lime_class
"""Return which calcium lime of EN 459-1 an analysis points to, as an indication only."""

def burn_checks(burn_day: datetime.date | str) -> tuple[limekit.records.supplies.Check, ...]: ...
def burn_signs() -> tuple[limekit.stone.signs.Sign, ...]: ...

class _burn_stone(Protocol):
    def __call__(
        self,
        diameter: Amount,
        gas_temperature: Amount | None = ...,
        time: Amount | None = ...,
        co2_fraction: Number = ...,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        heat_transfer_coefficient: Number = ...,
        gas_film_coefficient: Number | None = ...,
        shape: Literal["sphere", "cylinder", "slab"] = ...,
        start_temperature: Amount = ...,
        gas_rise_time: Amount = ...,
        fire_history: limekit.stone.history.FireHistory | None = ...,
        *,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> BurntStone: ...
    @staticmethod
    def plain(
        diameter: float,
        gas_temperature: float | None = ...,
        time: float | None = ...,
        co2_fraction: float = ...,
        stone: limekit.limestone.Stone = ...,
        heat_transfer_coefficient: float = ...,
        gas_film_coefficient: float | None = ...,
        shape: Literal["sphere", "cylinder", "slab"] = ...,
        start_temperature: float = ...,
        gas_rise_time: float = ...,
        fire_history: limekit.stone.history.FireHistory | None = ...,
        *,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
    ) -> limekit.stone.burning.BurntStone: ...

burn_stone: _burn_stone
"""Burn one stone for a time, in steady gas, in gas that rises and holds, or through a fire's whole history."""

class _burning_time(Protocol):
    def __call__(
        self,
        diameter: Amount,
        gas_temperature: Amount,
        co2_fraction: Number = ...,
        conversion: Number = ...,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        heat_transfer_coefficient: Number = ...,
        gas_film_coefficient: Number | None = ...,
        shape: Literal["sphere", "cylinder", "slab"] = ...,
        model: Literal["resolved", "reduced", "quasi_steady"] = ...,
        start_temperature: Amount = ...,
        *,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        diameter: float,
        gas_temperature: float,
        co2_fraction: float = ...,
        conversion: float = ...,
        stone: limekit.limestone.Stone = ...,
        heat_transfer_coefficient: float = ...,
        gas_film_coefficient: float | None = ...,
        shape: Literal["sphere", "cylinder", "slab"] = ...,
        model: Literal["resolved", "reduced", "quasi_steady"] = ...,
        start_temperature: float = ...,
        *,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
    ) -> float: ...

burning_time: _burning_time
"""Return how long a stone must lie in steady hot gas to burn to a conversion."""

class _burning_time_range(Protocol):
    def __call__(
        self,
        diameter: Amount,
        gas_temperature: Amount,
        co2_fraction: Number = ...,
        conversion: Number = ...,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        start_temperature: Amount = ...,
        *,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
    ) -> Estimate: ...
    @staticmethod
    def plain(
        diameter: float,
        gas_temperature: float,
        co2_fraction: float = ...,
        conversion: float = ...,
        stone: limekit.limestone.Stone = ...,
        start_temperature: float = ...,
        *,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        stone_moisture: float = ...,
    ) -> limekit.estimate.Estimate: ...

burning_time_range: _burning_time_range
"""Return how long a stone must lie in steady hot gas, with the range there is before any trial burn."""

class _carbon_bars(Protocol):
    def __call__(
        self,
        balance: limekit.balance.MassBalance,
        fuels_burnt: Sequence[limekit.ledger.carbon.FuelCarbon],
        fuel_spread: Number = ...,
        carbonation: Number = ...,
        carbonation_low: Number = ...,
        carbonation_high: Number = ...,
    ) -> tuple[limekit.ledger.ranges.Bar, ...]: ...
    @staticmethod
    def plain(
        balance: limekit.balance.MassBalance,
        fuels_burnt: tuple[limekit.ledger.carbon.FuelCarbon, ...],
        fuel_spread: float = ...,
        carbonation: float = ...,
        carbonation_low: float = ...,
        carbonation_high: float = ...,
    ) -> tuple[limekit.ledger.ranges.Bar, ...]: ...

carbon_bars: _carbon_bars
"""Return what moves a burn's carbon dioxide most, in kilograms a kilogram of quicklime."""

class _carbon_ledger(Protocol):
    def __call__(
        self,
        balance: limekit.balance.MassBalance,
        fuels_burnt: Sequence[limekit.ledger.carbon.FuelCarbon] = ...,
        freight_carbon: Amount = ...,
        carbonation: Number = ...,
    ) -> CarbonLedger: ...
    @staticmethod
    def plain(
        balance: limekit.balance.MassBalance,
        fuels_burnt: tuple[limekit.ledger.carbon.FuelCarbon, ...] = ...,
        freight_carbon: float = ...,
        carbonation: float = ...,
    ) -> limekit.ledger.carbon.CarbonLedger: ...

carbon_ledger: _carbon_ledger
"""Return the carbon dioxide of your own burn as four lines."""

class _carbonation_depth(Protocol):
    def __call__(
        self,
        time_since: Amount,
        humidity: Number = ...,
        weather_temperature: Amount = ...,
        wet_share: Number = ...,
        carbonation_rate: Amount = ...,
    ) -> Carbonation: ...
    @staticmethod
    def plain(
        time_since: float,
        humidity: float = ...,
        weather_temperature: float = ...,
        wet_share: float = ...,
        carbonation_rate: float = ...,
    ) -> limekit.lime.carbonation.Carbonation: ...

carbonation_depth: _carbonation_depth
"""Return how deep lime has set after a time."""

class _carbonation_heat(Protocol):
    def __call__(
        self,
    ) -> Quantity: ...
    @staticmethod
    def plain() -> float: ...

carbonation_heat: _carbonation_heat
"""Return the heat given off when a mole of hydrate takes up carbon dioxide (NASA's polynomials)."""

class _cementation_index(Protocol):
    def __call__(
        self,
        silica: Number | None = ...,
        alumina: Number | None = ...,
        iron_oxide: Number | None = ...,
        calcium_oxide: Number | None = ...,
        magnesium_oxide: Number | None = ...,
    ) -> HydraulicClass: ...
    @staticmethod
    def plain(
        silica: float | None = ...,
        alumina: float | None = ...,
        iron_oxide: float | None = ...,
        calcium_oxide: float | None = ...,
        magnesium_oxide: float | None = ...,
    ) -> limekit.grading.HydraulicClass: ...

cementation_index: _cementation_index
"""Return the cementation index and its class."""

class _co2_max(Protocol):
    def __call__(self, fuel: str) -> Quantity: ...
    @staticmethod
    def plain(fuel: str) -> float: ...

co2_max: _co2_max
"""Return the most carbon dioxide a fuel's dry gas can hold, by volume: that of no excess air."""

class _coat_mortar(Protocol):
    def __call__(
        self,
        wall_area: Amount,
        coat_thickness: Amount,
        mix: str = ...,
        sand_voids: Number = ...,
        waste: Number = ...,
        putty_density: Amount = ...,
    ) -> MortarNeed: ...
    @staticmethod
    def plain(
        wall_area: float,
        coat_thickness: float,
        mix: str = ...,
        sand_voids: float = ...,
        waste: float = ...,
        putty_density: float = ...,
    ) -> limekit.lime.mortar.MortarNeed: ...

coat_mortar: _coat_mortar
"""Return the mortar for one coat of plaster or render."""

class _combustion(Protocol):
    @overload
    def __call__(
        self,
        fuel: str,
        fuel_moisture: Number | None = ...,
        excess_air: Number = ...,
        air_temperature: Amount = ...,
        heat_loss: Number = ...,
    ) -> FlueGas: ...
    @overload
    def __call__(
        self,
        fuel: limekit.fire.fuel.Fuel,
        *,
        fuel_moisture: Number | None = ...,
        excess_air: Number = ...,
        air_temperature: Amount = ...,
        heat_loss: Number = ...,
    ) -> FlueGas: ...
    @staticmethod
    def plain(
        fuel: str,
        fuel_moisture: float | None = ...,
        excess_air: float = ...,
        air_temperature: float = ...,
        heat_loss: float = ...,
    ) -> limekit.fire.flue.FlueGas: ...

combustion: _combustion
"""Burn a fuel right through and return the gas, from balances of mass and heat."""

class _compare_piece(Protocol):
    @overload
    def __call__(
        self,
        piece: limekit.stone.trial.TrialPiece,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
    ) -> Comparison: ...
    @overload
    def __call__(
        self,
        *,
        piece: limekit.stone.trial.TrialPiece,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        stone: limekit.limestone.Stone,
    ) -> Comparison: ...
    @staticmethod
    def plain(
        piece: limekit.stone.trial.TrialPiece,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        stone_moisture: float = ...,
    ) -> limekit.stone.contradiction.Comparison: ...

compare_piece: _compare_piece
"""Compare what a piece's weights and its core say of the share burnt, and name what contradicts."""

def compare_trial(trial: limekit.stone.trial.Trial) -> tuple[limekit.stone.contradiction.Comparison, ...]: ...

class _composition(Protocol):
    @overload
    def __call__(
        self, calcium_carbonate: Number, magnesium_carbonate: Number = ..., stone_moisture: Number = ...
    ) -> Composition: ...
    @overload
    def __call__(
        self,
        *,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        stone: limekit.limestone.Stone,
    ) -> Composition: ...
    @staticmethod
    def plain(
        calcium_carbonate: float, magnesium_carbonate: float = ..., stone_moisture: float = ...
    ) -> limekit.chemistry.Composition: ...

composition: _composition
"""Return a stone's composition with its inert share and its loss on ignition."""

class _composition_from_loss(Protocol):
    @overload
    def __call__(
        self, loss_on_ignition: Number, magnesium_carbonate: Number = ..., stone_moisture: Number = ...
    ) -> Composition: ...
    @overload
    def __call__(
        self,
        *,
        loss_on_ignition: Number,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        stone: limekit.limestone.Stone,
    ) -> Composition: ...
    @staticmethod
    def plain(
        loss_on_ignition: float, magnesium_carbonate: float = ..., stone_moisture: float = ...
    ) -> limekit.chemistry.Composition: ...

composition_from_loss: _composition_from_loss
"""Return the composition that a weighed loss on ignition points to."""

class _conversion_by_core(Protocol):
    def __call__(
        self,
        largest_size: Amount,
        core_size: Amount,
        middle_size: Amount | None = ...,
        smallest_size: Amount | None = ...,
        ruler_error: Amount = ...,
        core_error: Amount = ...,
    ) -> FoundConversion: ...
    @staticmethod
    def plain(
        largest_size: float,
        core_size: float,
        middle_size: float | None = ...,
        smallest_size: float | None = ...,
        ruler_error: float = ...,
        core_error: float = ...,
    ) -> limekit.stone.trial.FoundConversion: ...

conversion_by_core: _conversion_by_core
"""Return the share of a piece that has burnt, from the size of its unburnt core."""

class _conversion_by_weight(Protocol):
    @overload
    def __call__(
        self,
        mass_before: Amount,
        mass_after: Amount,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        balance_error: Amount = ...,
    ) -> FoundConversion: ...
    @overload
    def __call__(
        self,
        *,
        mass_before: Amount,
        mass_after: Amount,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        balance_error: Amount = ...,
        stone: limekit.limestone.Stone,
    ) -> FoundConversion: ...
    @staticmethod
    def plain(
        mass_before: float,
        mass_after: float,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        stone_moisture: float = ...,
        balance_error: float = ...,
    ) -> limekit.stone.trial.FoundConversion: ...

conversion_by_weight: _conversion_by_weight
"""Return the share of a piece's calcium carbonate that has burnt, from its two weights."""

class _cool_kiln(Protocol):
    def __call__(
        self,
        firing: limekit.kiln.firing.Firing,
        openings: Literal["closed", "open"] = ...,
        draw_temperature: Amount = ...,
    ) -> Cooling: ...
    @staticmethod
    def plain(
        firing: limekit.kiln.firing.Firing, openings: Literal["closed", "open"] = ..., draw_temperature: float = ...
    ) -> limekit.kiln.cooling.Cooling: ...

cool_kiln: _cool_kiln
"""Let a fired kiln cool until its lime can be drawn."""

class _core_share(Protocol):
    def __call__(self, core_ratio: Number, loss_on_ignition: Number = ...) -> Quantity: ...
    @staticmethod
    def plain(core_ratio: float, loss_on_ignition: float = ...) -> float: ...

core_share: _core_share
"""Return the unburnt core's share of a piece's mass, from its width across the broken face."""

class _cost_line(Protocol):
    def __call__(
        self,
        name: str,
        amount: str | float,
        amount_low: str | float | None = ...,
        amount_high: str | float | None = ...,
    ) -> CostLine: ...
    @staticmethod
    def plain(
        name: str, amount: float, amount_low: float | None = ..., amount_high: float | None = ...
    ) -> limekit.ledger.lines.CostLine: ...

cost_line: _cost_line
"""Return one line of cost: stone, fuel, water, transport, tools, testing, sand."""

class _cost_sheet(Protocol):
    def __call__(
        self,
        lines: Sequence[limekit.ledger.lines.CostLine],
        quicklime: Amount,
        putty_volume: Amount,
        yield_spread: Number = ...,
        currency: str = ...,
    ) -> CostSheet: ...
    @staticmethod
    def plain(
        lines: tuple[limekit.ledger.lines.CostLine, ...],
        quicklime: float,
        putty_volume: float,
        yield_spread: float = ...,
        currency: str = ...,
    ) -> limekit.ledger.money.CostSheet: ...

cost_sheet: _cost_sheet
"""Add up what a burn costs."""

class _curing_calendar(Protocol):
    def __call__(
        self,
        applied_on: datetime.date,
        coat_thickness: Amount,
        monthly_temperatures: Number,
        monthly_humidities: Number,
        carbonation_rate: Amount = ...,
    ) -> Curing: ...
    @staticmethod
    def plain(
        applied_on: datetime.date,
        coat_thickness: float,
        monthly_temperatures: float,
        monthly_humidities: float,
        carbonation_rate: float = ...,
    ) -> limekit.lime.carbonation.Curing: ...

curing_calendar: _curing_calendar
"""Follow a coat through the year's weather, day by day."""

class _design_kiln(Protocol):
    def __call__(
        self,
        putty_volume: Amount | None = ...,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        *,
        kiln: limekit.kiln.kiln.Kiln | limekit.kiln.design.KilnDesign | Mapping[str, Any] = ...,
        fuel: limekit.fire.fuel.Fuel | Mapping[str, Any] | str = ...,
        fire: limekit.kiln.keeping.Fire | Mapping[str, Any] = ...,
        putty_density: Amount = ...,
        efficiency: Number | None = ...,
        gas_temperature: Amount = ...,
        co2_fraction: Number = ...,
        burning_time: limekit.kiln.design.BurningTime | Mapping[str, Any] | Amount = ...,
        air_temperature: Amount = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
        largest_stone: Amount | None = ...,
        smallest_stone: Amount | None = ...,
        height_to_diameter: Number | None = ...,
        altitude: Amount = ...,
        chimney_height: Amount = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        wall_moisture: Number = ...,
        cover: Literal["open", "slabs", "clay with holes", "closed in time"] | None = ...,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        flues: int | None = ...,
        flue_width: Amount = ...,
        fuel_moisture: Number | None = ...,
        conversion: Number | None = ...,
        excess_air: Number = ...,
        stoking_rate: Amount | None = ...,
        burning_time_low: Amount | None = ...,
        burning_time_high: Amount | None = ...,
        burning_time_spread: Number = ...,
    ) -> KilnDesign: ...
    @staticmethod
    def plain(
        putty_volume: float | None = ...,
        stone: limekit.limestone.Stone = ...,
        *,
        kiln: limekit.kiln.kiln.Kiln = ...,
        fuel: limekit.fire.fuel.Fuel = ...,
        fire: limekit.kiln.keeping.Fire = ...,
        putty_density: float = ...,
        efficiency: float | None = ...,
        gas_temperature: float = ...,
        co2_fraction: float = ...,
        burning_time: limekit.kiln.design.BurningTime = ...,
        air_temperature: float = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
        largest_stone: float | None = ...,
        smallest_stone: float | None = ...,
        height_to_diameter: float | None = ...,
        altitude: float = ...,
        chimney_height: float = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        wall_moisture: float = ...,
        cover: Literal["open", "slabs", "clay with holes", "closed in time"] | None = ...,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        flues: int | None = ...,
        flue_width: float = ...,
        fuel_moisture: float | None = ...,
        conversion: float | None = ...,
        excess_air: float = ...,
        stoking_rate: float | None = ...,
        burning_time_low: float | None = ...,
        burning_time_high: float | None = ...,
        burning_time_spread: float = ...,
    ) -> limekit.kiln.design.KilnDesign: ...

design_kiln: _design_kiln
"""Draw up a first flare kiln from the putty wanted, or from the stone at hand."""

def design_sheet(
    design: limekit.kiln.design.KilnDesign, chapters: Sequence[limekit.pictures.sheets.Chapter] = ...
) -> str: ...

class _diagnose(Protocol):
    def __call__(
        self,
        core_ratio: Number | None = ...,
        conversion: Number | None = ...,
        heft: Literal["not seen", "light", "heavy"] = ...,
        slakes: Literal["not seen", "quick", "medium", "slow", "late", "partly", "not"] = ...,
        skin: Literal["not seen", "clean", "shrunken", "glassy", "discoloured"] = ...,
        plaster: Literal["not seen", "sound", "pops"] = ...,
        sound: Literal["not seen", "ring", "thud"] = ...,
    ) -> Diagnosis: ...
    @staticmethod
    def plain(
        core_ratio: float | None = ...,
        conversion: float | None = ...,
        heft: Literal["not seen", "light", "heavy"] = ...,
        slakes: Literal["not seen", "quick", "medium", "slow", "late", "partly", "not"] = ...,
        skin: Literal["not seen", "clean", "shrunken", "glassy", "discoloured"] = ...,
        plaster: Literal["not seen", "sound", "pops"] = ...,
        sound: Literal["not seen", "ring", "thud"] = ...,
    ) -> limekit.stone.signs.Diagnosis: ...

diagnose: _diagnose
"""Say from what was seen whether lime is under-, over- or rightly burnt, and what to change."""

class _dissociation_pressure(Protocol):
    def __call__(
        self, temperature: Amount, dissociation_source: Literal["hill_winter_1956", "silcox_1989", "baker_1962"] = ...
    ) -> Quantity: ...
    @staticmethod
    def plain(
        temperature: float, dissociation_source: Literal["hill_winter_1956", "silcox_1989", "baker_1962"] = ...
    ) -> float: ...

dissociation_pressure: _dissociation_pressure
"""Return the carbon dioxide pressure at which limestone and lime stand in balance."""

class _dissociation_temperature(Protocol):
    def __call__(
        self,
        co2_pressure: Amount = ...,
        dissociation_source: Literal["hill_winter_1956", "silcox_1989", "baker_1962"] = ...,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        co2_pressure: float = ..., dissociation_source: Literal["hill_winter_1956", "silcox_1989", "baker_1962"] = ...
    ) -> float: ...

dissociation_temperature: _dissociation_temperature
"""Return the temperature above which limestone burns under a given carbon dioxide pressure."""

class _draught_flow(Protocol):
    def __call__(
        self,
        way: limekit.fire.air_way.AirWay | Mapping[str, Any],
        gas_temperature: Amount,
        *,
        top_temperature: Amount | None = ...,
        air_temperature: Amount = ...,
        damper: Number = ...,
        air_demand: Number = ...,
        excess_air: Number = ...,
        fuel_rate: Amount | None = ...,
        bed_height: Amount = ...,
        kiln_diameter: Amount = ...,
        sauter_diameter: Amount = ...,
        air_opening_area: Amount = ...,
        eye_area: Amount = ...,
        hearth_height: Amount = ...,
        chimney_height: Amount = ...,
        chimney_diameter: Amount | None = ...,
        bed_porosity: Number = ...,
        altitude: Amount = ...,
        flues: int = ...,
        flue_width: Amount = ...,
        wind_pressure: Amount = ...,
    ) -> Draught: ...
    @staticmethod
    def plain(
        way: limekit.fire.air_way.AirWay,
        gas_temperature: float,
        *,
        top_temperature: float | None = ...,
        air_temperature: float = ...,
        damper: float = ...,
        air_demand: float = ...,
        excess_air: float = ...,
        fuel_rate: float | None = ...,
        bed_height: float = ...,
        kiln_diameter: float = ...,
        sauter_diameter: float = ...,
        air_opening_area: float = ...,
        eye_area: float = ...,
        hearth_height: float = ...,
        chimney_height: float = ...,
        chimney_diameter: float | None = ...,
        bed_porosity: float = ...,
        altitude: float = ...,
        flues: int = ...,
        flue_width: float = ...,
        wind_pressure: float = ...,
    ) -> limekit.fire.draught.Draught: ...

draught_flow: _draught_flow
"""Solve for the air a kiln draws: draught on one side, every resistance on the other."""

def draw_time(
    lit: datetime.datetime | str,
    slaked: datetime.datetime | str,
    kiln: Literal["small flare", "large flare"] = ...,
    known: Mapping[
        Literal["wood", "stone", "loading", "burn", "cooling", "drawing", "slaking", "maturing"], limekit.estimate.Span
    ]
    | None = ...,
) -> limekit.records.workshop.DrawTime: ...
def example_path(name: str) -> pathlib.Path: ...

class _excess_air_at(Protocol):
    @overload
    def __call__(
        self,
        gas_temperature: Amount,
        fuel: str,
        fuel_moisture: Number | None = ...,
        air_temperature: Amount = ...,
        heat_loss: Number = ...,
    ) -> Quantity: ...
    @overload
    def __call__(
        self,
        *,
        gas_temperature: Amount,
        fuel: limekit.fire.fuel.Fuel,
        fuel_moisture: Number | None = ...,
        air_temperature: Amount = ...,
        heat_loss: Number = ...,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        gas_temperature: float,
        fuel: str,
        fuel_moisture: float | None = ...,
        air_temperature: float = ...,
        heat_loss: float = ...,
    ) -> float: ...

excess_air_at: _excess_air_at
"""Return the excess air at which a fuel's gas is just so hot; the reverse of `combustion`."""

def fact(key: str, variant: str | None = ...) -> limekit.facts.Fact: ...

class _find_plan(Protocol):
    @overload
    def __call__(
        self,
        record: Any = ...,
        trial: Any = ...,
        *,
        putty_volume: Amount | None = ...,
        fuel: str | None = ...,
        altitude: Amount | None = ...,
        means: limekit.plan.search.Means | Mapping[str, Any] = ...,
        helpers: Number | None = ...,
        longest_watch: Amount | None = ...,
        highest_chimney: Amount | None = ...,
        largest_stone: Amount | None = ...,
        wood: Amount | None = ...,
        time_at_hand: Amount | None = ...,
        money: str | float | None = ...,
        fuel_price: str | float | None = ...,
    ) -> Found: ...
    @overload
    def __call__(
        self,
        *,
        record: Any = ...,
        trial: Any = ...,
        putty_volume: Amount | None = ...,
        fuel: str | None = ...,
        altitude: Amount | None = ...,
        means: limekit.plan.search.Means | Mapping[str, Any] = ...,
        kiln: limekit.kiln.kiln.Kiln,
        helpers: Number | None = ...,
        longest_watch: Amount | None = ...,
        highest_chimney: Amount | None = ...,
        largest_stone: Amount | None = ...,
        wood: Amount | None = ...,
        time_at_hand: Amount | None = ...,
        money: str | float | None = ...,
        fuel_price: str | float | None = ...,
    ) -> Found: ...
    @staticmethod
    def plain(
        record: Any = ...,
        trial: Any = ...,
        *,
        putty_volume: float | None = ...,
        fuel: str | None = ...,
        altitude: float | None = ...,
        means: limekit.plan.search.Means = ...,
        helpers: float | None = ...,
        longest_watch: float | None = ...,
        highest_chimney: float | None = ...,
        largest_stone: float | None = ...,
        wood: float | None = ...,
        time_at_hand: float | None = ...,
        money: float | None = ...,
        fuel_price: float | None = ...,
    ) -> limekit.plan.search.Found: ...

find_plan: _find_plan
"""Look for the plan that gives the putty wanted with what a person can do."""

class _fire_kiln(Protocol):
    def __call__(
        self,
        kiln: limekit.kiln.kiln.Kiln | limekit.kiln.design.KilnDesign | Mapping[str, Any],
        fuel: limekit.fire.fuel.Fuel | Mapping[str, Any] | str = ...,
        *,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        fire: limekit.kiln.keeping.Fire | Mapping[str, Any] = ...,
        stone_sizes: Mapping[Any, Any] | None = ...,
        arrangement: Literal["mixed", "graded"] = ...,
        air_temperature: Amount = ...,
        wind_pressure: Amount = ...,
        levels: int = ...,
        rings: int = ...,
        altitude: Amount = ...,
        chimney_height: Amount = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        wall_moisture: Number = ...,
        cover: Literal["open", "slabs", "clay with holes", "closed in time"] | None = ...,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        flues: int | None = ...,
        flue_width: Amount = ...,
        fuel_moisture: Number | None = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
        fire_temperature: Amount | None = ...,
        excess_air: Number = ...,
        air_door: Literal["minded", "open"] = ...,
        stoking_rate: Amount | None = ...,
        stoking: Sequence[Any] | None = ...,
        heat_up_time: Amount | None = ...,
        flame_share: Number = ...,
        damper: Number = ...,
        fuel_unburnt: Number = ...,
        fuel_surplus: Number = ...,
        hours: Number | None = ...,
        conversion: Number | None = ...,
    ) -> Firing: ...
    @staticmethod
    def plain(
        kiln: limekit.kiln.kiln.Kiln,
        fuel: limekit.fire.fuel.Fuel = ...,
        *,
        stone: limekit.limestone.Stone = ...,
        fire: limekit.kiln.keeping.Fire = ...,
        stone_sizes: Mapping[Any, Any] | None = ...,
        arrangement: Literal["mixed", "graded"] = ...,
        air_temperature: float = ...,
        wind_pressure: float = ...,
        levels: int = ...,
        rings: int = ...,
        altitude: float = ...,
        chimney_height: float = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        wall_moisture: float = ...,
        cover: Literal["open", "slabs", "clay with holes", "closed in time"] | None = ...,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        flues: int | None = ...,
        flue_width: float = ...,
        fuel_moisture: float | None = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
        fire_temperature: float | None = ...,
        excess_air: float = ...,
        air_door: Literal["minded", "open"] = ...,
        stoking_rate: float | None = ...,
        stoking: Sequence[Any] | None = ...,
        heat_up_time: float | None = ...,
        flame_share: float = ...,
        damper: float = ...,
        fuel_unburnt: float = ...,
        fuel_surplus: float = ...,
        hours: float | None = ...,
        conversion: float | None = ...,
    ) -> limekit.kiln.firing.Firing: ...

fire_kiln: _fire_kiln
"""Fire a flare kiln in the model, from lighting until the charge is done."""

class _fire_range(Protocol):
    def __call__(
        self,
        firing: limekit.kiln.firing.Firing,
        assessment: limekit.stone.assessment.Assessment,
        members: int = ...,
        progress: Callable[[float], None] | None = ...,
    ) -> FiringRange: ...
    @staticmethod
    def plain(
        firing: limekit.kiln.firing.Firing,
        assessment: limekit.stone.assessment.Assessment,
        members: int = ...,
        progress: Callable[[float], None] | None = ...,
    ) -> limekit.kiln.ensemble.FiringRange: ...

fire_range: _fire_range
"""Fire a kiln again with every stone that a trial burn leaves possible, and return the ranges."""

class _fire_wall(Protocol):
    @overload
    def __call__(
        self,
        layers: Sequence[Any],
        kiln_diameter: Amount,
        kiln_height: Amount,
        firing_time: Amount,
        gas_temperature: Amount,
        heat_up_time: Amount | None = ...,
        cooling_time: Amount = ...,
        air_temperature: Amount = ...,
    ) -> FiredWall: ...
    @overload
    def __call__(
        self,
        *,
        layers: Sequence[Any] = ...,
        kiln_diameter: Amount = ...,
        kiln_height: Amount = ...,
        firing_time: Amount,
        gas_temperature: Amount,
        heat_up_time: Amount | None = ...,
        cooling_time: Amount = ...,
        air_temperature: Amount = ...,
        kiln: limekit.kiln.kiln.Kiln,
    ) -> FiredWall: ...
    @staticmethod
    def plain(
        layers: Sequence[Any],
        kiln_diameter: float,
        kiln_height: float,
        firing_time: float,
        gas_temperature: float,
        heat_up_time: float | None = ...,
        cooling_time: float = ...,
        air_temperature: float = ...,
    ) -> limekit.kiln.wall.fired.FiredWall: ...

fire_wall: _fire_wall
"""Fire a wall from cold and leave it closed to cool."""

class _firings_chart(Protocol):
    @overload
    def __call__(
        self,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount,
        largest_stone: Amount | None = ...,
        *,
        stoking_rate: Amount | None = ...,
        laid: Literal["poured", "by hand", "with flues"] | None = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> Any: ...
    @overload
    def __call__(
        self,
        *,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        largest_stone: Amount | None = ...,
        stoking_rate: Amount | None = ...,
        laid: Literal["poured", "by hand", "with flues"] | None = ...,
        kiln: limekit.kiln.kiln.Kiln,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> Any: ...
    @staticmethod
    def plain(
        stone: limekit.limestone.Stone,
        largest_stone: float | None = ...,
        *,
        stoking_rate: float | None = ...,
        laid: Literal["poured", "by hand", "with flues"] | None = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
    ) -> Any: ...

firings_chart: _firings_chart
"""Draw the hours and the wood of real firings, with the forecast for yours among them."""

class _forecast_firing(Protocol):
    @overload
    def __call__(
        self,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount,
        largest_stone: Amount | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        *,
        stoking_rate: Amount | None = ...,
        laid: Literal["poured", "by hand", "with flues"] | None = ...,
        fuel_kind: str | None = ...,
        fuel_moisture: Number | None = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> FiringForecast: ...
    @overload
    def __call__(
        self,
        *,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount,
        largest_stone: Amount | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        stoking_rate: Amount | None = ...,
        laid: Literal["poured", "by hand", "with flues"] | None = ...,
        fuel_kind: str | None = ...,
        fuel_moisture: Number | None = ...,
        fuel: limekit.fire.fuel.Fuel,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> FiringForecast: ...
    @overload
    def __call__(
        self,
        *,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        largest_stone: Amount | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        stoking_rate: Amount | None = ...,
        laid: Literal["poured", "by hand", "with flues"] | None = ...,
        fuel_kind: str | None = ...,
        fuel_moisture: Number | None = ...,
        kiln: limekit.kiln.kiln.Kiln,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> FiringForecast: ...
    @staticmethod
    def plain(
        stone: limekit.limestone.Stone,
        largest_stone: float | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        *,
        stoking_rate: float | None = ...,
        laid: Literal["poured", "by hand", "with flues"] | None = ...,
        fuel_kind: str | None = ...,
        fuel_moisture: float | None = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
    ) -> limekit.kiln.forecast.FiringForecast: ...

forecast_firing: _forecast_firing
"""Forecast wood and hours of a firing by how others fired, before anything of a kiln is drawn."""

class _freight_carbon(Protocol):
    def __call__(self, freight: Amount, distance: Amount) -> Quantity: ...
    @staticmethod
    def plain(freight: float, distance: float) -> float: ...

freight_carbon: _freight_carbon
"""Return the carbon dioxide of carrying a load by lorry."""

class _fuel_carbon(Protocol):
    def __call__(self, fuel: str, fuel_mass: Amount, lower_heating_value: Amount) -> FuelCarbon: ...
    @staticmethod
    def plain(fuel: str, fuel_mass: float, lower_heating_value: float) -> limekit.ledger.carbon.FuelCarbon: ...

fuel_carbon: _fuel_carbon
"""Return the carbon dioxide of one fuel burnt."""

class _fuel_demand(Protocol):
    @overload
    def __call__(
        self,
        stone: Amount,
        calcium_carbonate: Number,
        conversion: Number,
        fuel: str = ...,
        fuel_moisture: Number | None = ...,
        efficiency: Number | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        heating_value: Amount | None = ...,
    ) -> FuelDemand: ...
    @overload
    def __call__(
        self,
        stone: limekit.limestone.Stone,
        *,
        calcium_carbonate: Number = ...,
        conversion: Number,
        fuel: str = ...,
        fuel_moisture: Number | None = ...,
        efficiency: Number | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        heating_value: Amount | None = ...,
    ) -> FuelDemand: ...
    @overload
    def __call__(
        self,
        *,
        stone: Amount,
        calcium_carbonate: Number,
        conversion: Number,
        fuel: limekit.fire.fuel.Fuel,
        fuel_moisture: Number | None = ...,
        efficiency: Number | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        heating_value: Amount | None = ...,
    ) -> FuelDemand: ...
    @overload
    def __call__(
        self,
        *,
        stone: Amount = ...,
        calcium_carbonate: Number,
        conversion: Number,
        fuel: str = ...,
        fuel_moisture: Number | None = ...,
        efficiency: Number | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        heating_value: Amount | None = ...,
        kiln: limekit.kiln.kiln.Kiln,
    ) -> FuelDemand: ...
    @staticmethod
    def plain(
        stone: float,
        calcium_carbonate: float,
        conversion: float,
        fuel: str = ...,
        fuel_moisture: float | None = ...,
        efficiency: float | None = ...,
        kind: Literal["flare", "shaft"] = ...,
        magnesium_carbonate: float = ...,
        stone_moisture: float = ...,
        heating_value: float | None = ...,
    ) -> limekit.kiln.heat.FuelDemand: ...

fuel_demand: _fuel_demand
"""Return the fuel a charge of stone takes, with its range."""

class _fuel_mass(Protocol):
    def __call__(
        self, quicklime: Amount, heating_value: Amount, efficiency: Number, magnesia: Amount = ...
    ) -> Quantity: ...
    @staticmethod
    def plain(quicklime: float, heating_value: float, efficiency: float, magnesia: float = ...) -> float: ...

fuel_mass: _fuel_mass
"""Return the fuel that makes some quicklime at a given efficiency; the reverse of `kiln_efficiency`."""

class _fuel_mass_in(Protocol):
    @overload
    def __call__(
        self,
        fuel_volume: Amount,
        fuel: str,
        lay: Literal["stacked", "loose", "bagged"] = ...,
        fuel_moisture: Number | None = ...,
        solid_fraction: Number | None = ...,
    ) -> Span: ...
    @overload
    def __call__(
        self,
        *,
        fuel_volume: Amount,
        fuel: limekit.fire.fuel.Fuel,
        lay: Literal["stacked", "loose", "bagged"] = ...,
        fuel_moisture: Number | None = ...,
        solid_fraction: Number | None = ...,
    ) -> Span: ...
    @staticmethod
    def plain(
        fuel_volume: float,
        fuel: str,
        lay: Literal["stacked", "loose", "bagged"] = ...,
        fuel_moisture: float | None = ...,
        solid_fraction: float | None = ...,
    ) -> limekit.estimate.Span: ...

fuel_mass_in: _fuel_mass_in
"""Return the fuel in a volume as it is sold, with the range of its density and of its gaps."""

def fuel_names() -> tuple[str, ...]: ...

class _fuel_volume(Protocol):
    @overload
    def __call__(
        self,
        fuel_mass: Amount,
        fuel: str,
        lay: Literal["stacked", "loose", "bagged"] = ...,
        fuel_moisture: Number | None = ...,
        solid_fraction: Number | None = ...,
    ) -> Span: ...
    @overload
    def __call__(
        self,
        *,
        fuel_mass: Amount,
        fuel: limekit.fire.fuel.Fuel,
        lay: Literal["stacked", "loose", "bagged"] = ...,
        fuel_moisture: Number | None = ...,
        solid_fraction: Number | None = ...,
    ) -> Span: ...
    @staticmethod
    def plain(
        fuel_mass: float,
        fuel: str,
        lay: Literal["stacked", "loose", "bagged"] = ...,
        fuel_moisture: float | None = ...,
        solid_fraction: float | None = ...,
    ) -> limekit.estimate.Span: ...

fuel_volume: _fuel_volume
"""Return the room some fuel takes as it is sold; the reverse of `fuel_mass_in`."""

class _gas_density(Protocol):
    @overload
    def __call__(self, temperature: Amount, altitude: Amount = ..., gas_molar_mass: Amount = ...) -> Quantity: ...
    @overload
    def __call__(
        self, *, temperature: Amount, altitude: Amount = ..., gas_molar_mass: Amount = ..., kiln: limekit.kiln.kiln.Kiln
    ) -> Quantity: ...
    @staticmethod
    def plain(temperature: float, altitude: float = ..., gas_molar_mass: float = ...) -> float: ...

gas_density: _gas_density
"""Return the density of a gas at the pressure of the air around."""

class _gas_viscosity(Protocol):
    def __call__(self, temperature: Amount) -> Quantity: ...
    @staticmethod
    def plain(temperature: float) -> float: ...

gas_viscosity: _gas_viscosity
"""Return the viscosity of air, which stands for a kiln's gas within about 10 %."""

class _glow_chromaticity(Protocol):
    def __call__(self, temperature: Amount) -> Chromaticity: ...
    @staticmethod
    def plain(temperature: float) -> limekit.pictures.glow.Chromaticity: ...

glow_chromaticity: _glow_chromaticity
"""Return the CIE 1931 chromaticity of a black body's light."""

class _glow_colour(Protocol):
    def __call__(self, temperature: Amount) -> dict[str, str]: ...
    @staticmethod
    def plain(temperature: float) -> dict[str, str]: ...

glow_colour: _glow_colour
"""Return the name each table gives to the glow at a temperature."""

def glow_sources() -> list[dict[str, str]]: ...

class _glow_strip(Protocol):
    def __call__(self, temperature: Amount | None = ...) -> Any: ...
    @staticmethod
    def plain(temperature: float | None = ...) -> Any: ...

glow_strip: _glow_strip
"""Draw the computed colours of hot stone, and under them what four tables call by each name."""

class _glow_swatch(Protocol):
    def __call__(self, temperature: Amount) -> str: ...
    @staticmethod
    def plain(temperature: float) -> str: ...

glow_swatch: _glow_swatch
"""Return the nearest a screen can come to a glow, as ``"#rrggbb"``."""

class _glow_temperature(Protocol):
    def __call__(
        self,
        colour: Literal[
            "just visible", "dark red", "dull cherry", "cherry", "bright cherry", "orange", "yellow", "white"
        ],
        glow_source: Literal["stirling_1905", "howe", "white_taylor_1899", "chapman_1972"] = ...,
    ) -> Glow: ...
    @staticmethod
    def plain(
        colour: Literal[
            "just visible", "dark red", "dull cherry", "cherry", "bright cherry", "orange", "yellow", "white"
        ],
        glow_source: Literal["stirling_1905", "howe", "white_taylor_1899", "chapman_1972"] = ...,
    ) -> limekit.stone.glow.Glow: ...

glow_temperature: _glow_temperature
"""Return the temperature a glow's colour points to, with the range over all the tables."""

def groups(people: int, most: int = ...) -> tuple[int, ...]: ...

class _higher_heating_value(Protocol):
    def __call__(self, fuel: str) -> Quantity: ...
    @staticmethod
    def plain(fuel: str) -> float: ...

higher_heating_value: _higher_heating_value
"""Return the heat of a dry fuel when the water it forms is condensed."""

class _hydration_heat(Protocol):
    def __call__(self, magnesia: bool = ...) -> Quantity: ...
    @staticmethod
    def plain(magnesia: bool = ...) -> float: ...

hydration_heat: _hydration_heat
"""Return the heat given off when a mole of quicklime (or of magnesia) slakes with liquid water."""

class _hydraulic_index(Protocol):
    def __call__(
        self, silica: Number | None = ..., alumina: Number | None = ..., calcium_oxide: Number | None = ...
    ) -> HydraulicClass: ...
    @staticmethod
    def plain(
        silica: float | None = ..., alumina: float | None = ..., calcium_oxide: float | None = ...
    ) -> limekit.grading.HydraulicClass: ...

hydraulic_index: _hydraulic_index
"""Return the hydraulic index and its class."""

class _judge_stone(Protocol):
    @overload
    def __call__(
        self, calcium_carbonate: Number, magnesium_carbonate: Number = ..., clay: Number | None = ...
    ) -> StoneVerdict: ...
    @overload
    def __call__(
        self,
        *,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone: limekit.limestone.Stone,
    ) -> StoneVerdict: ...
    @staticmethod
    def plain(
        calcium_carbonate: float, magnesium_carbonate: float = ..., clay: float | None = ...
    ) -> limekit.grading.StoneVerdict: ...

judge_stone: _judge_stone
"""Say what lime a stone would give, burnt right through, and how that lime is kept."""

class _kiln_efficiency(Protocol):
    def __call__(
        self, quicklime: Amount, fuel_mass: Amount, heating_value: Amount, magnesia: Amount = ...
    ) -> Quantity: ...
    @staticmethod
    def plain(quicklime: float, fuel_mass: float, heating_value: float, magnesia: float = ...) -> float: ...

kiln_efficiency: _kiln_efficiency
"""Return how well a burn used its fuel: heat of dissociation over the fuel's lower heating value."""

class _kiln_line(Protocol):
    def __call__(
        self,
        outlay: str | float,
        burns: Number,
        burns_low: Number | None = ...,
        burns_high: Number | None = ...,
        name: str = ...,
    ) -> CostLine: ...
    @staticmethod
    def plain(
        outlay: float, burns: float, burns_low: float | None = ..., burns_high: float | None = ..., name: str = ...
    ) -> limekit.ledger.lines.CostLine: ...

kiln_line: _kiln_line
"""Return one burn's share of what was paid once for the kiln."""

class _laid_porosity(Protocol):
    @overload
    def __call__(
        self, laid: Literal["poured", "by hand", "with flues"], sauter_diameter: Amount, kiln_diameter: Amount
    ) -> Quantity: ...
    @overload
    def __call__(
        self,
        *,
        laid: Literal["poured", "by hand", "with flues"] = ...,
        sauter_diameter: Amount,
        kiln_diameter: Amount = ...,
        kiln: limekit.kiln.kiln.Kiln,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        laid: Literal["poured", "by hand", "with flues"], sauter_diameter: float, kiln_diameter: float
    ) -> float: ...

laid_porosity: _laid_porosity
"""Return the gaps in a charge as it is laid in a kiln, between the flues where it has some."""

class _limewash(Protocol):
    def __call__(
        self, wall_area: Amount, coats: Number = ..., limewash_dilution: Number = ..., limewash_use: Amount = ...
    ) -> Limewash: ...
    @staticmethod
    def plain(
        wall_area: float, coats: float = ..., limewash_dilution: float = ..., limewash_use: float = ...
    ) -> limekit.lime.mortar.Limewash: ...

limewash: _limewash
"""Return the limewash for a wall: several thin coats a day apart, on a damp wall."""

class _loss_from_weights(Protocol):
    def __call__(self, mass_wet: Amount, mass_dry: Amount, mass_burnt: Amount) -> Weighing: ...
    @staticmethod
    def plain(mass_wet: float, mass_dry: float, mass_burnt: float) -> limekit.chemistry.Weighing: ...

loss_from_weights: _loss_from_weights
"""Return moisture and loss on ignition from one sample weighed three times."""

class _loss_on_ignition(Protocol):
    @overload
    def __call__(self, calcium_carbonate: Number, magnesium_carbonate: Number = ...) -> Quantity: ...
    @overload
    def __call__(
        self, *, calcium_carbonate: Number = ..., magnesium_carbonate: Number = ..., stone: limekit.limestone.Stone
    ) -> Quantity: ...
    @staticmethod
    def plain(calcium_carbonate: float, magnesium_carbonate: float = ...) -> float: ...

loss_on_ignition: _loss_on_ignition
"""Return the loss on full burning as a share of the dry stone."""

class _lower_heating_value(Protocol):
    @overload
    def __call__(self, fuel: str, fuel_moisture: Number | None = ...) -> Quantity: ...
    @overload
    def __call__(self, fuel: limekit.fire.fuel.Fuel, *, fuel_moisture: Number | None = ...) -> Quantity: ...
    @staticmethod
    def plain(fuel: str, fuel_moisture: float | None = ...) -> float: ...

lower_heating_value: _lower_heating_value
"""Return the heat a fuel gives in a kiln, where its water leaves as steam."""

class _mass_balance(Protocol):
    @overload
    def __call__(
        self,
        stone: Amount,
        calcium_carbonate: Number,
        conversion: Number,
        putty_density: Amount = ...,
        magnesium_carbonate: Number = ...,
        conversion_of_magnesium: Number = ...,
        stone_moisture: Number = ...,
    ) -> MassBalance: ...
    @overload
    def __call__(
        self,
        stone: limekit.limestone.Stone,
        *,
        calcium_carbonate: Number = ...,
        conversion: Number,
        putty_density: Amount = ...,
        magnesium_carbonate: Number = ...,
        conversion_of_magnesium: Number = ...,
        stone_moisture: Number = ...,
    ) -> MassBalance: ...
    @staticmethod
    def plain(
        stone: float,
        calcium_carbonate: float,
        conversion: float,
        putty_density: float = ...,
        magnesium_carbonate: float = ...,
        conversion_of_magnesium: float = ...,
        stone_moisture: float = ...,
    ) -> limekit.balance.MassBalance: ...

mass_balance: _mass_balance
"""Follow a charge of stone through fire and water."""

def materials(people: int, others: int = ...) -> tuple[limekit.records.supplies.Item, ...]: ...

class _mix_basis(Protocol):
    def __call__(
        self,
        sand_parts: Number,
        lime_basis: Literal["slaked putty", "quicklime"] = ...,
        available_lime: Number = ...,
        putty_density: Amount = ...,
        quicklime_bulk_density: Amount = ...,
    ) -> MixBasis: ...
    @staticmethod
    def plain(
        sand_parts: float,
        lime_basis: Literal["slaked putty", "quicklime"] = ...,
        available_lime: float = ...,
        putty_density: float = ...,
        quicklime_bulk_density: float = ...,
    ) -> limekit.lime.mixes.MixBasis: ...

mix_basis: _mix_basis
"""Say a mix on both bases, for "1:3" alone does not tell which lime was counted."""

def mix_names() -> tuple[str, ...]: ...

class _moist_heating_value(Protocol):
    @overload
    def __call__(self, dry_heating_value: Amount, fuel_moisture: Number) -> Quantity: ...
    @overload
    def __call__(
        self, *, dry_heating_value: Amount, fuel_moisture: Number = ..., fuel: limekit.fire.fuel.Fuel
    ) -> Quantity: ...
    @staticmethod
    def plain(dry_heating_value: float, fuel_moisture: float) -> float: ...

moist_heating_value: _moist_heating_value
"""Return the lower heating value of a moist fuel from that of the dry fuel."""

class _mortar_mix(Protocol):
    def __call__(self, mix: str = ..., sand_voids: Number = ...) -> Mix: ...
    @staticmethod
    def plain(mix: str = ..., sand_voids: float = ...) -> limekit.lime.mixes.Mix: ...

mortar_mix: _mortar_mix
"""Return a mix by its use, made richer where the sand's voids want more putty than the recipe has."""

class _mortar_volume(Protocol):
    def __call__(self, putty_volume: Amount, sand_volume: Amount, sand_voids: Number = ...) -> Quantity: ...
    @staticmethod
    def plain(putty_volume: float, sand_volume: float, sand_voids: float = ...) -> float: ...

mortar_volume: _mortar_volume
"""Return the mortar that putty and sand make together."""

class _outside_coefficient(Protocol):
    def __call__(self, face_temperature: Amount, air_temperature: Amount = ...) -> Quantity: ...
    @staticmethod
    def plain(face_temperature: float, air_temperature: float = ...) -> float: ...

outside_coefficient: _outside_coefficient
"""Return how readily a wall's outer face gives heat to the air and the world around."""

class _overburn_class(Protocol):
    def __call__(self, overburn_index: Amount) -> str: ...
    @staticmethod
    def plain(overburn_index: float) -> str: ...

overburn_class: _overburn_class
"""Return the word for an over-burning index."""

class _overburn_history(Protocol):
    def __call__(
        self, burn_times: Amount, stone_temperatures: Amount, overburn_activation_energy: Number = ...
    ) -> Quantity: ...
    @staticmethod
    def plain(burn_times: float, stone_temperatures: float, overburn_activation_energy: float = ...) -> float: ...

overburn_history: _overburn_history
"""Return the over-burning index of a stone whose temperature was followed."""

class _overburn_index(Protocol):
    def __call__(
        self, temperature: Amount, hold_time: Amount, overburn_activation_energy: Number = ...
    ) -> Quantity: ...
    @staticmethod
    def plain(temperature: float, hold_time: float, overburn_activation_energy: float = ...) -> float: ...

overburn_index: _overburn_index
"""Return the hours at 1150 °C that would dull lime as much as a time at one temperature."""

class _people_to_watch(Protocol):
    def __call__(self, firing_time: Amount, watch_time: Amount = ..., together: int = ...) -> int: ...
    @staticmethod
    def plain(firing_time: float, watch_time: float = ..., together: int = ...) -> int: ...

people_to_watch: _people_to_watch
"""Return how few people can watch a burn, so that nobody is alone and everybody sleeps."""

def place_names() -> tuple[str, ...]: ...
def plan_back(
    weekend: datetime.date | str,
    use: Literal["mortar", "plaster", "limewash"] = ...,
    kiln: Literal["small flare", "large flare"] = ...,
    today: datetime.date | str | None = ...,
    done: Iterable[Literal["wood", "stone", "loading", "burn", "cooling", "drawing", "slaking", "maturing"]] = ...,
    known: Mapping[
        Literal["wood", "stone", "loading", "burn", "cooling", "drawing", "slaking", "maturing"], limekit.estimate.Span
    ]
    | None = ...,
) -> Calendar: ...

class _porosity_with_fines(Protocol):
    def __call__(self, charge_fines: Number, bed_porosity: Number = ...) -> Quantity: ...
    @staticmethod
    def plain(charge_fines: float, bed_porosity: float = ...) -> float: ...

porosity_with_fines: _porosity_with_fines
"""Return the gaps left in a charge once chips and crumbs have run into them."""

class _power_check(Protocol):
    def __call__(
        self, rated_power: Amount, motor_power: Amount, starting_factor: Number | None = ...
    ) -> PowerCheck: ...
    @staticmethod
    def plain(
        rated_power: float, motor_power: float, starting_factor: float | None = ...
    ) -> limekit.records.supplies.PowerCheck: ...

power_check: _power_check
"""Say whether the mains or the generator starts the mixer."""

class _putty_density(Protocol):
    def __call__(self, putty_solids: Number) -> Quantity: ...
    @staticmethod
    def plain(putty_solids: float) -> float: ...

putty_density: _putty_density
"""Return a putty's density from the share of hydrate in it; the reverse of `putty_solids`."""

class _putty_from_quicklime(Protocol):
    def __call__(self, quicklime: Amount, putty_density: Amount = ...) -> PuttyYield: ...
    @staticmethod
    def plain(quicklime: float, putty_density: float = ...) -> limekit.balance.PuttyYield: ...

putty_from_quicklime: _putty_from_quicklime
"""Return the putty that a weight of quicklime makes."""

class _putty_level(Protocol):
    def __call__(self, store: limekit.lime.tanks.Tank, putty_volume: Amount) -> Quantity: ...
    @staticmethod
    def plain(store: limekit.lime.tanks.Tank, putty_volume: float) -> float: ...

putty_level: _putty_level
"""Return the level that a volume stands to; the reverse of `putty_volume`."""

class _putty_solids(Protocol):
    def __call__(self, putty_density: Amount) -> Quantity: ...
    @staticmethod
    def plain(putty_density: float) -> float: ...

putty_solids: _putty_solids
"""Return the hydrate in a putty, by mass, from the putty's density."""

class _putty_store(Protocol):
    def __call__(
        self,
        store: limekit.lime.tanks.Tank,
        slaked_on: Sequence[datetime.date],
        putty_volumes: Amount,
        putty_densities: Amount = ...,
        use: Literal["mortar", "plaster", "limewash"] = ...,
        film_depth: Amount = ...,
        lime: Literal["fat", "magnesian"] = ...,
    ) -> PuttyStore: ...
    @staticmethod
    def plain(
        store: limekit.lime.tanks.Tank,
        slaked_on: Sequence[datetime.date],
        putty_volumes: float,
        putty_densities: float = ...,
        use: Literal["mortar", "plaster", "limewash"] = ...,
        film_depth: float = ...,
        lime: Literal["fat", "magnesian"] = ...,
    ) -> limekit.lime.putty.PuttyStore: ...

putty_store: _putty_store
"""Return how a tank stands after several burns were put into it."""

class _putty_volume(Protocol):
    def __call__(self, store: limekit.lime.tanks.Tank, putty_level: Amount) -> Quantity: ...
    @staticmethod
    def plain(store: limekit.lime.tanks.Tank, putty_level: float) -> float: ...

putty_volume: _putty_volume
"""Return the volume that stands below a level."""

def quantity(value: Number, unit: str = ..., asked: str = ..., example: str = ...) -> Quantity: ...
def read_burn_log(path: str | os.PathLike[str] | pandas.DataFrame) -> limekit.kiln.logged.BurnLog: ...
def read_logger(
    path: str | os.PathLike[str] | pandas.DataFrame, places: Mapping[str, str]
) -> limekit.kiln.logged.Logged: ...

class _read_reactivity(Protocol):
    def __call__(self, log_times: Number, log_temperatures: Number) -> Reactivity: ...
    @staticmethod
    def plain(log_times: float, log_temperatures: float) -> limekit.lime.reactivity.Reactivity: ...

read_reactivity: _read_reactivity
"""Read a slaking log: 150 g of lime in 600 g of water at 20 °C, stirred, in an insulated jar that stays open."""

class _read_slaking_log(Protocol):
    def __call__(self, path: str | os.PathLike[str] | pandas.DataFrame) -> SlakingLog: ...
    @staticmethod
    def plain(path: str | os.PathLike[str] | pandas.DataFrame) -> limekit.records.slaking_log.SlakingLog: ...

read_slaking_log: _read_slaking_log
"""Read the log of a reactivity test from a CSV file with one row a reading."""

def read_trial(
    path: str | os.PathLike[str] | pandas.DataFrame,
    stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
    *,
    calcium_carbonate: Number = ...,
    magnesium_carbonate: Number = ...,
    clay: Number | None = ...,
    stone_moisture: Number = ...,
    density: Number = ...,
    reaction_coefficient: Number = ...,
    lime_conductivity: Number = ...,
    co2_diffusivity: Number = ...,
    stone_conductivity: Number = ...,
    stone_heat_capacity: Number = ...,
    lime_heat_capacity: Number = ...,
    **made_of: Any,
) -> Trial: ...

class _ready_dates(Protocol):
    def __call__(
        self,
        slaked_on: datetime.date,
        use: Literal["mortar", "plaster", "limewash"] = ...,
        lime: Literal["fat", "magnesian"] = ...,
    ) -> tuple[limekit.lime.putty.ReadyDate, ...]: ...
    @staticmethod
    def plain(
        slaked_on: datetime.date,
        use: Literal["mortar", "plaster", "limewash"] = ...,
        lime: Literal["fat", "magnesian"] = ...,
    ) -> tuple[limekit.lime.putty.ReadyDate, ...]: ...

ready_dates: _ready_dates
"""Return when putty may be used, by every source; the kit's default first. They disagree."""

class _replay_burn(Protocol):
    def __call__(
        self, log: limekit.kiln.logged.BurnLog, firing: limekit.kiln.firing.Firing, lines: int | None = ...
    ) -> Replay: ...
    @staticmethod
    def plain(
        log: limekit.kiln.logged.BurnLog, firing: limekit.kiln.firing.Firing, lines: int | None = ...
    ) -> limekit.kiln.replay.Replay: ...

replay_burn: _replay_burn
"""Replay a burn's log against the firing that was planned, refit what differs, and forecast the finish."""

def rivals(key: str) -> tuple[limekit.facts.Fact, ...]: ...

class _run_shaft(Protocol):
    def __call__(
        self,
        kiln: limekit.kiln.kiln.Kiln | limekit.kiln.design.KilnDesign | Mapping[str, Any] | None = ...,
        *,
        draw_rate: Amount,
        fuel_ratio: Number,
        fuel: limekit.fire.fuel.Fuel | Mapping[str, Any] | str = ...,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        stone_size: Amount | None = ...,
        excess_air: Number | None = ...,
        air_temperature: Amount = ...,
        kiln_diameter: Amount | None = ...,
        kiln_height: Amount | None = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        altitude: Amount = ...,
        fuel_moisture: Number | None = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> ShaftRun: ...
    @staticmethod
    def plain(
        kiln: limekit.kiln.kiln.Kiln | None = ...,
        *,
        draw_rate: float,
        fuel_ratio: float,
        fuel: limekit.fire.fuel.Fuel = ...,
        stone: limekit.limestone.Stone = ...,
        stone_size: float | None = ...,
        excess_air: float | None = ...,
        air_temperature: float = ...,
        kiln_diameter: float | None = ...,
        kiln_height: float | None = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        altitude: float = ...,
        fuel_moisture: float | None = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
    ) -> limekit.kiln.shaft.steady.ShaftRun: ...

run_shaft: _run_shaft
"""Run a shaft kiln, its fuel among the stone, until it stands at a steady draw."""

class _sand_voids(Protocol):
    def __call__(self, water_filled: Amount, sand_volume: Amount) -> Quantity: ...
    @staticmethod
    def plain(water_filled: float, sand_volume: float) -> float: ...

sand_voids: _sand_voids
"""Return the voids in a sand, from the water that fills a measure of it to the brim."""

class _sauter_diameter(Protocol):
    def __call__(self, stone_sizes: Mapping[Any, Any], sphericity: Number = ...) -> Quantity: ...
    @staticmethod
    def plain(stone_sizes: Mapping[Any, Any], sphericity: float = ...) -> float: ...

sauter_diameter: _sauter_diameter
"""Return the one size of sphere that would hold the air back as a mixed charge does."""

def save_picture(picture: Any, path: str | os.PathLike[str]) -> pathlib.Path: ...

class _section_drawing(Protocol):
    def __call__(
        self,
        size: limekit.kiln.kiln.Kiln | limekit.kiln.design.KilnDesign | Mapping[str, Any],
        *,
        chimney_height: Amount = ...,
    ) -> str: ...
    @staticmethod
    def plain(size: limekit.kiln.kiln.Kiln, *, chimney_height: float = ...) -> str: ...

section_drawing: _section_drawing
"""Return a kiln's vertical section as an SVG to scale."""

class _sensible_heat(Protocol):
    def __call__(self, gas: Literal["n2", "o2", "co2", "h2o", "so2"], temperature: Amount) -> Quantity: ...
    @staticmethod
    def plain(gas: Literal["n2", "o2", "co2", "h2o", "so2"], temperature: float) -> float: ...

sensible_heat: _sensible_heat
"""Return the heat in a kilogram of gas above 25 °C, at constant pressure."""

class _settle(Protocol):
    def __call__(self, putty_volume: Amount, putty_density: Amount, settled_density: Amount = ...) -> Settled: ...
    @staticmethod
    def plain(
        putty_volume: float, putty_density: float, settled_density: float = ...
    ) -> limekit.lime.putty.Settled: ...

settle: _settle
"""Return what thin putty settles to; mass is kept."""

class _shaft_window(Protocol):
    def __call__(
        self,
        kiln: limekit.kiln.kiln.Kiln | limekit.kiln.design.KilnDesign | Mapping[str, Any] | None = ...,
        *,
        draw_rates: Amount | None = ...,
        fuel_ratios: Number | None = ...,
        fuel: limekit.fire.fuel.Fuel | Mapping[str, Any] | str = ...,
        stone: limekit.limestone.Stone | Mapping[str, Any] | Amount = ...,
        stone_size: Amount | None = ...,
        excess_air: Number | None = ...,
        air_temperature: Amount = ...,
        kiln_diameter: Amount | None = ...,
        kiln_height: Amount | None = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        altitude: Amount = ...,
        fuel_moisture: Number | None = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        clay: Number | None = ...,
        stone_moisture: Number = ...,
        density: Number = ...,
        reaction_coefficient: Number = ...,
        lime_conductivity: Number = ...,
        co2_diffusivity: Number = ...,
        stone_conductivity: Number = ...,
        stone_heat_capacity: Number = ...,
        lime_heat_capacity: Number = ...,
    ) -> ShaftWindow: ...
    @staticmethod
    def plain(
        kiln: limekit.kiln.kiln.Kiln | None = ...,
        *,
        draw_rates: float | None = ...,
        fuel_ratios: float | None = ...,
        fuel: limekit.fire.fuel.Fuel = ...,
        stone: limekit.limestone.Stone = ...,
        stone_size: float | None = ...,
        excess_air: float | None = ...,
        air_temperature: float = ...,
        kiln_diameter: float | None = ...,
        kiln_height: float | None = ...,
        layers: Sequence[Any] | None = ...,
        wall_kind: str | None = ...,
        altitude: float = ...,
        fuel_moisture: float | None = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        clay: float | None = ...,
        stone_moisture: float = ...,
        density: float = ...,
        reaction_coefficient: float = ...,
        lime_conductivity: float = ...,
        co2_diffusivity: float = ...,
        stone_conductivity: float = ...,
        stone_heat_capacity: float = ...,
        lime_heat_capacity: float = ...,
    ) -> limekit.kiln.shaft.steady.ShaftWindow: ...

shaft_window: _shaft_window
"""Run a shaft at many draws and fuel ratios and map where it burns well, and what hinders it elsewhere."""

def sheet(name: str) -> str: ...
def sheet_names() -> tuple[str, ...]: ...

class _sieve_residue(Protocol):
    def __call__(self, lime_charge: Amount, residue: Amount) -> Residue: ...
    @staticmethod
    def plain(lime_charge: float, residue: float) -> limekit.lime.slaking.Residue: ...

sieve_residue: _sieve_residue
"""Judge what will not slake by its share of the lime."""

class _size_kiln(Protocol):
    @overload
    def __call__(
        self,
        stone: Amount,
        largest_stone: Amount,
        *,
        kind: Literal["flare", "shaft"] = ...,
        smallest_stone: Amount | None = ...,
        height_to_diameter: Number | None = ...,
        charge_density: Amount | None = ...,
    ) -> Kiln: ...
    @overload
    def __call__(
        self,
        *,
        stone: Amount,
        largest_stone: Amount,
        kind: Literal["flare", "shaft"] = ...,
        smallest_stone: Amount | None = ...,
        height_to_diameter: Number | None = ...,
        charge_density: Amount | None = ...,
        fuel: limekit.fire.fuel.Fuel,
    ) -> Kiln: ...
    @overload
    def __call__(
        self,
        *,
        stone: Amount = ...,
        largest_stone: Amount = ...,
        kind: Literal["flare", "shaft"] = ...,
        smallest_stone: Amount | None = ...,
        height_to_diameter: Number | None = ...,
        charge_density: Amount | None = ...,
        kiln: limekit.kiln.kiln.Kiln,
    ) -> Kiln: ...
    @staticmethod
    def plain(
        stone: float,
        largest_stone: float,
        *,
        kind: Literal["flare", "shaft"] = ...,
        smallest_stone: float | None = ...,
        height_to_diameter: float | None = ...,
        charge_density: float | None = ...,
    ) -> limekit.kiln.kiln.Kiln: ...

size_kiln: _size_kiln
"""Return a first size for a kiln that holds a charge of stone."""

class _slake(Protocol):
    def __call__(
        self,
        lime_charge: Amount,
        water: Amount,
        water_temperature: Amount = ...,
        available_lime: Number = ...,
        vessel_volume: Amount | None = ...,
        vessel_kind: str = ...,
        order: Literal["lime into water", "water onto lime"] = ...,
        lime_age: Literal["fresh", "unknown"] = ...,
        putty_density: Amount = ...,
        boiling_temperature: Amount = ...,
    ) -> Slaking: ...
    @staticmethod
    def plain(
        lime_charge: float,
        water: float,
        water_temperature: float = ...,
        available_lime: float = ...,
        vessel_volume: float | None = ...,
        vessel_kind: str = ...,
        order: Literal["lime into water", "water onto lime"] = ...,
        lime_age: Literal["fresh", "unknown"] = ...,
        putty_density: float = ...,
        boiling_temperature: float = ...,
    ) -> limekit.lime.slaking.Slaking: ...

slake: _slake
"""Balance heat and water for lime slaked all at once, with no heat lost: the hottest it can get."""

class _slaking_curve(Protocol):
    def __call__(
        self,
        lime_charge: Amount,
        water: Amount,
        vessel_volume: Amount,
        charges: Number = ...,
        charge_interval: Amount = ...,
        water_temperature: Amount = ...,
        available_lime: Number = ...,
        time_to_60: Amount = ...,
        vessel_kind: str = ...,
        order: Literal["lime into water", "water onto lime"] = ...,
        boiling_temperature: Amount = ...,
    ) -> SlakingCurve: ...
    @staticmethod
    def plain(
        lime_charge: float,
        water: float,
        vessel_volume: float,
        charges: float = ...,
        charge_interval: float = ...,
        water_temperature: float = ...,
        available_lime: float = ...,
        time_to_60: float = ...,
        vessel_kind: str = ...,
        order: Literal["lime into water", "water onto lime"] = ...,
        boiling_temperature: float = ...,
    ) -> limekit.lime.charges.SlakingCurve: ...

slaking_curve: _slaking_curve
"""Follow the temperature while lime goes into the vessel in equal charges."""

class _slaking_plan(Protocol):
    def __call__(
        self,
        lime_charge: Amount,
        water: Amount,
        vessel_volume: Amount,
        water_temperature: Amount = ...,
        available_lime: Number = ...,
        time_to_60: Amount = ...,
        vessel_kind: str = ...,
        order: Literal["lime into water", "water onto lime"] = ...,
        slaking_temperature_most: Amount = ...,
        boiling_temperature: Amount = ...,
    ) -> SlakingPlan: ...
    @staticmethod
    def plain(
        lime_charge: float,
        water: float,
        vessel_volume: float,
        water_temperature: float = ...,
        available_lime: float = ...,
        time_to_60: float = ...,
        vessel_kind: str = ...,
        order: Literal["lime into water", "water onto lime"] = ...,
        slaking_temperature_most: float = ...,
        boiling_temperature: float = ...,
    ) -> limekit.lime.charges.SlakingPlan: ...

slaking_plan: _slaking_plan
"""Divide the lime into charges, and space them, so that the vessel never boils over."""

class _slaking_rise(Protocol):
    def __call__(
        self, water_to_lime: Number, available_lime: Number = ..., water_temperature: Amount = ...
    ) -> Quantity: ...
    @staticmethod
    def plain(water_to_lime: float, available_lime: float = ..., water_temperature: float = ...) -> float: ...

slaking_rise: _slaking_rise
"""Return how far slaking heats the mix if no heat is lost and nothing boils."""

def slaking_vessel(vessel_kind: str) -> limekit.lime.vessels.Vessel: ...

class _sort_draw(Protocol):
    @overload
    def __call__(
        self,
        good_lime: Amount,
        cored: Amount = ...,
        core: Amount = ...,
        overburnt: Amount = ...,
        fines: Amount = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone: Amount | None = ...,
        stone_moisture: Number = ...,
        fuel_heat: Amount | None = ...,
    ) -> Draw: ...
    @overload
    def __call__(
        self,
        *,
        good_lime: Amount,
        cored: Amount = ...,
        core: Amount = ...,
        overburnt: Amount = ...,
        fines: Amount = ...,
        calcium_carbonate: Number = ...,
        magnesium_carbonate: Number = ...,
        stone: limekit.limestone.Stone,
        stone_moisture: Number = ...,
        fuel_heat: Amount | None = ...,
    ) -> Draw: ...
    @staticmethod
    def plain(
        good_lime: float,
        cored: float = ...,
        core: float = ...,
        overburnt: float = ...,
        fines: float = ...,
        calcium_carbonate: float = ...,
        magnesium_carbonate: float = ...,
        stone: float | None = ...,
        stone_moisture: float = ...,
        fuel_heat: float | None = ...,
    ) -> limekit.lime.drawing.Draw: ...

sort_draw: _sort_draw
"""Judge a burn by its sorted weights."""

class _stack_draught(Protocol):
    @overload
    def __call__(
        self, height: Amount, gas_temperature: Amount, air_temperature: Amount = ..., altitude: Amount = ...
    ) -> Quantity: ...
    @overload
    def __call__(
        self,
        *,
        height: Amount,
        gas_temperature: Amount,
        air_temperature: Amount = ...,
        altitude: Amount = ...,
        kiln: limekit.kiln.kiln.Kiln,
    ) -> Quantity: ...
    @staticmethod
    def plain(height: float, gas_temperature: float, air_temperature: float = ..., altitude: float = ...) -> float: ...

stack_draught: _stack_draught
"""Return the pressure by which a column of hot gas draws."""

class _steady_wall(Protocol):
    @overload
    def __call__(
        self,
        layers: Sequence[Any],
        gas_temperature: Amount,
        kiln_diameter: Amount | None = ...,
        air_temperature: Amount = ...,
        face_area: Amount = ...,
        inside_coefficient: Number = ...,
        outside_coefficient: Number | None = ...,
    ) -> SteadyWall: ...
    @overload
    def __call__(
        self,
        *,
        layers: Sequence[Any] = ...,
        gas_temperature: Amount,
        kiln_diameter: Amount | None = ...,
        air_temperature: Amount = ...,
        face_area: Amount = ...,
        inside_coefficient: Number = ...,
        outside_coefficient: Number | None = ...,
        kiln: limekit.kiln.kiln.Kiln,
    ) -> SteadyWall: ...
    @staticmethod
    def plain(
        layers: Sequence[Any],
        gas_temperature: float,
        kiln_diameter: float | None = ...,
        air_temperature: float = ...,
        face_area: float = ...,
        inside_coefficient: float = ...,
        outside_coefficient: float | None = ...,
    ) -> limekit.kiln.wall.steady.SteadyWall: ...

steady_wall: _steady_wall
"""Return the heat that a wall lets through, and the temperatures in it, once it has settled."""

class _stoking_schedule(Protocol):
    def __call__(self, firing: limekit.kiln.firing.Firing, watch_time: Amount = ...) -> StokingSchedule: ...
    @staticmethod
    def plain(firing: limekit.kiln.firing.Firing, watch_time: float = ...) -> limekit.kiln.schedule.StokingSchedule: ...

stoking_schedule: _stoking_schedule
"""Cut a firing into turns at the fire."""

class _stone_drawing(Protocol):
    def __call__(self, burnt: limekit.stone.burning.BurntStone, hours: Sequence[Any] | None = ...) -> str: ...
    @staticmethod
    def plain(burnt: limekit.stone.burning.BurntStone, hours: Sequence[Any] | None = ...) -> str: ...

stone_drawing: _stone_drawing
"""Return a stone broken open at some hours in the fire, as an SVG: grey core, white lime, and the glow of its skin."""

class _stone_for_putty(Protocol):
    @overload
    def __call__(
        self,
        putty_volume: Amount,
        calcium_carbonate: Number,
        conversion: Number,
        putty_density: Amount = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        rejects: Number = ...,
    ) -> Quantity: ...
    @overload
    def __call__(
        self,
        *,
        putty_volume: Amount,
        calcium_carbonate: Number = ...,
        conversion: Number,
        putty_density: Amount = ...,
        magnesium_carbonate: Number = ...,
        stone_moisture: Number = ...,
        rejects: Number = ...,
        stone: limekit.limestone.Stone,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        putty_volume: float,
        calcium_carbonate: float,
        conversion: float,
        putty_density: float = ...,
        magnesium_carbonate: float = ...,
        stone_moisture: float = ...,
        rejects: float = ...,
    ) -> float: ...

stone_for_putty: _stone_for_putty
"""Return the stone that a wanted volume of putty takes; the reverse of `mass_balance`."""

class _stone_heat(Protocol):
    @overload
    def __call__(
        self,
        stone: Amount,
        calcium_carbonate: Number,
        conversion: Number,
        magnesium_carbonate: Number = ...,
        conversion_of_magnesium: Number = ...,
        stone_moisture: Number = ...,
        charge_temperature: Amount = ...,
    ) -> HeatNeed: ...
    @overload
    def __call__(
        self,
        stone: limekit.limestone.Stone,
        *,
        calcium_carbonate: Number = ...,
        conversion: Number,
        magnesium_carbonate: Number = ...,
        conversion_of_magnesium: Number = ...,
        stone_moisture: Number = ...,
        charge_temperature: Amount = ...,
    ) -> HeatNeed: ...
    @staticmethod
    def plain(
        stone: float,
        calcium_carbonate: float,
        conversion: float,
        magnesium_carbonate: float = ...,
        conversion_of_magnesium: float = ...,
        stone_moisture: float = ...,
        charge_temperature: float = ...,
    ) -> limekit.kiln.heat.HeatNeed: ...

stone_heat: _stone_heat
"""Return the heat a charge of stone takes up on its way to lime."""

class _tank(Protocol):
    def __call__(
        self,
        tank_shape: Literal["box", "upright cylinder", "dished cylinder", "lying cylinder", "cube container"],
        tank_height: Amount | None = ...,
        tank_length: Amount | None = ...,
        tank_width: Amount | None = ...,
        tank_diameter: Amount | None = ...,
        dish_depth: Amount | None = ...,
    ) -> Tank: ...
    @staticmethod
    def plain(
        tank_shape: Literal["box", "upright cylinder", "dished cylinder", "lying cylinder", "cube container"],
        tank_height: float | None = ...,
        tank_length: float | None = ...,
        tank_width: float | None = ...,
        tank_diameter: float | None = ...,
        dish_depth: float | None = ...,
    ) -> limekit.lime.tanks.Tank: ...

tank: _tank
"""Return a tank by its inside measures."""

class _tide_drawing(Protocol):
    def __call__(self, firing: limekit.kiln.firing.Firing, hours: Sequence[Any] | None = ...) -> str: ...
    @staticmethod
    def plain(firing: limekit.kiln.firing.Firing, hours: Sequence[Any] | None = ...) -> str: ...

tide_drawing: _tide_drawing
"""Return a kiln cut in half at some hours of its firing, as an SVG: the tide of heat, and behind it that of lime."""

class _time_to_depth(Protocol):
    def __call__(
        self,
        carbonated_depth: Amount,
        humidity: Number = ...,
        weather_temperature: Amount = ...,
        wet_share: Number = ...,
        carbonation_rate: Amount = ...,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        carbonated_depth: float,
        humidity: float = ...,
        weather_temperature: float = ...,
        wet_share: float = ...,
        carbonation_rate: float = ...,
    ) -> float: ...

time_to_depth: _time_to_depth
"""Return how long lime takes to set to a depth; the reverse of `carbonation_depth`."""

def timetable(
    pieces: Iterable[tuple[str, int]],
    start: str = ...,
    end: str = ...,
    lunch: str = ...,
    lunch_minutes: int = ...,
    break_after: int = ...,
    break_minutes: int = ...,
) -> tuple[limekit.records.roster.Slot, ...]: ...
def tools(people: int, others: int = ...) -> tuple[limekit.records.supplies.Item, ...]: ...
def trial_table(trial: limekit.stone.trial.Trial) -> pandas.DataFrame: ...

class _wall_buildup(Protocol):
    @overload
    def __call__(
        self,
        kiln_diameter: Amount,
        kiln_height: Amount,
        firing_time: Amount,
        gas_temperature: Amount,
        lining: str = ...,
        fill: str | None = ...,
        outer: str = ...,
        *,
        limits: limekit.kiln.wall.buildup.WallLimits | Mapping[str, Any] = ...,
        heat_up_time: Amount | None = ...,
        air_temperature: Amount = ...,
        heating_value: Amount | None = ...,
        thickness_most: Amount | None = ...,
        bricks_most: Number | None = ...,
        fuel_most: Amount | None = ...,
    ) -> WallChoices: ...
    @overload
    def __call__(
        self,
        *,
        kiln_diameter: Amount = ...,
        kiln_height: Amount = ...,
        firing_time: Amount,
        gas_temperature: Amount,
        lining: str = ...,
        fill: str | None = ...,
        outer: str = ...,
        limits: limekit.kiln.wall.buildup.WallLimits | Mapping[str, Any] = ...,
        heat_up_time: Amount | None = ...,
        air_temperature: Amount = ...,
        heating_value: Amount | None = ...,
        kiln: limekit.kiln.kiln.Kiln,
        thickness_most: Amount | None = ...,
        bricks_most: Number | None = ...,
        fuel_most: Amount | None = ...,
    ) -> WallChoices: ...
    @staticmethod
    def plain(
        kiln_diameter: float,
        kiln_height: float,
        firing_time: float,
        gas_temperature: float,
        lining: str = ...,
        fill: str | None = ...,
        outer: str = ...,
        *,
        limits: limekit.kiln.wall.buildup.WallLimits = ...,
        heat_up_time: float | None = ...,
        air_temperature: float = ...,
        heating_value: float | None = ...,
        thickness_most: float | None = ...,
        bricks_most: float | None = ...,
        fuel_most: float | None = ...,
    ) -> limekit.kiln.wall.buildup.WallChoices: ...

wall_buildup: _wall_buildup
"""Try every likely thickness of lining, fill and outer wall, and rank them by the fuel they take."""

class _wall_mortar(Protocol):
    def __call__(
        self,
        wall_area: Amount,
        wall_thickness: Amount,
        walling: Literal["brick", "rubble", "ashlar"] = ...,
        joint_share: Number | None = ...,
        mix: str = ...,
        sand_voids: Number = ...,
        waste: Number = ...,
        putty_density: Amount = ...,
    ) -> MortarNeed: ...
    @staticmethod
    def plain(
        wall_area: float,
        wall_thickness: float,
        walling: Literal["brick", "rubble", "ashlar"] = ...,
        joint_share: float | None = ...,
        mix: str = ...,
        sand_voids: float = ...,
        waste: float = ...,
        putty_density: float = ...,
    ) -> limekit.lime.mortar.MortarNeed: ...

wall_mortar: _wall_mortar
"""Return the mortar to build a wall."""

class _warming_time(Protocol):
    def __call__(
        self,
        diameter: Amount,
        gas_temperature: Amount,
        co2_fraction: Number = ...,
        heat_transfer_coefficient: Number = ...,
        start_temperature: Amount = ...,
    ) -> Quantity: ...
    @staticmethod
    def plain(
        diameter: float,
        gas_temperature: float,
        co2_fraction: float = ...,
        heat_transfer_coefficient: float = ...,
        start_temperature: float = ...,
    ) -> float: ...

warming_time: _warming_time
"""Return how long a sphere of stone warms before its core has come to the front's temperature."""

class _watches(Protocol):
    def __call__(
        self,
        lit: datetime.datetime,
        firing_time: Amount,
        people: Sequence[str],
        watch_time: Amount = ...,
        together: int = ...,
    ) -> Watches: ...
    @staticmethod
    def plain(
        lit: datetime.datetime, firing_time: float, people: Sequence[str], watch_time: float = ..., together: int = ...
    ) -> limekit.records.roster.Watches: ...

watches: _watches
"""Share a burn's hours out, so that nobody watches alone and everybody sleeps."""

class _water_to_slake(Protocol):
    def __call__(self, lime_charge: Amount, product: Literal["putty", "dry hydrate"] = ...) -> Quantity: ...
    @staticmethod
    def plain(lime_charge: float, product: Literal["putty", "dry hydrate"] = ...) -> float: ...

water_to_slake: _water_to_slake
"""Return the water usually given to a weight of lime."""

class _weather_factor(Protocol):
    def __call__(self, humidity: Number, weather_temperature: Amount, wet_share: Number = ...) -> Quantity: ...
    @staticmethod
    def plain(humidity: float, weather_temperature: float, wet_share: float = ...) -> float: ...

weather_factor: _weather_factor
"""Return how fast weather lets lime set, beside 20 °C, half humidity and a dry face."""

class _wet_basis(Protocol):
    def __call__(self, dry_basis_moisture: Number) -> Quantity: ...
    @staticmethod
    def plain(dry_basis_moisture: float) -> float: ...

wet_basis: _wet_basis
"""Return moisture as a share of the wet mass from moisture as a share of the dry mass."""

class _work_line(Protocol):
    def __call__(
        self,
        work: Amount,
        wage: str | float = ...,
        work_low: Amount | None = ...,
        work_high: Amount | None = ...,
        name: str = ...,
    ) -> CostLine: ...
    @staticmethod
    def plain(
        work: float, wage: float = ..., work_low: float | None = ..., work_high: float | None = ..., name: str = ...
    ) -> limekit.ledger.lines.CostLine: ...

work_line: _work_line
"""Return the line of hours worked; they are counted even where nobody is paid."""

def write_blank_csv(
    path: str | os.PathLike[str],
    columns: Sequence[limekit.records.columns.Column] = ...,
    sep: Literal[",", ";", "tab"] = ...,
) -> pathlib.Path: ...
