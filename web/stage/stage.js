// The stage: where Ebitengine's canvas lies in the page, and what pointer,
// wheel and keys do over the pictures. The canvas itself sees no event.

import { gesture } from "../ui/gesture.js";
import { drawLeft } from "./arrows.js";
import * as pins from "./pins.js";

let api = null;
let view = null;
let stage = null;
const size = {}; // of the stage, CSS pixels, as last measured: what the canvas has
let lines = null; // SVG over the canvas: the section's line, the divider and the arrows
const NS = "http://www.w3.org/2000/svg";

// shelter is called before Go starts. Ebitengine sizes its canvas by
// document.body, appends it there, styles html and body, and takes pointer
// positions from the window: the body is given the stage's size, and the canvas
// is moved into the stage as it appears. This rests on internals of v2.9.10; a
// browser test holds it.
export function shelter() {
  stage = document.getElementById("stage");
  for (const side of ["clientWidth", "clientHeight"]) {
    size[side] = stage[side];
    Object.defineProperty(document.body, side, { get: () => size[side] });
  }
  new MutationObserver((_, observer) => {
    const canvas = document.querySelector("body > canvas");
    if (!canvas) return;
    observer.disconnect();
    canvas.removeAttribute("style");
    canvas.tabIndex = 0;
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", "The pictures. Arrow keys move the picture, or the chosen layer while the pointer nudges; plus and minus enlarge and reduce, w goes to the places where register leaves most, l switches the loupe. At the three plates with marks, Enter pins the middle, p takes the next plate, n the next mark; arrow keys move its pin, Delete takes the mark away, Escape lets go.");
    stage.prepend(canvas);
    sizeOnce(canvas);
    // Ebitengine asks for this very context later; made here, it is a task of its own,
    // and without what its flat rectangles do not need.
    setTimeout(() => canvas.getContext("webgl2", { alpha: true, premultipliedAlpha: true, stencil: true, antialias: false, depth: false }));
    window.dispatchEvent(new Event("resize"));
  }).observe(document.body, { childList: true });
  for (const element of [document.body, document.documentElement]) {
    const bare = () => { if (element.hasAttribute("style")) element.removeAttribute("style"); };
    new MutationObserver(bare).observe(element, { attributes: true, attributeFilter: ["style"] });
    bare();
  }
  // A press on the pictures takes no focus from the canvas, which has the keys, and
  // begins no selection of the words beside.
  stage.addEventListener("mousedown", (event) => event.preventDefault(), true);
  const stop = (event) => event.stopPropagation();
  for (const kind of ["keydown", "keyup", "keypress", "mousedown", "mouseup", "mousemove", "touchstart", "touchmove", "touchend", "contextmenu", "dragover", "drop"]) {
    stage.addEventListener(kind, (event) => {
      if (event.target.tagName !== "CANVAS") return;
      if (kind === "keydown") keys(event);
      stop(event);
    }, true);
  }
  stage.addEventListener("wheel", wheel, { capture: true, passive: false });
  stage.addEventListener("webglcontextlost", (event) => {
    event.stopPropagation();
    event.preventDefault();
    window.threeplyPage.lost();
  }, true);
}

// sizeOnce keeps a canvas from being given the size it has: each time its picture
// would be made anew, which waits for the graphics card.
function sizeOnce(canvas) {
  for (const side of ["width", "height"]) {
    const { get, set } = Object.getOwnPropertyDescriptor(HTMLCanvasElement.prototype, side);
    Object.defineProperty(canvas, side, {
      get: () => get.call(canvas),
      set: (size) => { if (size !== get.call(canvas)) set.call(canvas, size); },
    });
  }
}

export function start(given) {
  api = given;
  pins.start(given);
  lines = document.createElementNS(NS, "svg");
  lines.id = "lines";
  lines.setAttribute("aria-hidden", "true");
  stage.append(lines);
  stage.addEventListener("pointerdown", down);
  stage.addEventListener("pointermove", move);
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", up);
  stage.addEventListener("pointerleave", () => hover(null));
  stage.addEventListener("focusout", () => { arrowing = gesture(); });
  stage.addEventListener("dblclick", () => { if (view?.look !== "marks") api.do({ do: "zoom", fit: true }); });
  new ResizeObserver(measure).observe(stage);
  measure();
}

function measure() {
  for (const side of ["clientWidth", "clientHeight"]) size[side] = stage[side];
  window.dispatchEvent(new Event("resize"));
  window.threeply.stage(size.clientWidth, size.clientHeight, window.devicePixelRatio || 1);
}

// ---- pointer

const pointers = new Map();
let hold = null; // what the pointer has hold of
let pinch = 0;
let arrowing = gesture(); // arrow keys one after another are one gesture, until the hand does something else

function at(event) {
  const box = stage.getBoundingClientRect();
  return { x: event.clientX - box.left, y: event.clientY - box.top };
}

