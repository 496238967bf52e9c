// A flatbed scan of a test sheet with a colour target on it: the target is pointed at in a
// small picture of the scan.

/** @import { Api } from "../../types/api.js" */
/** @import { ScanPreview } from "../../types/worker.js" */
/** @import { Shown } from "../../types/fit.js" */

import { attr, h, paint, show, text } from "../../ui/dom.js";
import { button, fileButton } from "../../ui/controls.js";

const asks = ["Point at the middle of the target’s patch A1.", "Now at the last patch of row A.", "Now at the last patch of all.", "Open the target’s reference values, CGATS text."];
const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * @param {Api} api
 * @param {(fitted: Promise<Shown | null>) => void} take shows what a fit says
 * @returns {Node}
 */
export function build(api, take) {
  /** @type {{ scan: File, picture: ScanPreview } | null} */
  let open = null;
  /** @type {File | null} */
  let reference = null;
  /** @type {[number, number][]} */
  let points = []; // in pixels of the picture
  let at = [0, 0]; // where the keys have come to

  const canvas = h("canvas", { tabindex: "0", role: "application", click: (event) => point(event.offsetX * canvas.width / canvas.clientWidth, event.offsetY * canvas.height / canvas.clientHeight), keydown: (event) => keys(event) });
  const asked = h("p", { class: "hint", role: "status" });
  const pickReference = fileButton({ label: "Target’s reference …", accept: ".txt,.csv,.cgats,.it8,text/plain,text/csv", open: ([file]) => { reference = file; draw(); } });
  const again = button("Point again", () => { points = []; draw(); }, { class: "quiet small" });
  const use = button("Fit to this scan", () => {
    if (!open || !reference) return;
    const { scan, picture: { each } } = open;
    take(api.fitScan(scan, reference, points.flat().map((v) => (v + 0.5) * each - 0.5)));
  });

  async function look(/** @type {File} */ scan) {
    const picture = await api.previewScan(scan);
    if (!picture) return;
    [open, points, at] = [{ scan, picture }, [], [picture.w / 2, picture.h / 2]];
    draw();
  }

  function point(/** @type {number} */ x, /** @type {number} */ y) {
    if (points.length < 3) points = [...points, [x, y]];
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
    for (const node of [canvas, asked, again, pickReference, use]) show(node, open !== null);
    if (!open) return;
    const asking = enough && reference ? `Target: ${reference.name}.` : asks[points.length];
    text(asked, asking);
    attr(canvas, "aria-label", `The scan. ${asking} Arrow keys move, Enter points.`);
    use.disabled = !(enough && reference);
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
    h("div", { class: "actions" }, fileButton({ label: "Scan with a target …", accept: ".tif,.tiff,.png,image/tiff,image/png", open: ([file]) => { look(file); } })),
    asked, canvas, h("div", { class: "actions" }, again, pickReference, use));
}
