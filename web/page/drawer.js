// The drawer at the right: it comes over the table with the controls of one step of the
// work, and goes again by its button, by Escape or by its pull in the head.

/** @import { Api, Blocks, Part } from "../types/api.js" */

import { byID, h, show } from "../ui/dom.js";
import { button } from "../ui/controls.js";

/**
 * @param {Api} api
 * @param {Record<string, { build: (api: Api) => Blocks }>} stations
 * @returns {Part}
 */
export function build(api, stations) {
  const drawer = byID("drawer");
  const close = () => {
    const pull = byID(`pull-${api.view().station}`);
    api.do({ do: "station", id: "" });
    pull.focus();
  };
  const panels = Object.entries(stations).map(([id, station]) => {
    const { nodes, update } = station.build(api);
    const panel = h("div", { id: `panel-${id}`, role: "group", "aria-labelledby": `pull-${id}`, class: "panel", hidden: true }, ...nodes);
    return { id, panel, update };
  });
  drawer.append(h("div", { class: "bar" }, button("Close", close, { class: "shut" })), ...panels.map(({ panel }) => panel));
  drawer.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !event.defaultPrevented && !(event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement)) close();
  });
  return {
    update(view) {
      show(drawer, view.station !== "");
      for (const { id, panel, update } of panels) {
        const current = id === view.station;
        if (current) update(view);
        if (current && panel.hidden) drawer.scrollTop = 0;
        show(panel, current);
      }
    },
  };
}
