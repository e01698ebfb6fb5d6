// Gives an explorer's sliders and picture the names a screen reader needs, ties a refusal to its control, fits the
// picture to the page, and shows the table behind it.

// counted for the whole page, since each explorer brings this file anew
function idOf(element) {
  globalThis.limekitNamed ??= 0;
  element.id ||= `limekit-named-${++globalThis.limekitNamed}`;
  return element.id;
}

function nameSliders(explorer) {
  for (const slider of explorer.querySelectorAll(".widget-slider")) {
    const handle = slider.querySelector(".noUi-handle");
    const readout = slider.querySelector(".widget-readout");
    const label = slider.querySelector(".widget-label");
    if (!handle || !label) continue;
    handle.setAttribute("aria-labelledby", idOf(label));
    if (!readout) continue;
    if (handle.getAttribute("aria-valuetext") !== readout.textContent)
      handle.setAttribute("aria-valuetext", readout.textContent);
    readout.setAttribute("aria-label", `${label.textContent}: type a value`);
    readout.setAttribute("role", "textbox");
  }
}

// JupyterLab would take a key pressed on a dropdown for its own: an arrow leaves it, "a" adds a cell
function keepKeys(explorer) {
  for (const control of explorer.querySelectorAll("select, button, summary, .noUi-handle, .widget-readout"))
    control.dataset.lmSuppressShortcuts = "true";
}

function tieAlert(explorer) {
  const alert = explorer.querySelector(".limekit-alert");
  for (const control of explorer.querySelectorAll(".noUi-handle, select")) {
    const isAtFault = alert !== null && control.closest(".limekit-at-fault") !== null;
    control.setAttribute("aria-invalid", isAtFault);
    if (isAtFault) control.setAttribute("aria-describedby", idOf(alert));
    else control.removeAttribute("aria-describedby");
  }
}

function nameButtons(explorer) {
  for (const icon of explorer.querySelectorAll(".widget-play button > i"))
    icon.parentElement.setAttribute("aria-label", icon.classList.contains("fa-stop") ? "stop" : "play or pause");
}

// the longest sentence so far keeps its room, so that a picture does not change its height at every move
function keepRoom(explorer) {
  const wide = String(explorer.clientWidth);
  if (explorer.dataset.wide !== wide) explorer.style.removeProperty("--limekit-said");
  explorer.dataset.wide = wide;
  explorer.style.setProperty("--limekit-said", `${explorer.firstElementChild.offsetHeight}px`);
}

const fits = ({ clientWidth, clientHeight, _fullLayout: drawn }) =>
  Math.abs(clientWidth - drawn.width) < 1 && Math.abs(clientHeight - drawn.height) < 1;

// a picture fits the place it has, also one that it was drawn without, or that changes with the page; while one is still
// being drawn, none is asked to
function fit() {
  clearTimeout(globalThis.limekitFits);
  globalThis.limekitFits = setTimeout(() => {
    document.querySelectorAll(".limekit-explorer").forEach(keepRoom);
    const plots = [...document.querySelectorAll(".limekit-explorer .js-plotly-plot")];
    if (!plots.every((plot) => plot.dataset.isDrawn)) fit();
    else if (!plots.every(fits)) window.dispatchEvent(new Event("resize"));
  }, 50);
}
const fitting = new ResizeObserver(fit);

function namePicture(explorer, sentence) {
  const plot = explorer.querySelector(".js-plotly-plot");
  if (!plot) return;
  if (plot.getAttribute("role") !== "img") {
    plot.setAttribute("role", "img");
    fitting.observe(plot);
    fitting.observe(explorer.firstElementChild);
  }
  if (plot.getAttribute("aria-label") !== sentence) plot.setAttribute("aria-label", sentence);
}

function render({ model, el }) {
  const details = document.createElement("details");
  const summary = document.createElement("summary");
  const holder = document.createElement("div");
  summary.textContent = "The figures behind the picture";
  details.append(summary, holder);
  if (model.get("has_table")) el.append(details);
  details.addEventListener("toggle", () => {
    model.set("is_open", details.open);
    model.save_changes();
  });
  const fill = () => { holder.innerHTML = model.get("table"); };
  model.on("change:table", fill);
  fill();

  let watched;
  const name = () => {
    const explorer = el.closest(".limekit-explorer");
    const controls = explorer?.querySelector(".limekit-controls");
    if (!controls) return;
    if (watched !== controls) {
      watched = controls;
      watcher.disconnect();
      watcher.observe(controls, { childList: true, subtree: true, characterData: true });
    }
    explorer.setAttribute("role", "group");
    explorer.setAttribute("aria-label", "explorer");
    keepKeys(explorer);
    nameSliders(explorer);
    tieAlert(explorer);
    nameButtons(explorer);
    namePicture(explorer, model.get("sentence"));
    explorer.dataset.answers = model.get("answers");
  };
  const watcher = new MutationObserver(name);
  model.on("change:sentence change:answers", name);
  watcher.observe(document.body, { childList: true, subtree: true });
  document.addEventListener("limekit-drawn", name);
  name();
  return () => {
    watcher.disconnect();
    document.removeEventListener("limekit-drawn", name);
  };
}

export default { initialize: ({ model }) => hear(model), render };
