// Starts the page: the Go program, the stage, the controls, and what the browser
// has kept. Files come in here.

/** @import { Api } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { byID, h, text } from "../ui/dom.js";
import { gesture } from "../ui/gesture.js";
import { reason } from "../ui/words.js";
import * as page from "../page/page.js";
import * as pins from "../stage/pins.js";
import * as stage from "../stage/stage.js";
import * as desk from "./desk.js";
import { dropped } from "./dropped.js";
import { saveEverything, saveIntoFolder } from "./everything.js";
import * as frames from "./frames.js";
import * as glimpse from "./glimpse.js";
import * as language from "./language.js";
import { inOneFile, page as program, workersMay } from "./parts.js";
import * as reading from "./reading.js";
import * as saving from "./saving.js";
import * as store from "./store.js";
import * as work from "./work.js";

const root = document.documentElement;

let rescue = { name: "", session: "" }; // the work as it stands, where this browser keeps none of it

/**
 * report shows what broke by itself, for the Go program may have ended. Work that is kept nowhere
 * can be saved then.
 * @param {unknown} error
 */
function report(error) {
  const { name, session } = rescue;
  const kept = session ? "This browser does not keep your work. Save the session before you load the page again." : "What you did is kept in this browser.";
  const save = session && h("button", { type: "button", text: "Save the session", click: () => saving.download(name, session, "application/json") });
  const again = h("button", { type: "button", text: "Load the page again", click: () => location.reload() });
  byID("messages").prepend(h("div", { class: "message error", role: "alert" }, h("strong", { text: "Not done" }), h("p", { text: `Threeply has stopped: ${reason(error)}. ${kept}` }), save, again));
  root.dataset.ready = "failed";
}

const parse = (/** @type {string} */ text) => JSON.parse(text);

// ---- drawing: the controls are rendered in a task of their own, once for all that changed
// meanwhile, and the pictures in a frame after them. New captions may leave the pictures another
// size: the controls are then rendered again.

const MOST_TURNS = 6; // how often, at most: the last ones bring captions back whole that a drawer had cut
const LONG = 25; // ms that a view takes from which on it is rendered in a task of its own

let there = false; // the program has started
let woken = false; // the desk knows what is kept, and opens some of it
let read = 0; // counts the views that were read
let asked = false; // a view is asked for already
let busy = true; // work is under way
let unkept = false; // the browser does not keep the work
function changed() {
  if (asked || !there) return;
  asked = true;
  const show = () => {
    asked = false;
    const from = performance.now();
    const view = api.view(), number = ++read;
    if (performance.now() - from < LONG) render(view, number);
    else setTimeout(() => { if (!asked && number === read) render(view, number); }); // else a later one is, or was
  };
  const step = () => {
    if (root.dataset.rendered && window.threeply.ahead()) setTimeout(step);
    else if (window.threeply.catchUp()) setTimeout(show);
    else show();
  };
  setTimeout(step);
}

// ahead has the program work out what the first picture will need, while the plates are opened.
const ahead = () => { if (starts() && window.threeply.ahead()) setTimeout(ahead); };

const starts = () => root.dataset.ready !== "yes"; // no picture stands yet

/**
 * render renders the controls, and what lies over the pictures, from a view. Until the first picture
 * stands it lets the browser answer between the pieces of that, and leaves the rest to a later view.
 * @param {Model} view
 * @param {number} number of the view among those that were read
 */
async function render(view, number) {
  const overtaken = async () => {
    await breath();
    return number !== read;
  };
  for (let turn = 1; ; turn++) {
    page.render(view);
    root.dataset.rendered = "yes";
    if (starts() && await overtaken()) return;
    if (!stage.update(view) || turn === MOST_TURNS) break;
    if (starts() && await overtaken()) return;
    view = api.view();
    number = ++read;
    if (starts() && await overtaken()) return;
  }
  if (starts() && await brought(overtaken)) return;
  window.threeply.draw();
  if (starts()) setTimeout(ahead);
  stage.comes();
  frames.whenStanding(stage.stands);
  busy = view.jobs.length > 0;
  unkept = view.saved.state === "refused";
  if (busy && !starts()) glimpse.forget(); // what comes of it may change the pictures
  if (woken && !view.ready) waits();
  later();
}

let forFiles = false; // no pictures are there, and none come but of files of the user's

// waits says, where no pictures are, what they wait for.
function waits() {
  if (busy !== forFiles) return;
  forFiles = !busy;
  glimpse.away();
  text(byID("opening"), forFiles ? "Drop three scans of your own." : "Opening the plates …");
}

const BRINGS = 15; // ms, at a time

/**
 * brought has all brought onto the graphics card that the pictures lack, a part at a time.
 * @param {() => Promise<boolean>} overtaken is asked between
 * @returns {Promise<boolean>} whether it was overtaken
 */
async function brought(overtaken) {
  for (let from = performance.now(); window.threeply.bring();) {
    if (performance.now() - from < BRINGS) continue;
    if (await overtaken()) return true;
    from = performance.now();
  }
  return false;
}

