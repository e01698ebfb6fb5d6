"""A JupyterLab of its own, on copies of the notebooks in a temporary folder, and a notebook open in Chromium."""

import base64
import contextlib
import json
import os
import shutil
import socketserver
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

import contrast
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

from limekit.course import ahead

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
SILENCE_S = 180  # of what hangs; what is slow is heard of sooner
POLL_MS, POLLS_AT_REST = 50, 4
WHAT = "one => one.outerHTML.slice(0, 120)"
LOOK = """explorer => ({
    sentence: explorer.querySelector(".limekit-sentence")?.textContent ?? "",
    picture: JSON.stringify([...explorer.querySelectorAll(".js-plotly-plot")].map(plot => [
        plot._fullData.map(trace => [trace.x, trace.y, trace.z, trace.text, trace.opacity, trace.marker?.color]
            .map(one => one?.length ? [...one] : one)),
        plot.layout.shapes, plot.layout.annotations, plot.layout.images?.map(image => image.source),
    ])),
    name: explorer.querySelector(".js-plotly-plot")?.getAttribute("aria-label") ?? "",
    stands: [...explorer.querySelectorAll(".widget-readout, select")].map(one => one.value ?? one.textContent),
    note: explorer.querySelector("[role=status]")?.textContent ?? "",
    rows: explorer.querySelectorAll("details tr").length,
    refused: explorer.querySelector("[aria-invalid=true][aria-describedby]") !== null,
    alert: explorer.querySelector("[role=alert]")?.textContent ?? "",
})"""
PICTURES = ".jp-OutputArea-output :is(.js-plotly-plot, svg, img, iframe):not(.js-plotly-plot *)"
ONE_COLOUR = """async png => {
    const image = await createImageBitmap(new Blob([Uint8Array.from(atob(png), sign => sign.charCodeAt(0))]));
    const pen = new OffscreenCanvas(image.width, image.height).getContext("2d");
    pen.drawImage(image, 0, 0);
    return new Set(new Uint32Array(pen.getImageData(0, 0, image.width, image.height).data.buffer)).size < 2;
}"""
UNNAMED = """explorer => [...explorer.querySelectorAll("[role=slider], select, button")].filter(control => {
    const label = document.getElementById(control.getAttribute("aria-labelledby"));
    const labels = [...(control.labels ?? []), ...(label && explorer.contains(label) ? [label] : [])];
    return !labels.some(one => one.textContent.trim())
        && !(control.localName === "button" && (control.getAttribute("aria-label") ?? control.textContent).trim());
}).map(control => control.outerHTML.slice(0, 120))"""
RESTS = """() => {
    const panel = window.jupyterapp.shell.currentWidget;
    const code = panel.content.widgets.map(cell => cell.model).filter(model => model.type === "code");
    return window.kernelErrors.length || panel.sessionContext.session.kernel.status === "idle"
        && code.every(model => model.executionCount && model.executionState !== "running");
}"""
DRAWN = """() => {
    const code = window.jupyterapp.shell.currentWidget.content.widgets
        .map(cell => cell.model).filter(model => model.type === "code");
    const outputs = code.flatMap(({outputs}) => [...Array(outputs.length).keys()].map(n => outputs.get(n)));
    const drawn = [...document.querySelectorAll(".jp-Notebook .js-plotly-plot")];
    return window.kernelErrors.length || drawn.length === outputs.filter(output => output.data["application/vnd.plotly.v1+json"]).length
        && drawn.every(plot => plot.calcdata?.length);
}"""
ANSWERED = """([explorer, before]) => {
    const answers = explorer.dataset.answers;
    explorer.rest = answers === explorer.last ? explorer.rest + 1 : 0;
    explorer.last = answers;
    return answers !== before && explorer.rest >= POLLS;
}""".replace("POLLS", str(POLLS_AT_REST))
LIGHT, DARK = "JupyterLab Light", "JupyterLab Dark"
RESULTS = ".jp-OutputArea-output"
CHANGE_THEME = """async theme => {
    await window.jupyterapp.commands.execute("apputils:change-theme", { theme });
    while (document.body.dataset.jpThemeName !== theme) await new Promise(done => setTimeout(done, 50));
}"""
A_REFUSAL = """() => document.querySelectorAll(".limekit-explorer").forEach(explorer =>
    explorer.insertAdjacentHTML("beforeend", '<div class="limekit-alert planted">a refusal</div>'))"""
WITHOUT = "() => document.querySelectorAll('.planted').forEach(one => one.remove())"
NO_NETWORK = "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1"  # for what the browser asks for itself
OF_CHROMIUM = "content-autofill.googleapis.com"  # asked after by the browser itself wherever a page has a field
HEALED = "[anywidget] Failed to initialize model."  # said by a busy page; limekit/data/hear.js mends it
WHOLE_NOTEBOOK = {"windowingMode": "none"}


