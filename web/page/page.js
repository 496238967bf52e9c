// The page: it makes every part once and hands each new view to all of them.

import { h, show } from "../ui/dom.js";
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

const stations = { plates, register, tissues, proof, sheets };

let parts = [];
let panels = [];

// start fills the page. api is {do, desk, view, openFiles, openSession, compute,
// printSmall, refresh …} of boot.js and what saving.js saves.
export function start(api) {
  const place = (id) => document.getElementById(id);
  const layers = legend.build(api);
  const cut = section.build((um) => layers.at(um));
  const room = place("panels");
  panels = Object.entries(stations).map(([id, station]) => {
    const made = station.build(api);
    made.id = id;
    made.room = h("div", {
      id: `panel-${id}`, role: "tabpanel", "aria-labelledby": `tab-${id}`, class: "panel", hidden: true,
    }, ...made.nodes);
    room.append(made.room);
    return made;
  });
  const captioned = captions.build(place("captions"), place("opening"));
  const headed = head.build(api, Object.keys(stations), place("tabs"), place("state"));
  const noticed = notices.build(api, place("messages"), place("busy"));
  const barred = bar.build(api);
  const boarded = board.build(api, place("board"));
  const turned = turns.build(api);
  place("bar").append(...barred.nodes);
  place("legend").append(...layers.nodes);
  place("section").append(...cut.nodes);
  place("turns").append(...turned.nodes);
  parts = [headed, captioned, boarded, barred, noticed, layers, cut, turned];
}

// render brings the page in step with a view.
export function render(view) {
  for (const part of parts) part.update(view);
  for (const panel of panels) {
    const current = panel.id === view.station;
    if (current) panel.update(view);
    if (current && panel.room.hidden) document.getElementById("column").scrollTop = 0;
    show(panel.room, current);
  }
}
