import json
import math

import numpy as np
import pandas as pd
import pytest

from limekit import glossary
from limekit.course.controls import Choice, Slider
from limekit.course.explorer import PLOTLY, Explorer
from limekit.errors import InputError
from limekit.facts import fact
from limekit.pictures import looks
from limekit.pictures.picture import Picture
from limekit.records.kiln_record import Record

TOO_BIG = 0.15


def sphere(diameter, temperature):
    if diameter > TOO_BIG:
        raise InputError("diameter", "<b>a boulder</b>", "150 mm at most")
    if temperature > 1470:
        raise ZeroDivisionError("the kit divides by nothing")
    return {"volume": math.pi * diameter**3 / 6, "temperature": temperature}


def drawn(result):
    made = Picture(f"{result['temperature']:.0f} K")
    made.line("held", np.array([0.0, 1.0]), np.array([0.0, result["volume"]]), looks.FIRE)
    made.note("one", 0, 0)
    return made


def picture(*traces, **layout):
    return {"data": list(traces), "layout": layout}


def words(result):
    return f"It holds {1e6 * result['volume']:.0f} mL."


def explorer(**more):
    controls = [Slider("diameter", start="60 mm"), Slider("temperature", start="900 degC")]
    return Explorer(controls, sphere, drawn, words, **more)


class TestControls:
    def test_slider_stands_in_the_glossary_unit_and_gives_si(self):
        one = explorer()
        assert one.controls["diameter"].value == 60
        assert one.values == pytest.approx({"diameter": 0.06, "temperature": 1173.15})
        assert "[mm]" in one.controls["diameter"].description

    def test_a_difference_of_temperature_is_not_shifted(self):
        slider = Slider("diameter", low="1 cm", high="0.2 m")
        assert (slider.widget().min, slider.widget().max) == (10, 200)

    def test_starts_at_the_fact_of_its_name(self):
        slider = Slider("lime_conductivity")
        assert slider.si(slider.widget().value) == pytest.approx(fact("lime_conductivity"))

    def test_the_page_sends_six_with_a_rounding_error_and_six_is_meant(self):
        assert Slider("charges").si(6.000000000000001) == 6.0
        assert Slider("water_to_lime").si(2.4999999999999996) == 2.5

    def test_a_curve_runs_from_end_to_end_of_its_slider(self):
        ends = glossary.entry("diameter")
        assert Slider("diameter").grid(2) == pytest.approx([ends.slide_from / 1000, ends.slide_to / 1000])
        assert Slider("temperature", low="100 degC", high="300 degC").grid(3) == pytest.approx([373.15, 473.15, 573.15])

    def test_a_start_outside_the_ends_is_brought_in(self):
        assert Slider("diameter", start="500 mm").widget().value == 200

    def test_shares_read_in_percent_and_the_rest_to_their_step(self):
        assert Slider("fuel_moisture").widget().readout_format == ".0%"
        assert Slider("diameter").widget().readout_format == ".0f"
        assert Slider("co2_pressure").widget().readout_format == ".2f"

    def test_a_start_of_the_wrong_kind_teaches(self):
        with pytest.raises(InputError, match="diameter"):
            Slider("diameter", start="3 tons").widget()

    def test_choice_gives_its_value(self):
        controls = [Choice("fuel", {"dry oak": "oak", "fir": "fir"}, start="fir")]
        one = Explorer(controls, lambda fuel: fuel, lambda _: Picture(), lambda fuel: f"Burning {fuel}.")
        assert one.sentence == "Burning fir."
        one.controls["fuel"].value = "oak"
        assert one.sentence == "Burning oak."

    def test_play_walks_the_slider_and_follows_it(self):
        controls = [Slider("diameter", low="10 mm", high="20 mm", step=2.5, start="10 mm", plays=True)]
        one = Explorer(controls, lambda diameter: diameter, lambda _: Picture(), lambda d: f"{1000 * d:.1f} mm")
        buttons = one.children[2].children[-2].children
        play = next(button for button in buttons if hasattr(button, "interval"))
        assert play.max == 4
        play.value = 3
        assert one.sentence == "17.5 mm"
        one.controls["diameter"].value = 15
        assert play.value == 2
        one.controls["diameter"].value = 13.1
        assert one.sentence == "13.1 mm", "play moves a slider that stands between two steps"


