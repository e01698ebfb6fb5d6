// Draws with plotly's page code, which comes to the page once, however long that takes. What plotly fills in by default it
// would report back to the kernel after every move, which nobody reads.

const NATURAL = 450; // px, of a picture that asks for no height

function markAsDrawn({ detail }) {
  detail.element.dataset.isDrawn = true;
}

async function load(model) {
  document.addEventListener("plotlywidget-after-render", markAsDrawn);
  const library = await model.widget_manager.get_model(model.get("library"));
  const code = URL.createObjectURL(new Blob([library.get("code")], { type: "text/javascript" }));
  const { default: make, FigureView } = await import(code);
  FigureView.prototype._sendLayoutDelta = FigureView.prototype._sendTraceDeltas = () => {};
  return make;
}

export default () => {
  let drawing;
  return {
    initialize({ model }) {
      hear(model);
      drawing = (globalThis.limekitDrawing ??= load(model)).then((make) => {
        const made = make();
        made.initialize({ model });
        return made;
      });
    },
    async render(given) {
      const { model, el } = given;
      el.style.setProperty("--limekit-tall", `${model.get("_widget_layout").height ?? NATURAL}px`);
      return (await drawing).render(given);
    },
  };
};