def chromium():
    """Return the machine's Chromium or Chrome, or None."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome", "chrome"))), None)


def _environment(home, is_example):
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
    record = {"LIMEKIT_RECORD": "example" if is_example else ""}
    return os.environ | ahead.environment({}) | record | {name: str(home / folder) for name, folder in folders.items()}


def wait(is_so, heard, pause=lambda: time.sleep(POLL_MS / 1000)):
    """Wait until a question is answered with more than no, as long as what is waited for is heard of; return the answer.

    Parameters
    ----------
    is_so : callable
        The question.
    heard : callable
        Gives something that changes whenever there is progress.
    pause : callable
        Lets a moment pass.

    Raises
    ------
    TimeoutError
        If nothing is heard for `SILENCE_S`.
    """
    last, since = heard(), time.monotonic()
    while not (answer := is_so()):
        if (now := heard()) != last:
            last, since = now, time.monotonic()
        if time.monotonic() - since > SILENCE_S:
            raise TimeoutError(f"nothing heard for {SILENCE_S} s")
        pause()
    return answer


def _address(home, server):
    def found():
        assert server.poll() is None, "JupyterLab stopped before it was ready"
        for file in (home / "runtime").glob("jpserver-*.json"):
            with contextlib.suppress(json.JSONDecodeError):
                known = json.loads(file.read_text(encoding="utf-8"))
                return known["url"], known["token"]

    return wait(found, heard=lambda: (home / "log").stat().st_size)


@contextlib.contextmanager
def jupyterlab(write_own=None):
    """Start JupyterLab on 127.0.0.1 with copies of the notebooks; give its address and its token.

    With `write_own`, which writes a person's own files into the notebooks' folder, they read those.
    """
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as made:
        home = Path(made)
        shutil.copytree(
            NOTEBOOKS, home / "notebooks", ignore=shutil.ignore_patterns("conftest.py", ".*", "__pycache__")
        )
        if write_own:
            write_own(home / "notebooks")
        environment = _environment(home, is_example=write_own is None)
        command = [
            *(sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", "--ip=127.0.0.1", "--port=0"),
            *("--LabApp.expose_app_in_browser=True", f"--ServerApp.root_dir={home / 'notebooks'}"),
        ]
        with (home / "log").open("w") as log:
            server = subprocess.Popen(command, env=environment, cwd=home / "notebooks", stdout=log, stderr=log)
            try:
                yield _address(home, server)
            finally:
                server.terminate()
                server.wait(timeout=30)


class _Refuse(socketserver.StreamRequestHandler):
    def handle(self):
        line = self.rfile.readline().decode(errors="replace").strip()
        if OF_CHROMIUM not in line:
            self.server.asked.append(line)
        self.wfile.write(b"HTTP/1.1 403 Forbidden\r\nContent-Length: 0\r\nConnection: close\r\n\r\n")


class Outside(socketserver.ThreadingTCPServer):
    """The way out of the machine: a proxy that notes in ``asked`` what wanted to leave, and lets nothing."""

    daemon_threads = True

    def __init__(self):
        super().__init__(("127.0.0.1", 0), _Refuse)
        self.asked = []
        threading.Thread(target=self.serve_forever, daemon=True).start()

    @property
    def address(self):
        """Where to reach it."""
        return f"http://127.0.0.1:{self.server_address[1]}"


@contextlib.contextmanager
def browser():
    """Start Chromium with no network but this machine's; its pages share what they have loaded.

    Whatever a page or its workers would fetch from elsewhere is noted in ``outside.asked``.
    """
    with Outside() as outside, sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium(), args=[NO_NETWORK])
        try:
            yield _context(started, outside)
        finally:
            started.close()
            outside.shutdown()


def _context(started, outside, **told):
    context = started.new_context(proxy={"server": outside.address, "bypass": "127.0.0.1"}, **told)
    context.set_default_timeout(SILENCE_S * 1000)
    context.outside = outside
    return context


def beside(context, **told):
    """Return another context of a browser's, told otherwise, such as how many pixels its screen has to one of a page."""
    return _context(context.browser, context.outside, **told)


def grave(page, within=None):
    """Return what axe-core finds serious or critical on a page, or within what a selector finds there."""
    found = Axe().run(page, context=within).response["violations"]
    return [
        f"{one['id']} ({one['impact']}): {node['html'][:120]}"
        for one in found
        if one["impact"] in ("serious", "critical")
        for node in one["nodes"]
    ]