class TestExplorer:
    def test_moving_a_control_changes_sentence_and_picture_in_place(self):
        one = explorer()
        canvas = one.canvas
        one.controls["diameter"].value = 100
        assert one.sentence == f"It holds {1e6 * math.pi * 0.1**3 / 6:.0f} mL."
        assert one.canvas is canvas
        assert one.figure.data[0].y[-1] == pytest.approx(math.pi * 0.1**3 / 6)
        one.controls["temperature"].value = 1000
        assert one.figure.layout.title.text == "1273 K"

    def test_a_move_sends_its_picture_once(self):
        one, sent = explorer(), []
        one.canvas.observe(lambda change: sent.append(json.loads(change["new"])), "drawn")
        one.controls["diameter"].value = 100
        assert [picture["data"][0]["y"] for picture in sent] == [[0.0, pytest.approx(math.pi * 0.1**3 / 6)]]
        one.controls["temperature"].value = 1000
        assert [picture["layout"]["title"]["text"] for picture in sent] == ["1173 K", "1273 K"]

    def test_what_is_no_number_comes_to_the_page_as_a_gap(self):
        gap = {"type": "scatter", "y": np.array([1.0, np.nan, np.inf])}
        one = Explorer([Slider("diameter")], lambda diameter: diameter, lambda _: picture(gap), "{:.2f} m".format)
        assert json.loads(one.canvas.drawn)["data"][0]["y"] == [1.0, None, None]

    def test_a_picture_is_greyed_until_the_next(self):
        line = {"type": "scatter", "y": [1.0], "opacity": 0.9}
        one = Explorer([Slider("diameter")], lambda diameter: diameter, lambda _: picture(line), "{:.2f} m".format)
        one.canvas.grey()
        assert one.figure.data[0].opacity == 0.2
        one.controls["diameter"].value = 140
        assert one.figure.data[0].opacity == 0.9

    def test_it_looks_as_the_picture_was_drawn(self):
        def picture(d):
            made = Picture("Core", "time [h]", "core [mm]")
            made.line("core", [0.0, d], [d, 0.0], looks.FIRE)
            return made

        one = Explorer([Slider("diameter")], lambda diameter: diameter, picture, "{:.3f} m".format)
        one.controls["diameter"].value = 100
        assert one.figure.layout.template.layout.paper_bgcolor == looks.PAPER
        assert one._repr_mimebundle_()[PLOTLY]["layout"]["template"]["layout"]["plot_bgcolor"] == looks.PAPER

    def test_an_input_error_is_shown_escaped_and_nothing_stale_is_left(self):
        one = explorer()
        one.controls["diameter"].value = 160
        assert "boulder" in one.error
        assert one.sentence == ""
        alert = one._alert.value
        assert 'role="alert"' in alert
        assert "&lt;b&gt;" in alert
        assert "<b>" not in alert
        assert "mL" not in one._caption.value
        assert one.figure.data[0].opacity < 0.5

    def test_a_refusal_stands_under_the_control_it_names_else_under_the_one_moved(self):
        one = explorer()
        one.controls["diameter"].value = 160
        assert "limekit-at-fault" in one.controls["diameter"]._dom_classes
        assert one._alert.layout.order == one.controls["diameter"].layout.order
        one.controls["temperature"].value = 1000
        assert "limekit-at-fault" in one.controls["diameter"]._dom_classes, "the control at fault is still diameter"
        one.reset()
        assert "limekit-at-fault" not in one.controls["diameter"]._dom_classes
        one.controls["temperature"].value = 1200
        assert one._alert.layout.order == one.controls["temperature"].layout.order
        assert "limekit-at-fault" not in one.controls["diameter"]._dom_classes

    def test_it_recovers(self):
        one = explorer()
        one.controls["diameter"].value = 160
        one.controls["diameter"].value = 60
        assert one.error == ""
        assert one.sentence == "It holds 113 mL."
        assert one.figure.data[0].opacity in (None, 1)

    def test_a_fault_of_the_kit_says_so(self):
        one = explorer()
        one.controls["temperature"].value = 1200
        assert one.error.startswith("A fault in the kit")
        assert "ZeroDivisionError" in one.error

    def test_first_values_that_fail_are_not_hidden(self):
        with pytest.raises(InputError):
            Explorer([Slider("diameter", start="200 mm")], lambda diameter: sphere(diameter, 300), drawn, words)

    def test_presets_set_several_at_once_and_reset_goes_back(self):
        runs = []

        def counted(**values):
            runs.append(values)
            return sphere(**values)

        one = Explorer(
            [Slider("diameter", start="60 mm"), Slider("temperature", start="900 degC")],
            counted,
            drawn,
            words,
            presets={
                "a hot egg": {"temperature": "1100 degC"},
                "an egg": {"diameter": "5 cm", "temperature": "1000 degC"},
            },
        )
        one.controls["temperature"].value = 950
        one.preset.value = "a hot egg"
        one.controls["temperature"].value += 0.5 * one.controls["temperature"].step
        assert one.preset.value == "a hot egg", "the page put the slider on its nearest step"
        one.controls["temperature"].value = 1100
        one.preset.value = "a hot egg"
        assert runs[-1] == pytest.approx({"diameter": 0.06, "temperature": 1373.15}), "a case starts from the start"
        one.preset.value = "an egg"
        assert runs[-1] == pytest.approx({"diameter": 0.05, "temperature": 1273.15})
        assert len(runs) == 6
        one.controls["diameter"].value = 100
        assert one.preset.value == ""
        one.reset_button.click()
        assert one.values == pytest.approx({"diameter": 0.06, "temperature": 1173.15})

    def test_a_preset_past_the_end_of_a_slider_is_refused(self):
        with pytest.raises(InputError, match="where its slider ends"):
            explorer(presets={"a house": {"diameter": "5 m"}})
        with pytest.raises(InputError, match="diameter"):
            explorer().set(diameter="1 mm")

    def test_a_way_of_looking_does_not_run_the_model_again(self):
        runs = []
        one = Explorer(
            [Slider("diameter"), Slider("temperature", looks=True, start="900 degC")],
            lambda diameter: runs.append(diameter) or diameter,
            lambda result, temperature: picture({"type": "scatter", "x": [0.0], "y": [temperature]}),
            lambda result, temperature: f"{temperature:.0f} K",
        )
        one.controls["temperature"].value = 1000
        assert one.sentence == "1273 K"
        assert len(runs) == 1

    def test_table_is_made_when_opened_and_kept_fresh(self):
        asked = []

        def table(result):
            asked.append(result)
            return pd.DataFrame({"volume <m³>": [result["volume"]]})

        one = explorer(table=table)
        voice = one.children[-1]
        one.controls["diameter"].value = 80
        assert not asked
        voice.is_open = True
        assert "&lt;m³&gt;" in voice.table
        before = voice.table
        one.controls["diameter"].value = 100
        assert voice.table != before
        one.controls["diameter"].value = 160
        assert voice.table == ""

    def test_other_traces_take_the_place_of_the_old(self):
        one = Explorer(
            [Slider("diameter", start="60 mm")],
            lambda diameter: diameter,
            lambda d: picture({"type": "scatter", "y": [1.0]}, *([] if d < 0.1 else [{"type": "bar", "y": [d]}])),
            lambda d: f"{d:.2f} m",
        )
        one.controls["diameter"].value = 150
        assert [trace.type for trace in one.figure.data] == ["scatter", "bar"]
        one.controls["diameter"].value = 50
        assert [trace.type for trace in one.figure.data] == ["scatter"]

    def test_annotations_that_are_gone_do_not_stay(self):
        def noted(d):
            return picture({"type": "scatter", "y": [d]}, annotations=[{"text": "x"}] * (2 if d < 0.1 else 0))

        one = Explorer([Slider("diameter", start="60 mm")], lambda diameter: diameter, noted, "{:.2f} m".format)
        one.controls["diameter"].value = 150
        assert len(one.figure.layout.annotations) == 0

    def test_a_page_where_nothing_runs_gets_picture_and_sentence(self):
        one = explorer()
        bundle = one._repr_mimebundle_()
        assert bundle["text/plain"] == one.sentence == repr(one)
        assert "application/vnd.jupyter.widget-view+json" in bundle
        assert len(bundle[PLOTLY]["data"]) == 1
        assert "uid" not in bundle[PLOTLY]["data"][0]
        assert len(json.dumps(bundle[PLOTLY])) < 60_000


