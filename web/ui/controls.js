// Real form controls with their label, each made once and set from the view.

/** @import { Props } from "./dom.js" */

import { h, attr, keyed, named, text } from "./dom.js";

let made = 0;
const newID = (/** @type {string} */ word) => `${word}-${++made}`;

/**
 * numberField is a labelled number with its unit. What is being typed is never
 * overwritten by set(value), and Escape gives it up. A number out of range is refused
 * in words under the field.
 * @param {object} of
 * @param {string} of.label
 * @param {boolean} [of.hideLabel] the label is for screen readers only
 * @param {string} [of.unit]
 * @param {number | "any"} [of.step]
 * @param {number} [of.min]
 * @param {number} [of.max]
 * @param {string} [of.placeholder]
 * @param {number} [of.empty] what an emptied field commits; without it that is refused
 * @param {boolean} [of.keep] a refused number stays, and isRefused(), until another is
 *   typed or giveUp() is called; without it the old one stands there again
 * @param {(value: number) => void} of.commit called when the user has entered a number
 */
export function numberField({ label, unit = "", step = "any", min, max, hideLabel = false, keep = false, placeholder, empty, commit }) {
  const id = newID("number");
  const [least, most] = [min ?? -Infinity, max ?? Infinity];
  const refused = h("span", { class: "refused", role: "alert" });
  let shown = "";
  let typing = false;
  const isRefused = () => keep && refused.textContent !== "";
  const giveUp = () => {
    typing = false;
    input.value = shown;
    if (keep) text(refused, "");
  };
  const input = h("input", {
    id, type: "number", step, min, max, placeholder, inputmode: "decimal", autocomplete: "off",
    "aria-label": hideLabel ? label : null,
    input: () => {
      typing = true;
      text(refused, "");
    },
    change: () => {
      typing = false;
      const [typed, value] = [input.value, Number(input.value)];
      const out = typed !== "" && (value < least || value > most);
      if (typed !== "" && !out) return commit(value);
      if (typed === "" && empty !== undefined && !input.validity.badInput) return commit(empty);
      typing = keep;
      if (!keep) input.value = shown;
      const range = Number.isFinite(least) && Number.isFinite(most) ? `${least} to ${most}${unit && ` ${unit}`}` : "a number";
      text(refused, `${out ? `${typed} is out of range` : "Nothing was entered"}: give ${range}.`);
    },
    blur: () => { if (!isRefused()) giveUp(); },
    keydown: (event) => { if (event.key === "Escape") giveUp(); },
  });
  const node = h("div", { class: "number" },
    hideLabel ? null : h("label", { for: id, text: label }),
    h("span", { class: "amount" }, input, h("span", { class: "unit", text: unit, "aria-hidden": hideLabel })), refused);
  const set = (/** @type {number} */ value, digits = 0) => {
    shown = Number.isFinite(value) ? String(Number(value.toFixed(digits))) : "";
    if (!typing && input.value !== shown) input.value = shown;
  };
  return { node, input, set, isRefused, giveUp };
}

/**
 * range is what a numberField takes of a range that came from Go.
 * @param {[number, number]} ends
 * @param {number} [factor] how many of the field's units make one of the session's
 */
export const range = ([min, max], factor = 1) => ({ min: min * factor, max: max * factor });

/**
 * @typedef {{ id: string | number, name: string, own?: boolean }} Option own: the user gave its name
 */

/**
 * choice is a labelled drop-down list.
 * @param {{ label: string, hideLabel?: boolean, commit: (id: string) => void }} of
 */
export function choice({ label, hideLabel = false, commit }) {
  const id = newID("choice");
  const select = h("select", {
    id, "aria-label": hideLabel ? label : null,
    change: () => commit(select.value),
  });
  const node = h("div", { class: "choice" }, hideLabel ? null : h("label", { for: id, text: label }), select);
  const set = (/** @type {Option[]} */ list, /** @type {string | number} */ value) => {
    keyed(select, list, (item) => item.id, (item) => {
      const option = h("option", { value: item.id });
      return { node: option, update: (now) => named(option, now.name, now.own ?? false) };
    });
    const wanted = String(value);
    if (select.value !== wanted) select.value = wanted;
    attr(select, "title", list.find((item) => String(item.id) === wanted && !item.own)?.name);
  };
  return { node, select, set };
}

