// The tag beside the pointer: the colours there, until the pointer goes on. A click holds
// them as a point.

/** @import { Point as Read, PrintRead } from "../types/model.js" */

import { h, keyed, show, style, text } from "../ui/dom.js";
import { figure } from "../ui/words.js";

const REST = 160; // ms that the pointer lies still before it is read
const AWAY = 18; // px from the pointer

/**
 * reading makes the tag and lays it on the stage.
 * @param {HTMLElement} stage
 */
export function reading(stage) {
  const patches = h("span", { class: "patches-read" });
  const apart = h("span");
  const reach = h("span", { class: "reach-read" });
  const tag = h("div", { id: "tag", "aria-hidden": "true", hidden: true }, patches, apart, reach);
  stage.append(tag);
  let waiting = 0;
  const away = () => {
    clearTimeout(waiting);
    show(tag, false);
  };
  return {
    away,
    over(/** @type {{ x: number, y: number }} */ p) {
      away();
      waiting = setTimeout(() => {
        const found = window.threeply.peek(p.x, p.y);
        if (found === "") return;
        /** @type {Read} */
        const { colours, prints } = JSON.parse(found);
        keyed(patches, colours, (colour) => colour.id, () => {
          const patch = h("i");
          return { node: patch, update: (/** @type {Read["colours"][0]} */ colour) => style(patch, "background-color", colour.hex) };
        });
        text(apart, `ΔE00 ${colours.slice(1).map((colour) => figure(colour.dE, 1)).join(", ")}`);
        const beyond = prints.filter(({ reach }) => reach.startsWith("cannot"));
        keyed(reach, beyond, (print) => print.id, () => {
          const [name, words] = [h("strong"), h("span")];
          return {
            node: h("span", {}, name, " ", words),
            update: (/** @type {PrintRead} */ print) => {
              text(name, prints.length > 1 ? print.label : "");
              text(words, print.reach);
            },
          };
        });
        show(reach, beyond.length > 0);
        show(tag, true);
        const left = p.x + AWAY + tag.offsetWidth > stage.clientWidth;
        style(tag, "left", `${left ? p.x - AWAY - tag.offsetWidth : p.x + AWAY}px`);
        style(tag, "top", `${Math.min(p.y + AWAY, stage.clientHeight - tag.offsetHeight - 4)}px`);
      }, REST);
    },
  };
}
