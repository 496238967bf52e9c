// The stage: where Ebitengine's canvas lies in the page. The canvas itself sees no
// event: pointer, wheel and keys are read here.

/** @import { Api } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { attr, byID, svg } from "../ui/dom.js";
import { ends } from "./ends.js";
import { overlay } from "./overlay.js";
import { keys, letGo, pausing } from "./keys.js";
import * as pins from "./pins.js";
import { pointer, wheel } from "./pointer.js";

/** @type {Api} */
let api;
/** @type {Model | null} */
let view = null;
/** @type {HTMLElement} */
let stage;
const size = { clientWidth: 0, clientHeight: 0 }; // of the stage and so of the canvas, CSS pixels
/** @type {readonly number[]} */
let sent = []; // what the program was told of the stage last
let tallest = { of: "", height: 0 }; // the tallest row of captions of what is shown now
const lines = svg("svg", { id: "lines", "aria-hidden": "true" }); // over the canvas
const sides = /** @type {const} */ (["clientWidth", "clientHeight"]);

const words = "The pictures. Arrow keys move the picture, or the chosen layer while the pointer nudges; plus and minus enlarge and reduce, Enter reads the middle, comma and full stop move the divider, w goes to the places where register leaves most, l switches the loupe. At the three plates with marks, Enter pins the middle, p takes the next plate, n the next mark; arrow keys move its pin, Delete takes the mark away, Escape lets go.";

// shelter is called before Go starts. Ebitengine sizes its canvas by
// document.body, appends it there, styles html and body, and takes pointer
// positions from the window: the body is given the stage's size, and the canvas
// is moved into the stage as it appears. This rests on internals of v2.9.10; a
// browser test holds it. made is called once that has its context.
export function shelter(/** @type {() => void} */ made) {
  stage = byID("stage");
  for (const side of sides) {
    size[side] = stage[side];
    Object.defineProperty(document.body, side, { get: () => size[side] });
  }
  new MutationObserver((_, observer) => {
    const canvas = document.querySelector("body > canvas");
    if (!(canvas instanceof HTMLCanvasElement)) return;
    observer.disconnect();
    canvas.removeAttribute("style");
    canvas.tabIndex = 0;
    canvas.setAttribute("role", "img");
    attr(canvas, "aria-label", words);
    stage.prepend(canvas);
    sizeOnce(canvas);
    setTimeout(() => { // which keeps the wait out of Ebitengine's own start
      hasCard(canvas);
      made();
    });
    window.dispatchEvent(new Event("resize"));
  }).observe(document.body, { childList: true });
  for (const element of [document.body, document.documentElement]) {
    const bare = () => { if (element.hasAttribute("style")) element.removeAttribute("style"); };
    new MutationObserver(bare).observe(element, { attributes: true, attributeFilter: ["style"] });
    bare();
  }
  // A press on the pictures leaves the focus, and with it the keys, to the canvas, and
  // selects no text.
  stage.addEventListener("mousedown", (event) => { if (!(event.target instanceof HTMLSelectElement)) event.preventDefault(); }, true);
  for (const kind of ["keydown", "keyup", "keypress", "mousedown", "mouseup", "mousemove", "touchstart", "touchmove", "touchend", "contextmenu", "dragover", "drop"]) {
    stage.addEventListener(kind, (event) => {
      if (!(event.target instanceof HTMLCanvasElement)) return;
      if (event instanceof KeyboardEvent && kind === "keydown") keys(event, api, view);
      event.stopPropagation();
    }, true);
  }
  stage.addEventListener("wheel", (event) => wheel(event, stage, api), { capture: true, passive: false });
  stage.addEventListener("webglcontextlost", (event) => {
    event.stopPropagation();
    event.preventDefault();
    window.threeplyPage.lost();
  }, true);
}

/**
 * hasCard tells whether the browser draws WebGL 2. Ebitengine asks for this very context
 * later; made here, it leaves out smoothed edges and depth, which flat rectangles do not
 * need.
 * @param {HTMLCanvasElement} canvas
 */
const hasCard = (canvas) => canvas.getContext("webgl2", { alpha: true, premultipliedAlpha: true, stencil: true, antialias: false, depth: false }) !== null;

