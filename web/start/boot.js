// Starts the page: the Go program, the stage, the controls, and what the browser
// has kept. Files come in here.

/** @import { Api } from "../types/api.js" */
/** @import { Results } from "../types/worker.js" */

import { byID, h } from "../ui/dom.js";
import { gesture } from "../ui/gesture.js";
import { reason } from "../ui/words.js";
import * as page from "../page/page.js";
import * as pins from "../stage/pins.js";
import * as stage from "../stage/stage.js";
import * as desk from "./desk.js";
import * as frames from "./frames.js";
import * as language from "./language.js";
import { inOneFile, part } from "./parts.js";
import * as saving from "./saving.js";
import * as store from "./store.js";
import * as work from "./work.js";

const root = document.documentElement;

/**
 * report shows what broke by itself, for the Go program may have ended.
 * @param {unknown} error
 */
function report(error) {
  const again = h("button", { type: "button", text: "Load the page again", click: () => location.reload() });
  byID("messages").prepend(h("p", { class: "message error" }, `Threeply has stopped: ${reason(error)}. What you did is kept in this browser. `, again));
  root.dataset.ready = "failed";
}

const parse = (/** @type {string} */ text) => JSON.parse(text);

// ---- drawing: the controls are rendered once a frame, whatever changed, and the pictures after
// them. New captions may leave the pictures another size: the controls are then rendered again.

const MOST_TURNS = 6; // how often, at most: the last ones bring captions back whole that a drawer had cut

let asked = false; // a frame is asked for already
let busy = true; // the next frame of the pictures is long: the controls take a task of their own
function changed() {
  if (asked) return;
  asked = true;
  (busy || document.hidden ? setTimeout : requestAnimationFrame)(() => { // a hidden page gets no frames
    asked = false;
    let view;
    let turn = 0;
    do {
      view = api.view();
      page.render(view);
    } while (stage.update(view) && ++turn < MOST_TURNS);
    window.threeply.draw();
    busy = view.jobs.length > 0;
    later();
  });
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
  if (!stage.slide(dx, dy) || !window.threeply.panBy(dx, dy)) api.do({ do: "pan", dx, dy });
  else follow();
}

const printers = ["yellow", "magenta", "cyan"]; // as the program numbers them

/** @type {Api["nudgeBy"]} */
function nudgeBy(printer, dxUm, dyUm, held) {
  if (window.threeply.nudgeBy(printers.indexOf(printer), dxUm, dyUm, held)) follow();
  else api.do({ do: "nudgeBy", printer, dxUm, dyUm, gesture: held });
}

// later does what need not be done at once: it keeps the work a moment after a change, and
// makes the small picture for the list of kept sets once nothing has changed for a while.
let keeping = 0; // timers; 0 for none
let picturing = 0;
function later() {
  keeping ||= setTimeout(() => {
    keeping = 0;
    window.threeply.keep();
    desk.carryOut();
  }, 100);
  clearTimeout(picturing);
  picturing = setTimeout(() => {
    window.threeply.picture();
    window.threeply.keep();
    desk.carryOut();
  }, 3000);
}

// fill computes the depths of the palettes one by one, once no work is under way.
let filling = false;
function fill() {
  if (filling) return;
  filling = true;
  const one = () => {
    if (busy) setTimeout(one, 300);
    else if (window.threeply.fill()) setTimeout(one, 60);
    else filling = false;
  };
  setTimeout(one, 300);
}

// pause lets the browser answer the user between two tasks.
const pause = () => new Promise((done) => setTimeout(done));

// compute has the second worker compute something of the session as it stands.
/** @type {Api["compute"]} */
const compute = async (op, more = {}) => parse(await work.aside.run(op, { session: window.threeply.sessionText(), ...more }, { give: desk.planes(0) }));

// printSmall has it print the open picture small with a palette.
/** @type {Api["printSmall"]} */
async function printSmall(palette) {
  const got = await work.aside.run("board", { session: window.threeply.sessionText(), palette, ...window.threeply.small() });
  return { ...got, figures: parse(got.figures) };
}

// printThirds has it print the open picture small with a layer exposed less and more.
/** @type {Api["printThirds"]} */
const printThirds = (printer) => work.aside.run("thirds", { session: window.threeply.sessionText(), printer, ...window.threeply.small() });

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

// textOf reads a file as text. Where that fails, the page says so and it is null.
/** @param {File} file */
async function textOf(file) {
  try {
    return await file.text();
  } catch (error) {
    window.threeply.say("error", `${file.name} could not be read (${reason(error)}). Check that the file is still there and open it again.`);
    return null;
  }
}

/** @type {Api["openSession"]} */
async function openSession(file, scans = []) {
  if (await isPacked(file)) {
    await desk.openPacked(file);
  } else {
    const text = await textOf(file);
    if (text !== null && scans.length) desk.packed(file.name, text, scans);
    else if (text !== null) desk.tell({ do: "openSession", name: file.name, text });
  }
  fill();
}

// isPacked tells by its first bytes whether a file is an archive, as a session with its
// scans is; one that cannot be read is none.
async function isPacked(/** @type {File} */ file) {
  try {
    const [p, k] = new Uint8Array(await file.slice(0, 2).arrayBuffer());
    return p === 0x50 && k === 0x4b;
  } catch {
    return false;
  }
}

