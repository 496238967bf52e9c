// What leaves the page as a file: proofs, plates in register, the profile, the
// session.

/** @import { Hooks, Results } from "../types/worker.js" */

import { toldPage } from "../ui/dom.js";
import { isSpoken } from "../ui/language.js";
import { failed, hooks, openScans, planes } from "./desk.js";
import { draw } from "./drawing.js";
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

/**
 * told is a page that is printed, in the language that is spoken.
 * @param {BlobPart[]} content
 * @returns {Promise<BlobPart>}
 */
export async function told(content) {
  const page = new Blob(content);
  return isSpoken() ? toldPage(await page.text()) : page;
}

/**
 * downloadPage hands a page that is printed to the browser.
 * @param {string} name
 * @param {BlobPart[]} content
 */
const downloadPage = async (name, content) => download(name, await told(content), "text/html");

// nameOf is the name of a file of the open document that ends in what it is. It is never
// the name of one of the document's scans.
export const nameOf = (/** @type {string} */ what) => window.threeply.fileName(what);

/**
 * exportFile has a worker make a file of the session as it stands now, and gives save the
 * file's name and what was made. A job that was stopped ends without a word.
 * @template {"icc" | "film" | "testsheet" | "process" | "text" | "review" | "report" | "pack" | "bag"} Op
 * @param {string} words what is being done
 * @param {Op} op
 * @param {object} message what else the operation takes
 * @param {string} what the end of the file's name
 * @param {(name: string, made: Results[Op]) => void | Promise<void>} save
 */
const exportFile = (words, op, message, what, save) => making(words, what, (of, hooks) => work.run(op, { ...of, ...message }, hooks), save);

/**
 * making makes a file as a job.
 * @template Made
 * @param {string} words what is being done
 * @param {string} what the end of the file's name
 * @param {(of: { session: string }, hooks: Hooks) => Promise<Made>} make
 * @param {(name: string, made: Made) => void | Promise<void>} save
 */
export async function making(words, what, make, save) {
  const token = window.threeply.begin("export", words);
  const name = nameOf(what);
  try {
    const made = await make({ session: window.threeply.sessionText() }, { ...hooks(token), give: planes(token) });
    if (window.threeply.end(token)) await save(name, made);
  } catch (error) {
    failed(token, error);
  }
}

/**
 * exportPicture has the workers together draw a file at full size, and saves it. noted says what
 * a note on it means.
 * @param {string} words what is being done
 * @param {"proof" | "tiff" | "negative"} op
 * @param {object} message what else the operation takes
 * @param {string} what the end of the file's name
 * @param {string} type
 * @param {(note: string) => string} [noted]
 */
const exportPicture = (words, op, message, what, type, noted) => making(words, what, (of, hooks) => draw(op, { ...of, ...message }, hooks), (name, { parts, note, died }) => {
  download(name, parts, type);
  if (note && noted) window.threeply.say("note", noted(note));
  if (died) window.threeply.say("note", "A worker ended while this file was drawn. Its part was drawn again: the file is whole.");
});

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
  return exportPicture(`Rendering the ${picture}`, "proof", { picture, form, space, crop, margin }, `${kind}${space === "p3" ? "-display-p3" : ""}.${ending}`, type,
    (note) => `The ${kind} was saved, with these words in it: ${note}`);
}

/**
 * saveTIFF saves a plate in register, or the reference, as a TIFF of 16 bits.
 * @param {string} picture the plate's filter: "red", "green" or "blue"; or "reference"
 */
export function saveTIFF(picture) {
  const words = picture === "reference" ? "reference" : `${picture} plate`;
  return exportPicture(`Writing the ${words}`, "tiff", { picture }, `${words.replace(" ", "-")}-in-register.tif`, "image/tiff");
}

export function saveProfile() {
  return exportFile("Computing the ICC profile", "icc", {}, "tissues.icc", (name, bytes) => download(name, bytes, "application/vnd.iccprofile"));
}

/**
 * saveNegative saves the printing negative of a layer.
 * @param {"yellow" | "magenta" | "cyan"} printer
 */
export function saveNegative(printer) {
  return exportPicture(`Drawing the ${printer} negative`, "negative", { printer }, `${printer}-negative.tif`, "image/tiff",
    (note) => `The ${printer} negative was saved, with these words on its label: ${note}`);
}

/** @type {Record<string, [file: string, type: string]>} the parts of the test sheet */
export const testSheetFiles = {
  page: ["test-sheet.html", "text/html"], plan: ["test-sheet.json", "application/json"], table: ["readings.csv", "text/csv"],
  yellow: ["test-sheet-yellow.tif", "image/tiff"], magenta: ["test-sheet-magenta.tif", "image/tiff"], cyan: ["test-sheet-cyan.tif", "image/tiff"],
};

/**
 * saveTestSheet saves a part of the test sheet of the chosen palette.
 * @param {"yellow" | "magenta" | "cyan" | "page" | "plan" | "table"} what
 */
export function saveTestSheet(what) {
  const [file, type] = testSheetFiles[what];
  return exportFile("Drawing the test sheet", "testsheet", { what }, file, what === "page" ? downloadPage : (name, parts) => download(name, parts, type));
}

export const filmWedgeFile = "film-wedge.tif";

// saveFilmWedge saves the film's own wedge, to be printed beside a step tablet.
export function saveFilmWedge() {
  return exportFile("Drawing the film’s wedge", "film", {}, filmWedgeFile, (name, parts) => download(name, parts, "image/tiff"));
}

export function saveProcess() {
  return exportFile("Writing the process sheet", "process", {}, "process.html", downloadPage);
}

/**
 * saveSession saves the session, with its scans or without.
 * @param {boolean} withScans
 */
export function saveSession(withScans) {
  if (!withScans) return saveText("Writing the session", "session", "session.json", "application/json");
  const scans = openScans();
  return exportFile("Packing the session and its scans", "pack", { files: scans, sight: window.threeply.sight() }, "session.zip",
    (name, parts) => download(name, filled(parts, scans), "application/zip"));
}

// saveReport saves the page that is signed for the register.
export function saveReport() {
  return exportFile("Writing the report on register", "report", {}, "register.html", downloadPage);
}

export function saveReview() {
  return exportFile("Making the review sheet", "review", {}, "review.html", downloadPage);
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
const saveText = (words, what, ending, type) => exportFile(words, "text", { what, sight: window.threeply.sight() }, ending, (name, parts) => download(name, parts, type));

export const saveMatrices = () => saveText("Writing the matrices", "matrices", "register.csv", "text/csv");
export const saveCurves = () => saveText("Writing the layers’ curves", "curves", "curves.csv", "text/csv");
export const saveVerdict = () => saveText("Writing the verdict", "verdict", "verdict.csv", "text/csv");
