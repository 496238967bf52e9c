// Figures of the chosen recipe: its reach, its black by other lights, its grey
// balance, and how sure its colours are. The worker computes them, one recipe
// at a time and only while they are looked at.

import { attr, h, keyed, show, style, svg, text } from "./dom.js";
import { capital, chosenPalette, figure, signed } from "./words.js";

const kept = new Map(); // figures by recipe
const most = 60; // recipes that are kept
let asked = ""; // the recipe under way
let failed = { recipe: "", why: "" };

const recipeOf = (view) => JSON.stringify([chosenPalette(view)?.id, chosenPalette(view)?.layers, view.order, view.paper, view.finish, view.light]);

// want gives the figures of the view's recipe, null until they are there. The
// view was read from the session in this very task, so that the two agree.
function want(api, view) {
  const recipe = recipeOf(view);
  if (kept.has(recipe)) return kept.get(recipe);
  if (asked === "" && failed.recipe !== recipe && view.ready && !view.busy) ask(api, recipe);
  return null;
}

async function ask(api, recipe) {
  asked = recipe;
  try {
    const got = await api.compute("figures");
    if (got) kept.set(recipe, got);
    if (kept.size > most) kept.delete(kept.keys().next().value);
    failed = { recipe: "", why: "" };
  } catch (error) {
    failed = { recipe, why: error.message };
  }
  asked = "";
  api.refresh();
}

const waiting = (view) => (failed.recipe === recipeOf(view) ? `The figures could not be computed: ${failed.why}` : "The figures of this recipe are being computed.");

// brief is the figures in a few sentences.
export function brief(api) {
  const words = h("p", { class: "facts" });
  return {
    node: words,
    update(view) {
      const now = want(api, view);
      attr(words, "aria-busy", now ? null : "true");
      text(words, now ? `${reachWords(now)} ${driftWords(now)} ${heldWords(now.balance)}` : waiting(view));
    },
  };
}

// build makes the figures in full.
export function build(api) {
  const reached = h("p", { class: "facts" });
  const outline = outlinePlot();
  const lights = h("tbody");
  const drift = h("p", { class: "facts" });
  const plot = balancePlot();
  const held = h("p", { class: "facts" });
  const sure = sureTable(api);
  const wait = h("p", { class: "hint", role: "status" });
  const body = h("div", { class: "computed", hidden: true },
    h("section", {}, h("h3", { text: "Reach" }), h("div", { class: "reach" }, outline.node, reached)),
    h("section", {}, h("h3", { text: "Its black by other lights" }),
      h("table", {}, columns("a*", "b*", "ΔE00"), lights), drift),
    h("section", {}, h("h3", { text: "Grey balance" }), plot.node, held),
    sure.node);
  return {
    node: h("div", {}, wait, body),
    update(view) {
      const now = want(api, view);
      text(wait, now ? "" : waiting(view));
      show(wait, !now);
      attr(body, "aria-busy", now ? null : "true");
      if (!now) return;
      show(body, true);
      text(reached, reachWords(now));
      outline.update(now.outline);
      keyed(lights, now.drift, (row) => row.light, () => row(3, (cells, entry, name) => {
        text(name, entry.name);
        text(cells[0], signed(entry.lab[1], 1));
        text(cells[1], signed(entry.lab[2], 1));
        text(cells[2], entry.dE > 0 ? figure(entry.dE, 1) : "–");
      }));
      text(drift, driftWords(now));
      plot.update(now.balance, chosenPalette(view).layers);
      text(held, heldWords(now.balance));
      sure.update(view, now, recipeOf(view));
    },
  };
}

const columns = (...names) => h("thead", {}, h("tr", {}, h("td"), ...names.map((name) => h("th", { scope: "col", text: name }))));

// row is a line of a table: a heading, then cells that fill sets.
function row(count, fill) {
  const name = h("th", { scope: "row" });
  const cells = Array.from({ length: count }, () => h("td"));
  return { node: h("tr", {}, name, ...cells), update: (entry) => fill(cells, entry, name) };
}

