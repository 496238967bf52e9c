// The light that the print is seen in, and the room.

/** @import { Api, Block } from "../types/api.js" */

import { h } from "../ui/dom.js";
import { choice, numberField, radios } from "../ui/controls.js";

const rooms = [{ id: "bench", name: "workshop bench, 500 lx" }, { id: "gallery", name: "dim gallery, 50 lx" }];

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const list = choice({ label: "Light", commit: (id) => api.do({ do: "light", id }) });
  const kelvin = numberField({
    label: "or a glowing lamp of", unit: "K", min: 1500, max: 12000, step: 50, placeholder: "3200",
    commit: (value) => api.do({ do: "light", id: `${Math.round(value)}K` }),
  });
  const room = radios({ legend: "Room", commit: (id) => api.do({ do: "dim", on: id === "gallery" }) });
  return {
    node: h("section", { class: "light" }, list.node, kelvin.node, room.node,
      h("p", { class: "hint", text: "Seen after the eye has adapted: at 50 lx darks are flatter and colours duller. All figures stay as they are." })),
    update(view) {
      list.set(view.lights, view.light);
      kelvin.set(view.kelvin || NaN);
      room.set(rooms, view.dim ? "gallery" : "bench");
    },
  };
}