// readText hands a file's name and text to a reader of the program, which
// answers what it read or says what is wrong.
/** @type {Api["readText"]} */
async function readText(file, reader, ...more) {
  const text = await textOf(file);
  return text === null ? {} : parse(reader(file.name, text, ...more));
}

// readFile has a worker read a file. It is null where that fails, which the page says, or
// is stopped.
/** @type {Api["readFile"]} */
async function readFile(op, file, words) {
  const got = await reading(words, op, { file });
  return got && parse(got);
}

/**
 * reading has a worker read something, as a job of the desk; null where that fails, which the
 * page says, or is stopped.
 * @template {keyof Results} Op
 * @param {string} words
 * @param {Op} op
 * @param {object} of
 * @returns {Promise<Results[Op] | null>}
 */
async function reading(words, op, of) {
  const token = window.threeply.begin("read", words);
  try {
    const got = await work.run(op, of, desk.hooks(token));
    return window.threeply.end(token) ? got : null;
  } catch (error) {
    desk.failed(token, error);
    return null;
  }
}

/** @type {Api["fitReadings"]} */
async function fitReadings(files, status) {
  const texts = [];
  for (const file of files) {
    const text = await textOf(file);
    if (text === null) return null;
    texts.push({ name: file.name, text });
  }
  return fitTissues({ files: texts, status });
}

/** @type {Api["fitScan"]} */
async function fitScan(scans, reference, corners) {
  const target = await textOf(reference);
  return target === null ? null : fitTissues({ files: [], scans, target, corners });
}

async function fitTissues(/** @type {object} */ of) {
  const got = await reading("Fitting the tissues", "fit", { session: window.threeply.sessionText(), ...of });
  return got && parse(got);
}

/** @type {Api["previewScan"]} */
async function previewScan(file, reference) {
  const target = reference ? await textOf(reference) : "";
  return target === null ? null : reading("Reading the scan", "flatbed", { file, target, session: window.threeply.sessionText() });
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
    const answer = parse(window.threeply.do(JSON.stringify(command)));
    fill();
    desk.carryOut();
    if (pins.pinning.has(command.do) && !answer.error) pins.seek();
    return answer;
  },
  panBy,
  nudgeBy,
  rest,
  desk: desk.tell,
  view: () => parse(window.threeply.view()),
  openFiles: take,
  openSession,
  compute,
  locate,
  readText,
  readFile,
  fitReadings,
  fitScan,
  previewScan,
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
};

// ---- A lost graphics context comes back only when the page is loaded again. All work is
// kept, so the page does that by itself, but not over and over.

const SOON = 60_000; // ms within which a second loss points to a broken driver

// lost has the page loaded again once all work is on disk, or says why not.
async function lost() {
  desk.tell({ do: "flush" });
  const kept = await keptAll();
  const last = Number(sessionStorage.getItem("lost") ?? 0);
  if (!kept || Date.now() - last < SOON) {
    report(new Error(kept ? "the graphics card was lost again" : "the graphics card was lost, and this browser does not keep your work: save the session before you load the page again"));
    return;
  }
  sessionStorage.setItem("lost", String(Date.now()));
  location.reload();
}

// keptAll waits until all is on disk; false where the browser keeps nothing.
async function keptAll() {
  for (;;) {
    const { state } = api.view().saved;
    if (state !== "saving") return state !== "refused";
    await new Promise((done) => setTimeout(done, 50));
  }
}

// In a low window the pictures have the room of the stack, until somebody asks for it; it
// comes back with the room.
const low = matchMedia("(max-height: 550px)");
let putAway = false; // the stack was, when the window became low

function giveWay() {
  if (low.matches ? !api.view().stack : !putAway) return;
  putAway = low.matches;
  api.do({ do: "stack", on: !low.matches });
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
  await ready;
  const session = list.find(({ name }) => /\.(json|zip)$/i.test(name));
  const reading = (/** @type {File} */ { name }) => /\.(txt|csv|tsv|cgats)$/i.test(name);
  const plan = (/** @type {File} */ { name }) => /\.json$/i.test(name); // of the test sheet
  if (list.some(reading) && list.every((file) => reading(file) || plan(file))) {
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
  take([...event.dataTransfer?.files ?? []]);
}, true);

// ---- start

// keepPage has the browser keep the page itself, for a start without a network. Where it
// may not, the page is as good while there is one.
function keepPage() {
  navigator.serviceWorker?.register("offline.js", { updateViaCache: "none" }).catch(() => {});
}

window.threeplyPage = {
  changed,
  wanted: frames.want,
  failed: report,
  lost,
  plainCanvas: stage.plainCanvas,
  drawn() { if (root.dataset.ready !== "yes") root.dataset.ready = "yes"; },
  async started() {
    frames.started();
    work.warm();
    page.start(api);
    await pause();
    stage.start(api);
    giveWay(); // until what is kept says otherwise
    low.addEventListener("change", giveWay);
    await pause();
    changed();
    begun();
    await desk.wake(kept);
    fill();
    if (!inOneFile) setTimeout(keepPage, 2000);
  },
};

// What is needed first is fetched while the programs are compiled.
const kept = store.cards();
language.begin().catch(() => {}); // English then
kept.then((cards) => { if (cards.length === 0) desk.demo().catch(() => {}); }, () => {});
stage.shelter();
(async () => {
  const go = new Go();
  const { instance } = await WebAssembly.instantiateStreaming(part("page.wasm"), go.importObject);
  await pause();
  frames.hold();
  await go.run(instance);
  report("its program ended");
})().catch(report);
