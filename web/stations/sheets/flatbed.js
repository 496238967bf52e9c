// A flatbed scan of a test sheet with a colour target on it, or two: the target is found, and
// where it is not, pointed at in a small picture of the first scan.

/** @import { Api } from "../../types/api.js" */
/** @import { ScanPreview } from "../../types/worker.js" */
/** @import { Shown } from "../../types/fit.js" */

import { attr, h, named, paint, show, text } from "../../ui/dom.js";
import { button, fileButton } from "../../ui/controls.js";
import { fill } from "../../ui/filled.js";

const asks = ["Point at the middle of the target’s patch A1.", "Now at the last patch of row A.", "Now at the last patch of all."];
const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * @param {Api} api
 * @param {(fitted: Promise<Shown | null>) => void} take shows what a fit says
 * @returns {Node}
 */
export function build(api, take) {
  /** @type {{ scans: File[], picture: ScanPreview } | null} */
  let open = null;
  /** @type {File | null} */
  let reference = null;
  /** @type {[number, number][]} */
  let points = []; // in pixels of the picture
  let at = [0, 0]; // where the keys have come to
  let found = ""; // what is said of a target that was found
  let doubtful = false; // it was not found for certain, and nobody has said that it is the target
  let refused = false; // what was opened last
  let looks = 0; // counts what was opened: an answer that comes late is dropped

  const canvas = h("canvas", { tabindex: "0", role: "application", click: (event) => point(event.offsetX * canvas.width / canvas.clientWidth, event.offsetY * canvas.height / canvas.clientHeight), keydown: (event) => keys(event) });
  const asked = h("p", { class: "hint", role: "status" });
  const used = h("span", {});
  const inUse = h("p", {}, "In use: ", used);
  const stays = h("p", { class: "hint", role: "status", text: "What you opened last was refused." });
  const pickReference = fileButton({ label: "Target’s reference …", accept: ".txt,.csv,.cgats,.it8,text/plain,text/csv", open: ([file]) => { if (open) look(open.scans, file); else reference = file; } });
  const again = button("Point again", () => { [points, found, doubtful] = [[], "", false]; keep(); draw(); }, { class: "quiet small" });
  const itIs = button("It is the target", () => { [found, doubtful] = ["", false]; draw(); }, { class: "small" });
  const use = button("Fit to this scan", () => {
    if (!open || !reference || doubtful) return;
    take(api.fitScan(open.scans, reference, inScan()));
  });

  // Points that were set by hand are kept with the name and the size of their scan, for when it is
  // opened again.
  const inScan = () => (open ? points.flat().map((v) => (v + 0.5) * /** @type {ScanPreview} */ (open?.picture).each - 0.5) : []);
  const mark = (/** @type {File} */ { name, size }) => `${name}\n${size}\n`;
  const keep = () => { if (open) fill(api, "scan.points")(points.length ? mark(open.scans[0]) + inScan().map((v) => v.toFixed(1)).join(" ") : ""); };
  const kept = (/** @type {File} */ scan) => {
    const text = api.view().filled["scan.points"];
    return text.startsWith(mark(scan)) ? text.slice(mark(scan).length).split(" ").map(Number) : [];
  };

  // look takes scans and reference into use, where they can be read; else what was in use stays.
  async function look(/** @type {File[]} */ scans, /** @type {File | null} */ values) {
    const turn = ++looks;
    const picture = await api.previewScan(scans[0], values ?? undefined);
    if (turn !== looks) return;
    refused = !picture;
    if (!picture) return draw();
    reference = values;
    const { each, corners, sure } = picture;
    const byHand = kept(scans[0]);
    const seen = (byHand.length ? byHand : corners).map((v) => (v + 0.5) / each - 0.5);
    [open, points, at] = [{ scans, picture }, [], [picture.w / 2, picture.h / 2]];
    for (let i = 0; i + 1 < seen.length; i += 2) points.push([seen[i], seen[i + 1]]);
    doubtful = !byHand.length && seen.length > 0 && !sure;
    found = byHand.length || !seen.length ? "" : sure ? "The target is found: 1 lies on A1, 2 at the end of row A, 3 on the last patch." : "Is this the target? 1 should lie on A1, 2 at the end of row A, 3 on the last patch. Else point again.";
    draw();
  }

  function point(/** @type {number} */ x, /** @type {number} */ y) {
    if (reference && points.length < 3) {
      points = [...points, [x, y]];
      keep();
    }
    draw();
  }

  function keys(/** @type {KeyboardEvent} */ event) {
    const step = steps[/** @type {keyof typeof steps} */ (event.key)];
    if (event.key === "Enter" || event.key === " ") point(at[0], at[1]);
    else if (step) at = step.map((v, i) => at[i] + v * (event.shiftKey ? 1 : 10));
    else return;
    event.preventDefault();
    event.stopPropagation();
    draw();
  }

  function draw() {
    const enough = points.length === 3;
    for (const node of [canvas, asked, inUse, pickReference]) show(node, open !== null);
    show(stays, open !== null && refused);
    show(itIs, open !== null && reference !== null && doubtful);
    for (const node of [again, use]) show(node, open !== null && reference !== null);
    if (!open) return;
    const asking = !reference ? "Open the target’s reference values, CGATS text." : enough ? found || `Target: ${reference.name}.` : asks[points.length];
    text(asked, asking);
    attr(canvas, "aria-label", `The scan. ${asking} Arrow keys move, Enter points.`);
    named(used, [...open.scans, ...(reference ? [reference] : [])].map(({ name }) => name).join(", "));
    use.disabled = !(enough && reference) || doubtful;
    paint(canvas, open.picture);
    const ink = canvas.getContext("2d");
    if (!ink) return;
    const r = canvas.width / 60;
    ink.lineWidth = r / 4;
    ink.font = `${2 * r}px sans-serif`;
    const ring = (/** @type {number[]} */ [x, y], /** @type {string} */ words) => {
      for (const [colour, wide] of /** @type {[string, number][]} */ ([["#000", r / 2], ["#fff", r / 4]])) {
        ink.strokeStyle = colour;
        ink.lineWidth = wide;
        ink.beginPath();
        ink.arc(x, y, r, 0, 2 * Math.PI);
        ink.stroke();
        ink.strokeText(words, x + 1.3 * r, y + 0.7 * r);
      }
      ink.fillStyle = "#000";
      ink.fillText(words, x + 1.3 * r, y + 0.7 * r);
    };
    points.forEach((p, i) => ring(p, String(i + 1)));
    if (!enough && document.activeElement === canvas && document.activeElement.matches(":focus-visible")) ring(at, "+");
  }
  draw();

  return h("details", { class: "folded flatbed" }, h("summary", { text: "Flatbed" }),
    h("div", { class: "actions" }, fileButton({ label: "Scan with a target …", accept: ".tif,.tiff,.png,image/tiff,image/png", multiple: true, open: (files) => { look(files.slice(0, 2), reference); } })),
    h("p", { class: "hint", text: "A second scan of it, the sheet turned by a quarter or by half, tells what the scanner makes uneven: open both." }),
    inUse, asked, stays, canvas, h("div", { class: "actions" }, itIs, again, pickReference, use));
}
