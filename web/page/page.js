// The page: it makes every part once and hands each new view to all of them.

/** @import { Api, Part, Room, View } from "../types/api.js" */

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

/** @type {Record<string, { build: (api: Api) => Room }>} */
const stations = { plates, register, tissues, proof, sheets };

/** @type {Part[]} */
let parts = [];
/** @type {(Part & { id: string, room: HTMLElement })[]} */
let panels = [];

/**
 * start fills the page.
 * @param {Api} api
 */
export function start(api) {
  const layers = legend.build(api);
  const cut = section.build((um) => layers.at(um));
  panels = Object.entries(stations).map(([id, station]) => {
    const { nodes, update } = station.build(api);
    const room = h("div", {
      id: `panel-${id}`, role: "tabpanel", "aria-labelledby": `tab-${id}`, class: "panel", hidden: true,
    }, ...nodes);
    return { id, room, update };
  });
  byID("panels").append(...panels.map((panel) => panel.room));
  const captioned = captions.build(byID("captions"), byID("opening"));
  const headed = head.build(api, Object.keys(stations), byID("tabs"), byID("state"));
  const noticed = notices.build(api, byID("messages"), byID("busy"));
  const barred = bar.build(api);
  const boarded = board.build(api, byID("board"));
  const turned = turns.build(api);
  byID("bar").append(...barred.nodes);
  byID("legend").append(...layers.nodes);
  byID("section").append(...cut.nodes);
  byID("turns").append(...turned.nodes);
  parts = [headed, captioned, boarded, barred, noticed, layers, cut, turned];
}

/**
 * render brings the page in step with a view.
 * @param {View} view
 */
export function render(view) {
  for (const part of parts) part.update(view);
  for (const panel of panels) {
    const current = panel.id === view.station;
    if (current) panel.update(view);
    if (current && panel.room.hidden) byID("column").scrollTop = 0;
    show(panel.room, current);
  }
}
