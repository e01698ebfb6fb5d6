// Draws a picture once it has a place on the page, and again whenever the kernel says so. What a reader hid by the key
// stays hidden, and axes go back to where the picture has them.

const NATURAL = 450; // px, of a picture that asks for no height

async function take(library) {
  if (!library.get("code")) {
    const given = new Promise((done) => library.on("change:code", done));
    library.set("is_wanted", true);
    library.save_changes();
    await given;
  }
  await import(URL.createObjectURL(new Blob([library.get("code")], { type: "text/javascript" })));
}

async function load(model) {
  if (globalThis.Plotly) return;
  const library = await model.widget_manager.get_model(model.get("library"));
  await (library.taking ??= take(library));
}

const placed = (el) =>
  new Promise((done) => {
    const watching = new ResizeObserver(() => {
      if (!el.clientWidth) return;
      watching.disconnect();
      done();
    });
    watching.observe(el);
  });

async function render({ model, el }) {
  const draw = async () => {
    const { data, layout: { height = NATURAL, ...layout }, config } = JSON.parse(model.get("drawn"));
    el.style.setProperty("--limekit-tall", `${height}px`);
    const legend = { uirevision: true, ...layout.legend };
    await Plotly.react(el, data, { ...layout, legend, height: el.clientHeight }, config);
  };
  el.classList.add("js-plotly-plot");
  await Promise.all([load(model), placed(el)]);
  await draw();
  model.on("change:drawn", draw);
  el.dataset.isDrawn = true;
  el.dispatchEvent(new Event("limekit-drawn", { bubbles: true }));
  return () => {
    model.off("change:drawn", draw);
    Plotly.purge(el);
  };
}

export default { initialize: ({ model }) => hear(model), render };
