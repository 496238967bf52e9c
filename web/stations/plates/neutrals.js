// What white, black and contrast of the three plates rest on: greys of the scene, a grey
// scale in it, or an assumption on its light; and what that means for the print.

/** @import { Api } from "../../types/api.js" */
/** @import { Audit, Curve, Estimate } from "../../types/audit.js" */
/** @import { Assumption, Model } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { h, attr, keyed, show, text } from "../../ui/dom.js";
import { button, fold, pressed } from "../../ui/controls.js";
import { capital, figure } from "../../ui/words.js";
import { columns } from "../../ui/table.js";
import { textField } from "../../ui/textfield.js";
import { greysPlot } from "./greys.js";

const hints = /** @type {Record<string, string>} */ ({
  grey: "Click what is grey in the scene: a light, a middle and a dark one tell most. By keys: arrows move the picture under the cross, Enter points.",
  scale: "Draw along the middle of the scale, from its first step to its last. By keys: Enter at the first step under the cross, arrows to the last, Enter.",
});

/** @param {Api} api */
export function build(api) {
  const answer = h("p", { class: "sentence" });
  const rests = h("p", { class: "facts" });
  const take = (/** @type {"grey" | "scale"} */ id) => api.do({ do: "tool", id: api.view().tool === id ? "pan" : id });
  const point = button("Point at greys", () => take("grey"));
  const draw = button("Draw along a scale", () => take("scale"));
  const hint = h("p", { class: "hint", role: "status" });
  const proposed = h("p", { class: "facts" });
  const proposal = h("div", { class: "proposed-scale" }, proposed,
    button("Take it", () => api.desk({ do: "takeScale" }), { class: "small" }),
    button("Dismiss", () => api.do({ do: "dismissScale" }), { class: "small quiet", title: "It is no grey scale: do not propose it again" }));
  const list = listed(api);
  const contrast = contrasts();
  const lamps = lights(api);
  const asked = fold("Will neutrals be neutral?", false, answer, proposal, h("div", { class: "actions" }, point, draw), hint,
    h("details", {}, h("summary", { text: "Why" }), rests), list.node, lamps.node);
  let needed = false; // a scale is proposed, or greys are being pointed at
  return {
    nodes: [
      h("section", { class: "neutrals", "aria-label": "Will neutrals be neutral?" },
        asked),
      contrast.node,
    ],
    update(/** @type {Model} */ view, /** @type {Audit | null} */ audit, /** @type {boolean} */ busy) {
      const greys = audit?.greys ?? null;
      attr(answer, "aria-busy", busy ? "true" : null);
      if (view.greyList.length === 0) text(answer, "Not known: nothing in the scene is known to be grey.");
      else if (greys) text(answer, greys.neutral.words);
      else text(answer, audit?.why ? `${capital(audit.why)}.` : "The greys are being read.");
      const light = view.restsOn.by === "light" && audit ? ` ${audit.light.words}` : ""; // how far the assumptions disagree
      text(rests, view.restsOn.words + light);
      show(proposal, view.scaleFound > 0);
      const now = view.scaleFound > 0 || view.tool in hints;
      if (now && !needed) asked.open = true;
      needed = now;
      const dashed = view.proposedGreys.some((list) => list.length > 0) ? " (dashed)" : "";
      text(proposed, `A grey scale of ${view.scaleFound} steps seems to lie in the picture${dashed}.`);
      pressed(point, view.tool === "grey");
      pressed(draw, view.tool === "scale");
      text(hint, hints[view.tool] ?? "");
      show(hint, view.tool in hints);
      list.update(view, audit);
      contrast.update(audit, view);
      lamps.update(view, audit);
    },
  };
}

/**
 * listed is the list of the greys.
 * @param {Api} api
 */
