// Marks and the loupe over the pictures: pins, numbered as in the list, and the
// frames of the loupe's three panes. No colour is needed to tell them apart:
// what the tool proposes is dashed and hollow, the chosen mark larger.

const NS = "http://www.w3.org/2000/svg";

function element(name, attributes, words) {
  const e = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) e.setAttribute(key, value);
  if (words !== undefined) e.textContent = words;
  return e;
}

// A pin's cross leaves its middle free, so that the feature is seen.
const cross = (x, y, near, far) => `M${x - far} ${y}H${x - near}M${x + near} ${y}H${x + far}M${x} ${y - far}V${y - near}M${x} ${y + near}V${y + far}`;

// drawPins draws the marks of one frame; where a plate stands in its own pixels
// they can be dragged.
export function drawPins(pins, frame) {
  const group = element("g", { class: "pins" });
  for (const pin of pins) {
    const r = pin.chosen ? 11 : 7;
    const one = element("g", { class: `pin${pin.proposed ? " proposed" : ""}${pin.chosen ? " chosen" : ""}` });
    for (const tone of ["under", "over"]) {
      one.append(element("path", { class: tone, d: cross(pin.x, pin.y, 3, r + 5) }));
      one.append(element("circle", { class: `${tone} round`, cx: pin.x, cy: pin.y, r }));
    }
    const left = pin.x + r + 26 > frame.x + frame.w;
    one.append(element("text", { x: pin.x + (left ? -r - 6 : r + 6), y: pin.y - r + 1, "text-anchor": left ? "end" : "start" }, String(pin.n)));
    if (pin.filter) {
      const grip = element("circle", { class: "pin-grip", cx: pin.x, cy: pin.y, r: r + 6 });
      grip.dataset.grip = "pin";
      grip.dataset.n = pin.n;
      grip.dataset.filter = pin.filter;
      one.append(grip);
    }
    group.append(one);
  }
  return group;
}

// drawMiddle marks the middle of a plate's pane, where the key Enter pins.
export function drawMiddle(frame, here) {
  const x = frame.x + frame.w / 2, y = frame.y + frame.h / 2;
  const group = element("g", { class: `middle${here ? " here" : ""}`, "pointer-events": "none" });
  for (const tone of ["under", "over"]) group.append(element("path", { class: tone, d: cross(x, y, 4, 12) }));
  if (here) group.append(element("rect", { class: "over", x: frame.x + 0.75, y: frame.y + 0.75, width: frame.w - 1.5, height: frame.h - 1.5 }));
  return group;
}

// underLoupe keeps what is drawn over the pictures off the loupe, and puts the
// loupe's own frames there.
export function underLoupe(loupe, parts) {
  if (loupe.panes.length === 0) return parts;
  const hole = element("clipPath", { id: "beside-loupe" });
  hole.append(element("path", { "clip-rule": "evenodd", d: `M0 0H9999V9999H0zM${loupe.x} ${loupe.y}h${loupe.w}v${loupe.h}h${-loupe.w}z` }));
  const rest = element("g", { "clip-path": "url(#beside-loupe)" });
  rest.append(...parts);
  return [hole, rest, drawLoupe(loupe)];
}

// drawLoupe labels the panes of the loupe and marks the place in each.
function drawLoupe(loupe) {
  const group = element("g", { class: "loupe", "pointer-events": "none" });
  group.append(element("rect", { class: "edge", x: loupe.x + 0.5, y: loupe.y + 0.5, width: loupe.w - 1, height: loupe.h - 1 }));
  for (const pane of loupe.panes) {
    const x = pane.x + pane.w / 2, y = pane.y + pane.h / 2;
    group.append(element("text", { x: pane.x + 1, y: pane.y - 5 }, pane.label));
    for (const tone of ["under", "over"]) group.append(element("path", { class: tone, d: cross(x, y, 5, 13) }));
  }
  return group;
}

// ---- where the other plates show a mark

let api = null;
export function start(given) { api = given; }

// seek has the worker look for the chosen mark in the plates that no person has
// pinned it in, in the parts of the plates about it.
export async function seek() {
  const search = window.threeply.seek();
  if (search) window.threeply.found(search.turn, search.n, await api.locate(search.tries));
}

// commands that pin set something; a search follows them.
export const pinning = new Set(["pinAt", "pinHere"]);
