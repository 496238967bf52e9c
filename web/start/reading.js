// Files that a worker or the program reads while a set lies open: saved sessions, readings,
// palettes, tables, scans of the test sheet.

/** @import { Api } from "../types/api.js" */
/** @import { Results } from "../types/worker.js" */

import { reason } from "../ui/words.js";
import * as desk from "./desk.js";
import * as work from "./work.js";

const parse = (/** @type {string} */ text) => JSON.parse(text);

// textOf reads a file as text. Where that fails, the page says so and it is null.
/** @param {File} file */
async function textOf(file) {
  try {
    return await file.text();
  } catch (error) {
    window.threeply.say("error", `${file.name} could not be read (${reason(error)}). Check that the file is still there and open it again.`);
    return null;
  }
}

/** @type {Api["openSession"]} */
export async function openSession(file, scans = []) {
  if (await isPacked(file)) {
    await desk.openPacked(file);
  } else {
    const text = await textOf(file);
    if (text !== null && scans.length) desk.packed(file.name, text, scans);
    else if (text !== null) desk.tell({ do: "openSession", name: file.name, text });
  }
}

// isPacked tells by its first bytes whether a file is an archive, as a session with its
// scans is; one that cannot be read is none.
async function isPacked(/** @type {File} */ file) {
  try {
    const [p, k] = new Uint8Array(await file.slice(0, 2).arrayBuffer());
    return p === 0x50 && k === 0x4b;
  } catch {
    return false;
  }
}

// readText hands a file's name and text to a reader of the program, which
// answers what it read or says what is wrong.
/** @type {Api["readText"]} */
export async function readText(file, reader, ...more) {
  const text = await textOf(file);
  return text === null ? {} : parse(reader(file.name, text, ...more));
}

// readFile has a worker read a file. It is null where that fails, which the page says, or
// is stopped.
/** @type {Api["readFile"]} */
export async function readFile(op, file, words) {
  const got = await reading(words, op, { file });
  return got && parse(got);
}

/**
 * reading has a worker read something, as a job of the desk; null where that fails, which the
 * page says, or is stopped.
 * @template {keyof Results} Op
 * @param {string} words
 * @param {Op} op
 * @param {object} of
 * @returns {Promise<Results[Op] | null>}
 */
async function reading(words, op, of) {
  const token = window.threeply.begin("read", words);
  try {
    const got = await work.run(op, of, desk.hooks(token));
    return window.threeply.end(token) ? got : null;
  } catch (error) {
    desk.failed(token, error);
    return null;
  }
}

/**
 * planIn tells whether a text is the plan of a test sheet.
 * @param {string} text
 */
function planIn(text) {
  try {
    return Array.isArray(parse(text).patches);
  } catch {
    return false;
  }
}

const longestPlan = 200_000; // bytes

/**
 * isPlan tells whether a file is the plan of a test sheet. One that cannot be read is none.
 * @param {File} file
 */
export async function isPlan(file) {
  return file.size <= longestPlan && planIn(await file.text().catch(() => ""));
}

/** @type {Api["planAmong"]} */
export async function planAmong(files) {
  for (const file of files) {
    if (await isPlan(file)) return textOf(file);
  }
  return null;
}

/** @type {Api["fitReadings"]} */
export async function fitReadings(files, status) {
  const texts = [];
  for (const file of files) {
    const text = await textOf(file);
    if (text === null) return null;
    texts.push({ name: file.name, text });
  }
  return fitTissues({ files: texts, status });
}

/** @type {Api["fitScan"]} */
export async function fitScan(scans, reference, corners) {
  const target = await textOf(reference);
  return target === null ? null : fitTissues({ files: [], scans, target, corners });
}

async function fitTissues(/** @type {object} */ of) {
  const got = await reading("Fitting the tissues", "fit", { session: window.threeply.sessionText(), ...of });
  return got && parse(got);
}

/** @type {Api["previewScan"]} */
export async function previewScan(file, reference) {
  const target = reference ? await textOf(reference) : "";
  return target === null ? null : reading("Reading the scan", "flatbed", { file, target, session: window.threeply.sessionText() });
}
