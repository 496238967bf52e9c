// What leaves the page as a file: proofs, plates in register, the profile, the
// session.

/** @import { Results } from "../types/worker.js" */

import { failed, hooks, openScans, planes } from "./desk.js";
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

// nameOf is the name of a file of the open document that ends in what it is. It is never
// the name of one of the document's scans.
const nameOf = (/** @type {string} */ what) => window.threeply.fileName(what);

/**
 * exportFile has a worker make a file of the session as it stands now, and gives save the
 * file's name and what was made. A job that was stopped ends without a word.
 * @template {"proof" | "tiff" | "icc" | "negative" | "film" | "testsheet" | "process" | "text" | "review" | "pack" | "bag"} Op
 * @param {string} words what is being done
 * @param {Op} op
 * @param {object} message what else the operation takes
 * @param {string} what the end of the file's name
 * @param {(name: string, made: Results[Op]) => void} save
 */
async function exportFile(words, op, message, what, save) {
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
 * saveProof saves the likely print, which is the proof, or the reference.
 * @param {"print" | "reference"} picture
 * @param {"png" | "tiff"} form
 * @param {"srgb" | "p3"} space
 * @param {boolean} crop to the picture that all three plates hold
 * @param {boolean} margin with words around it
 */
export function saveProof(picture, form, space, crop, margin) {
  const kind = picture === "print" ? "proof" : "reference";
  const [ending, type] = form === "tiff" ? ["tif", "image/tiff"] : ["png", "image/png"];
  const what = `${kind}${space === "p3" ? "-display-p3" : ""}.${ending}`;
  return exportFile(`Rendering the ${picture}`, "proof", { picture, form, space, crop, margin }, what, (name, { parts, note }) => {
    download(name, parts, type);
    if (note) window.threeply.say("note", `The ${kind} was saved, with these words in it: ${note}`);
  });
}

/**
 * saveTIFF saves a plate in register, or the reference, as a TIFF of 16 bits.
 * @param {string} picture the plate's filter: "red", "green" or "blue"; or "reference"
 */
export function saveTIFF(picture) {
  const words = picture === "reference" ? "reference" : `${picture} plate`;
  return exportFile(`Writing the ${words}`, "tiff", { picture }, `${words.replace(" ", "-")}-in-register.tif`,
    (name, parts) => download(name, parts, "image/tiff"));
}

export function saveProfile() {
  return exportFile("Computing the ICC profile", "icc", {}, "tissues.icc", (name, bytes) => download(name, bytes, "application/vnd.iccprofile"));
}

/**
 * saveNegative saves the printing negative of a layer.
 * @param {"yellow" | "magenta" | "cyan"} printer
 */
export function saveNegative(printer) {
  return exportFile(`Drawing the ${printer} negative`, "negative", { printer }, `${printer}-negative.tif`, (name, { parts, note }) => {
    download(name, parts, "image/tiff");
    if (note) window.threeply.say("note", `The ${printer} negative was saved, with these words on its label: ${note}`);
  });
}

/** @type {Record<string, [file: string, type: string]>} */
const testSheetFiles = {
  page: ["test-sheet.html", "text/html"], plan: ["test-sheet.json", "application/json"], table: ["readings.csv", "text/csv"],
};

/**
 * saveTestSheet saves a part of the test sheet of the chosen palette.
 * @param {"yellow" | "magenta" | "cyan" | "page" | "plan" | "table"} what
 */
export function saveTestSheet(what) {
  const [file, type] = testSheetFiles[what] ?? [`test-sheet-${what}.tif`, "image/tiff"];
  return exportFile("Drawing the test sheet", "testsheet", { what }, file, (name, parts) => download(name, parts, type));
}

// saveFilmWedge saves the film's own wedge, to be printed beside a step tablet.
export function saveFilmWedge() {
  return exportFile("Drawing the film’s wedge", "film", {}, "film-wedge.tif", (name, parts) => download(name, parts, "image/tiff"));
}

export function saveProcess() {
  return exportFile("Writing the process sheet", "process", {}, "process.html", (name, parts) => download(name, parts, "text/html"));
}

/**
 * saveSession saves the session, with its scans or without.
 * @param {boolean} withScans
 */
export function saveSession(withScans) {
  if (!withScans) return saveText("Writing the session", "session", "session.json", "application/json");
  const scans = openScans();
  return exportFile("Packing the session and its scans", "pack", { files: scans }, "session.zip",
    (name, parts) => download(name, filled(parts, scans), "application/zip"));
}

export function saveReview() {
  return exportFile("Making the review sheet", "review", {}, "review.html", (name, parts) => download(name, parts, "text/html"));
}

// saveArchive saves the scans and all that was made of them as one package.
export function saveArchive() {
  const scans = openScans();
  const what = "archive.zip";
  return exportFile("Making the archive package", "bag", { files: scans, root: nameOf(what).slice(0, -".zip".length) }, what, (name, { parts, notes }) => {
    download(name, filled(parts, scans), "application/zip");
    if (notes.length) window.threeply.say("note", `The package was saved. ${notes.join(" ")}`);
  });
}

/**
 * filled puts the scans where their numbers stand.
 * @param {(BlobPart | number)[]} parts
 * @param {File[]} scans
 */
const filled = (parts, scans) => parts.map((part) => (typeof part === "number" ? scans[part] : part));

/**
 * saveText saves what is a text: the session, or a table.
 * @param {string} words what is being done
 * @param {"session" | "matrices" | "verdict" | "curves"} what
 * @param {string} ending of the file's name
 * @param {string} type
 */
const saveText = (words, what, ending, type) => exportFile(words, "text", { what }, ending, (name, parts) => download(name, parts, type));

export const saveMatrices = () => saveText("Writing the matrices", "matrices", "register.csv", "text/csv");
export const saveCurves = () => saveText("Writing the layers’ curves", "curves", "curves.csv", "text/csv");
export const saveVerdict = () => saveText("Writing the verdict", "verdict", "verdict.csv", "text/csv");
