"""A charge poured, laid by hand or with flues: its gaps, its foot, and the air beside its stones."""

import math

import fluids
import numpy as np
import pytest
from scipy.optimize import brentq

import limekit
from limekit.edge import plain
from limekit.errors import InputError
from limekit.facts import fact
from limekit.fire.air import gas_density, gas_viscosity
from limekit.fire.air_way import AirWay, air_among, air_drawn, spent
from limekit.fire.bed import flue_resistance, laid_porosity, usual_flues

WAY = AirWay.plain(2.5, 2.0, 0.08, 0.25, 0.2, hearth_height=0.6, chimney_height=2.0, chimney_diameter=0.5)
HOT = 1000.0, 600.0, 283.0
SIZE = plain(limekit.size_kiln(stone="500 kg", largest_stone="80 mm"))


def test_flow_with_flues_stands_beside_a_bracketed_root_of_the_equations_written_out():
    gas, top, air = HOT
    way, gas_to_air, width = WAY.but(flues=5, flue_width=0.12), 1.12, 0.12
    area, flue = math.pi / 4 * 2.0**2, math.pi / 4 * 0.5**2
    hollow = 5 * math.pi / 4 * width**2
    thin, thick = gas_density.plain(gas), gas_density.plain(top)

    def of_bed(lost):
        def left(flow):
            speed = flow / (thin * (area - hollow))
            return lost - fluids.packed_bed.Ergun(0.08, 0.42, speed, thin, gas_viscosity.plain(gas), L=2.5)

        return brentq(left, 1e-9, 20.0, xtol=1e-14)

    def of_flues(lost):
        heads = fact("laid_flue_ends") + fact("laid_flue_friction") * 2.5 / width
        return hollow * math.sqrt(2.0 * thin * lost / heads)

    breath = way.breathe(gas, top, air, gas_to_air)
    flows = of_bed(breath.losses["bed"]), of_flues(breath.losses["bed"])
    assert breath.mass_flux * area * gas_to_air == pytest.approx(sum(flows), rel=1e-9)
    assert breath.flue_share == pytest.approx(flows[1] / sum(flows), rel=1e-9)
    moved = breath.mass_flux * area
    assert breath.losses["opening"] == pytest.approx((moved / (0.61 * 0.25)) ** 2 / (2 * gas_density.plain(air)))
    assert breath.losses["chimney"] == pytest.approx(
        (moved * gas_to_air / flue) ** 2 / (2 * thick) * (1.0 + 0.04 * 2.0 / 0.5)
    )
    assert sum(breath.losses.values()) == pytest.approx(breath.stack_pressure, rel=1e-9)


def test_air_among_stones_and_through_flues_adds_up_whatever_the_kiln():
    rng = np.random.default_rng(1)
    terms = WAY.terms(*HOT)
    for sizes in 10 ** rng.uniform([-2, 0, -6, 0, 0, 0, 0, 0], [2, 4, 2, 5, 6, 5, 5, 5], (300, 8)):
        terms = type(terms)(*sizes)
        among, beside = air_drawn(terms)
        assert sum(spent(terms, among + beside, among).values()) == pytest.approx(terms.pressure, rel=1e-9)
        assert air_among(terms, among + beside) == pytest.approx(among, rel=1e-6)


def test_no_flues_are_the_bed_alone_to_the_last_digit():
    for narrow in (0.05, 0.3):
        assert WAY.but(flues=0, flue_width=narrow).breathe(*HOT) == WAY.breathe(*HOT)
    assert WAY.breathe(*HOT).flue_share == 0.0
    assert air_drawn(WAY.but(flues=3).terms(280.0, 280.0, 290.0)) == (0.0, 0.0), "a cold kiln stands still"


def test_more_flues_or_wider_never_draw_less_and_of_very_many_the_openings_are_left():
    draws = [WAY.but(flues=flues).breathe(*HOT) for flues in (0, 1, 3, 10, 40, 200)]
    assert np.all(np.diff([one.mass_flux for one in draws]) > 0.0)
    assert np.all(np.diff([one.flue_share for one in draws]) > 0.0)
    wide = [WAY.but(flues=3, flue_width=width).breathe(*HOT).mass_flux for width in (1e-4, 0.1, 0.2, 0.5)]
    assert np.all(np.diff(wide) > 0.0)
    assert wide[0] == pytest.approx(draws[0].mass_flux, rel=1e-6)
    terms = WAY.terms(*HOT)
    rest = terms.opening + terms.eye + terms.chimney
    assert draws[-1].mass_flux < math.sqrt(terms.pressure / rest)
    assert WAY.but(flues=60, flue_width=0.25).breathe(*HOT).mass_flux > 0.9 * math.sqrt(terms.pressure / rest)


def test_a_chimney_of_the_height_named_carries_the_fire_wanted_through_flues():
    kiln = {"bed_height": 2.5, "kiln_diameter": 2.0, "sauter_diameter": 0.08, "air_opening_area": 0.25}
    asked = kiln | {"eye_area": 0.2, "gas_temperature": 1073.15, "flues": 4}
    wanted = 1.2 * limekit.draught_flow.plain(**asked).fuel_rate_most
    high = limekit.draught_flow.plain(**asked, fuel_rate=wanted).chimney_wanted
    assert limekit.draught_flow.plain(**asked, chimney_height=high).fuel_rate_most == pytest.approx(wanted)


