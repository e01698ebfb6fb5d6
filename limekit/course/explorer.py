"""The explorer: sliders, one computed sentence, a picture changed in place, and the table behind it.

On a wide page the controls stand beside the picture, on a narrow one below it
(``data/explorer.css``). An explorer is an object, so a test can drive it with no browser: set
``explorer.controls["diameter"].value`` and read ``explorer.sentence``,
``explorer.figure`` and ``explorer.error``. What cannot be computed is said
under the control at fault, the sentence is blanked and the picture greyed, so
no stale number is left standing.
"""

from __future__ import annotations

import html
import json
import math
from collections.abc import Callable, Mapping, Sequence, Set
from typing import TYPE_CHECKING

import anywidget
import ipywidgets
import traitlets

from limekit.course.canvas import Canvas, shipped
from limekit.course.controls import Choice, Slider, player
from limekit.errors import InputError

if TYPE_CHECKING:
    import plotly.graph_objects as go

BLANK = "—"
PLOTLY = "application/vnd.plotly.v1+json"
ALERT = '<div class="limekit-alert" role="alert">{}</div>'
NOTE = '<p class="limekit-note" role="status">{}</p>'
HALF_A_STEP, A_HAIR = 0.51, 1e-6
AT_FAULT = "limekit-at-fault"


def told(fault: Exception) -> str:
    """Return what a reader is told of a fault: their own slip in full, the kit's as the kit's."""
    if isinstance(fault, InputError):
        return str(fault)
    return f"A fault in the kit, not in what you did: {type(fault).__name__}: {fault}"


def _was_put_on_a_step(change) -> bool:
    """Return whether the page itself moved a slider, to the step nearest the value it was given."""
    step = getattr(change["owner"], "step", 0.0)
    return bool(step) and abs(change["new"] - change["old"]) < HALF_A_STEP * step


class Voice(anywidget.AnyWidget):
    """What stands under the picture: the table on request, and the names a screen reader needs."""

    _esm = shipped("hear.js", "voice.js")
    _css = shipped("explorer.css")
    sentence = traitlets.Unicode().tag(sync=True)
    table = traitlets.Unicode().tag(sync=True)
    has_table = traitlets.Bool().tag(sync=True)
    is_open = traitlets.Bool().tag(sync=True)
    answers = traitlets.Int(help="how often an answer, or a refusal, was given").tag(sync=True)


