"""One plan of one kiln, from a record, a trial and a slaking log; every lesson, picture and sheet is a view of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from limekit.edge import give, plain
from limekit.fire.fuel import Fuel
from limekit.glossary import label
from limekit.kiln.cooling import Cooling
from limekit.kiln.design import KilnDesign
from limekit.kiln.firing import Firing
from limekit.kiln.keeping import Fire
from limekit.kiln.kiln import Kiln
from limekit.ledger.carbon import CarbonLedger
from limekit.limestone import Stone
from limekit.pictures.pages import Page, Table
from limekit.pictures.shown import Shown
from limekit.plan.decisions import FUEL, SECTIONS, Decisions, read
from limekit.plan.figures import Figure, figures
from limekit.plan.parts import Forecast, Lime, Mortar, People, Putty
from limekit.plan.worked import RESTS_ON, Worked
from limekit.records.examples import example_path
from limekit.records.kiln_keys import CARBONATES
from limekit.records.kiln_record import EXAMPLE, Record
from limekit.records.slaking_log import read_slaking_log
from limekit.records.trial_sheet import read_trial
from limekit.records.workshop import Calendar
from limekit.stone.assessment import Assessment
from limekit.stone.trial import Trial

YOURS, EXAMPLES, KITS, SUCH_STONES = "yours", "the example's", "the kit's", "of such stone"
KIND_UNTOLD = 'What kind of stone yours is, your record does not say: under [stone], as in stone_kind = "chalk".'


@dataclass(frozen=True)
class Difference:
    """Two plans side by side: what was decided otherwise, and what became of every figure."""

    decided: tuple[str, ...]
    rows: tuple[tuple[str, str, str, str], ...]

    def __str__(self) -> str:
        changed = f"{', '.join(self.decided) or 'nothing'} changed"
        moved = (f"{what} {before} → {after} ({by})" for what, before, after, by in self.rows)
        return "\n".join([changed, *moved])


class _Part(cached_property):
    """A part of the plan in quantities, as `Worked` has it in SI floats."""

    def __init__(self, kind) -> None:
        super().__init__(lambda plan: give(getattr(plan.plain, self.attrname), kind, ""))
        self.func.__annotations__["return"] = kind

    def __set_name__(self, owner: type, name: str) -> None:
        super().__set_name__(owner, name)
        self.__doc__ = getattr(Worked, name).__doc__


class Plan(Shown):
    """A kiln planned as a whole. Made by `Plan.of`; its parts are worked out when they are first asked for.

    `plain` is the same plan in SI floats. Every part of it rests on the same decisions, so that a figure has one
    value wherever it is asked for; `rests_on` tells those decisions and whose they are.

    Examples
    --------
    >>> plan = Plan.of()
    >>> print(plan.figures["hours"], "with", plan.figures["fuel"].words)
    25 h (10 to 63 h) with 993 kg
    >>> print(plan.with_(helpers=1).people.words)
    25 h of fire want 4 people, two at a time, so that everybody sleeps; here are 2.
    """

    stone = _Part(Stone)
    fuel = _Part(Fuel)
    fire = _Part(Fire)
    kiln = _Part(Kiln)
    design = _Part(KilnDesign)
    forecast = _Part(Forecast)
    firing = _Part(Firing)
    cooling = _Part(Cooling)
    lime = _Part(Lime)
    putty = _Part(Putty)
    mortar = _Part(Mortar)
    ledger = _Part(CarbonLedger)
    people = _Part(People)
    assessment = _Part(Assessment | None)

    def __init__(self, record: Record, worked: Worked) -> None:
        self.record, self.plain = record, worked

    @classmethod
    def of(cls, record=None, trial=None, slaking_log=None) -> Plan:
        """Return the plan of a record.

        Parameters
        ----------
        record : Record, str or path-like, optional
            Where it is silent, or without one, the invented example speaks.
        trial : Trial, Assessment, str, path-like or pandas.DataFrame, optional
            As `limekit.read_trial` reads it, with the carbonates of the record's stone. Without one the stone burns
            as the record or published figures have it.
        slaking_log : SlakingLog, str, path-like or pandas.DataFrame, optional
            As `limekit.read_slaking_log` reads it.

        Raises
        ------
        RecordError
            With every fault of a file.
        """
        if not isinstance(record, Record):
            record = Record.load(example_path(EXAMPLE) if record is None else record)
        if not isinstance(trial, Trial | Assessment | None):
            trial = read_trial(trial, **{name: getattr(record.stone, name) for name in CARBONATES})
        if slaking_log is not None and not hasattr(slaking_log, "log_times"):
            slaking_log = read_slaking_log(slaking_log)
        return cls(record, Worked(Decisions.of(record), plain(trial), plain(slaking_log)))

    def with_(self, **changed) -> Plan:
        """Return another plan with some decisions changed, given as a person writes them; nothing is kept.

        Parameters
        ----------
        **changed
            Figures and chosen words of the record by name, as in ``largest_stone="100 mm", laid="poured"``; fuel
            by its kind, ``fuel="beech"``. Of two that decide one thing, as ``stone`` and ``putty_volume``, the one
            given counts.

        Raises
        ------
        InputError
            If a name or a value is refused.
        """
        return Plan(self.record, self.plain.but(**read(changed)))

    @property
    def calendar(self) -> Calendar:
        """The way to the day the putty is wanted."""
        return self.plain.calendar

    @property
    def figures(self) -> dict[str, Figure]:
        """The figures by which the plan is known, by name, in words."""
        return figures(self.plain)

    def whose(self, name: str) -> str:
        """Say whose a decision is: ``"yours"``, ``"the example's"``, ``"of such stone"`` or ``"the kit's"``."""
        decided = self.plain.decided
        if name in decided.own or name not in decided.values:
            return YOURS if name in decided.own else KITS
        by_kind = SECTIONS.get(name) == "stone" and self.record.is_own("stone.stone_kind")
        return SUCH_STONES if by_kind and name != "loss_on_ignition" else EXAMPLES

    def rests_on(self, part: str) -> tuple[tuple[str, str, str], ...]:
        """Return what a part, as ``"firing"``, rests on: each decision by its label, in words, and whose it is."""
        return tuple((label(name), self.plain.decided.told(name), self.whose(name)) for name in RESTS_ON[part])

    @property
    def remarks(self) -> tuple[str, ...]:
        """What a person should know of their record: two answers to one question, a fuel or a key not known."""
        wrong = (
            f"The burn of {burn.date} went wrong ({burn.went_wrong}); it is kept, and counts for no forecast."
            for burn in self.record.burns
            if burn.went_wrong
        )
        own_kind = self.record.is_own("stone.stone_kind")
        of_kind = map(self.of_such_stone, ("in_the_fire", "slaking")) if own_kind else ()
        of_fuel = filter(None, [self.record.fuel_remark])
        return (*self.plain.decided.remarks, *wrong, *self.record.remarks, *of_kind, *of_fuel)

    def of_such_stone(self, what: str) -> str:
        """Say what to expect of stone of this kind, ``"in_the_fire"`` or ``"slaking"``."""
        kind = self.record.stone_kind
        return kind.says(what) if kind else KIND_UNTOLD

    def against(self, other: Plan) -> Difference:
        """Return what another plan decides otherwise, and what becomes of every figure."""
        mine, theirs = self.plain.decided, other.plain.decided
        decided = tuple(
            f"{label(name)} {mine.told(name)} → {theirs.told(name)}"
            for name in (*SECTIONS, FUEL)
            if mine.get(name) != theirs.get(name)
        )
        rows = []
        for before, after in zip(self.figures.values(), other.figures.values(), strict=True):
            if before.words != after.words:
                known = before.middle is not None and after.middle is not None
                by = f"{after.middle - before.middle:+z.3g} {before.unit}".rstrip() if known else "–"
                rows.append((before.label, before.words, after.words, by))
        return Difference(decided, tuple(rows))

    def sheet(self) -> Page:
        """Return the plan on paper: one page to fire from, then what it rests on."""
        from limekit.plan.paper import plan_sheet

        return plan_sheet(self)

    def burn_chart(self) -> Page:
        """Return the chart to hang up at the kiln mouth, with bands by hour to pencil readings into."""
        from limekit.plan.chart import burn_chart_of

        return burn_chart_of(self.plain)

    def __repr__(self) -> str:
        told = self.figures
        return (
            f"<plan: {told['stone'].words} of stone in a kiln {told['kiln_diameter'].words} across, "
            f"{told['hours'].words} of fire with {told['fuel'].words} of fuel>"
        )

    def _html(self) -> str:
        return Table(
            ("plan", "figure", "may turn out"), [(one.label, one.words, one.ends) for one in self.figures.values()]
        )._html()
