// The paper: the built-in ones, and one's own from its CIELAB, from a measured
// spectrum, or off a scan of it.

/** @import { Api, Block, Taken } from "../../types/api.js" */
/** @import { Model } from "../../types/model.js" */

import { h, show, text } from "../../ui/dom.js";
import { button, choice, fileButton, numberField } from "../../ui/controls.js";
import { fill, fillNumber, numberIn } from "../../ui/filled.js";
import { textField } from "../../ui/textfield.js";
import { pick } from "../../ui/list.js";
import { capital, figure } from "../../ui/words.js";

const lightest = 99.5; // L* that a paper can have

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  /** @type {Model} */
  let view;
  const chosen = () => pick(view.papers, (paper) => paper.id === view.paper);
  const list = choice({ label: "Paper", commit: (id) => api.do({ do: "paper", id }) });
  const source = h("p", { class: "facts" });
  const own = h("div", { class: "actions" },
    button("Save its spectrum", () => api.download(`${view.paper}-spectrum.txt`, window.threeply.paperText(view.paper), "text/plain"), { class: "small" }),
    button("Take it away", () => api.do({ do: "dropPaper", id: view.paper }), { class: "small" }));

  // ---- one more
  const axes = /** @type {const} */ (["L", "a", "b"]);
  /** @type {(view: Model) => [number, number, number]} */
  const labOf = (view) => {
    const [L, a, b] = axes.map((axis) => numberIn(view, `paper.${axis}`));
    return [Number.isNaN(L) ? 95 : L, Number.isNaN(a) ? 0 : a, Number.isNaN(b) ? 3 : b];
  };
  const named = fill(api, "paper.name");
  const titled = () => api.view().filled["paper.name"];
  const name = textField({ label: "Its name", maxlength: 60, placeholder: "Own paper", keeps: true, commit: named });
  const fields = ["L*", "a*", "b*"].map((axis, i) => numberField({
    label: axis, keep: true, min: i === 0 ? 20 : -100, max: i === 0 ? lightest : 100,
    commit: fillNumber(api, `paper.${axes[i]}`),
  }));
  const read = h("p", { class: "facts", role: "status" });
  const measure = h("p", { class: "facts", text: api.view().measure });

  function take(/** @type {Taken} */ { paper }) {
    if (!paper) return;
    const { error } = api.do({ do: "takePaper", paper });
    if (error) return;
    named("");
    text(read, "");
  }

  const use = button("Use this colour", () => {
    const refused = fields.find((field) => field.isRefused());
    if (refused) return refused.input.focus();
    take(JSON.parse(window.threeply.paperOfLab(titled() || "Own paper", ...labOf(api.view()))));
  });
  const spectrum = fileButton({
    label: "Open a spectrum", accept: ".txt,.csv,.tsv,text/plain,text/csv",
    open: async ([file]) => take(await api.readText(file, window.threeply.readPaper, titled() || bare(file.name))),
  });
  const scan = fileButton({
    label: "Read off a scan", accept: ".tif,.tiff,.png,.jpg,.jpeg,image/tiff,image/png,image/jpeg",
    open: async ([file]) => {
      const got = await api.readFile("paper", file, "Reading the scan of the paper");
      if (!got) return;
      for (const field of fields) field.giveUp();
      const lab = got.lab.map((value) => Number(value.toFixed(1)));
      lab.forEach((value, i) => fillNumber(api, `paper.${axes[i]}`)(value));
      if (!titled()) named(bare(file.name));
      text(read, `The middle of ${file.name} is L* ${figure(lab[0], 1)}, a* ${figure(lab[1], 1)}, b* ${figure(lab[2], 1)} under D50, read as ${got.read}. ${lab[0] > lightest ? "No paper is so light: the scan is clipped there, scan it darker or enter a measured colour." : "It now stands in the fields; use it, or correct it first."}`);
    },
  });
  const more = h("details", { class: "own-paper" }, h("summary", { text: "A paper of your own" }),
    name.node,
    h("fieldset", {}, h("legend", { text: "Its colour, CIELAB under D50" }), h("div", { class: "lab" }, ...fields.map((field) => field.node)), use),
    read,
    measure,
    h("div", { class: "actions" }, scan, spectrum),
    h("p", { class: "hint", text: "Of a scan the median of its middle is taken, and the scanner's white for a perfect one: better is a measured colour. Best is a spectrum: a text file with nm and reflectance, 0 to 1, in each line, from 380 to 730 nm in steps of 20 at most." }));

  return {
    node: h("section", { class: "papers" }, list.node, source, own, more),
    update(now) {
      view = now;
      name.set(view.filled["paper.name"]);
      labOf(view).forEach((value, i) => fields[i].set(value, 1));
      list.set(view.papers.map((paper) => (paper.own ? { ...paper, own: false, name: `${paper.name}, own` } : paper)), view.paper);
      text(source, `${capital(chosen().source)}.`);
      show(own, chosen().own);
    },
  };
}

const bare = (/** @type {string} */ file) => file.replace(/\.[^.]*$/, "").slice(0, 60);
