// On a page as narrow as a phone's, panes that stand side by side come one under another, each with its own key; a
// title is broken into lines, steps on an axis are few, and no word runs off the page.

const NARROW = 560, PANE = 260, AXIS = 84, LINE = 19, KEY = 22, ROUND = 14; // px; AXIS is what lies under a pane, less more lines of its title, ROUND what lies round a key
const LETTER = 8.2, SMALL_LETTER = 6.6; // px, on the mean, in a title and at an axis
const ACROSS = 14, UPWARD = 24, WITHIN = 24, UNDER = 36; // letters to a line: of a step's name, of words in a pane and under it
const STEPS = 4, TRIES = 6, WIDEST = 0.4, TALLER = 1.35; // of the page, for words beside a pane; rows of panes, whose words take more lines

const axesOf = (layout, way) => Object.keys(layout).filter((key) => key.startsWith(`${way}axis`));
const idOf = (key) => key.replace("axis", "");
const keyOf = (id) => `${id[0]}axis${id.slice(1)}`;
const legendsOf = (layout) => Object.keys(layout).filter((key) => key.startsWith("legend"));
const moreLines = (text = "") => text.split("<br>").length - 1;
const NAMELESS = ["heatmap", "contour"];
const keyTall = (data, layout, legends) => {
  const named = ({ type, name, showlegend = layout.showlegend ?? !NAMELESS.includes(type) }) => name && showlegend;
  const count = data.filter((trace) => named(trace) && legends.includes(trace.legend ?? "legend")).length;
  return count && ROUND + KEY * count;
};

function broken(text, most) {
  const lines = [""];
  for (const word of text.split(" ")) {
    const longer = `${lines.at(-1)} ${word}`.trim();
    if (lines.at(-1) && longer.length > most) lines.push(word);
    else lines[lines.length - 1] = longer;
  }
  return lines.join("<br>");
}

const fitted = (text, most) =>
  text.split("<br>").some((line) => line.length > most) ? broken(text.replaceAll("<br>", " "), most) : text;

function panesOf(layout) {
  const panes = [];
  for (const key of axesOf(layout, "x")) {
    const [left, right] = layout[key].domain ?? [0, 1];
    const same = panes.find((pane) => pane.left < right && left < pane.right);
    if (same) same.across.push(idOf(key));
    else panes.push({ left, right, across: [idOf(key)], upward: new Map() });
  }
  return panes.sort((one, other) => one.left - other.left);
}

function stack(data, layout) {
  const panes = panesOf(layout), last = panes.at(-1);
  const away = (pane, x) => Math.max(pane.left - x, x - pane.right);
  const paneAt = (x) => panes.reduce((one, other) => (away(other, x) < away(one, x) ? other : one));
  const paneOf = (ref, x) => panes.find((pane) => pane.across.includes(ref.split(" ")[0])) ?? paneAt(x);
  const legends = legendsOf(layout), own = legends.length > 1;
  for (const pane of panes) {
    pane.keys = own ? legends.filter((key) => paneAt(layout[key].x ?? 0) === pane) : pane === last ? ["legend"] : [];
    pane.axis = AXIS + LINE * Math.max(...pane.across.map((id) => moreLines(layout[keyOf(id)].title?.text)));
    pane.under = pane.axis + keyTall(data, layout, pane.keys);
  }
  const tall = panes.length * PANE + panes.reduce((sum, { under }) => sum + under, -last.under);
  panes.reduce((top, pane) => {
    pane.low = (top - PANE) / tall;
    return top - PANE - pane.under;
  }, tall);
  const across = (pane, x) => (x - pane.left) / (pane.right - pane.left);
  const up = (pane, y) => pane.low + (y * PANE) / tall;

  const taken = new Map(); // an axis that several panes share is copied for each
  const upwardIn = (pane, id) => {
    if (!pane.upward.has(id)) {
      let mine = id;
      if (taken.has(id)) {
        mine = `y${1 + Math.max(...axesOf(layout, "y").map((key) => Number(idOf(key).slice(1) || 1)))}`;
        layout[keyOf(mine)] = { ...layout[keyOf(id)], domain: taken.get(id), showticklabels: true };
      }
      const axis = (layout[keyOf(mine)] ??= {}), domain = axis.domain ?? [0, 1];
      taken.set(mine, domain);
      Object.assign(axis, { domain: domain.map((end) => up(pane, end)), anchor: pane.across[0] });
      pane.upward.set(id, mine);
    }
    return pane.upward.get(id);
  };
  for (const trace of data) {
    const pane = paneOf(trace.xaxis ?? "x", 0);
    trace.yaxis = upwardIn(pane, trace.yaxis ?? "y");
  }
  for (const one of [...(layout.annotations ?? []), ...(layout.shapes ?? []), ...(layout.images ?? [])]) {
    const pane = paneOf(one.xref ?? "x", one.x ?? one.x0);
    for (const x of ["x", "x0", "x1"]) if (one.xref === "paper" && x in one) one[x] = across(pane, one[x]);
    if (one.yref === "paper") for (const y of ["y", "y0", "y1"]) { if (y in one) one[y] = up(pane, one[y]); }
    else {
      const [id, ...domain] = (one.yref ?? "y").split(" ");
      one.yref = [upwardIn(pane, id), ...domain].join(" ");
    }
  }
  for (const { colorbar } of [...data, ...Object.keys(layout).filter((key) => key.startsWith("coloraxis")).map((key) => layout[key])])
    if (colorbar) {
      const pane = paneAt(colorbar.x ?? 1), lies = colorbar.orientation === "h";
      const len = (colorbar.len ?? 1) * (lies ? 1 / (pane.right - pane.left) : PANE / tall);
      Object.assign(colorbar, { x: across(pane, colorbar.x ?? 1.02), y: up(pane, colorbar.y ?? 0.5), len });
    }
  for (const pane of panes) {
    for (const axis of pane.across.map((id) => layout[keyOf(id)]))
      Object.assign(axis, { domain: [0, 1], anchor: pane.upward.get(axis.anchor ?? "y") ?? [...pane.upward.values()][0] });
    for (const key of own && pane !== last ? pane.keys : [])
      Object.assign(layout[key], { x: 0, yref: "paper", y: pane.low - pane.axis / tall, yanchor: "top" });
    if (own && pane === last) for (const key of pane.keys) layout[key].x = 0;
  }
  layout.margin.b = last.under;
  layout.height = layout.margin.t + tall + layout.margin.b;
}