function down(event) {
  if (event.target !== lines && event.target.tagName !== "CANVAS" && !event.target.dataset.grip) return;
  arrowing = gesture();
  const p = at(event);
  pointers.set(event.pointerId, p);
  stage.setPointerCapture(event.pointerId);
  if (pointers.size === 2) { hold = { kind: "pinch" }; pinch = spread(); return; }
  const grip = event.target.dataset?.grip;
  if (grip === "pin") { hold = { kind: "pin", n: Number(event.target.dataset.n), filter: event.target.dataset.filter, gesture: gesture(), ...p }; takeUp(hold); }
  else if (grip) hold = { kind: grip, gesture: gesture(), ...p };
  else if (view?.look === "marks") hold = { kind: "plate", from: p, pins: view.tool === "pin", together: event.shiftKey, ...p };
  else if (view?.tool === "line") { const s = share(p); hold = { kind: "draw", gesture: gesture(), x0: s[0], y0: s[1] }; }
  else if (view?.tool === "nudge" && view.selected) hold = { kind: "nudge", gesture: gesture(), ...p };
  else if (view?.tool === "sample") { hold = { kind: "sample" }; point(p); }
  else hold = { kind: "pan", ...p };
  stage.querySelector("canvas")?.focus({ preventScroll: true });
}