class Explorer(ipywidgets.VBox):
    """Sliders, a sentence and a picture of one model.

    Parameters
    ----------
    controls : sequence of Slider or Choice
    model : callable
        Takes the controls' plain SI floats and choices by name; returns a result.
    picture : callable
        Takes the result, and by name the controls marked ``looks``; returns a
        `limekit.pictures.picture.Picture`.
    words : callable
        Takes the same; returns one sentence with its numbers computed.
    table : callable, optional
        Takes the result; returns a DataFrame, shown on request.
    presets : mapping, optional
        From a name to the values it sets, as a person would write them; the other controls go back to
        where they began.
    keeps : callable, optional
        Takes the result; returns by section of the kiln record the values to keep there: text,
        Quantities, or numbers for shares. With it comes a button; nothing is written until it is
        pressed.
    follows : mapping, optional
        From a control's name to where the result has it, found from the result, in SI. For as long as nobody has moved
        such a control, it stands there, and the model is not given it.

    Raises
    ------
    InputError
        If the first values cannot be computed, or a preset lies past the end of a slider.
    """

    def __init__(
        self,
        controls: Sequence[Slider | Choice],
        model: Callable,
        picture: Callable,
        words: Callable,
        *,
        table: Callable | None = None,
        presets: Mapping[str, Mapping] | None = None,
        keeps: Callable | None = None,
        follows: Mapping[str, Callable] | None = None,
    ) -> None:
        self.model, self.picture, self.words, self.table = model, picture, words, table
        self.keeps, self.follows, self.moved = keeps, follows or {}, set()
        self._specs = {spec.name: spec for spec in controls}
        self.controls = {name: spec.widget() for name, spec in self._specs.items()}
        self.presets = {case: self._places(values) for case, values in (presets or {}).items()}
        self._is_held, self._modelled, self._in_hand, self._under_all = False, None, None, None
        self.error, self.sentence, self._starts = "", "", {}
        drawn, sentence = self._compute()
        self._starts = {name: control.value for name, control in self.controls.items()}
        self.canvas = Canvas(drawn)
        self._alert, self._caption, self._note = ipywidgets.HTML(), ipywidgets.HTML(), ipywidgets.HTML()
        self._voice = Voice(has_table=table is not None, sentence=sentence)
        self._show(drawn, sentence)
        for control in self.controls.values():
            control.observe(self._moved_by_hand, "value")
        self._voice.observe(lambda _: self._refresh(), "is_open")
        moved = ipywidgets.VBox([*self._rows(), self._alert])
        for place, row in enumerate(moved.children):
            row.layout.order = str(place)
        self._under_all = self._alert.layout.order
        moved.add_class("limekit-controls")
        super().__init__([self._caption, self.canvas, moved, self._voice])
        self.add_class("limekit-explorer")

    def _rows(self) -> list[ipywidgets.Widget]:
        rows = list(self.controls.values())
        if self.presets:
            self.preset = ipywidgets.Dropdown(
                options=[("choose a case", ""), *((name, name) for name in self.presets)],
                description="start from",
            )
            self.preset.observe(lambda change: change["new"] and self._take(self.presets[change["new"]]), "value")
            rows.insert(0, self.preset)
        buttons = [player(self.controls[name]) for name, spec in self._specs.items() if spec.plays]
        self.reset_button = ipywidgets.Button(description="Reset", tooltip="put every control back where it began")
        self.reset_button.on_click(lambda _: self.reset())
        buttons.append(self.reset_button)
        if self.keeps:
            self.keep_button = ipywidgets.Button(
                description="Keep this", tooltip="write it into my_kiln.toml, your own kiln record"
            )
            self.keep_button.on_click(lambda _: self.keep())
            buttons.append(self.keep_button)
        return [*rows, ipywidgets.HBox([*buttons, self._note])]

    @property
    def figure(self) -> go.Figure:
        """The picture as it is drawn, as plotly's own figure."""
        import plotly.graph_objects as go

        return go.Figure(self.canvas.picture)

    @property
    def values(self) -> dict:
        """What the controls stand at, in plain SI floats."""
        return {name: spec.si(self._stands_at(name)) for name, spec in self._specs.items()}

    def _stands_at(self, name: str):
        """Return a control's value; where the page has only put it on the step nearest its start, the start."""
        control, start = self.controls[name], self._starts.get(name)
        step = getattr(control, "step", 0.0)
        if not step or start is None:
            return control.value
        nearest = control.min + step * round((start - control.min) / step)
        return start if math.isclose(control.value, nearest, abs_tol=A_HAIR * step) else control.value

    def set(self, **values) -> None:
        """Move controls to values written as a person would: ``set(diameter="80 mm")``."""
        self._move(self._places(values), self.moved | values.keys())

    def _places(self, values: Mapping) -> dict:
        places = {name: self._specs[name].shown(value) for name, value in values.items()}
        for name, place in places.items():
            control = self.controls[name]
            if hasattr(control, "min") and not control.min <= place <= control.max:
                wanted = f"{control.min:g} to {control.max:g}, where its slider ends"
                raise InputError(name, f'"{values[name]}"', wanted, f"{name}={control.value:g}")
        return places

    def reset(self) -> None:
        """Put every control back where it began."""
        if self.presets:
            self.preset.value = ""
        self._take({})

    def _take(self, case: Mapping) -> None:
        held = {name: value for name, value in self._starts.items() if name not in self.follows}
        self._move(held | case, case.keys())

    def _move(self, shown: Mapping, moved: Set[str] | None = None) -> None:
        self._in_hand, self.moved = None, set(shown if moved is None else moved)
        self._put(shown)
        self._refresh()

    def _put(self, shown: Mapping) -> None:
        self._is_held = True
        try:
            for name, value in shown.items():
                self.controls[name].value = value
        finally:
            self._is_held = False

    def _compute(self):
        values = {name: value for name, value in self.values.items() if name in self.moved or name not in self.follows}
        looks = {name: values.pop(name) for name, spec in self._specs.items() if spec.looks}
        if self._modelled is None or self._modelled[0] != values:
            self._modelled = values, self.model(**values)
        self.result = self._modelled[1]
        self._put(
            {
                name: self._specs[name].nearest(stands(self.result), self.controls[name])
                for name, stands in self.follows.items()
                if name not in self.moved
            }
        )
        return self.picture(self.result, **looks), self.words(self.result, **looks)

    def _moved_by_hand(self, change) -> None:
        if not self._is_held:
            self._in_hand = change["owner"]
            if not _was_put_on_a_step(change):
                self.moved |= {name for name, control in self.controls.items() if control is self._in_hand}
                if self.presets:
                    self.preset.value = ""
            self._refresh()

    def _refresh(self) -> None:
        self._note.value = ""
        try:
            self._show(*self._compute())
        except Exception as fault:
            self._blank(told(fault), self.controls.get(getattr(fault, "asked", ""), self._in_hand))

    def _show(self, drawn: dict, sentence: str) -> None:
        self.error, self.sentence = "", sentence
        self.canvas.draw(drawn)
        self._warn("")
        self._say(sentence)
        if self.table and self._voice.is_open:
            self._voice.table = self.table(self.result).to_html(index=False, float_format="{:z.4g}".format)
        self._voice.answers += 1

    def _warn(self, message: str, at_fault: ipywidgets.Widget | None = None) -> None:
        for control in self.controls.values():
            (control.add_class if control is at_fault else control.remove_class)(AT_FAULT)
        self._alert.layout.order = at_fault.layout.order if at_fault else self._under_all
        self._alert.value = message

    def _blank(self, message: str, at_fault: ipywidgets.Widget | None) -> None:
        self.error, self.sentence = message, ""
        self._modelled = None
        self._warn(ALERT.format(html.escape(message)), at_fault)
        self._say(BLANK)
        self.canvas.grey()
        self._voice.table = ""
        self._voice.answers += 1

    def _say(self, sentence: str) -> None:
        self._caption.value = f'<p class="limekit-sentence" aria-live="polite">{html.escape(sentence)}</p>'
        self._voice.sentence = sentence

    def note(self, words: str) -> None:
        """Say something beside the buttons, until the next move."""
        self._note.value = NOTE.format(html.escape(words))

    def keep(self) -> None:
        """Write this answer into the reader's own kiln record; the button does it."""
        from limekit.course.cards import RECORD
        from limekit.records.kiln_record import Record

        try:
            if self.error:
                raise InputError("keep this", "settings with no answer", "settings that give an answer", "")
            kept, record = self.keeps(self.result), Record.load(RECORD)
            for section, values in kept.items():
                record.keep(section, **values)
            record.save()
        except Exception as fault:
            self._note.value = ALERT.format(html.escape(told(fault)))
        else:
            written = "; ".join(
                f"{name.replace('_', ' ')} {record[section][name]}" for section in kept for name in kept[section]
            )
            self.note(f"Kept in {RECORD.name}: {written}")

    def __repr__(self) -> str:
        return self.sentence or f"{type(self).__name__}: {self.error}"

    def _repr_mimebundle_(self, **kwargs) -> dict:
        """Carry, beside the widget, the plain picture and the sentence for a page where nothing runs."""
        bundle = super()._repr_mimebundle_(**kwargs)
        return {**bundle, PLOTLY: json.loads(self.canvas.drawn), "text/plain": repr(self)}