function thin(axis, width) {
  const steps = axis.tickvals.length, words = (axis.ticktext ?? axis.tickvals).join("  ").length * SMALL_LETTER;
  const kept = (_, n) => n % Math.ceil(words / width) === 0;
  for (const key of ["tickvals", "ticktext"]) if (axis[key]?.length === steps) axis[key] = axis[key].filter(kept);
}

function narrowed(data, layout, width) {
  layout.margin = { ...layout.template.layout.margin, ...layout.margin };
  if (layout.title?.text) {
    const text = broken(layout.title.text, width / LETTER), top = { yref: "container", y: 1, yanchor: "top", pad: { t: 8 + (LINE * moreLines(text)) / 2 } };
    layout.title = { ...layout.title, text, x: 0, xref: "container", ...top };
    layout.margin.t += LINE * moreLines(layout.title.text);
    if (layout.height) layout.height += LINE * moreLines(layout.title.text);
  }
  for (const one of layout.annotations ?? []) {
    const isUnder = one.yref === "paper" && one.y < 0, before = moreLines(one.text);
    one.text = fitted(one.text, isUnder ? UNDER : WITHIN);
    if (isUnder) layout.margin.b += LINE * (moreLines(one.text) - before);
    if (isUnder && layout.height) layout.height += LINE * (moreLines(one.text) - before);
  }
  for (const [way, most] of [["x", ACROSS], ["y", UPWARD]])
    for (const key of axesOf(layout, way)) layout[key].ticktext = layout[key].ticktext?.map((words) => broken(words, most));
  for (const key of axesOf(layout, "x")) {
    if (layout[key].title?.text) layout[key].title = { ...layout[key].title, text: fitted(layout[key].title.text, UNDER) };
    const words = layout[key].ticktext ?? layout[key].categoryarray ?? [...new Set(data.filter(({ xaxis = "x" }) => xaxis === idOf(key)).flatMap(({ x }) => (Array.isArray(x) ? x : [])))];
    const long = Math.max(...words.map((word) => Math.max(...String(word).split("<br>").map(({ length }) => length))));
    const areWords = words.some((word) => typeof word === "string" && Number.isNaN(Number(word)));
    if (areWords) layout[key].tickangle = words.length * (long + 2) * SMALL_LETTER > width - layout.margin.l ? 90 : 0;
    else if (layout[key].tickvals) thin(layout[key], width / 2);
    else Object.assign(layout[key], { nticks: STEPS, dtick: undefined, tickmode: "auto" });
  }
  const rows = new Set(axesOf(layout, "y").map((key) => String(layout[key].domain ?? [0, 1]))).size;
  if (panesOf(layout).length > 1) stack(data, layout);
  else if (rows > 1 && layout.height) layout.height *= TALLER;
}

async function draw(place, [data, layout, config]) {
  const width = place.clientWidth;
  if (width < NARROW) narrowed(data, layout, width);
  await Plotly.newPlot(place, data, layout, config);
  for (let tries = width < NARROW ? TRIES : 0; tries; tries--) {
    const over = Math.max(...[...place.querySelectorAll("text")].map((word) => word.getBoundingClientRect().right)) - place.getBoundingClientRect().right;
    if (over <= 0) break;
    await Plotly.relayout(place, { "margin.r": Math.min(place.layout.margin.r + 1.5 * over, WIDEST * width) });
  }
}

for (const drawn of document.querySelectorAll("script.drawn")) draw(drawn.previousElementSibling, JSON.parse(drawn.textContent));
