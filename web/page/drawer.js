// The drawer at the right: it comes over the table with the controls of one step of the
// work, and goes again by its button, by Escape or by its pull in the head. What is in it is
// made when it is first asked for, for all of it together would keep the first picture back.

/** @import { Api, Blocks, Part } from "../types/api.js" */

import { byID, h, show } from "../ui/dom.js";
import { button } from "../ui/controls.js";

const UNFOLDED = "unfolded"; // of the browser's storage: which parts were, by station and title

/** @returns {Set<string>} */
function unfolded() {
  try {
    return new Set(JSON.parse(localStorage.getItem(UNFOLDED) ?? "[]"));
  } catch { // no storage, or something else in it
    return new Set();
  }
}

/**
 * remember has parts that open at their title stand open after a reload too.
 * @param {string} station
 * @param {HTMLElement} panel
 */
function remember(station, panel) {
  const nameOf = (/** @type {HTMLDetailsElement} */ part) => `${station}/${part.dataset.fold}`;
  const were = unfolded();
  for (const part of /** @type {NodeListOf<HTMLDetailsElement>} */ (panel.querySelectorAll("details[data-fold]"))) if (were.has(nameOf(part))) part.open = true;
  panel.addEventListener("toggle", ({ target }) => {
    if (!(target instanceof HTMLDetailsElement) || !target.dataset.fold) return;
    const now = unfolded();
    if (target.open) now.add(nameOf(target)); else now.delete(nameOf(target));
    try { localStorage.setItem(UNFOLDED, JSON.stringify([...now])); } catch { /* then they are folded after a reload */ }
  }, true);
}

/**
 * @param {Api} api
 * @param {Record<string, { build: (api: Api) => Blocks }>} stations
 * @returns {Part & { need: (id: string) => void }} need makes what one station has, where it is not there yet
 */
export function build(api, stations) {
  const drawer = byID("drawer");
  const close = () => {
    const pull = byID(`pull-${api.view().station}`);
    api.do({ do: "station", id: "" });
    (pull.checkVisibility() ? pull : byID("drawers")).focus();
  };
  const panels = Object.entries(stations).map(([id, station]) => ({
    id,
    station,
    panel: h("div", { id: `panel-${id}`, role: "group", "aria-labelledby": `pull-${id}`, class: "panel", hidden: true }),
    blocks: /** @type {Blocks | null} */ (null),
  }));
  /** @param {typeof panels[number]} one */
  const filled = (one) => {
    if (!one.blocks) {
      one.blocks = one.station.build(api);
      one.panel.append(...one.blocks.nodes);
      remember(one.id, one.panel);
    }
    return one.blocks;
  };
  drawer.append(h("div", { class: "bar" }, button("Close", close, { class: "shut" })), ...panels.map(({ panel }) => panel));
  drawer.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !event.defaultPrevented && !(event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement)) close();
  });
  return {
    need(id) {
      for (const one of panels) if (one.id === id) filled(one);
    },
    update(view) {
      show(drawer, view.station !== "");
      for (const one of panels) {
        const { id, panel } = one;
        const current = id === view.station;
        if (current) filled(one).update(view);
        if (current && panel.hidden) drawer.scrollTop = 0;
        show(panel, current);
      }
    },
  };
}