@pytest.mark.parametrize("flues", [-1, 2.5, 400, "3", True, [3], math.nan, math.inf])
def test_flues_that_cannot_be_are_refused(flues):
    with pytest.raises(InputError, match="flues"):
        WAY.but(flues=flues).breathe(*HOT)


def test_flues_without_room_are_told_by_number_width_and_kiln():
    with pytest.raises(InputError, match=r"400 of 120 mm in a kiln 2\.00 m across"):
        WAY.but(flues=400, flue_width=0.12).breathe(*HOT)


def test_a_flue_takes_its_ends_and_its_friction():
    short, long = flue_resistance(0.1, 1.0), flue_resistance(0.1, 2.0)
    assert 2.0 * (long - short) == pytest.approx(fact("laid_flue_friction") / 0.1)
    assert 2.0 * flue_resistance(0.1, 0.0) == pytest.approx(fact("laid_flue_ends"))
    rough = fluids.friction_factor(Re=1e9, eD=0.05)
    assert rough == pytest.approx(fact("laid_flue_friction").low, rel=0.25), "Nikuradse's law, at its roughest"


def test_stone_gains_gaps_by_a_wall_as_spheres_do():
    far = laid_porosity.plain("by hand", 0.001, 1000.0)
    assert far == pytest.approx(fact("bed_porosity", "by_hand"), abs=1e-6)
    for across in (0.15, 0.4, 1.0, 3.0):
        theirs = fluids.packed_bed.voidage_Benyahia_Oneil_spherical(Dp=0.08, Dt=across) - 0.390
        assert laid_porosity.plain("by hand", 0.08, across) - far == pytest.approx(theirs, rel=1e-3)
    gaps = [laid_porosity.plain("with flues", 0.08, across) for across in (0.2, 0.5, 1.0, 4.0)]
    assert np.all(np.diff(gaps) < 0.0)
    assert laid_porosity.plain("poured", 0.08, 0.2) == fact("bed_porosity") < min(gaps)
    with pytest.raises(InputError, match="narrower than the kiln"):
        laid_porosity.plain("by hand", 0.3, 0.3)


def test_a_charge_laid_by_hand_stands_on_its_vault_and_a_poured_one_level():
    poured, laid = SIZE.but(laid="poured").air_way(0.06), SIZE.air_way(0.06)
    assert (poured.bed_height, poured.hearth_height) == (SIZE.bed_height, SIZE.hearth_height)
    assert (poured.bed_porosity, poured.flues) == (fact("bed_porosity"), 0)
    assert laid.bed_height == pytest.approx(SIZE.kiln_height - SIZE.vault_height)
    assert laid.hearth_height == fact("hearth_least") > SIZE.vault_height
    large = plain(limekit.size_kiln(stone="10 tonne", largest_stone="150 mm"))
    assert large.air_way(0.1).hearth_height == large.vault_height > fact("hearth_least")
    assert large.air_way(0.1, bed_porosity=0.5).bed_porosity == 0.5, "what is said goes before the rule"


def test_poles_by_rule_take_the_share_of_the_section_that_is_told():
    assert usual_flues(0.1, 0.8) == 3
    assert usual_flues(0.17, 0.5) == fact("laid_flues_least")
    share = [usual_flues(0.1, across) * (0.1 / across) ** 2 for across in (1.0, 2.0, 3.0)]
    assert share == pytest.approx([float(fact("laid_flue_share"))] * 3, rel=0.13)
    assert SIZE.but(laid="with flues").air_way(0.06).flues == usual_flues(0.1, SIZE.kiln_diameter)
    assert SIZE.but(laid="with flues", flues=0).air_way(0.06) == SIZE.but(laid="by hand", flues=0).air_way(0.06)
    assert SIZE.but(flues=2).air_way(0.06).flues == 2


def test_the_looser_a_charge_lies_the_sooner_it_is_burnt():
    fired = [limekit.fire_kiln(SIZE, laid=laid, levels=6) for laid in ("poured", "by hand", "with flues")]
    hours = [one.finish.to("h").magnitude for one in fired]
    assert hours[2] < hours[1] < hours[0]
    budget = plain(fired[2]).heat_budget
    assert budget.fuel_heat > 0.0
    outlined = limekit.fire_kiln(limekit.Kiln(stone="500 kg", largest_stone="80 mm", laid="with flues"), levels=6)
    assert outlined.finish == fired[2].finish
    assert limekit.fire_kiln(SIZE, levels=6).finish == fired[1].finish
    with pytest.raises(InputError, match="by hand"):
        limekit.fire_kiln(SIZE, laid="byhand")


def test_places_of_a_charge_are_counted_from_the_vault_s_crown():
    laid = limekit.fire_kiln.plain(SIZE, laid="by hand", hours=3600.0, levels=5).history.heights
    level = SIZE.but(laid="poured").charge_height / 5
    assert np.diff(laid) == pytest.approx(SIZE.but(laid="by hand").charge_height / 5)
    assert laid[0] == pytest.approx(SIZE.vault_height + (SIZE.kiln_height - SIZE.vault_height) / 10)
    poured = limekit.fire_kiln.plain(SIZE, laid="poured", hours=3600.0, levels=5).history.heights
    assert poured[0] == pytest.approx(SIZE.hearth_height + level / 2)
