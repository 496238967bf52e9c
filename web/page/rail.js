// The rail: the one row of controls, with ways to look, what the pointer does and the
// enlargement. Most of what it holds is seen only where it counts.

/** @import { Api, Part } from "../types/api.js" */

import { attr, h, show, text } from "../ui/dom.js";
import { button, choice, grouped, radios } from "../ui/controls.js";
import { hold } from "../print/held.js";
import { figure } from "../ui/words.js";

const pointers = [
  { id: "pan", name: "move, read" },
  { id: "nudge", name: "nudge" },
  { id: "line", name: "lay the section" },
];

// A click that is for a note only; at other times it is none of the list.
const notePointers = [...pointers, { id: "note", name: "pin a note" }];

// Where greys of the scene are worked at, the pointer points at them too.
const greyPointers = [...pointers, { id: "grey", name: "point at greys" }, { id: "scale", name: "draw along a scale" }];

// At the three plates side by side the pointer moves them or pins.
const platePointers = [{ id: "pin", name: "pin marks" }, { id: "pan", name: "move" }];

// The groups of looks in the list.
const groups = [{ of: "all", name: "" }, { of: "marked", name: "Seen in the print" }, { of: "pairs", name: "What if" }, { of: "plates", name: "The plates" }];

const printers = ["cyan", "magenta", "yellow"].map((id) => ({ id, name: id }));

// Two layers, or their plates, that are compared, by their numbers in the program:
// 0 yellow (blue plate), 1 magenta (green), 2 cyan (red).
const layerPairs = [
  { id: "1,2", name: "magenta and cyan" },
  { id: "0,2", name: "yellow and cyan" },
  { id: "0,1", name: "yellow and magenta" },
];
const platePairs = [
  { id: "1,2", name: "green and red" },
  { id: "0,2", name: "blue and red" },
  { id: "0,1", name: "blue and green" },
];
const plates = [{ id: "2", name: "red" }, { id: "1", name: "green" }, { id: "0", name: "blue" }];

// The looks that have a list of their own beside the list of looks.
const listed = ["palettes", "layer", "plate", "turns", "edges"];

// How many pixels of the screen the loupe gives one of the scan.
const enlargements = [2, 4, 8, 16].map((id) => ({ id, name: `${id} ×` }));

const pairChoice = (/** @type {Api} */ api, /** @type {string} */ label, /** @type {"plates" | "edges"} */ command) => choice({
  label, hideLabel: true,
  commit: (id) => {
    const [first, second] = id.split(",").map(Number);
    api.do({ do: command, first, second });
  },
});

const tick = (/** @type {string} */ words, /** @type {string} */ title, /** @type {(on: boolean) => void} */ change) => {
  const box = h("input", { type: "checkbox", change: () => change(box.checked) });
  return { box, node: h("label", { class: "tick", title }, box, words) };
};

/**
 * @param {Api} api
 * @param {HTMLElement} place
 * @returns {Part}
 */