// ---- what a hand moves is drawn in every frame; the controls follow it now and then, and
// when it rests

const FOLLOW = 120; // ms
let following = 0; // a timer; 0 for none
const follow = () => { following ||= setTimeout(rest, FOLLOW); };
function rest() {
  if (!following) return;
  clearTimeout(following);
  following = 0;
  window.threeply.rest();
}

/** @type {Api["panBy"]} */
function panBy(dx, dy) {
  if (!stage.slide(dx, dy) || !window.threeply.panBy(dx, dy)) return void api.do({ do: "pan", dx, dy });
  glimpse.forget();
  follow();
}

const printers = ["yellow", "magenta", "cyan"]; // as the program numbers them

/** @type {Api["nudgeBy"]} */
function nudgeBy(printer, dxUm, dyUm, held) {
  if (!window.threeply.nudgeBy(printers.indexOf(printer), dxUm, dyUm, held)) return void api.do({ do: "nudgeBy", printer, dxUm, dyUm, gesture: held });
  glimpse.forget();
  follow();
}

// later does what need not be done at once: it keeps the work a moment after a change, and
// makes the small pictures of what stands once nothing has changed for a while.
let keeping = 0; // timers; 0 for none
let picturing = 0;
function later() {
  const keep = () => {
    if (window.threeply.keep()) changed();
    desk.carryOut();
    if (unkept) rescue = { name: saving.nameOf("session.json"), session: window.threeply.sessionText() };
    else rescue.session = "";
  };
  keeping ||= setTimeout(() => {
    keeping = 0;
    keep();
  }, 100);
  clearTimeout(picturing);
  const picture = (/** @type {boolean} */ anew) => {
    if (window.threeply.picture(anew)) {
      picturing = setTimeout(picture, 0, false);
      return;
    }
    keep();
    glimpse.keep(api.view(), desk.remembered());
  };
  picturing = setTimeout(picture, 3000, true);
}

// fill computes the depths of the palettes one by one, once the first picture stands and no
// work is under way.
let filling = false;
function fill() {
  if (filling) return;
  filling = true;
  const one = () => {
    if (busy || root.dataset.ready !== "yes") setTimeout(one, 300);
    else if (window.threeply.fill()) setTimeout(one, 20);
    else filling = false;
  };
  setTimeout(one, 300);
}

// breath lets the browser answer the user between two tasks, as pause does, but paints nothing meanwhile
// where the browser can be told so: the picture comes with what follows.
const breath = () => (window.scheduler?.postTask ? window.scheduler.postTask(() => {}, { priority: "user-blocking" }) : pause());

// pause lets the browser answer the user between two tasks.
const pause = () => new Promise((done) => setTimeout(done));

// compute has the second worker compute something of the session as it stands.
/** @type {Api["compute"]} */
const compute = async (op, more = {}) => parse(await work.aside.run(op, { session: window.threeply.printText(), ...more }, { give: desk.planes(0) }));

// printSmall has it print the open picture small with a palette.
/** @type {Api["printSmall"]} */
const printSmall = (palette) => work.aside.run("board", { session: window.threeply.printText(), palette, ...window.threeply.small() });

// printThirds has it print the open picture small with a layer exposed less and more.
/** @type {Api["printThirds"]} */
const printThirds = (printer) => work.aside.run("thirds", { session: window.threeply.printText(), printer, ...window.threeply.small() });

// locate has a worker look for a mark in parts of the plates. Where it fails, the page says
// so and nothing is found.
/** @type {Api["locate"]} */
async function locate(tries) {
  try {
    return await work.run("locate", { tries });
  } catch (error) {
    if (!(error instanceof work.Stopped)) window.threeply.say("error", reason(error));
    return "[]";
  }
}

/** @type {Api["openSession"]} */
async function openSession(file, scans) {
  glimpse.forget();
  await reading.openSession(file, scans);
  fill();
}

/** @type {((files: File[]) => void) | null} */
let takeReadings = null; // what hears of readings that are dropped

/** @type {Api["identifyFrom"]} */
async function identifyFrom(file) {
  const token = window.threeply.begin("read", "Reading the table");
  try {
    const commands = await work.run("catalogue", { file, session: window.threeply.sessionText() }, desk.hooks(token));
    if (!window.threeply.end(token)) return;
    const held = gesture(); // one step of undo
    for (const text of commands) api.do({ ...parse(text), gesture: held });
  } catch (error) {
    desk.failed(token, error);
  }
}

/** @type {Api} */
const api = {
  do(command) {
    glimpse.forget();
    const answer = parse(window.threeply.do(JSON.stringify(command)));
    fill();
    desk.carryOut();
    if (pins.pinning.has(command.do) && !answer.error) pins.seek();
    return answer;
  },
  panBy,
  nudgeBy,
  rest,
  desk(heard) {
    glimpse.forget();
    return desk.tell(heard);
  },
  view: () => parse(window.threeply.view()),
  openFiles: take,
  openSession,
  compute,
  locate,
  readText: reading.readText,
  readFile: reading.readFile,
  planAmong: reading.planAmong,
  fitReadings: reading.fitReadings,
  fitScan: reading.fitScan,
  previewScan: reading.previewScan,
  onReadings(take) { takeReadings = take; },
  identifyFrom,
  refresh: changed,
  language: language.language,
  speakAs(tag) {
    language.speakAs(tag, () => page.leaveOwn(api.view())).catch((error) => window.threeply.say("error", reason(error))).then(changed);
  },
  printSmall,
  printThirds,
  ...saving,
  saveEverything,
  saveIntoFolder,
};

