// Which object the plates are. It goes into every file that leaves.

/** @import { Api, Block } from "../../types/api.js" */
/** @import { Identity } from "../../types/model.js" */
/** @import { PlateIs } from "../../types/model.js" */

import { attr, h, keyed, named } from "../../ui/dom.js";
import { fileButton } from "../../ui/controls.js";
import { textArea, textField } from "../../ui/textfield.js";
import { capital } from "../../ui/words.js";

/** @type {[keyof Identity, string][]} */
const lines = [["number", "Accession or inventory number"], ["creator", "Taken by"], ["created", "Taken when"], ["place", "Place"], ["collection", "Collection"], ["rights", "Rights"]];

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const fields = lines.map(([key, label]) => ({
    key, field: textField({ label, maxlength: key === "rights" ? 1000 : 200, keeps: true, commit: (value, gesture) => api.do({ do: "identify", [key]: value, gesture }) }),
  }));
  const title = textField({ label: "Title", maxlength: 120, keeps: true, commit: (text, gesture) => api.do({ do: "title", text, gesture }) });
  const shows = textArea({ label: "What it shows", maxlength: 4000, keeps: true, commit: (value, gesture) => api.do({ do: "identify", description: value, gesture }) });
  const plates = h("div", { class: "plates-are" });
  return {
    node: h("section", { class: "review-part", "aria-label": "The object" },
      h("h3", { text: "The object" }),
      h("div", { class: "actions" }, fileButton({ label: "From a table …", accept: ".csv,.tsv,.txt,text/csv", open: (files) => api.identifyFrom(files[0]) })), title.node, ...fields.map(({ field }) => field.node), shows.node, plates),
    update(view) {
      title.set(view.title);
      for (const { key, field } of fields) field.set(view.identity[key]);
      shows.set(view.identity.description);
      keyed(plates, view.platesAre, (plate) => plate.filter, (first) => plateOf(api, first));
    },
  };
}

/**
 * plateOf is the letter of a plate and how it was found.
 * @param {Api} api
 * @param {PlateIs} first
 */
function plateOf(api, first) {
  let { source } = first;
  const letter = textField({ label: "Letter", maxlength: 20, keeps: true, commit: (value, gesture) => api.do({ do: "identifyPlate", source, letter: value, gesture }) });
  const condition = textField({ label: "Condition", maxlength: 2000, placeholder: "cleaned, cracked, numbered …", keeps: true, commit: (value, gesture) => api.do({ do: "identifyPlate", source, condition: value, gesture }) });
  attr(letter.input, "aria-label", `Letter of the ${first.filter} plate`);
  attr(condition.input, "aria-label", `Condition of the ${first.filter} plate`);
  const file = h("bdi");
  return {
    node: h("div", { class: "plate-is" }, h("h4", { text: `${capital(first.filter)} plate ` }, file), letter.node, condition.node),
    update(/** @type {PlateIs} */ plate) {
      source = plate.source;
      named(file, plate.file);
      letter.set(plate.letter);
      condition.set(plate.condition);
    },
  };
}