// ---- words

const small = (words) => words.charAt(0).toLowerCase() + words.slice(1);

const reachWords = (now) => `The colours of these tissues fill a solid of ${figure(now.volume / 1000)} thousand cubic CIELAB units.`;

function driftWords({ drift }) {
  const far = drift.reduce((a, b) => (b.dE > a.dE ? b : a));
  return `Balanced for the chosen light, the black turns most under the ${small(far.name)}: ΔE00 ${figure(far.dE, 1)} from daylight D50.`;
}

function heldWords({ worst, lost }) {
  if (!lost) return `The greys keep their aim along the whole scale, within ΔE00 ${figure(Math.max(Math.ceil(worst * 10), 1) / 10, 1)} (0.5 is asked for).`;
  return `Between L* ${figure(lost[0], 1)} and L* ${figure(lost[1], 1)} the greys cannot be held by layers that only grow towards the black: they stray by up to ΔE00 ${figure(worst, 1)}, more than 0.5.`;
}

const causeWords = (cause) => (cause ? `${cause.layer} ${cause.what}`.trim() : "nothing moves it");

// ---- how sure

function sureTable(api) {
  const rows = h("tbody");
  const limits = h("p", { class: "facts" });
  let read = null; // how sure the sampled point is
  let wanted = ""; // the point that it was asked for
  let asking = false;

  async function point(view, recipe) {
    const key = recipe + JSON.stringify(view.sample?.thickness);
    if (asking || view.busy || key === wanted) return;
    wanted = key;
    if (view.sample === null) { read = null; return; }
    asking = true;
    try {
      read = await api.compute("sureness", { thickness: view.sample.thickness });
      if (read === null) wanted = ""; // cancelled: to be asked again
    } catch {
      read = null;
    }
    asking = false;
    api.refresh();
  }

  return {
    node: h("section", {}, h("h3", { text: "How sure" }),
      h("table", { class: "sure" }, columns("L*", "lighter", "heavier", "± ΔE00"), rows), limits),
    update(view, now, recipe) {
      point(view, recipe);
      const entries = read && view.sample ? [...now.sure, read] : now.sure;
      keyed(rows, entries, (entry) => entry.name, () => {
        const cause = h("span", { class: "facts" });
        const named = h("span");
        const made = row(4, (cells, entry, name) => {
          if (!name.firstChild) name.append(named, cause);
          text(named, capital(entry.name));
          text(cause, causeWords(entry.causes[0]));
          [entry.lab[0], entry.lighter[0], entry.heavier[0], entry.dE].forEach((value, i) => text(cells[i], figure(value, 1)));
        });
        return made;
      });
      const percent = (share) => `±${figure(share * 100)} %`;
      const { load, thickness, haze, finish } = now.limits;
      text(limits, `Under each colour stands what moves it most. Taken to vary: load ${percent(load)}, thickness ${percent(thickness)}, haze ${percent(haze)}${finish ? ", the surface by one finish" : ""}. Each is moved alone and the effects add as squares. Lighter and heavier have less and more of load and thickness in all layers. These limits are assumed, not measured.`);
    },
  };
}

// ---- drawings