def is_blank(page, picture):
    """Return whether a picture, as it is on the screen, is of one colour all over."""
    shot = base64.b64encode(picture.screenshot()).decode()
    return page.evaluate(ONE_COLOUR, shot)


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
    first : str
        A script that the page runs before its own.
    """

    def __init__(self, browser, address, token, name, width=1280, height=900, first=""):
        self.complaints, self.outside, self.heard = [], browser.outside, 0
        self.page = browser.new_page()
        self.page.add_init_script(first)
        self.page.set_viewport_size({"width": width, "height": height})
        self.page.on("console", self._hear)
        self.page.on("websocket", self._listen)
        self.page.on("pageerror", self._note)
        self.page.goto(f"{address}lab/workspaces/{name}/tree/{name}.ipynb?token={token}")
        self.page.wait_for_selector(".jp-Notebook .jp-Cell")

    def _hear(self, message):
        if message.type == "error":
            self.complaints.append(f"console: {message.text}")

    def _note(self, fault):
        if HEALED not in str(fault):
            self.complaints.append(f"page error: {fault}")

    def _listen(self, socket):
        if "/channels" in socket.url:  # of a kernel: the others speak without being asked
            socket.on("framereceived", self._count)

    def _count(self, _):
        self.heard += 1

    def run_all(self):
        """Run every cell, from a fresh kernel, and wait until it rests and every picture is drawn, or a cell fails."""
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
        self.wait_until(lambda: self.page.evaluate(RESTS))
        self.wait_until(lambda: self.page.evaluate(DRAWN))

    def faults(self):
        """Return what went wrong so far: in cells, in the kernel's callbacks, in the page; and what would leave it."""
        shown = self.page.locator(
            ".jp-OutputArea-output:is([data-mime-type='application/vnd.jupyter.stderr'],"
            "[data-mime-type='application/vnd.jupyter.error'])"
        ).all_inner_texts()
        left = [f"asked of the network: {one}" for one in self.outside.asked]
        return shown + self.page.evaluate("() => window.kernelErrors") + self.complaints + left

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

    def blank_pictures(self):
        """Return which pictures in the notebook's results show nothing, folded ones unfolded; and how many there are."""
        self.page.evaluate(
            "() => document.querySelectorAll('.jp-RenderedHTMLCommon details').forEach(one => { one.open = true; })"
        )
        pictures = [one for one in self.page.locator(PICTURES).all() if one.is_visible()]
        return [one.evaluate(WHAT) for one in pictures if is_blank(self.page, one)], len(pictures)

    def pale(self):
        """Return what words of the notebook's results stand out too little, a refusal among them, in each theme."""
        found = []
        self.page.evaluate(A_REFUSAL)
        for theme in (DARK, LIGHT):
            self.page.evaluate(CHANGE_THEME, theme)
            found += [f"{theme}: {one}" for one in self.page.evaluate(contrast.OF_WORDS, RESULTS)]
            found += [f"{theme}: {one}" for one in self.page.evaluate(contrast.OF_PICTURES, f"{RESULTS} svg text")]
        self.page.evaluate(WITHOUT)
        return found

    def wait_until(self, is_so):
        """Wait until a question about the page is answered yes, as long as its kernel is heard of."""
        wait(is_so, heard=lambda: self.heard, pause=lambda: self.page.wait_for_timeout(POLL_MS))

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

    def name_of(self, slider):
        """Return the text of the label tied to a slider."""
        return slider.evaluate("one => document.getElementById(one.getAttribute('aria-labelledby')).textContent")

    def unnamed(self):
        """Return its controls that no label on the page is tied to."""
        return self.root.evaluate(UNNAMED)

    def buttons(self):
        """Return its buttons and its table's heading, by name."""
        found = self.root.locator("button:visible, summary:visible").all()
        return {one.get_attribute("aria-label") or one.inner_text(): one for one in found}

    def press(self, slider, key):
        """Press a key on a slider and return what is seen once the answer is there."""
        return self._when_answered(lambda: slider.press(key), lambda: slider.get_attribute("aria-valuetext"))

    def choose(self, dropdown, key):
        """Move a dropdown to a neighbour by an arrow key and return what is seen once the answer is there."""
        return self._when_answered(lambda: dropdown.press(key), dropdown.input_value)

    def reset(self):
        """Press Reset by keyboard and return what is seen once the answer is there."""
        return self._when_answered(lambda: self.buttons()["Reset"].press("Enter"))

    def has_focus_ring(self, control):
        """Return whether a control, reached by keyboard, shows that it is the one."""
        control.focus()
        self.notebook.page.keyboard.press("Shift")
        return control.evaluate("one => one.matches(':focus-visible') && getComputedStyle(one).outlineStyle !== 'none'")

    def _when_answered(self, act, stand=None):
        answers, stood = self.root.get_attribute("data-answers"), stand and stand()
        act()
        if stand is None or stand() not in (stood, ""):
            asked = [self.root.element_handle(), answers]
            self.notebook.wait_until(lambda: self.notebook.page.evaluate(ANSWERED, asked))
        return self.look()
