// Notes: pinned to places of the picture, listed, edited and gone to.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Note } from "../../types/model.js" */
/** @import { Child } from "../../ui/dom.js" */

import { attr, h, keyed, named, show, text } from "../../ui/dom.js";
import { button, pressed, radios } from "../../ui/controls.js";
import { textArea, textField } from "../../ui/textfield.js";

/** @type {Record<string, string>} */
const states = { open: "open", agreed: "agreed", printer: "for the printmaker" };

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  let count = -1; // of all notes when last shown
  let awaited = false; // a note is being pinned: its words are typed next
  const pin = button("Pin a note", () => api.do({ do: "tool", id: api.view().tool === "note" ? "pan" : "note" }));
  const middle = button("In the middle", () => { awaited = true; api.do({ do: "noteHere" }); }, { class: "quiet", title: "Pin a note to the place in the middle of the picture" });
  const only = radios({ legend: "Listed", hideLegend: true, commit: (/** @type {string} */ id) => api.do({ do: "notesList", only: id }) });
  const hint = h("p", { class: "hint" });
  const list = h("div", { class: "note-list" });
  const turn = (/** @type {number} */ by) => api.do({ do: "notesList", only: api.view().notesOnly, page: api.view().notesPage + by });
  const earlier = button("Earlier", () => turn(-1), { class: "small" });
  const later = button("Later", () => turn(1), { class: "small" });
  const which = h("span", { class: "facts" });
  const pages = h("div", { class: "actions" }, earlier, which, later);
  return {
    node: h("section", { class: "review-part", "aria-label": "Notes" },
      h("h3", { text: "Notes" }), h("div", { class: "actions" }, pin, middle), hint, only.node, list, pages),
    update(view) {
      pressed(pin, view.tool === "note");
      const all = Object.values(view.noteCounts).reduce((sum, n) => sum + n, 0);
      text(hint, view.tool === "note" ? "Click the place in a picture." : "");
      show(hint, view.tool === "note");
      show(only.node, all > 0);
      only.set([{ id: "", name: `all ${all}` },
        ...Object.entries(states).map(([id, name]) => ({ id, name: `${name} ${view.noteCounts[id] ?? 0}` }))], view.notesOnly);
      show(pages, view.notesPages > 1);
      text(which, `${view.notesFrom + 1} to ${view.notesFrom + view.notes.length} of ${view.notesAll}`);
      attr(earlier, "disabled", view.notesPage === 1);
      attr(later, "disabled", view.notesPage === view.notesPages);
      keyed(list, view.notes, (note) => note.n, (note) => one(api, note.n));
      if (awaited && count >= 0 && all > count) {
        const title = list.querySelector(".note-head[aria-expanded=true] + .note-body input");
        if (title instanceof HTMLElement) title.focus();
      }
      awaited = view.tool === "note";
      count = all;
    },
  };
}

/**
 * one is a note of the list: a line, or, once it is chosen, all of it to be edited.
 * @param {Api} api
 * @param {number} n
 * @returns {Child<Note>}
 */
function one(api, n) {
  const title = h("bdi");
  const state = h("span", { class: "note-state" });
  const facts = h("p", { class: "facts" });
  const edit = (/** @type {object} */ what) => api.do({ do: "editNote", n, ...what });
  const fields = {
    title: textField({ label: "Title", maxlength: 120, keeps: true, commit: (value, gesture) => edit({ title: value, gesture }) }),
    text: textArea({ label: "Text", rows: 4, maxlength: 10240, keeps: true, commit: (value, gesture) => edit({ text: value, gesture }) }),
    by: textField({ label: "Initials", maxlength: 40, keeps: true, commit: (value, gesture) => edit({ by: value, gesture }) }),
  };
  const chosenState = radios({ legend: "State", commit: (/** @type {string} */ id) => edit({ state: id }) });
  const again = button("Show that print", () => api.do({ do: "showNoted", n }), { class: "small", "aria-label": `Show the print of note ${n}` });
  const body = h("div", { class: "note-body" }, fields.title.node, fields.text.node, fields.by.node, chosenState.node, facts,
    h("div", { class: "actions" }, again, button("Delete", () => api.do({ do: "dropNote", n }), { class: "small quiet", "aria-label": `Delete note ${n}` })));
  const head = h("button", {
    type: "button", class: "note-head",
    click: () => api.do(head.getAttribute("aria-expanded") === "true" ? { do: "noteChoose" } : { do: "noteGo", n }),
  }, h("span", { class: "note-number", text: String(n) }), title, state);
  return {
    node: h("article", { class: "note-one" }, head, body),
    update(note) {
      attr(head, "aria-expanded", String(note.chosen));
      named(title, note.title || note.text || "without a title", Boolean(note.title || note.text));
      text(state, states[note.state]);
      show(body, note.chosen);
      fields.title.set(note.title);
      fields.text.set(note.text);
      fields.by.set(note.by);
      chosenState.set(Object.entries(states).map(([id, name]) => ({ id, name })), note.state);
      text(facts, `${note.at} UTC. ${note.now ? "The print shown now" : `Another print: ${note.seen}`}`);
      show(again, !note.now);
    },
  };
}
