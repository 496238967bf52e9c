// The drawer at the right: it comes over the table with the controls of one step of the
// work, and goes again by its button, by Escape or by its pull in the head. What is in it is
// made when it is first asked for, for all of it together would keep the first picture back.

/** @import { Api, Blocks, Part } from "../types/api.js" */

import { byID, h, show } from "../ui/dom.js";
import { button } from "../ui/controls.js";

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
    pull.focus();
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
