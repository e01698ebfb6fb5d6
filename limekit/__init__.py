"""limekit: the computing behind a course on burning lime, from a stove test to a kiln."""

from __future__ import annotations

from importlib import import_module

_HOMES = {
    "balance": ("mass_balance", "putty_density", "putty_from_quicklime", "putty_solids"),
    "chemistry": (
        "carbonation_heat",
        "composition",
        "composition_from_loss",
        "dissociation_pressure",
        "dissociation_temperature",
        "hydration_heat",
        "loss_from_weights",
        "loss_on_ignition",
    ),
    "errors": ("InputError", "RecordError"),
    "facts": ("fact", "rivals"),
    "pictures.blackbody": ("glow_chromaticity", "glow_swatch"),
    "pictures.design_sheet": ("design_sheet",),
    "pictures.glow": ("glow_strip",),
    "pictures.section": ("section_drawing",),
    "stone.overburn": ("overburn_class", "overburn_history", "overburn_index"),
    "stone.signs": ("burn_signs", "diagnose"),
    "stone.glow": ("glow_colour", "glow_sources", "glow_temperature"),
    "stone.assessment": ("assess_trial",),
    "stone.burning": ("burn_stone", "burning_time", "warming_time"),
    "stone.history": ("FireHistory",),
    "fire.air": ("air_pressure", "gas_density", "gas_viscosity"),
    "fire.bed": ("bed_pressure_drop", "porosity_with_fines", "sauter_diameter"),
    "fire.draught": ("draught_flow", "stack_draught"),
    "fire.flue": ("co2_max", "combustion", "excess_air_at"),
    "fire.fuel": ("air_demand", "higher_heating_value", "lower_heating_value", "moist_heating_value", "wet_basis"),
    "fire.gases": ("sensible_heat",),
    "fire.stacks": ("fuel_mass_in", "fuel_volume"),
    "grading": ("building_lime_class", "cementation_index", "hydraulic_index", "judge_stone"),
    "kiln.design": ("design_kiln",),
    "kiln.buildup": ("wall_buildup",),
    "kiln.cooling": ("cool_kiln",),
    "kiln.ensemble": ("fire_range",),
    "kiln.firing": ("fire_kiln",),
    "kiln.heat": ("fuel_demand", "fuel_mass", "kiln_efficiency", "stone_heat"),
    "kiln.schedule": ("stoking_schedule",),
    "kiln.replay": ("replay_burn",),
    "kiln.shaft": ("run_shaft", "shaft_window"),
    "kiln.sizing": ("size_kiln", "stone_for_putty"),
    "kiln.wall_fired": ("fire_wall",),
    "kiln.walls": ("outside_coefficient", "steady_wall"),
    "lime.carbonation": ("carbonation_depth", "curing_calendar", "time_to_depth", "weather_factor"),
    "lime.charges": ("slaking_curve", "slaking_plan"),
    "lime.drawing": ("core_share", "sort_draw"),
    "lime.mixes": ("mix_basis", "mix_names", "mortar_mix", "mortar_volume", "sand_voids"),
    "lime.mortar": ("coat_mortar", "limewash", "wall_mortar"),
    "lime.places": ("binder_for", "place_names"),
    "lime.putty": ("putty_store", "ready_dates", "settle"),
    "lime.reactivity": ("bucket_test", "read_reactivity"),
    "lime.slaking": (
        "boil_limit",
        "sieve_residue",
        "slake",
        "slaking_rise",
        "water_to_slake",
    ),
    "lime.tanks": ("putty_level", "putty_volume", "tank"),
    "lime.vessels": ("slaking_vessel",),
    "stone.contradiction": ("compare_piece", "compare_trial"),
    "stone.trial": ("conversion_by_core", "conversion_by_weight"),
    "ledger.carbon": ("bought_carbon", "carbon_bars", "carbon_ledger", "freight_carbon", "fuel_carbon"),
    "ledger.lines": ("cost_line", "kiln_line", "work_line"),
    "ledger.money": ("break_even", "cost_sheet"),
    "records.burn_log": ("read_burn_log",),
    "records.examples": ("example_path",),
    "records.kiln_record": ("Record",),
    "records.forms": ("sheet", "sheet_names"),
    "records.roster": ("groups", "timetable", "watches"),
    "records.sheets": ("blank_sheet", "write_blank_csv"),
    "records.slaking_log": ("read_slaking_log",),
    "records.supplies": ("burn_checks", "generator_check", "materials", "tools"),
    "records.trial_sheet": ("read_trial", "trial_table"),
    "records.workshop": ("draw_time", "plan_back"),
    "units": ("quantity",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME_OF)


def __getattr__(name: str):
    """Import a public name from its module when it is first asked for."""
    if name not in _HOME_OF:
        raise AttributeError(f"limekit has no {name!r}; it has {', '.join(__all__)}")
    return getattr(import_module(f"limekit.{_HOME_OF[name]}"), name)


def __dir__() -> list[str]:
    return __all__