// outlinePlot draws the largest chroma by hue in the a*b* plane.
function outlinePlot() {
  const size = 120;
  const edge = 125; // CIELAB units from the middle to the edge
  const at = (v) => size / 2 + (v / edge) * (size / 2);
  const skin = svg("polygon", { class: "skin" });
  const rings = [50, 100].map((chroma) => svg("circle", { cx: at(0), cy: at(0), r: at(chroma) - at(0) }));
  const node = svg("svg", { viewBox: `0 0 ${size} ${size}`, class: "outline", role: "img" },
    svg("g", { class: "grid" }, ...rings, svg("path", { d: `M0 ${at(0)}H${size}M${at(0)} 0V${size}` })), skin,
    svg("text", { x: size - 2, y: at(0) - 4, "text-anchor": "end", text: "a*" }),
    svg("text", { x: at(0) + 4, y: 10, text: "b*" }));
  return {
    node,
    update(chroma) {
      const points = chroma.map((c, i) => {
        const hue = (2 * Math.PI * i) / chroma.length;
        return `${at(c * Math.cos(hue)).toFixed(1)},${at(-c * Math.sin(hue)).toFixed(1)}`;
      });
      attr(skin, "points", points.join(" "));
      const at90 = (degrees) => figure(chroma[Math.round((degrees / 360) * chroma.length) % chroma.length]);
      attr(node, "aria-label", `Outline of the reach in a* and b*: largest chroma ${at90(0)} towards red, ${at90(90)} yellow, ${at90(180)} green, ${at90(270)} blue. The rings are chroma 50 and 100.`);
    },
  };
}

// balancePlot draws the thickness of each layer against the print's L*.
function balancePlot() {
  const [w, hgt, left, right, top, bottom] = [300, 182, 26, 40, 18, 36];
  const x = (l) => left + ((100 - l) / 100) * (w - left - right);
  const y = (t) => hgt - bottom - t * (hgt - top - bottom);
  const lost = svg("rect", { class: "lost", y: top, height: hgt - top - bottom });
  const lines = svg("g");
  const node = svg("svg", { viewBox: `0 0 ${w} ${hgt}`, class: "balance", role: "img" }, lost,
    svg("g", { class: "grid" }, ...[0, 0.5, 1].map((t) => svg("path", { d: `M${left} ${y(t)}H${w - right}` })),
      ...[100, 75, 50, 25, 0].map((l) => svg("path", { d: `M${x(l)} ${hgt - bottom}v4` }))),
    ...[0, 0.5, 1].map((t) => svg("text", { x: left - 5, y: y(t) + 4, "text-anchor": "end", text: String(t) })),
    ...[100, 75, 50, 25, 0].map((l) => svg("text", { x: x(l), y: hgt - bottom + 16, "text-anchor": "middle", text: String(l) })),
    svg("text", { x: left, y: 10, text: "of the whole coat" }),
    svg("text", { x: w - right, y: hgt - 2, "text-anchor": "end", text: "L* of the print" }), lines);
  return {
    node,
    update(balance, layers) {
      attr(lost, "visibility", balance.lost ? null : "hidden");
      if (balance.lost) {
        attr(lost, "x", x(balance.lost[0]));
        attr(lost, "width", Math.max(1, x(balance.lost[1]) - x(balance.lost[0])));
      }
      const ends = layers.map(({ printer, swatch }) => ({ printer, swatch, L: balance.L, t: balance.t[printer] }))
        .map((layer) => ({ ...layer, last: layer.t.at(-1) })).sort((a, b) => b.last - a.last);
      // The names stand at the lines' ends, one below the other.
      let free = 0;
      for (const end of ends) free = (end.label = Math.max(y(end.last) + 4, free)) + 13;
      const over = Math.max(0, ends.at(-1).label - (hgt - bottom));
      keyed(lines, ends, (end) => end.printer, ({ printer }) => {
        const [under, line, name] = [svg("path", { class: "under" }), svg("path"), svg("text", { text: printer })];
        return {
          node: svg("g", {}, under, line, name),
          update(end) {
            const d = end.t.map((t, i) => `${i ? "L" : "M"}${x(end.L[i]).toFixed(1)} ${y(t).toFixed(1)}`).join("");
            attr(under, "d", d);
            attr(line, "d", d);
            style(line, "stroke", end.swatch);
            attr(name, "x", x(end.L.at(-1)) + 6);
            attr(name, "y", end.label - over);
          },
        };
      });
      attr(node, "aria-label", `Thickness of each layer against the L* of the print. At the black: ${ends.map((end) => `${end.printer} ${figure(end.last, 2)}`).join(", ")} of the whole coat.`);
    },
  };
}