class TestKeeping:
    @pytest.fixture
    def kept(self, monkeypatch, tmp_path):
        monkeypatch.chdir(tmp_path)
        one = Explorer(
            [Slider("calcium_carbonate", start=0.9), Slider("diameter", start="60 mm")],
            lambda calcium_carbonate, diameter: (calcium_carbonate, sphere(diameter, 300)),
            lambda result: drawn(result[1]),
            lambda result: f"{result[0]:.0%}",
            keeps=lambda result: {"stone": {"calcium_carbonate": result[0], "density": "2600 kg/m^3"}},
        )
        return one, tmp_path / "my_kiln.toml"

    def test_nothing_is_written_before_the_button_is_pressed(self, kept):
        one, path = kept
        one.controls["calcium_carbonate"].value = 0.8
        assert not path.exists()

    def test_the_button_writes_and_says_what(self, kept):
        one, path = kept
        one.controls["calcium_carbonate"].value = 0.8
        one.keep_button.click()
        record = Record.load(path)
        assert record["stone"]["calcium_carbonate"] == 0.8
        assert record.is_own("stone.density")
        assert "calcium carbonate 0.8" in one._note.value
        assert 'role="status"' in one._note.value

    def test_no_answer_is_not_kept(self, kept):
        one, path = kept
        one.controls["diameter"].value = 160
        one.keep_button.click()
        assert not path.exists()
        assert 'role="alert"' in one._note.value

    def test_a_record_that_cannot_be_read_is_left_alone(self, kept):
        one, path = kept
        path.write_text("[stone\nbroken")
        one.keep_button.click()
        assert path.read_text() == "[stone\nbroken"
        assert 'role="alert"' in one._note.value


