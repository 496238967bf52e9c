// What leaves the page as a file: proofs, plates in register, the profile, the
// session.

import { failed, hooks, planes } from "./desk.js";
import * as work from "./work.js";

// download takes a text, bytes, or a list of them.
export function download(name, bytes, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([bytes].flat(), { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

// nameOf is the name of a file of the open document, never that of one of its scans.
const nameOf = (what) => window.threeply.fileName(what);

// exported has a worker make a file out of the session as it stands now, and hands
// what it made to save, with the name of what it is. Nothing is said of what was
// stopped.
async function exported(words, op, message, what, save) {
  const token = window.threeply.begin("export", words);
  const name = nameOf(what);
  try {
    const got = await work.run(op, { session: window.threeply.sessionText(), ...message }, { ...hooks(token), give: planes(token) });
    if (window.threeply.end(token)) save(name, got);
  } catch (error) {
    failed(token, error);
  }
}

// saveProof saves the print, or the reference, as form "png" or "tiff" in space
// "srgb" or "p3".
export function saveProof(look, form, space) {
  const kind = look === "print" ? "proof" : "reference";
  const [ending, type] = form === "tiff" ? ["tif", "image/tiff"] : ["png", "image/png"];
  const what = `${kind}${space === "p3" ? "-display-p3" : ""}.${ending}`;
  return exported(`Rendering the ${look}`, "proof", { look, form, space }, what, (name, { parts, note }) => {
    download(name, parts, type);
    if (note) window.threeply.say("note", `The ${kind} was saved, with these words in it: ${note}`);
  });
}

// saveTIFF saves the plate of a filter in register, or "reference", with 16 bits.
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
