// The stack, drawn as the thing it is: paper, and on it the three layers of gelatine, as
// thick as their coats. The drawing is what one takes hold of: a layer is chosen by a
// click, put in another place by a drag or by Alt with an arrow key, and lifted off, so
// that the prints are seen without it.

/** @import { Api, Blocks } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */
/** @import { Child } from "../ui/dom.js" */

import { attr, h, keyed, named, show, style, svg, text } from "../ui/dom.js";
import { button, pressed } from "../ui/controls.js";
import { chosenPalette, fromPaper, orderOf, pigmentWords } from "../print/layers.js";
import { figure } from "../ui/words.js";

const SLACK = 6; // CSS pixels that a click may slip before it is a drag

// The drawing, CSS pixels: the block is seen from the front and a little from above, and
// each sheet stands out from the one on it.
const WIDTH = 236; // of the paper
const STEP = 17; // by which the sheet on it is narrower
const DEPTH = 12; // of what is seen of a sheet's upper side
const PER_UM = 1.15; // height of its front, for each µm of its coat
const [LEAST, MOST] = [24, 46]; // of that
const PAPER = 15; // height of the paper's front, which is not to scale

/** @typedef {Record<string, number>} Heights of the layers, by printer, in µm */

/**
 * sheet draws one sheet of the block.
 */
function sheet() {
  const [top, front, edge] = [svg("path", { class: "top" }), svg("path", { class: "front" }), svg("path", { class: "edge" })];
  const node = svg("svg", { "aria-hidden": "true", class: "slab" }, top, front, edge);
  return {
    node,
    /**
     * @param {number} wide
     * @param {number} high
     * @param {string} colour
     */
    update(wide, high, colour) {
      const all = high + DEPTH;
      attr(node, "viewBox", `0 0 ${WIDTH + 2 * DEPTH} ${all}`);
      attr(node, "width", WIDTH + 2 * DEPTH);
      attr(node, "height", all);
      attr(top, "d", `M0 ${DEPTH}l${2 * DEPTH} ${-DEPTH}h${wide}l${-2 * DEPTH} ${DEPTH}z`);
      attr(front, "d", `M0 ${DEPTH}h${wide}v${high}h${-wide}z`);
      attr(edge, "d", `M${wide} ${DEPTH}l${2 * DEPTH} ${-DEPTH}v${high}l${-2 * DEPTH} ${DEPTH}z`);
      style(node, "--colour", colour);
    },
  };
}

/**
 * @param {Api} api
 * @returns {Blocks & { at: (um: Heights | null) => void }}
 */