function listed(api) {
  const words = h("summary");
  const rows = h("ul", { class: "grey-list" });
  const step = textField({
    label: "Step of the scale, density; or the density of each", maxlength: 1000, placeholder: "0.15, or 0.05 0.24 0.51 …",
    commit: (steps) => api.desk({ do: "readGreys", steps }),
  });
  const again = button("Read again", () => api.desk({ do: "readGreys", steps: api.view().restsOn.steps }), { class: "small" });
  const none = button("Take all away", () => api.desk({ do: "takeGreysAway" }), { class: "small" });
  const node = h("details", { class: "greys" }, words, rows, step.node, h("div", { class: "actions" }, again, none));
  return {
    node,
    update(/** @type {Model} */ view, /** @type {Audit | null} */ audit) {
      const n = view.greyList.length;
      show(node, n > 0);
      text(words, n === 1 ? "One grey" : `${n} greys`);
      step.set(view.restsOn.steps);
      show(step.node, view.greyRow);
      const found = [...audit?.greys?.places ?? []];
      const odd = audit?.greys?.odd ?? [];
      const near = (/** @type {{ x: number, y: number }} */ a, /** @type {{ x: number, y: number }} */ b) => Math.hypot(a.x - b.x, a.y - b.y) < 1;
      keyed(rows, view.greyList.map((grey) => ({
        ...grey, place: found.find((one) => near(one, grey)), odd: odd.some((one) => near(one, grey)),
      })), (grey) => grey.n, ({ n: number }) => {
        const [name, facts] = [h("b", { text: String(number) }), h("span", { class: "facts" })];
        const away = button("Take away", () => api.desk({ do: "takeGreyAway", n: number - 1 }), { class: "small", "aria-label": `Take grey ${number} away` });
        return {
          node: h("li", {}, name, facts, away),
          update({ place, odd: out }) {
            if (out) text(facts, "left out: not grey as the others");
            else if (!place) text(facts, "");
            else {
              const clipped = ["red", "green", "blue"].filter((_, i) => place.clipped[i]);
              text(facts, clipped.length > 0 ? `clipped on ${clipped.join(", ")}` : place.uneven ? "on an edge or on texture" : `D ${place.density.map((d) => figure(d, 2)).join(" ")}`);
            }
          },
        };
      });
    },
  };
}

/** contrasts says whether unequal contrast can be corrected. */
function contrasts() {
  const answer = h("p", { class: "sentence" });
  const plot = greysPlot();
  const rows = h("ul", { class: "findings" });
  const why = h("details", {}, h("summary", { text: "Why" }), rows,
    h("p", { class: "hint", text: "Each curve is what one plate makes of the same greys; the number is its slope γ. Curves that lie over one another print a grey as a grey." }));
  const node = h("section", { class: "contrasts", "aria-label": "Can unequal contrast be corrected?" },
    fold("Can unequal contrast be corrected?", false, answer, plot.node, why));
  return {
    node,
    update(/** @type {Audit | null} */ audit, /** @type {Model} */ view) {
      const greys = view.greyList.length > 0 ? audit?.greys ?? null : null;
      text(answer, greys ? greys.answer : view.greyList.length > 0 ? "The greys are being read." : "Not known: point at greys, or draw along a scale.");
      attr(plot.node, "hidden", greys === null);
      show(why, greys !== null);
      if (!greys) return;
      plot.update(greys);
      keyed(rows, greys.curves.filter((curve) => !curve.key), (curve) => curve.filter, () => {
        const words = h("li");
        return { node: words, update: (/** @type {Curve} */ curve) => text(words, curve.words) };
      });
    },
  };
}

/**
 * lights are the assumptions on the light of the scene, side by side.
 * @param {Api} api
 */
function lights(api) {
  const rows = h("tbody");
  const words = h("p", { class: "facts" });
  const node = h("details", { class: "lights" },
    h("summary", { text: "Without a grey: assume the light of the scene" }),
    h("table", { "aria-label": "Exposure of a neutral against the green plate by each assumption, in stops" }, columns("red", "blue"), rows),
    h("p", { class: "hint", text: "Exposure of a neutral against the green plate, in stops." }), words);
  return {
    node,
    update(/** @type {Model} */ view, /** @type {Audit | null} */ audit) {
      const chosen = view.restsOn.by === "light" ? view.restsOn.light : view.restsOn.by === "own" || view.restsOn.by === "" ? "" : null;
      const estimates = audit?.light.estimates ?? [];
      keyed(rows, view.assumptions.map((one) => ({ ...one, chosen: one.id === chosen, estimate: estimates.find((e) => e.id === one.id) })), (one) => one.id, (first) => assumption(api, first));
      text(words, view.restsOn.by === "light" ? "" : audit?.light.words ?? ""); // else it is said above
    },
  };
}

/**
 * @param {Api} api
 * @param {Assumption} first
 * @returns {Child<Assumption & { chosen: boolean, estimate: Estimate | undefined }>}
 */
function assumption(api, first) {
  const input = h("input", { type: "radio", name: "assumed-light", value: first.id, change: () => api.desk({ do: "assume", light: first.id }) });
  const [red, blue] = [h("td"), h("td")];
  const stops = (/** @type {number} */ v) => `${v < 0 ? "−" : "+"}${figure(Math.abs(v), 2)}`;
  return {
    node: h("tr", { title: `if ${first.says}` },
      h("th", { scope: "row" }, h("label", { class: "tick" }, input, h("span", { text: first.name }), h("span", { class: "hint", text: first.says }))), red, blue),
    update({ chosen, estimate }) {
      if (input.checked !== chosen) input.checked = chosen;
      input.disabled = estimate !== undefined && !estimate.known;
      text(red, !estimate ? "" : estimate.known ? stops(estimate.stops[0]) : "unknown");
      text(blue, estimate?.known ? stops(estimate.stops[2]) : "");
    },
  };
}
