// When the pictures are drawn. Ebitengine asks the browser for another frame in every frame,
// whether there is anything to draw or not, which keeps the machine busy at a page that
// stands still. Its request is held here until something is to be drawn.

const ask = window.requestAnimationFrame;

/** @type {FrameRequestCallback | null} */
let held = null; // what Ebitengine wants called in the next frame
let wanted = false; // that frame has something to draw
let under = false; // a frame is asked for, or being drawn: that waits until the graphics card knows its shaders
let stand = () => {}; // hears that the pictures stand
let seen = () => {}; // sees the next frame

/** hold is for the time in which the program starts: it takes from the window what asks for frames. */
export function hold() {
  window.requestAnimationFrame = (step) => {
    held = step;
    under = false;
    release();
    if (!under) stand();
    return 0;
  };
  // Ebitengine asks for gamepads as well, and a browser once asked looks for them for ever.
  Object.defineProperty(navigator, "getGamepads", { value: () => [] });
}

/** started gives the window back what asks for frames. */
export function started() { window.requestAnimationFrame = ask; }

/** want has the next frame drawn. */
export function want() {
  wanted = true;
  release();
}

// after is heard once what a frame gave the browser to do is done.
const after = new MessageChannel();
let from = 0; // when that frame began
after.port1.onmessage = () => window.threeply?.frameTook(performance.now() - from);

/**
 * whenStanding calls once the pictures stand as they were last wanted.
 * @param {() => void} then
 */
export function whenStanding(then) {
  if (under) stand = then;
  else then();
}

/**
 * inNext calls within the next frame that is drawn, once all is drawn: only there can the pictures be
 * had from the canvas.
 * @param {() => void} then
 */
export function inNext(then) { seen = then; }

function release() {
  if (!held || !wanted) return;
  const step = held;
  held = null;
  under = true;
  wanted = false;
  ask((now) => {
    from = performance.now();
    after.port2.postMessage(null);
    step(now);
    seen();
    seen = () => {};
  });
}
