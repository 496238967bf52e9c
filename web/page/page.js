// The page: it makes every part once and hands each new view to all of them.

/** @import { Api, Part, Blocks } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { byID, h, show } from "../ui/dom.js";
import * as head from "./head.js";
import * as bar from "./bar.js";
import * as board from "./board.js";
import * as captions from "./captions.js";
import * as notices from "./notices.js";
import * as legend from "./legend.js";
import * as section from "./section.js";
import * as turns from "./turns.js";
import * as plates from "../stations/plates/plates.js";
import * as register from "../stations/register/register.js";
import * as tissues from "../stations/tissues/tissues.js";
import * as proof from "../stations/proof/proof.js";
import * as sheets from "../stations/sheets/sheets.js";

/** @type {Record<string, { build: (api: Api) => Blocks }>} */
const stations = { plates, register, tissues, proof, sheets };

/** @type {Part[]} */
let parts = [];
/** @type {(Part & { id: string, panel: HTMLElement })[]} */
let panels = [];

/**
 * start fills the page.
 * @param {Api} api
 */
export function start(api) {
  const layers = legend.build(api);
  panels = Object.entries(stations).map(([id, station]) => {
    const { nodes, update } = station.build(api);
    const panel = h("div", {
      id: `panel-${id}`, role: "tabpanel", "aria-labelledby": `tab-${id}`, class: "panel", hidden: true,
    }, ...nodes);
    return { id, panel, update };
  });
  byID("panels").append(...panels.map(({ panel }) => panel));
  const below = { bar: bar.build(api), legend: layers, section: section.build(layers.at), turns: turns.build(api) };
  for (const [id, part] of Object.entries(below)) byID(id).append(...part.nodes);
  parts = [
    head.build(api, Object.keys(stations), byID("tabs"), byID("state")),
    captions.build(byID("captions"), byID("opening")),
    board.build(api, byID("board")),
    notices.build(api, byID("messages"), byID("busy")),
    ...Object.values(below),
  ];
}

/**
 * render brings the page in step with a view.
 * @param {Model} view
 */
export function render(view) {
  for (const part of parts) part.update(view);
  for (const { id, panel, update } of panels) {
    const current = id === view.station;
    if (current) update(view);
    if (current && panel.hidden) byID("column").scrollTop = 0;
    show(panel, current);
  }
}
