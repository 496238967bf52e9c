// What leaves the page as a file: proofs, plates in register, the profile, the
// session.

import * as work from "./work.js";

// download takes a text, bytes, or a list of them.
export function download(name, bytes, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([bytes].flat(), { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}

const fileTitle = () => (JSON.parse(window.threeply.view()).title || "threeply").replace(/[^\p{L}\p{N}]+/gu, "-").toLowerCase();

// busily shows that work is under way, and what went wrong with it; nothing is
// said of what was cancelled.
async function busily(what, make) {
  const api = window.threeply;
  api.busy(what, 0, true);
  try {
    await make();
  } catch (error) {
    if (!(error instanceof work.Cancelled)) api.say("error", error.message);
  }
  api.busy("");
}

// saver needs runOnPlates(op, more), which has the worker do op on the plates.
export function saver(runOnPlates) {
  return {
    // saveProof saves the print, or the reference, as form "png" or "tiff" in
    // space "srgb" or "p3".
    saveProof: (look, form, space) => busily(`Rendering the ${look}`, async () => {
      const { parts, note } = await runOnPlates("proof", { look, form, space });
      const kind = look === "print" ? "proof" : "reference";
      const [ending, type] = form === "tiff" ? ["tif", "image/tiff"] : ["png", "image/png"];
      download(`${fileTitle()}-${kind}${space === "p3" ? "-display-p3" : ""}.${ending}`, parts, type);
      if (note) window.threeply.say("note", `The ${kind} was saved, with these words in it: ${note}`);
    }),

    // saveTIFF saves the plate of a filter in register, or "reference", with 16
    // bits.
    saveTIFF: (sheet) => busily(`Writing the ${sheet === "reference" ? "reference" : sheet + " plate"}`, async () => {
      const parts = await runOnPlates("tiff", { sheet });
      const what = sheet === "reference" ? "reference" : `${sheet}-plate`;
      download(`${fileTitle()}-${what}-in-register.tif`, parts, "image/tiff");
    }),

    saveProfile: () => busily("Computing the ICC profile", async () => {
      const bytes = await work.run("icc", { session: window.threeply.sessionText() }, {
        progress: (share) => window.threeply.busy("Computing the ICC profile", share, true),
      });
      download(`${fileTitle()}-tissues.icc`, bytes, "application/vnd.iccprofile");
    }),

    saveSession: () => download(`${fileTitle()}-session.json`, window.threeply.sessionText(), "application/json"),

    saveMatrices: () => download(`${fileTitle()}-register.csv`, window.threeply.matricesCSV(), "text/csv"),

    saveVerdict: () => download(`${fileTitle()}-verdict.csv`, window.threeply.verdictCSV(), "text/csv"),
  };
}