function move(event) {
  const p = at(event);
  if (view?.loupe.on) hover(p);
  if (!pointers.has(event.pointerId)) { if (view?.tool === "sample") point(p); return; }
  pointers.set(event.pointerId, p);
  if (!hold) return;
  switch (hold.kind) {
    case "pinch": {
      const now = spread();
      const [a, b] = [...pointers.values()];
      if (pinch > 0 && b) api.do({ do: "zoom", by: now / pinch, x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
      pinch = now;
      return;
    }
    case "plate": // it is panned; a press that hardly moves pins
      hold.pins &&= Math.hypot(p.x - hold.from.x, p.y - hold.from.y) < STILL;
      if (hold.pins) return;
      api.do({ do: "pan", dx: p.x - hold.x, dy: p.y - hold.y, x: hold.from.x, y: hold.from.y, together: hold.together });
      break;
    case "pin":
      hold.moved ||= Math.hypot(p.x - hold.x, p.y - hold.y) >= 1;
      if (!hold.moved) return;
      api.do({ do: "pinBy", n: hold.n, filter: hold.filter, dx: p.x - hold.x, dy: p.y - hold.y, gesture: hold.gesture });
      break;
    case "pan": api.do({ do: "pan", dx: p.x - hold.x, dy: p.y - hold.y }); break;
    case "nudge": {
      const um = view.register.pxUm * (window.devicePixelRatio || 1) / view.zoom;
      api.do({ do: "nudgeBy", printer: view.selected, dxUm: (p.x - hold.x) * um, dyUm: (p.y - hold.y) * um, gesture: hold.gesture });
      break;
    }
    case "divider": api.do({ do: "divider", share: dividerShare(p) }); break;
    case "sample": point(p); break;
    case "draw": { const s = share(p); cut({ x0: hold.x0, y0: hold.y0, x1: s[0], y1: s[1] }); break; }
    case "begin": { const s = share(p); cut({ ...view.line.share, x0: s[0], y0: s[1] }); break; }
    case "end": { const s = share(p); cut({ ...view.line.share, x1: s[0], y1: s[1] }); break; }
  }
  hold.x = p.x;
  hold.y = p.y;
}

function up(event) {
  pointers.delete(event.pointerId);
  if (pointers.size === 0) {
    if (hold?.kind === "plate" && hold.pins && event.type === "pointerup") api.do({ do: "pinAt", ...hold.from });
    if (hold?.kind === "pin" && hold.moved) pins.seek();
    hold = null;
  }
}

const STILL = 4; // CSS pixels that a click may move

const takeUp = (pin) => api.do({ do: "markChoose", n: pin.n, filter: pin.filter });

// hover has the loupe follow the pointer, once a frame; null is off the stage.
let hovering = false;
let hovered = null;
function hover(p) {
  if (!view?.loupe.on) return;
  hovered = p;
  if (hovering) return;
  hovering = true;
  requestAnimationFrame(() => {
    hovering = false;
    api.do({ do: "hover", x: hovered?.x ?? 0, y: hovered?.y ?? 0, hidden: hovered === null });
  });
}

const point = (p) => api.do({ do: "point", x: p.x, y: p.y });
const share = (p) => window.threeply.keyAt(p.x, p.y).map((v) => Math.min(Math.max(v, 0), 1));

function cut(line) {
  if (Math.hypot(line.x1 - line.x0, line.y1 - line.y0) > 0.02) api.do({ do: "section", ...line, gesture: hold.gesture });
}

function spread() {
  const [a, b] = [...pointers.values()];
  return b ? Math.hypot(a.x - b.x, a.y - b.y) : 0;
}

function dividerShare(p) {
  const left = 20, wide = stage.clientWidth - 40;
  return (p.x - left) / wide;
}

function wheel(event) {
  event.preventDefault();
  event.stopPropagation();
  const p = at(event);
  const step = event.deltaMode === 1 ? event.deltaY * 16 : event.deltaY;
  api?.do({ do: "zoom", by: Math.exp(-Math.max(-240, Math.min(240, step)) * 0.0022), x: p.x, y: p.y });
}

// ---- keys on the canvas: Tab, function keys and those with Alt, Ctrl or Meta
// go on to the browser, but for undo and redo, which the whole page has

const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function keys(event) {
  const undo = (event.ctrlKey || event.metaKey) && !event.altKey && { z: event.shiftKey ? "redo" : "undo", y: "redo" }[event.key.toLowerCase()];
  if (undo) { event.preventDefault(); api.do({ do: undo }); return; }
  if (event.ctrlKey || event.altKey || event.metaKey || !view) return;
  const arrow = arrows[event.key];
  if (!arrow) arrowing = gesture();
  if (view.look === "marks" && pinKeys(event, arrow)) return event.preventDefault();
  if (arrow && view.tool === "nudge" && view.selected) {
    // a tenth of a scan pixel, or with Shift a whole one
    const um = view.register.pxUm * (event.shiftKey ? 1 : 0.1);
    api.do({ do: "nudgeBy", printer: view.selected, dxUm: arrow[0] * um, dyUm: arrow[1] * um, gesture: arrowing });
  } else if (arrow) {
    const far = event.shiftKey ? 200 : 40;
    api.do({ do: "pan", dx: -arrow[0] * far, dy: -arrow[1] * far });
  } else if (event.key === "+" || event.key === "=") api.do({ do: "zoom", by: 1.25 });
  else if (event.key === "-") api.do({ do: "zoom", by: 0.8 });
  else if (event.key === "0") api.do({ do: "zoom", fit: true });
  else if (event.key === "1") api.do({ do: "zoom", percent: 100 });
  else if (event.key === "w") api.do({ do: "worst" });
  else if (event.key === "l") api.do({ do: "loupe", on: !view.loupe.on });
  else if (event.key === " " && (view.look === "blink" || view.look === "turns")) api.do({ do: "blink" });
  else return;
  event.preventDefault();
}

// pinKeys are the keys of the three plates with marks.
function pinKeys(event, arrow) {
  if (event.key === "n") api.do({ do: "markNext" });
  else if (event.key === "p") api.do({ do: "markPlate" });
  else if (event.key === "Enter") api.do({ do: "pinHere" });
  else if (!view.chosenMark) return false;
  else if (arrow) {
    const step = event.shiftKey ? 1 : 0.1; // pixels of the scan
    api.do({ do: "pinBy", stepX: arrow[0] * step, stepY: arrow[1] * step, gesture: arrowing });
  } else if (event.key === "Delete" || event.key === "Backspace") api.do({ do: "unpin", n: view.chosenMark });
  else if (event.key === "Escape") api.do({ do: "markChoose" });
  else return false;
  return true;
}

// ---- what lies over the pictures

function element(name, attributes) {
  const e = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) e.setAttribute(key, value);
  return e;
}

// update draws the section's line, what register leaves and the marks in every
// frame, the divider, and the loupe's frames.
let blinking = 0;
export function update(given) {
  view = given;
  stage.dataset.tool = view.tool;
  const parts = [];
  view.frames.forEach((frame, i) => {
    const line = view.line?.frames[i];
    if (!line || view.look === "edges" || view.look === "marks") return;
    const clip = `frame-${i}`;
    const box = element("clipPath", { id: clip });
    box.append(element("rect", { x: frame.x, y: frame.y, width: frame.w, height: frame.h }));
    const group = element("g", { "clip-path": `url(#${clip})` });
    for (const tone of ["under", "over"]) {
      group.append(element("line", { class: `cut ${tone}`, x1: line.x0, y1: line.y0, x2: line.x1, y2: line.y1 }));
    }
    for (const [grip, x, y] of [["begin", line.x0, line.y0], ["end", line.x1, line.y1]]) {
      const knob = element("circle", { class: "grip", cx: x, cy: y, r: 6 });
      knob.dataset.grip = grip;
      group.append(knob);
    }
    parts.push(box, group);
  });
  if (view.divider) {
    const d = view.divider;
    parts.push(element("line", { class: "divider", x1: d.x, y1: d.y, x2: d.x, y2: d.y + d.h }));
    const wide = element("line", { class: "divider-grip", x1: d.x, y1: d.y, x2: d.x, y2: d.y + d.h });
    wide.dataset.grip = "divider";
    parts.push(wide);
  }
  if (view.look === "marks") {
    view.frames.forEach((frame) => parts.push(pins.drawMiddle(frame, frame.id === `plate-${view.pinPlate}`)));
  }
  parts.push(...view.left.frames.map((left, i) => drawLeft(left, view.frames[i], i === 0 ? view.left.short : "")));
  parts.push(...view.pins.map((list, i) => pins.drawPins(list, view.frames[i])));
  lines?.replaceChildren(...pins.underLoupe(view.loupe, parts));
  clearTimeout(blinking);
  if (view.look === "blink" || view.look === "turns") blinking = setTimeout(() => api.do({ do: "blink" }), 900);
}