class TestFollowing:
    """A control that follows stands where the result has it, and decides nothing until somebody moves it."""

    @pytest.fixture
    def asked(self):
        return []

    @pytest.fixture
    def one(self, asked):
        def fed(stone=1000.0, stoking_rate=None):
            asked.append(stoking_rate)
            return {"stone": stone, "rate": 0.01 * stone / 1000.0 if stoking_rate is None else stoking_rate}

        return Explorer(
            [Slider("stone"), Slider("stoking_rate")],
            fed,
            lambda _: Picture(),
            lambda fed: f"{fed['stone']:.0f} kg, {3600 * fed['rate']:.1f} kg/h",
            presets={"hands and feet": {"stoking_rate": "60 kg/h"}, "a large one": {"stone": "2000 kg"}},
            follows={"stone": lambda fed: fed["stone"], "stoking_rate": lambda fed: fed["rate"]},
        )

    def test_it_stands_where_the_result_has_it_and_the_model_is_not_given_it(self, one, asked):
        assert (one.controls["stone"].value, one.controls["stoking_rate"].value) == (1000, 36)
        one.controls["stone"].value = 2000
        assert one.controls["stoking_rate"].value == 72
        assert set(asked) == {None}

    def test_once_moved_it_counts_until_reset(self, one, asked):
        one.controls["stoking_rate"].value = 50
        one.controls["stone"].value = 2000
        assert one.sentence == "2000 kg, 50.0 kg/h"
        one.reset()
        assert one.sentence == "1000 kg, 36.0 kg/h"
        one.controls["stone"].value = 2500
        assert one.controls["stoking_rate"].value == 90
        one.set(stoking_rate="20 kg/h")
        assert one.sentence == "2500 kg, 20.0 kg/h"

    def test_a_case_moves_what_it_names_and_no_more(self, one):
        one.controls["stone"].value = 2000
        one.preset.value = "hands and feet"
        assert one.moved == {"stoking_rate"}
        assert one.sentence == "1000 kg, 60.0 kg/h"

    def test_a_case_puts_what_follows_in_its_place_once_so_that_the_page_has_nothing_old_to_send_back(self, one):
        one.controls["stone"].value, stood = 2500, []
        one.controls["stoking_rate"].observe(lambda change: stood.append(change["new"]), "value")
        one.preset.value = "a large one"
        assert stood == [72]

    def test_what_the_page_puts_on_a_step_is_no_move(self, one, asked):
        one.controls["stone"].value = 1300
        assert one.controls["stoking_rate"].value == 47
        one.controls["stoking_rate"].value = 46.8
        assert one.moved == {"stone"}
        assert set(asked) == {None}
