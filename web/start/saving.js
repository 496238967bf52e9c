// What leaves the page as a file: proofs, plates in register, the profile, the
// session.

/** @import { Results } from "../types/worker.js" */

import { failed, hooks, planes } from "./desk.js";
import * as work from "./work.js";

/**
 * download hands a file to the browser.
 * @param {string} name
 * @param {BlobPart | BlobPart[]} content
 * @param {string} type
 */
export function download(name, content, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([content].flat(), { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

// nameOf is the name of a file of the open document, never that of one of its scans.
const nameOf = (/** @type {string} */ what) => window.threeply.fileName(what);

/**
 * exported has a worker make a file out of the session as it stands now, and hands what
 * it made to save, with the name of what it is. Nothing is said of what was stopped.
 * @template {"proof" | "tiff" | "icc"} Op
 * @param {string} words what is being done
 * @param {Op} op
 * @param {object} message
 * @param {string} what the end of the file's name
 * @param {(name: string, made: Results[Op]) => void} save
 */
async function exported(words, op, message, what, save) {
  const token = window.threeply.begin("export", words);
  const name = nameOf(what);
  try {
    const made = await work.run(op, { session: window.threeply.sessionText(), ...message }, { ...hooks(token), give: planes(token) });
    if (window.threeply.end(token)) save(name, made);
  } catch (error) {
    failed(token, error);
  }
}

/**
 * saveProof saves the print or the reference.
 * @param {"print" | "reference"} look
 * @param {"png" | "tiff"} form
 * @param {"srgb" | "p3"} space
 */
export function saveProof(look, form, space) {
  const kind = look === "print" ? "proof" : "reference";
  const [ending, type] = form === "tiff" ? ["tif", "image/tiff"] : ["png", "image/png"];
  const what = `${kind}${space === "p3" ? "-display-p3" : ""}.${ending}`;
  return exported(`Rendering the ${look}`, "proof", { look, form, space }, what, (name, { parts, note }) => {
    download(name, parts, type);
    if (note) window.threeply.say("note", `The ${kind} was saved, with these words in it: ${note}`);
  });
}

/**
 * saveTIFF saves the plate of a filter in register, or "reference", with 16 bits.
 * @param {string} sheet
 */
export function saveTIFF(sheet) {
  const what = sheet === "reference" ? "reference" : `${sheet}-plate`;
  return exported(`Writing the ${sheet === "reference" ? "reference" : sheet + " plate"}`, "tiff", { sheet },
    `${what}-in-register.tif`, (name, parts) => download(name, parts, "image/tiff"));
}

export function saveProfile() {
  return exported("Computing the ICC profile", "icc", {}, "tissues.icc", (name, bytes) => download(name, bytes, "application/vnd.iccprofile"));
}

export const saveSession = () => download(nameOf("session.json"), window.threeply.sessionText(), "application/json");
export const saveMatrices = () => download(nameOf("register.csv"), window.threeply.matricesCSV(), "text/csv");
export const saveVerdict = () => download(nameOf("verdict.csv"), window.threeply.verdictCSV(), "text/csv");
