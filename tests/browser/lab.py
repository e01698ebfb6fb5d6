"""A JupyterLab of its own, on copies of the notebooks in a temporary folder, and a notebook open in Chromium."""

import contextlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from importlib import resources
from pathlib import Path

from playwright.sync_api import sync_playwright

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
PATIENCE_S = 90
NO_NETWORK = "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1"
POLL_MS, POLLS_AT_REST = 50, 4
LOOK = """explorer => ({
    sentence: explorer.querySelector(".limekit-sentence")?.textContent ?? "",
    picture: JSON.stringify([...explorer.querySelectorAll(".js-plotly-plot")].map(plot => [
        plot._fullData.map(trace => [trace.x, trace.y, trace.z, trace.text, trace.opacity, trace.marker?.color]
            .map(one => one?.length ? [...one] : one)),
        plot.layout.shapes, plot.layout.annotations, plot.layout.images?.map(image => image.source),
    ])),
    name: explorer.querySelector(".js-plotly-plot")?.getAttribute("aria-label") ?? "",
    alert: explorer.querySelector("[role=alert]")?.textContent ?? "",
})"""
WHOLE_NOTEBOOK = {"windowingMode": "none"}


def chromium():
    """Return the machine's Chromium or Chrome, or None."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome", "chrome"))), None)


def _environment(home):
    folders = {
        "JUPYTER_CONFIG_DIR": "config",
        "JUPYTER_DATA_DIR": "data",
        "JUPYTER_RUNTIME_DIR": "runtime",
        "JUPYTERLAB_SETTINGS_DIR": "settings",
        "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
        "IPYTHONDIR": "ipython",
    }
    for folder in folders.values():
        (home / folder).mkdir()
    tracker = home / "settings" / "@jupyterlab" / "notebook-extension" / "tracker.jupyterlab-settings"
    tracker.parent.mkdir(parents=True)
    tracker.write_text(json.dumps(WHOLE_NOTEBOOK), encoding="utf-8")
    course = {"LIMEKIT_RECORD": "example", "JUPYTER_CONFIG_PATH": str(resources.files("limekit") / "data" / "jupyter")}
    return os.environ | course | {name: str(home / folder) for name, folder in folders.items()}


def _address(runtime, server):
    deadline = time.monotonic() + PATIENCE_S
    while time.monotonic() < deadline:
        assert server.poll() is None, "JupyterLab stopped before it was ready"
        for file in runtime.glob("jpserver-*.json"):
            with contextlib.suppress(json.JSONDecodeError):
                known = json.loads(file.read_text(encoding="utf-8"))
                return known["url"], known["token"]
        time.sleep(0.1)
    raise TimeoutError("JupyterLab did not come up")


@contextlib.contextmanager
def jupyterlab():
    """Start JupyterLab on 127.0.0.1 with copies of the notebooks; give its address and its token."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as made:
        home = Path(made)
        shutil.copytree(
            NOTEBOOKS, home / "notebooks", ignore=shutil.ignore_patterns("conftest.py", ".*", "__pycache__")
        )
        environment = _environment(home)
        command = [
            *(sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", "--ip=127.0.0.1", "--port=0"),
            *("--LabApp.expose_app_in_browser=True", f"--ServerApp.root_dir={home / 'notebooks'}"),
        ]
        with (home / "log").open("w") as log:
            server = subprocess.Popen(command, env=environment, cwd=home / "notebooks", stdout=log, stderr=log)
            try:
                yield _address(home / "runtime", server)
            finally:
                server.terminate()
                server.wait(timeout=30)


@contextlib.contextmanager
def browser():
    """Start Chromium without a network but for this machine; its pages share what they have loaded."""
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium(), args=[NO_NETWORK])
        try:
            yield started.new_context()
        finally:
            started.close()


