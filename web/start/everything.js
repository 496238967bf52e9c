// All that can leave, made by one act and packed into one ZIP file, or put into a folder: each
// file as the page's single acts make it, one after the other.

/** @import { Hooks } from "../types/worker.js" */

import { capital, reason } from "../ui/words.js";
import { draw } from "./drawing.js";
import { named, put as putFile, taken, why } from "./folder.js";
import { download, filmWedgeFile, making, nameOf, testSheetFiles, told } from "./saving.js";
import * as work from "./work.js";

/** @typedef {(of: object, hooks: Hooks) => Promise<BlobPart[]>} Make */

/** @type {Record<string, Make>} each file by the end of its name */
const all = {};

/** @type {(what: string, op: "proof" | "tiff" | "negative", message: object) => void} */
const picture = (what, op, message) => { all[what] = async (of, hooks) => (await draw(op, { ...of, ...message }, hooks)).parts; };
for (const [kind, name] of [["print", "proof"], ["reference", "reference"]]) picture(`${name}.tif`, "proof", { picture: kind, form: "tiff", space: "srgb", crop: true });
for (const name of ["red plate", "green plate", "blue plate", "reference"]) picture(`${name.replace(" ", "-")}-in-register.tif`, "tiff", { picture: name.split(" ")[0] });
for (const printer of ["yellow", "magenta", "cyan"]) picture(`${printer}-negative.tif`, "negative", { printer });

/** @type {(what: string, op: "process" | "review" | "report") => void} */
const sheet = (what, op) => { all[what] = async (of, hooks) => [await told(await work.run(op, of, hooks))]; };
sheet("process.html", "process");
sheet("review.html", "review");
sheet("register.html", "report");

for (const [what, file] of [["matrices", "register.csv"], ["verdict", "verdict.csv"], ["curves", "curves.csv"], ["session", "session.json"]]) {
  all[file] = (of, hooks) => work.run("text", { ...of, what }, hooks);
}
for (const [what, [file, type]] of Object.entries(testSheetFiles)) {
  all[file] = async (of, hooks) => {
    const made = await work.run("testsheet", { ...of, what }, hooks);
    return type === "text/html" ? [await told(made)] : made;
  };
}
all[filmWedgeFile] = (of, hooks) => work.run("film", of, hooks);
all["tissues.icc"] = async (of, hooks) => [await work.run("icc", of, hooks)];

/**
 * makeAll makes each file in its turn and hands it on. What cannot be made is left out; it gives
 * the names of those, by the reason.
 * @param {{ session: string }} of
 * @param {Hooks} hooks
 * @param {(name: string) => Promise<boolean>} wants tells whether a file is to be made
 * @param {(name: string, file: Blob) => Promise<void> | void} take
 */
async function makeAll(of, hooks, wants, take) {
  const ends = Object.keys(all);
  const names = ends.map(nameOf); // of the set that is open now
  /** @type {Map<string, string[]>} */
  const left = new Map();
  for (const [i, end] of ends.entries()) {
    if (!await wants(names[i])) continue;
    const within = { ...hooks, progress: (/** @type {number} */ share, /** @type {string} */ words) => hooks.progress?.((i + share) / (ends.length + 1), words) };
    let file;
    try {
      file = new Blob(await all[end](of, within));
    } catch (error) {
      if (error instanceof work.Stopped || error instanceof work.Died || !planesThere(hooks)) throw error;
      const because = reason(error);
      left.set(because, [...left.get(because) ?? [], names[i]]);
      continue;
    }
    await take(names[i], file);
  }
  return left;
}

// sayLeft says which files could not be made, and why.
const sayLeft = (/** @type {Map<string, string[]>} */ left) => {
  for (const [because, names] of left) window.threeply.say("note", `Left out: ${names.join(", ")}. ${capital(because)}`);
};

// saveEverything saves all that can leave of the open set. What cannot be made is left out,
// and the page says why.
export function saveEverything() {
  const what = "files.zip";
  const root = nameOf(what).slice(0, -".zip".length);
  return making("Saving all files", what, async (of, hooks) => {
    /** @type {{ name: string, file: Blob }[]} */
    const files = [];
    const left = await makeAll(of, hooks, async () => true, (name, file) => { files.push({ name, file }); });
    const parts = await work.run("together", { files, root }, hooks);
    return { left, parts: parts.map((part) => (typeof part === "number" ? files[part].file : part)) };
  }, (name, { left, parts }) => {
    download(name, parts, "application/zip");
    sayLeft(left);
  });
}

// saveIntoFolder saves the same files one by one into a folder that the user chooses. What lies
// there already is never written over: its name is said, and the file is left out. Those that
// are there when it is stopped stay, each of them whole.
export async function saveIntoFolder() {
  /** @type {FileSystemDirectoryHandle | undefined} */
  let folder;
  try {
    folder = await window.showDirectoryPicker?.({ id: "files", mode: "readwrite" });
  } catch (error) {
    if (!named(error, "AbortError")) window.threeply.say("error", capital(reason(why(error, "The folder"))));
  }
  if (!folder) return;
  await fill(folder);
}

/** @type {(folder: FileSystemDirectoryHandle) => Promise<void>} */
const fill = (folder) => making("Saving all files into a folder", "files.zip", async (of, hooks) => {
  const live = () => planesThere(hooks);
  /** @type {string[]} */
  const had = []; // names that were taken
  let put = 0;
  try {
    const left = await makeAll(of, hooks, async (name) => {
      if (!live()) throw new work.Stopped();
      if (!await taken(folder, name)) return true;
      had.push(name);
      return false;
    }, async (name, file) => {
      if (await putFile(folder, name, file, live)) put++;
      else had.push(name);
    });
    return { left, had, put };
  } catch (error) {
    if (put > 0) window.threeply.say("note", `Not all files are in the folder. There are ${put}, each of them whole.`);
    throw why(error, folder.name);
  }
}, (_name, { left, had, put }) => {
  window.threeply.say("note", `Files put into the folder: ${put}.`);
  if (had.length > 0) window.threeply.say("note", `There already, and left as they are: ${had.join(", ")}`);
  sayLeft(left);
});

// planesThere tells whether the plates of a job are those that are open.
const planesThere = (/** @type {Hooks} */ hooks) => hooks.give?.({ source: 0, level: 0, from: 0, to: 0 }, new Uint8Array(0)) != null;
