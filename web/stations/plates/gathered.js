// A set whose plates come one by one: what is there, in which place, and what is missing. Where
// nothing is, for the page was closed before the set was open, it is opened here.

/** @import { Api, Block } from "../../types/api.js" */

import { attr, h, keyed, named, show, text } from "../../ui/dom.js";
import { button, choice } from "../../ui/controls.js";
import { capital } from "../../ui/words.js";

const filters = ["red", "green", "blue"];

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const list = h("ul", { class: "gathered" });
  const title = h("h3");
  const open = button("Open the set", () => api.desk({ do: "openGathered" }));
  const node = h("section", { class: "kept", "aria-label": "Set that is not open yet" }, title, list, open);
  return {
    node,
    update(view) {
      show(node, view.gathered.length > 0);
      text(title, view.gatheredWhole ? "All its plates are here" : "Waiting for its plates");
      show(open, view.gatheredWhole);
      keyed(list, view.gathered.map((plate, place) => ({ plate, place })), ({ place }) => place, ({ place }) => {
        const picture = h("img", { alt: "" });
        const name = h("span", { class: "file" });
        const to = choice({ label: `Place of the file taken as ${filters[place]}`, hideLabel: true, commit: (id) => api.desk({ do: "movePlate", from: place, to: filters.indexOf(id) }) });
        const away = button("Let go", () => api.desk({ do: "letGo", place }), { class: "quiet" });
        const missing = h("span", { class: "missing", text: `${capital(filters[place])} plate: missing` });
        return {
          node: h("li", {}, picture, missing, to.node, name, away),
          update({ plate: { name: file, thumb } }) {
            named(name, file);
            to.set(filters.map((id) => ({ id, name: `${id} plate` })), filters[place]);
            for (const part of [to.node, name, away]) show(part, file !== "");
            show(picture, thumb !== "");
            if (thumb) attr(picture, "src", thumb);
            show(missing, file === "");
            attr(away, "aria-label", `Let ${file} go`);
          },
        };
      });
    },
  };
}
