// A page that is busy for two seconds is taken by anywidget for one that failed, and it drops what the kernel sends from
// then on. A model that came to life all the same listens for itself.
function hear(model) {
  model.on("change:hears", (real) => {
    const plain = Object.getPrototypeOf(real.constructor.prototype);
    real.comm?.on_msg(plain._handle_comm_msg.bind(real));
  });
  model.set("hears", true);
}