// ---- A lost graphics context comes back only when the page is loaded again. Where all work is
// kept, the page does that by itself, but not over and over: else the program draws without it.

const SOON = 60_000; // ms within which a second loss points to a broken driver

async function lost() {
  if (there) desk.tell({ do: "flush" });
  const kept = !there || await keptAll();
  if (kept && seldom()) location.reload();
  else if (there) window.threeply.drawPlain(stage.plainAgain());
  else report(new Error("the graphics card was lost again"));
}

// seldom notes a loss, and tells whether the last one was long ago.
function seldom() {
  try {
    const last = Number(sessionStorage.getItem("lost") ?? 0);
    sessionStorage.setItem("lost", String(Date.now()));
    return Date.now() - last >= SOON;
  } catch {
    return false; // nothing can be noted here
  }
}

// keptAll waits until no work is under way and all is on disk; false where the browser keeps nothing.
async function keptAll() {
  for (;;) {
    const { saved, idle } = api.view();
    if (saved.state === "refused") return false;
    if (idle) return true;
    await new Promise((done) => setTimeout(done, 50));
  }
}

// In a low window and in a narrow one the pictures have the room of the stack, until somebody
// asks for it; it comes back with the room.
const tight = matchMedia("(max-height: 550px), (max-width: 700px)");
let putAway = false; // the stack was, when the window became tight

function giveWay() {
  if (tight.matches ? !api.view().stack : !putAway) return;
  putAway = tight.matches;
  api.do({ do: "stack", on: !tight.matches });
}

// ---- files in

let begun = () => {}; // called once the page takes files
/** @type {Promise<void>} */
const ready = new Promise((resolve) => { begun = resolve; });

/**
 * take opens dropped or chosen files.
 * @param {File[]} list
 */
async function take(list) {
  glimpse.forget();
  await ready;
  const session = list.find(({ name }) => /\.(json|zip)$/i.test(name));
  const readings = (/** @type {File} */ { name }) => /\.(txt|csv|tsv|cgats)$/i.test(name);
  const plan = (/** @type {File} */ { name }) => /\.json$/i.test(name); // of the test sheet
  const ofSheet = list.some(readings) && list.every((file) => readings(file) || plan(file));
  if (ofSheet || (session && list.length === 1 && await reading.isPlan(session))) {
    page.need("sheets");
    takeReadings?.(list);
  } else if (session) openSession(session, list.filter((file) => file !== session));
  else desk.bring(list);
}

for (const kind of ["dragenter", "dragover"]) {
  window.addEventListener(kind, (event) => { event.preventDefault(); event.stopPropagation(); root.dataset.drop = "over"; }, true);
}
window.addEventListener("dragleave", (event) => { if (!event.relatedTarget) delete root.dataset.drop; }, true);
window.addEventListener("drop", (event) => {
  event.preventDefault();
  event.stopPropagation();
  delete root.dataset.drop;
  dropped(event.dataTransfer).then(take, (error) => ready.then(() => window.threeply.say("error", reason(error))));
}, true);

// ---- start

// keepPage has the browser keep the page itself, for a start without a network. Where it
// may not, the page is as good while there is one. It reads all files again: the first picture
// comes before that.
function keepPage() {
  navigator.serviceWorker?.register("offline.js", { updateViaCache: "none" }).catch(() => {});
}

window.threeplyPage = {
  changed,
  wanted: frames.want,
  failed: report,
  lost,
  plainCanvas: stage.plainCanvas,
  drawn() {
    if (!starts()) return;
    root.dataset.ready = "yes";
    glimpse.away();
    if (!inOneFile) setTimeout(keepPage, 2000);
  },
  awake() { desk.wake(kept).then(() => { woken = true; }); },
  async started() {
    frames.started();
    await page.start(api, pause);
    await pause();
    there = true;
    stage.start(api);
    giveWay(); // until what is kept says otherwise
    tight.addEventListener("change", giveWay);
    await pause();
    changed();
    begun();
    fill();
  },
};

// What is needed first is fetched while the programs are compiled.
const kept = store.cards();
language.begin().catch(() => {}); // English then
kept.then((cards) => {
  glimpse.show(cards, desk.remembered());
  if (cards.length === 0) desk.demo().catch(() => {});
}).catch(() => {});
stage.shelter(workersMay);
work.warm();
(async () => {
  const go = new Go();
  const instance = await WebAssembly.instantiate(await program, go.importObject);
  await pause();
  frames.hold();
  await go.run(instance);
  report("its program ended");
})().catch(report);
