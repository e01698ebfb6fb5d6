"""A person's files with something that would be more than words in every text they may hold."""

import csv
import io
import itertools
import json

from limekit.records.examples import example_path
from limekit.records.kiln_keys import DATES, WORDS
from limekit.records.own_burns import WORDS as OF_BURNS

MARK = "zzmark"
PAYLOADS = (
    "<img src=x onerror=hit=1>",
    "\"'><b onclick=\"hit='1'\"></script><script>hit=1</script>",
    "[a](javascript:hit=1) `c` _d_ # &lt;i&gt;",
    r"$\href{javascript:hit=1}{b}$",
)
HOSTILE = f"{MARK} {' '.join(PAYLOADS)}"
SHEETS = {"my_trial.csv": "trial_example.csv", "my_burn_log.csv": "burn_log_example.csv"}
SHEETS |= {"my_slaking_log.csv": "slaking_log_example.csv"}
FREE_TEXT = {"piece", "weather", "note"}


NO_FREE_WORDS = ("logger", "logger_places", "stone_kind")


def _record():
    sections = [
        [
            f"[{section}]",
            *(f"{key} = {json.dumps(HOSTILE)}" for key in keys if key not in (*DATES.get(section, ()), *NO_FREE_WORDS)),
        ]
        for section, keys in WORDS.items()
    ]
    burn = [
        "[[burns]]",
        *(f"{key} = {json.dumps(HOSTILE)}" for key in OF_BURNS if key != "date"),
        'date = "2028-05-06"',
    ]
    return "\n".join(itertools.chain.from_iterable([*sections, burn]))


def _sheet(name):
    rows = [line for line in example_path(name).read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    header, *rows = csv.reader(rows)
    text = io.StringIO()
    csv.writer(text).writerow(header)
    for number, row in enumerate(rows):
        hostile = f"{number} {HOSTILE}\n- {MARK}"
        cells = (hostile if key in FREE_TEXT else cell for key, cell in zip(header, row, strict=True))
        csv.writer(text).writerow(cells)
    return text.getvalue()


def write_hostile(folder):
    """Write a record and sheets into a folder."""
    (folder / "my_kiln.toml").write_text(_record(), encoding="utf-8")
    for name, example in SHEETS.items():
        (folder / name).write_text(_sheet(example), encoding="utf-8")
