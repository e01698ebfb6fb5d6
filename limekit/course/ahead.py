"""What lessons will want, fetched as a kernel starts, while its lesson is still being read."""

from __future__ import annotations

import os
from collections.abc import Mapping
from importlib import resources

from limekit.compiled import available, kept

DATA = resources.files("limekit").joinpath("data")
CONFIG, STARTUP = "JUPYTER_CONFIG_PATH", "PYTHONSTARTUP"


def environment(own: Mapping[str, str]) -> dict[str, str]:
    """Return by what JupyterLab knows the course: its quiet settings, and the file its kernels run as they start.

    A person's own environment stands: their settings beside the course's, their startup file in place of it.
    """
    paths = filter(None, (str(DATA.joinpath("jupyter")), own.get(CONFIG)))
    return {CONFIG: os.pathsep.join(paths), STARTUP: own.get(STARTUP) or str(DATA.joinpath("startup.py"))}


def fetch() -> None:
    """Import what lessons do; run the compiled loops once where they are there, and never compile them."""
    import limekit.course.explorer
    import limekit.plan.plan  # noqa: F401

    if available() and kept():
        run_loops()


def run_loops() -> None:
    """Run each compiled loop once."""
    from limekit import assess_trial, burn_stone, burning_time, fire_kiln, size_kiln
    from limekit.stone.trial import Trial, TrialPiece

    assess_trial(Trial((TrialPiece("any", 0.02, 60.0, core_size=0.01),)))
    burn_stone(diameter="20 mm", gas_temperature="1000 degC", time="1 min")
    burning_time(diameter="20 mm", gas_temperature="1000 degC", model="reduced")
    fire_kiln(size_kiln(stone="200 kg", largest_stone="60 mm"), hours="1 h", levels=1)