class OpenNotebook:
    """A notebook open in JupyterLab, with every complaint of page and kernel collected.

    Parameters
    ----------
    browser : playwright.sync_api.BrowserContext
    address, token : str
        As `jupyterlab` gives them.
    name : str
        The notebook's name without its ending.
    width, height : int
        Of the window, in pixels.
    """

    def __init__(self, browser, address, token, name, width=1280, height=900):
        self.complaints = []
        self.page = browser.new_page()
        self.page.set_viewport_size({"width": width, "height": height})
        self.page.set_default_timeout(PATIENCE_S * 1000)
        self.page.on("console", self._hear)
        self.page.on("pageerror", lambda fault: self.complaints.append(f"page error: {fault}"))
        self.page.goto(f"{address}lab/workspaces/{name}/tree/{name}.ipynb?token={token}")
        self.page.wait_for_selector(".jp-Notebook .jp-Cell")

    def _hear(self, message):
        if message.type == "error":
            self.complaints.append(f"console: {message.text}")

    def run_all(self):
        """Run every cell, from a fresh kernel, and wait until it rests and every picture is drawn."""
        self.page.evaluate(
            """async () => {
                const panel = window.jupyterapp.shell.currentWidget;
                await panel.context.ready;
                await panel.sessionContext.ready;
                window.kernelErrors = [];
                panel.sessionContext.iopubMessage.connect((_, message) => {
                    if (message.header.msg_type === "error")
                        window.kernelErrors.push(`${message.content.ename}: ${message.content.evalue}`);
                });
                await window.jupyterapp.commands.execute("notebook:run-all-cells");
            }"""
        )
        self.page.wait_for_function(
            """() => {
                const panel = window.jupyterapp.shell.currentWidget;
                const code = panel.content.widgets.map(cell => cell.model).filter(model => model.type === "code");
                return panel.sessionContext.session.kernel.status === "idle"
                    && code.every(model => model.executionCount && model.executionState !== "running");
            }"""
        )
        self.page.wait_for_function(
            """() => {
                const code = window.jupyterapp.shell.currentWidget.content.widgets
                    .map(cell => cell.model).filter(model => model.type === "code");
                const outputs = code.flatMap(({outputs}) => [...Array(outputs.length).keys()].map(n => outputs.get(n)));
                const drawn = [...document.querySelectorAll(".jp-Notebook .js-plotly-plot")];
                return drawn.length === outputs.filter(output => output.data["application/vnd.plotly.v1+json"]).length
                    && drawn.every(plot => plot.calcdata?.length);
            }"""
        )

    def faults(self):
        """Return what went wrong so far: in cells, in the kernel's callbacks, in the page."""
        shown = self.page.locator(
            ".jp-OutputArea-output:is([data-mime-type='application/vnd.jupyter.stderr'],"
            "[data-mime-type='application/vnd.jupyter.error'])"
        ).all_inner_texts()
        return shown + self.page.evaluate("() => window.kernelErrors") + self.complaints

    def plots(self):
        """Return for each plot its height in pixels and how many finite points it has."""
        return self.page.evaluate(
            """() => [...document.querySelectorAll(".jp-Notebook .js-plotly-plot")].map(plot => ({
                height: plot.getBoundingClientRect().height,
                points: plot._fullData
                    .flatMap(trace => [trace.x, trace.y, trace.z, trace.values].map(one => [...(one ?? [])]))
                    .flat(2).filter(Number.isFinite).length,
            }))"""
        )

    def explorers(self):
        """Return the explorers on the page."""
        return [Panel(self, found) for found in self.page.locator(".limekit-explorer").all()]

    def close(self):
        """Shut the kernel down and close the page."""
        self.page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.shutdown()")
        self.page.close()


class Panel:
    """One explorer on the page, with what a reader sees of it."""

    def __init__(self, notebook, root):
        self.notebook, self.root = notebook, root

    def sliders(self):
        """Return the handles of its sliders."""
        return self.root.locator(".noUi-handle").all()

    def dropdowns(self):
        """Return its dropdowns."""
        return self.root.locator("select").all()

    def look(self):
        """Return its sentence, what its picture draws and is called, and its alert."""
        return self.root.evaluate(LOOK)

    def press(self, slider, key):
        """Press a key on a slider and return what is seen once the answer is there."""
        return self._when_answered(lambda: slider.press(key), lambda: slider.get_attribute("aria-valuetext"))

    def choose(self, dropdown, option):
        """Choose an option of a dropdown and return what is seen once the answer is there."""
        return self._when_answered(lambda: dropdown.select_option(option), dropdown.input_value)

    def reset(self):
        """Press Reset and return what is seen once the answer is there."""
        return self._when_answered(self.root.get_by_role("button", name="Reset", exact=True).click)

    def _when_answered(self, act, stand=None):
        answers, stood = self.root.get_attribute("data-answers"), stand and stand()
        act()
        if stand is None or stand() not in (stood, ""):
            self.notebook.page.wait_for_function(
                f"""([explorer, before]) => {{
                    const answers = explorer.dataset.answers;
                    explorer.rest = answers === explorer.last ? explorer.rest + 1 : 0;
                    explorer.last = answers;
                    return answers !== before && explorer.rest >= {POLLS_AT_REST};
                }}""",
                arg=[self.root.element_handle(), answers],
                polling=POLL_MS,
            )
        return self.look()