export function build(api) {
  /** @type {Model} */
  let view;
  /** @type {Heights | null} */
  let place = null; // at the section's cursor
  /** @type {{ y: number, from: number, to: number } | null} */
  let held = null; // the layer that is dragged: where the pointer took it, and its place in the stack before and after
  const list = h("ol", { class: "layers", "aria-label": "Layers, from the top to the paper" });
  const paper = sheet();
  const paperName = h("span", { class: "printer" });
  const base = h("button", { type: "button", class: "pick base", title: "Choose another paper", click: () => api.do({ do: "station", id: "tissues" }) },
    paper.node, h("span", { class: "named" }, paperName));
  const order = h("p", { class: "unseen", role: "status" });
  const cut = button("Section", () => api.do({ do: "cut", on: !api.view().cut }), { class: "quiet cut-open", "aria-controls": "section" });
  const nodes = [h("div", { class: "block" }, list, base), cut, order];

  const topDown = () => fromPaper(view.order).reverse();

  function move(/** @type {string} */ printer, /** @type {number} */ to) {
    const stack = topDown();
    if (to < 0 || to >= stack.length) return;
    stack.splice(stack.indexOf(printer), 1);
    stack.splice(to, 0, printer);
    api.do({ do: "order", order: orderOf(stack.reverse()) });
  }

  /**
   * drag marks the place that the held layer would take.
   * @param {HTMLElement} node
   * @param {PointerEvent} event
   */
  function drag(node, event) {
    if (!held || held.to < 0 && Math.abs(event.clientY - held.y) < SLACK) return;
    node.setPointerCapture(event.pointerId);
    const rows = [...list.children];
    const under = rows.findIndex((r) => event.clientY < r.getBoundingClientRect().bottom);
    const { from } = held;
    const to = held.to = under < 0 ? rows.length - 1 : under;
    rows.forEach((r, i) => attr(r, "data-over", i !== to || i === from ? null : to < from ? "above" : "below"));
    attr(node, "data-held", true);
    style(node, "translate", `0 ${event.clientY - held.y}px`);
  }

  function drop(/** @type {string} */ printer) {
    const { to = -1, from = -1 } = held ?? {};
    letGo();
    if (to >= 0 && to !== from) move(printer, to);
  }

  function letGo() {
    held = null;
    for (const r of list.children) {
      attr(r, "data-over", null);
      attr(r, "data-held", null);
      if (r instanceof HTMLElement) r.style.removeProperty("translate");
    }
  }

  // choose selects a layer for nudging and opens the editor of its tissue. Chosen once
  // more, the layer is no longer selected.
  function choose(/** @type {string} */ printer) {
    const again = view.selected === printer;
    api.do({ do: "select", printer: again ? "" : printer });
    if (!again) api.do({ do: "edit", printer });
  }

  /** @type {(printer: string) => Child<string>} */
  function row(printer) {
    const drawn = sheet();
    const words = h("span");
    const thickness = h("span", { class: "thickness" });
    const isChosen = h("span", { class: "is-chosen", text: ", chosen" });
    const name = h("span", { class: "printer" }, printer, isChosen);
    const pick = h("button", { type: "button", class: "pick", click: () => choose(printer) },
      drawn.node, h("span", { class: "named" }, name, h("span", { class: "pigments" }, thickness, words)));
    const up = button("up", () => move(printer, topDown().indexOf(printer) - 1), { "aria-label": `Move ${printer} up` });
    const down = button("down", () => move(printer, topDown().indexOf(printer) + 1), { "aria-label": `Move ${printer} down` });
    const lift = button("", () => api.do({ do: "hide", printer, hidden: !view.hidden.includes(printer) }), { class: "lift" });
    const node = h("li", {
      keydown: (event) => {
        if (!event.altKey || event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
        event.preventDefault();
        move(printer, topDown().indexOf(printer) + (event.key === "ArrowUp" ? -1 : 1));
      },
      pointerdown: (event) => {
        if (event.button === 0 && event.target instanceof Element && !event.target.closest(".moves")) held = { y: event.clientY, from: topDown().indexOf(printer), to: -1 };
      },
      pointermove: (event) => drag(node, event),
      pointerup: () => drop(printer),
      pointercancel: () => letGo(),
    }, pick, h("span", { class: "moves" }, up, down, lift));

    return {
      node,
      update(_, i) {
        const layer = chosenPalette(view).layers.find((l) => l.printer === printer);
        const coat = layer?.coatMicron ?? 20;
        const high = Math.min(Math.max(coat * PER_UM, LEAST), MOST);
        drawn.update(WIDTH - (3 - i) * STEP, high, layer?.swatch ?? "transparent");
        style(node, "--high", `${high}px`);
        style(node, "z-index", String(4 - i));
        text(words, pigmentWords(layer));
        attr(words, "title", pigmentWords(layer));
        const chosen = view.selected === printer;
        pressed(pick, chosen);
        show(isChosen, chosen);
        attr(pick, "title", chosen ? `${printer}, chosen for nudging: choose it again to let go` : `${printer}: choose it to edit its tissue and to nudge it; drag it to another place`);
        const um = (place ?? view.sample?.um)?.[printer];
        text(thickness, um === undefined ? `${figure(coat)} µm ` : `${figure(um, 1)} of ${figure(coat)} µm `);
        attr(up, "aria-disabled", i === 0 ? "true" : null);
        attr(down, "aria-disabled", i === 2 ? "true" : null);
        const hidden = view.hidden.includes(printer);
        text(lift, hidden ? "lay back" : "lift off");
        attr(lift, "aria-label", hidden ? `Lay ${printer} back` : `Lift ${printer} off`);
        attr(node, "data-hidden", hidden);
      },
    };
  }

  function update(/** @type {Model} */ now) {
    view = now;
    keyed(list, topDown(), (printer) => printer, row);
    paper.update(WIDTH, PAPER, view.paperSwatch);
    const on = view.papers.find((p) => p.id === view.paper);
    named(paperName, on?.name ?? "paper", on?.own ?? false);
    text(cut, view.cut ? "Close the section" : "Section");
    attr(cut, "aria-expanded", String(view.cut));
    show(cut, view.ready);
    text(order, `From the top: ${topDown().join(", ")}.`);
  }

  return {
    nodes,
    update,
    // at shows the thicknesses at the section's cursor, null at the sampled point.
    at(um) {
      place = um;
      if (view) update(view);
    },
  };
}
