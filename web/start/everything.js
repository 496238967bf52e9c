// All that can leave, made by one act and packed into one ZIP file: each file as the
// page's single acts make it, one after the other.

/** @import { Hooks } from "../types/worker.js" */

import { capital, reason } from "../ui/words.js";
import { draw } from "./drawing.js";
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

// saveEverything saves all that can leave of the open set. What cannot be made is left out,
// and the page says why.
export function saveEverything() {
  const ends = Object.keys(all);
  const names = ends.map(nameOf);
  const what = "files.zip";
  const root = nameOf(what).slice(0, -".zip".length);
  /** @type {Map<string, string[]>} */
  const left = new Map(); // names of files that are left out, by the reason

  return making("Saving all files", what, async (of, hooks) => {
    /** @type {{ name: string, file: Blob }[]} */
    const files = [];
    for (const [i, end] of ends.entries()) {
      const within = { ...hooks, progress: (/** @type {number} */ share, /** @type {string} */ words) => hooks.progress?.((i + share) / (ends.length + 1), words) };
      try {
        files.push({ name: names[i], file: new Blob(await all[end](of, within)) });
      } catch (error) {
        if (error instanceof work.Stopped || error instanceof work.Died || !planesThere(hooks)) throw error;
        const why = reason(error);
        left.set(why, [...left.get(why) ?? [], names[i]]);
      }
    }
    const parts = await work.run("together", { files, root }, hooks);
    return parts.map((part) => (typeof part === "number" ? files[part].file : part));
  }, (name, parts) => {
    download(name, parts, "application/zip");
    for (const [why, names] of left) window.threeply.say("note", `Left out: ${names.join(", ")}. ${capital(why)}`);
  });
}

// planesThere tells whether the plates of a job are those that are open.
const planesThere = (/** @type {Hooks} */ hooks) => hooks.give?.({ source: 0, level: 0, from: 0, to: 0 }, new Uint8Array(0)) != null;
