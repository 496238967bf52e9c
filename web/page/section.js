// The section: a true cut through the print along the line over the picture.
// Paper at the bottom, the layers over it as thick as they are computed there
// (µm dry), in their pigments' colours.

/** @import { Blocks } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { byID, h, attr, keyed, style, svg, text } from "../ui/dom.js";
import { fromPaper } from "../print/layers.js";
import { figure, length } from "../ui/words.js";
import { ticks, topOf } from "./scale.js";

const LEFT = 54; // room for the µm scale
const RIGHT = 12;
const TOP = 10;
const BOTTOM = 22; // room for the mm scale
const PAPER = 10; // the paper's band; its own thickness is not to scale
const SAMPLES = 480; // points along the line

/**
 * @param {(um: Record<string, number> | null) => void} at is told the thicknesses at the
 *   cursor, null where there is none
 * @returns {Blocks}
 */
export function build(at) {
  let drawn = { version: -1, width: 0, height: 0 };
  /** @type {Model | null} */
  let view = null;
  /** @type {SectionAlong | null} */
  let data = null;
  let cursor = -1;

  const layers = svg("g");
  const paper = svg("rect", { class: "paper" });
  const marks = svg("g", { class: "marks" });
  const line = svg("line", { class: "cursor" });
  const drawing = svg("svg", { "aria-hidden": "true" }, marks, paper, layers, line);
  const box = h("div", {
    class: "profile", tabindex: "0", role: "slider", "aria-label": "Place along the section", "aria-valuemin": "0",
    pointermove: (event) => moveTo(shareAt(event)),
    pointerleave: () => { if (document.activeElement !== box) moveTo(-1); },
    keydown: walk,
    blur: () => moveTo(-1),
  }, drawing);
  const along = h("span", { class: "along" });
  const relief = h("span", { class: "relief" });
  const taller = h("span", { class: "taller" });

  new ResizeObserver(() => draw()).observe(box);

  function shareAt(/** @type {PointerEvent} */ event) {
    const bounds = box.getBoundingClientRect();
    return (event.clientX - bounds.left - LEFT) / (bounds.width - LEFT - RIGHT);
  }

  function walk(/** @type {KeyboardEvent} */ event) {
    const from = cursor < 0 ? 0 : cursor;
    const to = {
      ArrowLeft: from - 0.01, ArrowDown: from - 0.01, ArrowRight: from + 0.01, ArrowUp: from + 0.01,
      PageDown: from - 0.1, PageUp: from + 0.1, Home: 0, End: 1,
    }[event.key];
    if (to === undefined || event.altKey) return;
    event.preventDefault();
    moveTo(Math.min(Math.max(to, 0), 1));
  }

  // moveTo sets the cursor to a share of the line, 0 to 1; outside there is none.
  function moveTo(/** @type {number} */ share) {
    cursor = share >= 0 && share <= 1 && data ? share : -1;
    mark();
  }

  function mark() {
    style(line, "display", cursor < 0 ? "none" : "inline");
    if (!view) return;
    if (cursor < 0 || !data) {
      text(along, data ? `${figure(data.lengthMm)} mm long` : "lay a line over the picture");
      attr(box, "aria-valuetext", "no place chosen");
      attr(box, "aria-valuenow", "0");
      at(null);
      return;
    }
    const i = Math.round(cursor * (data.n - 1));
    const x = LEFT + cursor * (drawn.width - LEFT - RIGHT);
    for (const [name, value] of Object.entries({ x1: x, x2: x, y1: TOP, y2: drawn.height - BOTTOM })) attr(line, name, value);
    /** @type {Record<string, number>} */
    const um = {};
    for (const printer of fromPaper(data.order)) um[printer] = data.um[printer][i];
    const mm = cursor * data.lengthMm;
    const heights = Object.entries(um).map(([printer, height]) => `${printer} ${figure(height, 1)} µm`).join(", ");
    text(along, `at ${figure(mm, 1)} mm`);
    attr(box, "aria-valuenow", mm.toFixed(1));
    attr(box, "aria-valuetext", `at ${figure(mm, 1)} mm, from the paper: ${heights}`);
    at(um);
  }

  function draw() {
    const { clientWidth: width, clientHeight: height } = box;
    if (!view || !data || width < 120 || height < 60) return;
    const cut = data;
    drawn = { ...drawn, width, height };
    const { hidden } = view;
    attr(drawing, "viewBox", `0 0 ${width} ${height}`);
    attr(box, "aria-valuemax", cut.lengthMm.toFixed(1));
    const ground = height - BOTTOM - PAPER;
    const top = topOf(cut.maxUm);
    const px = (/** @type {number} */ um) => (um / top) * (ground - TOP);
    const x = (/** @type {number} */ i) => LEFT + (i / (cut.n - 1)) * (width - LEFT - RIGHT);

    for (const [name, value] of Object.entries({ x: LEFT, y: ground, width: width - LEFT - RIGHT, height: PAPER })) attr(paper, name, value);
    style(paper, "fill", cut.swatch.paper);
    style(byID("under"), "--paper", cut.swatch.paper);

    const below = new Float32Array(cut.n);
    const shapes = fromPaper(cut.order).map((printer) => {
      const um = cut.um[printer];
      const upper = [];
      const lower = [];
      for (let i = 0; i < cut.n; i++) {
        lower.push(`${x(i).toFixed(1)} ${(ground - px(below[i])).toFixed(1)}`);
        below[i] += um[i];
        upper.push(`${x(i).toFixed(1)} ${(ground - px(below[i])).toFixed(1)}`);
      }
      return {
        printer, d: `M${upper.join("L")}L${lower.reverse().join("L")}Z`,
        fill: cut.swatch[printer], shown: hidden.includes(printer) ? "layer hidden" : "layer",
      };
    });
    keyed(layers, shapes, (shape) => shape.printer, () => {
      const path = svg("path");
      return {
        node: path,
        update: (shape) => {
          attr(path, "d", shape.d);
          style(path, "fill", shape.fill);
          attr(path, "class", shape.shown);
        },
      };
    });

    marks.replaceChildren(
      ...ticks(top, Math.max(2, Math.floor((ground - TOP) / 34))).flatMap((um) => {
        const y = ground - px(um);
        return [
          svg("line", { x1: LEFT, x2: width - RIGHT, y1: y, y2: y }),
          svg("text", { x: LEFT - 8, y: y + 4, "text-anchor": "end", text: um === 0 ? "0" : `${um} µm` }),
        ];
      }),
      ...ticks(cut.lengthMm, Math.max(2, Math.floor(width / 130))).map((mm) =>
        svg("text", {
          x: LEFT + (mm / cut.lengthMm) * (width - LEFT - RIGHT), y: height - 6,
          "text-anchor": mm > 0.93 * cut.lengthMm ? "end" : "middle", text: mm === 0 ? "0" : `${mm} mm`,
        })));

    const drawnTaller = ((ground - TOP) / (top / 1000)) / ((width - LEFT - RIGHT) / cut.lengthMm);
    text(relief, `up to ${length(Math.max(...below))} dry`);
    text(taller, `heights × ${figure(Number(drawnTaller.toPrecision(2)))}`);
    mark();
  }

  return {
    nodes: [h("header", {}, h("h2", { text: "Section" }), along, relief, taller), box],
    update(now) {
      const hiddenChanged = view && view.hidden.join() !== now.hidden.join();
      view = now;
      if (!now.ready || now.sectionVersion === drawn.version && !hiddenChanged) return;
      data = window.threeply.section(SAMPLES) ?? null;
      drawn.version = now.sectionVersion;
      draw();
    },
  };
}
