// The head reads like the label of a print: its title, and phrases that say how things
// stand. Each phrase is the pull of the drawer where that is worked at. Beside them undo
// and redo.

/** @import { Saved } from "../types/model.js" */
/** @import { Api, Part } from "../types/api.js" */

import { attr, byID, h, ownAttr, text } from "../ui/dom.js";
import { button } from "../ui/controls.js";
import { typed } from "../ui/textfield.js";

/** @type {Record<string, string>} */
const names = { plates: "Plates", register: "Register", tissues: "Tissues", proof: "Proof", review: "Review", sheets: "Sheets", points: "Points" };

/**
 * @param {Api} api
 * @param {string[]} stations
 * @returns {Part}
 */
export function build(api, stations) {
  const pulls = stations.map((id) => {
    const status = h("span", { class: "status" });
    const node = h("button", {
      type: "button", id: `pull-${id}`, "aria-controls": "drawer",
      click: () => api.do({ do: "station", id: api.view().station === id ? "" : id }),
    }, h("span", { class: "station", text: names[id] }), status);
    return { id, node, status };
  });
  const nav = byID("pulls");
  nav.append(...pulls.map((pull) => pull.node));
  // On a phone they lie behind one button, which says which drawer is open.
  const menu = button("", () => unfold(nav.dataset.open === undefined), { id: "drawers", "aria-controls": "pulls", "aria-expanded": "false" });
  const open = h("span");
  menu.append(open);
  const unfold = (/** @type {boolean} */ on) => {
    attr(nav, "data-open", on);
    attr(menu, "aria-expanded", String(on));
  };
  nav.before(menu);
  nav.addEventListener("click", () => {
    unfold(false);
    if (menu.checkVisibility()) menu.focus();
  });
  byID("head").addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || nav.dataset.open === undefined) return;
    unfold(false);
    menu.focus();
  });
  document.addEventListener("pointerdown", ({ target }) => {
    if (target instanceof Node && !nav.contains(target) && !menu.contains(target)) unfold(false);
  }, true);

  const undo = button("", () => api.do({ do: "undo" }), { id: "undo" });
  const redo = button("", () => api.do({ do: "redo" }), { id: "redo" });
  undo.append(...longAndShort("Undo", "↶"));
  redo.append(...longAndShort("Redo", "↷"));
  const title = h("input", {
    id: "title", type: "text", "aria-label": "Title of the work", maxlength: 120, autocomplete: "off", spellcheck: "false",
    keydown: (event) => { if (event.key === "Enter") title.blur(); },
  });
  const setTitle = typed(title, { keeps: true, commit: (words, gesture) => api.do({ do: "title", text: words, gesture }) });
  const saved = h("span", { id: "saved" });
  byID("work").append(title);
  byID("aids").append(saved, h("div", { class: "history", role: "group", "aria-label": "History" }, undo, redo));

  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || writes(event.target)) return;
    const key = event.key.toLowerCase();
    if (key !== "z" && key !== "y") return;
    event.preventDefault();
    api.do({ do: key === "y" || event.shiftKey ? "redo" : "undo" });
  });

  return {
    update(view) {
      for (const pull of pulls) {
        attr(pull.node, "aria-expanded", String(pull.id === view.station));
        text(pull.status, view.pulls[pull.id]);
        attr(pull.node, "aria-label", `${names[pull.id]}: ${view.pulls[pull.id]}`);
      }
      text(open, names[view.station] ?? "Drawers");
      attr(menu, "data-chosen", view.station !== "");
      name(undo, "Undo", view.undo);
      name(redo, "Redo", view.redo);
      setTitle(view.title);
      ownAttr(title, "title", view.title);
      text(saved, savedWords(view.saved));
      attr(saved, "title", view.saved.why || (view.saved.state === "saved" ? view.saved.at : null));
      const page = view.title ? `${view.title} · Threeply` : "Threeply";
      if (document.title !== page) document.title = page;
    },
  };
}

/**
 * longAndShort is what stands on a button of the head: a word, or where there is little room
 * a sign. The button needs a label of its own.
 * @param {string} word
 * @param {string} sign
 */
export const longAndShort = (word, sign) => [h("span", { class: "long", text: word }), h("span", { class: "short", text: sign, "aria-hidden": "true" })];

/**
 * savedWords says saved only of what is on disk.
 * @param {Saved} saved
 */
function savedWords({ state }) {
  switch (state) {
    case "saved": return "saved";
    case "saving": return "saving …";
    case "refused": return "not kept here";
    default: return "";
  }
}

/**
 * name says on a button of the history what it would undo or redo, "" for nothing. A
 * button with nothing to do is marked as such but not disabled: it would lose the focus.
 * @param {HTMLElement} node
 * @param {string} word
 * @param {string} what
 */
function name(node, word, what) {
  attr(node, "aria-disabled", what ? null : "true");
  attr(node, "aria-label", what ? `${word} ${what}` : `${word}: nothing`);
  attr(node, "title", what ? `${word} ${what}` : null);
}

/**
 * writes tells whether an element takes what is typed, and has an undo of its own.
 * @param {EventTarget | null} target
 */
function writes(target) {
  return target instanceof HTMLInputElement && ["text", "number"].includes(target.type) || target instanceof HTMLTextAreaElement;
}
