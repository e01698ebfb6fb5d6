"""The way to a weekend as a line of dates, and a burn's turns as a row for everybody."""

from __future__ import annotations

import datetime
import math

from limekit.pictures import looks
from limekit.pictures.picture import UNTOLD, Picture
from limekit.records.roster import Watches
from limekit.records.workshop import Calendar
from limekit.units import HOUR

NIGHT_FROM, NIGHT_TO = 22, 30  # clock hours; 30 is six in the morning
WORDS = {"safe": "safe, whatever comes", "start": "usual", "last": "the last that can do"}
SIGNS = ("triangle-right", "circle", "line-ns")


def timeline(plan: Calendar, today: datetime.date) -> Picture:
    """Draw when each step may begin, in safety, as usual and at the last; a step too late is crossed, with its days."""
    drawn = Picture("When each step may begin", "date")
    rows = list(range(len(plan.steps)))
    drawn.line(
        None,
        [place for step in plan.steps for place in (step.safe, step.last, None)],
        [place for row in rows for place in (row, row, None)],
        looks.MUTED,
        "solid",
        5,
        **UNTOLD,
    )
    for (when, words), sign in zip(WORDS.items(), SIGNS, strict=True):
        drawn.marks(
            words,
            [getattr(step, when) for step in plan.steps],
            rows,
            marker={"symbol": sign, "size": 14, "color": looks.INK, "line": {"width": 3, "color": looks.INK}},
            hovertemplate=f"%{{x|%d %B %Y}}: {words}<extra></extra>",
        )
    late = [(row, step, (today - step.last).days) for row, step in enumerate(plan.steps) if step.last < today]
    drawn.marks(
        "too late",
        [today for _ in late],
        [row for row, *_ in late],
        mode="markers+text",
        text=[f"{days} day{'s' if days > 1 else ''} late" for *_, days in late],
        textposition="middle left",
        textfont={"color": looks.FIRE_WORDS},
        marker={"symbol": "x", "size": 13, "color": looks.FIRE},
        hoverinfo="skip",
    )
    foot = max(len(rows), 1) - 0.4
    for day, name, dash in ((today, "today", "dot"), (plan.weekend, "the weekend", "solid")):
        told = f"{name}: %{{x|%d %B %Y}}<extra></extra>"
        drawn.line(name, [day, day], [-0.6, foot], looks.INK, dash, 2, showlegend=False, hovertemplate=told)
        drawn.note(name, day, 1.0, yref="paper", yanchor="bottom", font={"size": looks.SMALL})
    return drawn.laid(
        height=460,
        xaxis={"type": "date"},
        yaxis={
            "range": [foot, -0.6],
            "tickvals": rows,
            "ticktext": [step.what for step in plan.steps],
            "showgrid": True,
        },
        legend=looks.BELOW,
        margin={"b": 115},
    )


def turns(shared: Watches, people: tuple[str, ...]) -> Picture:
    """Draw who is at the fire when, a row for everybody, with the nights shaded."""
    midnight = datetime.datetime.combine(shared.turns[0].start.date(), datetime.time())

    def hours(when: datetime.datetime) -> float:
        return (when - midnight).total_seconds() / HOUR

    drawn = Picture("Who is at the fire; the nights are shaded", "clock")
    at = [(people.index(name), hours(turn.start), hours(turn.end)) for turn in shared.turns for name in turn.people]
    drawn.rows(
        "at the fire",
        [end - start for _, start, end in at],
        [row for row, *_ in at],
        base=[start for _, start, _ in at],
        width=0.7,
        marker={"color": looks.FIRE, "line": {"color": looks.PAPER, "width": 2}},
        hovertemplate="%{customdata}<extra></extra>",
        customdata=[f"{people[row]}: {end - start:.2g} hours" for row, start, end in at],
    )
    first, last = hours(shared.turns[0].start), hours(shared.turns[-1].end)
    for night in range(-1, math.ceil(last / 24)):
        begins, ends = 24 * night + NIGHT_FROM, 24 * night + NIGHT_TO
        if ends > first and begins < last:
            look = {"xref": "x", "yref": "paper", "line": {"width": 0}}
            shade = looks.veil(looks.INK, 0.12)
            drawn.block(max(begins, first - 0.5), min(ends, last + 0.5), 0, 1, shade, **look)
    ticks = list(range(6 * math.floor(first / 6), 6 * math.ceil(last / 6) + 1, 6 * (1 + int(last > 60))))
    return drawn.laid(
        height=max(300, 150 + 28 * len(people)),
        showlegend=False,
        xaxis={
            "range": [first - 0.5, last + 0.5],
            "tickvals": ticks,
            "ticktext": [f"{midnight + datetime.timedelta(hours=tick):%a %H:%M}" for tick in ticks],
        },
        yaxis={"range": [len(people) - 0.4, -0.6], "tickvals": list(range(len(people))), "ticktext": list(people)},
    )
