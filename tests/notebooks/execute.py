"""Run notebooks from the top in fresh kernels and store what they show.

``python tests/notebooks/execute.py`` runs all of them, with names only those:
``python tests/notebooks/execute.py what_fire_does``. What changes from run
to run (widget names, times) is left out, and a file is written only if
something in it changed. An error, or anything on stderr, stops it with the
file as it was.
"""

import os
import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError

from limekit.compiled import prepare
from limekit.course.ladder import lesson

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
VOLATILE = "application/vnd.jupyter.widget-view+json"
METADATA = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}


def tidy(notebook):
    """Take out what changes from run to run, and anything on stderr is an error."""
    notebook.metadata = nbformat.from_dict(METADATA)
    for number, cell in enumerate(notebook.cells):
        cell.id = f"cell-{number:02d}"
        cell.metadata = nbformat.from_dict({key: cell.metadata[key] for key in ("tags",) if key in cell.metadata})
        for output in cell.get("outputs", []):
            if output.output_type == "stream" and output.name == "stderr":
                raise RuntimeError(f"cell {number} wrote to stderr:\n{output.text}")
            output.get("data", {}).pop(VOLATILE, None)
            if "metadata" in output:
                output.metadata = nbformat.from_dict({})
    return notebook


def execute(path):
    """Run one notebook and store its outputs; return whether the file changed."""
    notebook = nbformat.read(path, as_version=4)
    NotebookClient(
        notebook,
        kernel_name="python3",
        timeout=600,
        store_widget_state=False,
        record_timing=False,
        resources={"metadata": {"path": str(path.parent)}},
    ).execute()
    made = nbformat.writes(tidy(notebook)) + "\n"
    changed = made != path.read_text(encoding="utf-8")
    if changed:
        path.write_text(made, encoding="utf-8")
    return changed


def main(names):
    """Run the notebooks named, or all of them."""
    os.environ["LIMEKIT_RECORD"] = "example"
    prepare(print)
    failed = False
    for path in [NOTEBOOKS / lesson(name).file for name in names] or sorted(NOTEBOOKS.glob("*.ipynb")):
        try:
            print(f"{path.name}: {'written' if execute(path) else 'unchanged'}")
        except (CellExecutionError, RuntimeError) as fault:
            print(f"{path.name}: {fault}")
            failed = True
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