export function build(api, place) {
  // A pointer that nudges needs a layer: cyan, which is the easiest to see.
  function take(/** @type {string} */ id) {
    if (id === "nudge" && !api.view().selected) api.do({ do: "select", printer: "cyan" });
    api.do({ do: "tool", id });
  }

  const stack = button("Stack", () => api.do({ do: "stack", on: !api.view().stack }), { class: "lies", "aria-controls": "under" });
  const compare = radios({ legend: "Compare", hideLegend: true, commit: (id) => api.do({ do: "look", id }) });
  const holds = button("hold", () => hold(api), { title: "Hold this print, to look at it against others and to go back to it" });
  const looks = grouped({ label: "Look at", hideLabel: true, commit: (id) => api.do({ do: "look", id: id || "beside" }) });
  const layer = choice({ label: "Layer to look at", hideLabel: true, commit: (id) => api.do({ do: "layer", id }) });
  const other = choice({ label: "The other palette", hideLabel: true, commit: (id) => api.do({ do: "other", id }) });
  const plate = choice({
    label: "Plate to look at", hideLabel: true,
    commit: (id) => api.do({ do: "plates", first: Number(id), second: api.view().platePair.find((p) => p !== Number(id)) ?? (Number(id) + 1) % 3 }),
  });
  const turns = pairChoice(api, "Plates that are looked at by turns", "plates");
  const edges = pairChoice(api, "Layers whose edges are held together", "edges");
  const tool = choice({ label: "Pointer", hideLabel: true, commit: take });
  tool.node.id = "tool";
  const together = tick("move all three", "A drag moves the three plates alike, as with Shift", (on) => api.do({ do: "together", on }));
  const contrast = tick("full contrast", "Enlarged plates show the tones that stand in the pane over the whole scale", (on) => api.do({ do: "contrast", on }));
  const loupe = tick("loupe", "The three plates enlarged beside the pointer (key l over the picture)", (on) => api.do({ do: "loupe", on }));
  loupe.box.setAttribute("aria-keyshortcuts", "l");
  const enlarged = choice({ label: "Enlargement of the loupe", hideLabel: true, commit: (id) => api.do({ do: "loupe", on: true, zoom: Number(id) }) });
  // Asked for under Register, the arrows stay in all looks: here they are put away.
  const left = tick("what is left", "Arrows to where each plate lies, asked for under Register", (on) => api.do({ do: "left", hidden: !on }));
  const borders = tick("plate edges", "Show the plates to their edges, or only the picture that all three hold", (on) => api.do({ do: "whole", hidden: !on }));

  const share = h("output", { id: "zoom", "aria-label": "Enlargement" });
  const zoom = h("div", { class: "zoom", role: "group", "aria-label": "Enlargement" },
    button("−", () => api.do({ do: "zoom", by: 0.8 }), { "aria-label": "Smaller" }),
    share,
    button("+", () => api.do({ do: "zoom", by: 1.25 }), { "aria-label": "Larger" }),
    button("fit", () => api.do({ do: "zoom", fit: true }), { "aria-label": "Fit the picture", "data-fit": true }),
    button("100 %", () => api.do({ do: "zoom", percent: 100 }), { title: "One scan pixel to one screen pixel" }));

  // Where a window is narrow, what is needed more rarely lies behind one button.
  const rarer = h("div", { class: "rarer", id: "rarer" }, tool.node, together.node, contrast.node, h("span", { class: "loupes" }, loupe.node, enlarged.node), left.node, borders.node);
  const more = button("more", () => unfold(rarer.dataset.open === undefined), { class: "more", "aria-controls": "rarer", "aria-expanded": "false" });
  const unfold = (/** @type {boolean} */ open) => {
    attr(rarer, "data-open", open);
    attr(more, "aria-expanded", String(open));
  };
  rarer.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    unfold(false);
    more.focus();
  });
  document.addEventListener("pointerdown", ({ target }) => {
    if (target instanceof Node && !rarer.contains(target) && !more.contains(target)) unfold(false);
  }, true);

  const aids = h("div", { class: "aids" }, rarer, more, zoom);

  // Where there is least room, so do enlargement and hold.
  const least = matchMedia("(max-width: 860px)");
  const little = matchMedia("(max-width: 1000px)"); // for two lists beside the words before them
  const put = () => {
    if (least.matches) rarer.prepend(holds, zoom);
    else {
      compare.node.after(holds);
      more.after(zoom);
    }
  };
  least.addEventListener("change", put);

  place.append(stack,
    h("div", { id: "look" }, compare.node, holds, looks.node, other.node, layer.node, plate.node, turns.node, edges.node),
    aids);
  put();

  // Where there is room for them they stand in the row.
  const [narrow, narrower] = [matchMedia("(max-width: 1560px)"), matchMedia("(max-width: 1380px)")];
  let full = false; // the look asks for more than one row of a narrower window holds
  const fold = () => attr(place, "data-folded", narrower.matches || narrow.matches && full);
  for (const width of [narrow, narrower]) width.addEventListener("change", fold);

  return {
    update(view) {
      const marking = view.look === "marks";
      const board = view.look === "board";
      attr(stack, "aria-expanded", String(view.stack));
      const compared = view.looks.filter((look) => look.of === "print");
      show(stack, !board);
      compare.set(compared, view.look);
      show(holds, view.ready && !board);
      const first = { id: "", name: "look at …" };
      // Where there is little room beside two lists, what the words before them say stands in the first.
      const two = little.matches && listed.includes(view.look);
      attr(place, "data-two", two);
      looks.set([{ name: "", options: two ? compared : [first] }, ...groups.map(({ of, name }) => ({ name, options: view.looks.filter((look) => look.of === of) }))],
        compared.some((look) => look.id === view.look) ? "" : view.look);
      layer.set(printers, view.layer);
      other.set(view.palettes.filter((palette) => !palette.chosen), view.other);
      plate.set(plates, view.platePair[0]);
      turns.set(platePairs, view.platePair.toSorted().join());
      edges.set(layerPairs, view.edges.toSorted().join());
      for (const [look, control] of Object.entries({ palettes: other, layer, plate, turns, edges })) show(control.node, view.look === look);
      tool.set(marking ? platePointers : (view.tool === "note" ? notePointers : view.station === "plates" ? greyPointers : pointers).map((item) => item.id === "nudge" && view.selected
        ? { ...item, name: `nudge ${view.selected}` } : item), view.tool);
      show(tool.node, !board);
      show(together.node, marking);
      together.box.checked = view.together;
      show(zoom, !board);
      text(share, `${figure(view.zoom * 100)} %`);
      left.box.checked = view.left.shown;
      show(left.node, view.left.shown && !board);
      borders.box.checked = view.whole;
      show(borders.node, !board);
      loupe.box.checked = view.loupe.on;
      show(loupe.node, !board);
      enlarged.set(enlargements, view.loupe.zoom);
      show(enlarged.node, view.loupe.on);
      contrast.box.checked = view.contrast;
      show(contrast.node, marking || view.loupe.on);
      full = marking || view.loupe.on || view.left.shown;
      fold();
      show(aids, !board);
      attr(more, "data-on", view.loupe.on || view.whole || view.left.shown || marking && (view.together || view.contrast)); // something behind it is on
    },
  };
}
