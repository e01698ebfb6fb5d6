// Draws with plotly's page code, which comes to the page once, however long that takes.

async function load(model) {
  const library = await model.widget_manager.get_model(model.get("library"));
  const code = URL.createObjectURL(new Blob([library.get("code")], { type: "text/javascript" }));
  return (await import(code)).default;
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
      return (await drawing).render(given);
    },
  };
};
