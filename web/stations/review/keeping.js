// What is kept of a review: the sheet to sign, the session with its scans, the package for
// the archive, and what their files are called.

/** @import { Api, Block } from "../../types/api.js" */

import { h, text } from "../../ui/dom.js";
import { button, fileButton } from "../../ui/controls.js";
import { textField } from "../../ui/textfield.js";

/**
 * @param {Api} api
 * @returns {Block}
 */
export function build(api) {
  const names = textField({ label: "Names of files, of {title}, {number}, {palette} and {what}", maxlength: 200, commit: (pattern) => api.do({ do: "nameFiles", pattern }) });
  const like = h("p", { class: "facts" });
  return {
    node: h("section", { class: "review-part", "aria-label": "Keep" }, h("h3", { text: "Keep" }),
      h("div", { class: "actions" },
        button("Review sheet", api.saveReview, { title: "One page to print and sign" }),
        button("Session with its scans", () => api.saveSession(true), { title: "One file that opens on another machine" }),
        button("Archive package", api.saveArchive, { title: "Scans, plates in register, sheets and session, with SHA-256 (BagIt, RFC 8493)" }),
        button("All files", api.saveEverything, { title: "Proof, reference, plates in register, negatives, test sheet, film wedge, sheets, tables and session in one ZIP file" }),
        "showDirectoryPicker" in window ? button("All files into a folder …", api.saveIntoFolder, { title: "The same files one by one; nothing that lies there is written over" }) : null,
        fileButton({ label: "Open a session …", accept: ".json,.zip,application/json,application/zip", open: (files) => api.openSession(files[0]) })),
      names.node, like),
    update(view) {
      names.set(view.names);
      text(like, `Such as ${view.namesLike}`);
    },
  };
}
