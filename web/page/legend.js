// The legend of the section, and the control of the stack: the layers from the
// top down to the paper, to choose, to hide and to put in another order, by
// drag, by buttons and by Alt with an arrow key.

/** @import { Api, Blocks } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */
/** @import { Child } from "../ui/dom.js" */

import { h, attr, keyed, style, text } from "../ui/dom.js";
import { button, pressed } from "../ui/controls.js";
import { chosenPalette, fromPaper, orderOf, pigmentWords } from "../print/layers.js";
import { figure } from "../ui/words.js";

const SLACK = 6; // CSS pixels that a click may slip before it is a drag

/** @typedef {Record<string, number>} Heights of the layers, by printer, in µm */

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
  let held = null; // the row that is dragged: where the pointer took it, and its place in the stack before and after
  const list = h("ol", { class: "layers" });
  const paper = h("span", { class: "paper-name" });
  const chip = h("span", { class: "chip", "aria-hidden": "true" });
  const order = h("p", { class: "unseen", role: "status" });
  const nodes = [
    h("h2", { text: "Top to paper" }), list,
    h("p", { class: "ground" }, chip, paper), order,
  ];

  const topDown = () => fromPaper(view.order).reverse();

  function move(/** @type {string} */ printer, /** @type {number} */ to) {
    const stack = topDown();
    if (to < 0 || to >= stack.length) return;
    stack.splice(stack.indexOf(printer), 1);
    stack.splice(to, 0, printer);
    api.do({ do: "order", order: orderOf(stack.reverse()) });
  }

  /**
   * drag marks the place that the held row would take.
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
    const swatch = h("span", { class: "chip", "aria-hidden": "true" });
    const words = h("span");
    const thickness = h("span", { class: "thickness" });
    const name = h("span", { class: "printer", text: printer });
    const pick = h("button", {
      type: "button", class: "pick",
      click: () => choose(printer),
    }, swatch, h("span", { class: "named" }, name, h("span", { class: "pigments" }, thickness, words)));
    const up = button("up", () => move(printer, topDown().indexOf(printer) - 1), { "aria-label": `Move ${printer} up` });
    const down = button("down", () => move(printer, topDown().indexOf(printer) + 1), { "aria-label": `Move ${printer} down` });
    const seen = h("input", {
      type: "checkbox", "aria-label": `Show the ${printer} layer`,
      change: () => api.do({ do: "hide", printer, hidden: !seen.checked }),
    });
    const node = h("li", {
      keydown: (event) => {
        if (!event.altKey || event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
        event.preventDefault();
        move(printer, topDown().indexOf(printer) + (event.key === "ArrowUp" ? -1 : 1));
      },
      pointerdown: (event) => {
        if (event.button === 0 && event.target instanceof Element && !event.target.closest(".moves, .seen")) held = { y: event.clientY, from: topDown().indexOf(printer), to: -1 };
      },
      pointermove: (event) => drag(node, event),
      pointerup: () => drop(printer),
      pointercancel: () => letGo(),
    }, pick, h("span", { class: "moves" }, up, down), h("label", { class: "seen" }, seen, "show"));

    return {
      node,
      update(_, i) {
        const layer = chosenPalette(view)?.layers.find((l) => l.printer === printer);
        style(swatch, "background-color", layer?.swatch ?? "transparent");
        text(words, pigmentWords(layer));
        const chosen = view.selected === printer;
        pressed(pick, chosen);
        attr(pick, "title", chosen ? `${printer} printer, chosen for nudging: choose again to let go` : `${printer} printer: choose it to edit its tissue and to nudge it`);
        const um = (place ?? view.sample?.um)?.[printer];
        text(thickness, um === undefined ? "" : `${figure(um, 1)} µm, `);
        attr(up, "aria-disabled", i === 0 ? "true" : null);
        attr(down, "aria-disabled", i === 2 ? "true" : null);
        const hidden = view.hidden.includes(printer);
        if (seen.checked === hidden) seen.checked = !hidden;
        attr(node, "data-hidden", hidden);
      },
    };
  }

  function update(/** @type {Model} */ now) {
    view = now;
    keyed(list, topDown(), (printer) => printer, row);
    text(paper, view.papers.find((p) => p.id === view.paper)?.name ?? "paper");
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