/**
 * grouped is a drop-down list in groups; options of a group without a name stand by
 * themselves. The list is marked once another than its first option is chosen.
 * @param {{ label: string, hideLabel?: boolean, commit: (id: string) => void }} of
 */
export function grouped(of) {
  const { node, select } = choice(of);
  const set = (/** @type {{ name: string, options: Option[] }[]} */ groups, /** @type {string} */ value) => {
    const rows = groups.flatMap(({ name, options }) => (name ? [{ name, options }] : options.map((one) => ({ name: "", options: [one] }))));
    keyed(select, rows, (row) => row.name || `one ${row.options[0].id}`, (first) => {
      const options = h("optgroup", { label: first.name });
      const one = h("option", { value: first.options[0].id });
      return {
        node: first.name ? options : one,
        update: (row) => {
          if (!row.name) return named(one, row.options[0].name, row.options[0].own ?? false);
          keyed(options, row.options, (item) => item.id, (item) => {
            const option = h("option", { value: item.id });
            return { node: option, update: (now) => named(option, now.name, now.own ?? false) };
          });
        },
      };
    });
    if (select.value !== value) select.value = value;
    attr(node, "data-chosen", value !== String(groups[0].options[0].id));
  };
  return { node, select, set };
}

/**
 * radios is a group of radio buttons in a row of words.
 * @template {string} ID
 * @param {{ legend: string, hideLegend?: boolean, commit: (id: ID) => void }} of
 */
export function radios({ legend, hideLegend = false, commit }) {
  const name = newID("radio");
  const row = h("div", { class: "words" });
  const node = h("fieldset", { class: "radios" },
    h("legend", { class: hideLegend ? "unseen" : null, text: legend }), row);
  /** @type {string} */
  let chosen;
  const set = (/** @type {{ id: ID, name: string }[]} */ list, /** @type {string} */ value) => {
    chosen = value;
    keyed(row, list, (item) => item.id, (first) => {
      const input = h("input", { type: "radio", name, value: first.id, change: () => commit(first.id) });
      const words = h("span");
      return {
        node: h("label", {}, input, words),
        update: (item) => {
          text(words, item.name);
          if (input.checked !== (item.id === chosen)) input.checked = item.id === chosen;
        },
      };
    });
  };
  return { node, set };
}

/**
 * fileButton opens files through the browser's own dialogue.
 * @param {{ label: string, accept: string, multiple?: boolean, open: (files: File[]) => void }} of
 */
export function fileButton({ label, accept, multiple = false, open }) {
  const input = h("input", {
    type: "file", class: "unseen", accept, multiple,
    click: () => { input.value = ""; },
    change: () => { if (input.files?.length) open([...input.files]); },
  });
  return h("label", { class: "button" }, input, h("span", { text: label }));
}

/**
 * button is a plain button.
 * @param {string} label
 * @param {() => void} click
 * @param {Props} [props]
 */
export function button(label, click, props = {}) {
  return h("button", { type: "button", text: label, click, ...props });
}

/**
 * pressed marks a toggle.
 * @param {Element} node
 * @param {boolean} on
 */
export function pressed(node, on) {
  attr(node, "aria-pressed", on ? "true" : "false");
}

/**
 * fold is a part of a panel that opens at its title.
 * @param {string} title
 * @param {boolean} open at first
 * @param {import("./dom.js").Children} children
 */
export function fold(title, open, ...children) {
  return h("details", { class: "fold", open, "data-fold": title }, h("summary", {}, h("h3", { text: title })), ...children);
}

/**
 * folded is a smaller part that opens at its title, within a part of a panel.
 * @param {string} title
 * @param {import("./dom.js").Children} children
 */
export function folded(title, ...children) {
  return h("details", { class: "folded", "data-fold": title }, h("summary", { text: title }), ...children);
}

/**
 * heading begins a station's panel.
 * @param {string} title
 */
export function heading(title) {
  return h("header", { class: "lead" }, h("h2", { text: title }));
}