// plainCanvas is the canvas, where the program itself is to draw on it; else null.
export function plainCanvas() {
  const canvas = stage.querySelector("canvas");
  return canvas && !hasCard(canvas) ? canvas : null;
}

/**
 * plainAgain is a canvas in the place of the one whose graphics card was lost: the program itself is
 * to draw on it.
 * @returns {HTMLCanvasElement}
 */
export function plainAgain() {
  const lost = /** @type {HTMLCanvasElement} */ (stage.querySelector("canvas"));
  const held = document.activeElement === lost;
  const canvas = /** @type {HTMLCanvasElement} */ (lost.cloneNode());
  lost.replaceWith(canvas);
  if (held) canvas.focus({ preventScroll: true });
  return canvas;
}

/**
 * sizeOnce keeps a canvas from being given the size it has: each time its picture
 * would be made anew, which waits for the graphics card.
 * @param {HTMLCanvasElement} canvas
 */
function sizeOnce(canvas) {
  for (const side of ["width", "height"]) {
    const { get, set } = Object.getOwnPropertyDescriptor(HTMLCanvasElement.prototype, side) ?? {};
    Object.defineProperty(canvas, side, {
      get: () => get?.call(canvas),
      set: (size) => { if (size !== get?.call(canvas)) set?.call(canvas, size); },
    });
  }
}

/** @param {Api} given */
export function start(given) {
  api = given;
  pins.start(given);
  stage.append(lines);
  moveEnds = ends(stage, api);
  ({ away } = pointer(stage, lines, api, () => view));
  stage.addEventListener("focusout", letGo);
  document.addEventListener("keydown", (event) => pausing(event, given));
  const observer = new ResizeObserver(() => { if (measure(false)) api.refresh(); });
  for (const node of [stage, byID("drawer"), byID("under")]) observer.observe(node);
  measure(false);
}

const TWO_LINES = 52; // of a caption, with what lies between it and the picture
// The shares of the table from which what comes from the side, and from below, lies over it
// and the pictures stay as they are.
const COVERS_SIDE = 0.52;
const COVERS_BELOW = 0.45;
const LEAST_PICTURE = 100; // px of the table that captions leave to each row of pictures, its paper and the table around it included

/**
 * measure tells the program how large the stage is, what drawers cover of it, and how
 * much room the tallest row of captions takes.
 * @param {boolean} laid whether the captions lie as the program was last told
 * @returns {boolean} whether that is news to the program
 */
function measure(laid) {
  if (sides.some((side) => size[side] !== stage[side])) {
    for (const side of sides) size[side] = stage[side];
    window.dispatchEvent(new Event("resize"));
  }
  const beside = (/** @type {number} */ taken, /** @type {number} */ most) => (taken > most ? 0 : taken);
  const { clientWidth: w, clientHeight: h } = size;
  const told = /** @type {const} */ ([w, h, window.devicePixelRatio || 1, beside(byID("drawer").offsetWidth, COVERS_SIDE * w), beside(byID("under").offsetHeight, COVERS_BELOW * h)]);
  const rows = /** @type {HTMLElement[]} */ ([...stage.querySelectorAll("#captions > .row")]);
  // Other captions begin with room for two lines; then it only grows, lest it come and go.
  if (laid && rows.length > 0 && told.every((number, i) => number === sent[i])) {
    const of = `${told}/${rows.map((row) => row.textContent).join("/")}`;
    sayLess(rows, `${of}/${rows.map((row) => [...row.querySelectorAll(".caption")].map((caption) => caption.clientWidth)).join("/")}`);
    shorten(rows, of);
    const height = Math.min(5 + whole.height, Math.max(TWO_LINES, (h - told[4]) / rows.length - LEAST_PICTURE));
    const begun = of === tallest.of || tallest.height === TWO_LINES;
    tallest = { of, height: begun ? Math.max(height, tallest.height) : TWO_LINES };
  }
  const now = /** @type {const} */ ([...told, tallest.height]);
  if (now.every((number, i) => number === sent[i])) return false;
  sent = now;
  window.threeply.stage(...now);
  return true;
}

const SHORTER = /** @type {const} */ ([null, "brief", "small", "small least"]); // captions.css says what each leaves away
let said = ""; // the captions that were shortened last

/**
 * sayLess has captions that two lines do not hold say less: all of them alike.
 * @param {HTMLElement[]} rows
 * @param {string} of what they say, and in what width
 */
function sayLess(rows, of) {
  if (of === said) return;
  said = of;
  const [first] = rows[0].getElementsByClassName("what"); // larger in the room view
  const line = first ? parseFloat(getComputedStyle(first).lineHeight) : 0;
  // A room that looks on has all of it, in as many lines as the table has room for.
  const most = Math.max(TWO_LINES, document.body.dataset.room === undefined ? 2.3 * line : Math.min(4.4 * line, size.clientHeight / 4));
  for (const short of SHORTER) {
    for (const row of rows) attr(row, "data-short", short);
    if (rows.every((row) => row.offsetHeight <= most)) return;
  }
}

let whole = { of: "", height: 0 }; // the tallest row of captions with all of its lines

/**
 * shorten leaves the last lines of captions away that would be cut at the top of a table
 * which is lower than any that people work at.
 * @param {HTMLElement[]} rows
 * @param {string} words what they say and where
 */
function shorten(rows, words) {
  const of = [words, ...rows.map((row) => row.style.bottom)].join("/");
  if (of === whole.of) return;
  const captions = rows.map((row) => /** @type {HTMLElement[]} */ ([...row.querySelectorAll(".caption")]));
  for (const caption of captions.flat()) caption.style.maxHeight = caption.style.overflow = "";
  whole = { of, height: Math.max(...rows.map((row) => row.offsetHeight)) };
  rows.forEach(({ offsetTop }, i) => {
    if (offsetTop >= 0) return;
    const lowest = Math.max(...captions[i].map((caption) => caption.getBoundingClientRect().bottom)) + offsetTop;
    for (const caption of captions[i]) {
      const [first, line] = [".what", ".note"].map((part) => parseFloat(getComputedStyle(/** @type {Element} */ (caption.querySelector(part))).lineHeight));
      const room = lowest - caption.getBoundingClientRect().top;
      if (caption.offsetHeight <= room) continue;
      caption.style.maxHeight = `${first + line * Math.max(Math.floor((room - first) / line), 0)}px`;
      caption.style.overflow = "hidden";
    }
  });
}

const slid = { x: 0, y: 0 }; // how far the pictures were moved since what lies over them was drawn

/**
 * slide moves what lies over the pictures along with them, until it is drawn anew; false
 * where not all of it moves alike.
 * @param {number} dx
 * @param {number} dy
 */
export function slide(dx, dy) {
  if (!view || view.loupe.on || view.divider) return false;
  slid.x += dx;
  slid.y += dy;
  lines.style.transform = `translate(${slid.x}px, ${slid.y}px)`;
  return true;
}

let [coming, standing] = ["", ""]; // which kinds of picture are to be seen, and which stand

// comes leaves what is said of pictures of another kind and drawn over them unseen until they stand:
// the first of a kind waits for the graphics card.
export function comes() { attr(stage, "data-coming", coming !== standing); }

// stands shows it.
export function stands() {
  standing = coming;
  comes();
}

let moveEnds = (/** @type {Model} */ _view) => {}; // to where the section's line ends
let away = () => {}; // takes the tag off that says the colours under the pointer
let blinking = 0;
const still = matchMedia("(prefers-reduced-motion: reduce)"); // then only the key turns

/**
 * update draws what lies over the pictures, and turns two pictures shown by turns.
 * @param {Model} given
 * @returns {boolean} whether the program was told of another stage, so that the model is old
 */
export function update(given) {
  if (view?.look !== given.look || view.station !== given.station) away(); // what was read stood in another picture, or a drawer lies over it
  view = given;
  coming = [given.look, ...given.frames.map(({ id }) => id)].join();
  stage.dataset.tool = view.tool;
  lines.replaceChildren(...overlay(view));
  moveEnds(view);
  slid.x = slid.y = 0;
  lines.style.transform = "";
  const another = measure(view.laidFor.every((number, i) => number === sent[i]));
  clearTimeout(blinking);
  const turns = view.look === "blink" || view.look === "turns";
  if (turns && !view.paused && !still.matches) blinking = setTimeout(() => api.do({ do: "blink" }), 900);
  return another;
}
