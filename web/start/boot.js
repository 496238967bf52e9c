// Starts the page: the Go program, the stage, the intake of files, and what
// the browser keeps over a reload.

import * as page from "../page/page.js";
import * as pins from "../stage/pins.js";
import * as store from "./store.js";
import * as stage from "../stage/stage.js";
import * as work from "./work.js";
import { download, saver } from "./saving.js";

const demo = ["red", "green", "blue"];
const root = document.documentElement;
let turn = 0; // counts the sets that were begun to be opened: a later one overtakes
let begun = null; // called once the page takes files
const up = new Promise((resolve) => { begun = resolve; });
let open = null; // the files that are open, {files: [File], options}, for another layout and for the store

// report shows what broke in plain sight: Go may be gone.
function report(error) {
  const place = document.getElementById("messages");
  const p = document.createElement("p");
  p.className = "message error";
  p.textContent = `Threeply has stopped: ${error?.message ?? error}. Your session is kept in this browser; reload the page to go on.`;
  place?.prepend(p);
  root.dataset.ready = "failed";
}

const ask = (command) => JSON.parse(window.threeply.do(JSON.stringify(command)));

// ---- drawing: one render of the controls a frame, whatever changed

let wanted = false;
let apart = true; // the next frame of the pictures is long: the controls take a task of their own
function changed() {
  if (wanted) return;
  wanted = true;
  (apart ? setTimeout : requestAnimationFrame)(() => {
    wanted = false;
    const view = { ...api.view(), saved };
    page.render(view);
    stage.update(view);
    keep();
  });
}

let keeping = 0;
let kept = ""; // the session as last saved
let saved = ""; // when that was
let held = null; // the session of scans that were not kept: it waits for them
let noted = false; // the user knows that the session cannot be kept
function keep() {
  keeping ||= setTimeout(keepNow, 400);
}

async function keepNow() {
  clearTimeout(keeping);
  keeping = 0;
  const text = window.threeply.sessionText();
  if (!open || held || text === kept) return;
  kept = text;
  const note = await store.saveSession(text);
  saved = note ? "" : new Date().toTimeString().slice(0, 5);
  if (note) kept = "";
  if (note && !noted) window.threeply.say("note", note);
  noted = note !== "";
  changed();
}

// fill computes the depths of the palettes one by one, in idle time.
let filling = false;
function fill() {
  if (filling) return;
  filling = true;
  const one = () => {
    if (window.threeply.fill()) setTimeout(one, 60);
    else filling = false;
  };
  setTimeout(one, 300);
}

// ---- files in

// take opens dropped or chosen files.
async function take(list) {
  await up;
  const files = [...list].filter((f) => f instanceof File);
  if (files.length === 0) {
    window.threeply.say("error", "Nothing that was dropped is a file. Drop the scans themselves.");
    return;
  }
  await openFiles(files, {});
}

// openFiles opens plates in the worker; what was open stays until that worked.
async function openFiles(files, options, { session = null, keepSettings = true, store: storing = true } = {}) {
  const mine = ++turn;
  work.cancelUnderWay();
  const api = window.threeply;
  api.forget(); // what arrived of a set that this one overtakes
  api.busy("Opening the scans", 0, true);
  try {
    const got = await work.run("open", { files, options }, {
      take: (part) => api.arrive(part.source, part.level, part.w, part.h, part.at, part.bytes),
      progress: (share, what) => api.busy(capital(what), share, true),
    });
    apart = true;
    const answer = JSON.parse(api.open("the scans", got.session, got.asked, keepSettings));
    api.busy("");
    if (answer.error) return;
    open = { files, options };
    await pause();
    fill();
    restoreKept(session ?? held, storing);
    keepNow();
    const saving = store.saveScans(storing ? files : [], options);
    await pause();
    apart = false;
    if (JSON.parse(api.view()).registered !== "auto") await register({}, true);
    const note = await saving;
    if (note) api.say("note", note);
  } catch (error) {
    if (mine === turn) {
      api.forget();
      api.busy("");
    }
    if (!(error instanceof work.Cancelled)) api.say("error", error.message);
  }
}

// restoreKept takes the settings of a kept session, where they belong to the
// plates that were opened. Where those are only the demonstration set, the
// session is held until its own scans come.
function restoreKept(session, own) {
  if (!session) return;
  const names = (text) => JSON.parse(text).sources.map((source) => source.file).join(", ");
  if (names(session) === names(window.threeply.sessionText())) {
    held = null;
    if (!JSON.parse(window.threeply.restore("the kept session", session, true)).error) root.dataset.restored = "yes";
  } else if (own) {
    held = null;
  } else if (!held) {
    held = session;
    window.threeply.say("note", `Your last session is kept, but its scans were too large to keep: drop ${names(session)} to go on with it.`);
  }
}

// pause lets the page breathe between two tasks.
const pause = () => new Promise((done) => setTimeout(done));

const capital = (s) => s.charAt(0).toUpperCase() + s.slice(1);

// runOnPlates has the worker do op on the plates as they stand; it fetches them
// part by part, so that the page stays live.
function runOnPlates(op, more = {}) {
  const api = window.threeply;
  return work.run(op, { session: api.sessionText(), ...more }, {
    give: ({ source, from, to }) => api.plane(source, from, to),
    progress: (share, what) => api.busy(capital(what), share, true),
  });
}

// register finds the plates against the key, or, with {refine}, measures that
// source again from where it lies. The first register of a set belongs to its
// opening.
async function register(more = {}, first = false) {
  const api = window.threeply;
  const mine = turn;
  api.busy("Registering the plates", 0, true);
  try {
    const found = await runOnPlates("register", more);
    if (mine !== turn) return;
    api.busy("");
    api.registered(found, first);
  } catch (error) {
    if (mine !== turn) return;
    api.busy("");
    if (error instanceof work.Cancelled) api.say("note", "Register was cancelled; the plates lie as before.");
    else api.say("error", error.message);
  }
}

async function fetchDemo() {
  const truth = await (await fetch("demo/truth.json")).json();
  return Promise.all(demo.map(async (filter) => {
    const name = truth.plates[filter].file;
    const response = await fetch("demo/" + name);
    if (!response.ok) throw new Error(`the demonstration plate ${name} is missing`);
    return new File([await response.blob()], name);
  }));
}

async function openDemo(fetching = fetchDemo(), session = null) {
  const mine = turn;
  try {
    const files = await fetching;
    if (mine !== turn) return; // the user was faster
    await openFiles(files, {}, { session, store: false, keepSettings: false });
  } catch (error) {
    window.threeply.say("error", `The demonstration set cannot be opened: ${error.message}. Drop three scans of your own.`);
  }
}

// compute has the second worker compute something of the session as it stands.
async function compute(op, more = {}) {
  return JSON.parse(await work.aside.run(op, { session: window.threeply.sessionText(), ...more }));
}

// printSmall has it print the open picture small with a palette.
async function printSmall(palette) {
  const api = window.threeply;
  const got = await work.aside.run("board", { session: api.sessionText(), palette, ...api.small() });
  return { ...got, figures: JSON.parse(got.figures) };
}

// locate has the worker look for a mark in parts of the plates; what is given up
// finds nothing.
async function locate(tries) {
  try {
    return await work.run("locate", { tries });
  } catch (error) {
    if (!(error instanceof work.Cancelled)) window.threeply.say("error", error.message);
    return "[]";
  }
}

async function openSession(file) {
  try {
    window.threeply.restore(file.name, await file.text(), false);
    fill();
  } catch (error) {
    window.threeply.say("error", `${file.name} could not be read (${error.message}). Check that the file is still there and open it again.`);
  }
}

// readText hands a file's name and text to a reader of the program, which
// answers what it read or says what is wrong.
async function readText(file, reader, ...more) {
  try {
    return JSON.parse(reader(file.name, await file.text(), ...more));
  } catch (error) {
    window.threeply.say("error", `${file.name} could not be read (${error.message}). Check that the file is still there and open it again.`);
    return {};
  }
}

// readFile has the worker read a file; null where that fails or is cancelled.
async function readFile(op, file, what) {
  const api = window.threeply;
  api.busy(what, 0, true);
  try {
    return JSON.parse(await work.run(op, { file }));
  } catch (error) {
    if (!(error instanceof work.Cancelled)) api.say("error", error.message);
    return null;
  } finally {
    api.busy("");
  }
}

// ---- start

const api = {
  do(command) {
    if (command.do === "register") { register(); return { ok: true }; }
    if (command.do === "refine") { register({ refine: command.source }); return { ok: true }; }
    if (command.do === "layout") {
      if (open) openFiles(open.files, { layout: command.id });
      return { ok: true };
    }
    const answer = ask(command);
    fill();
    if (pins.pinning.has(command.do) && !answer.error) pins.seek();
    return answer;
  },
  view: () => JSON.parse(window.threeply.view()),
  openFiles: take,
  openSession,
  cancel: work.cancelUnderWay,
  compute,
  locate,
  download,
  readText,
  readFile,
  refresh: changed,
  reopenDemo: () => openDemo(),
  printSmall,
  ...saver(runOnPlates),
};

window.threeplyPage = {
  changed,
  failed: (text) => report(text),
  drawn() { if (root.dataset.ready !== "yes") root.dataset.ready = "yes"; },
  async started() {
    work.warm();
    page.start(api);
    await pause();
    stage.start(api);
    await pause();
    changed();
    const kept = await first.kept;
    begun();
    await pause();
    if (turn > 0) return; // files were dropped while the page was starting
    if (kept?.scans.length > 0) {
      await openFiles(kept.scans, kept.options ?? {}, { session: kept.session, keepSettings: false });
    } else {
      await openDemo(first.demo, kept?.session);
    }
  },
};

for (const kind of ["dragenter", "dragover"]) {
  window.addEventListener(kind, (event) => { event.preventDefault(); event.stopPropagation(); root.dataset.drop = "over"; }, true);
}
window.addEventListener("dragleave", (event) => { if (!event.relatedTarget) delete root.dataset.drop; }, true);
window.addEventListener("drop", (event) => {
  event.preventDefault();
  event.stopPropagation();
  delete root.dataset.drop;
  take(event.dataTransfer?.files ?? []);
}, true);

// What is needed first is fetched while the programs are compiled.
const first = { kept: store.load() };
first.demo = first.kept.then((kept) => (kept?.scans.length > 0 ? null : fetchDemo()));
first.demo.catch(() => {});
stage.shelter();
(async () => {
  const go = new Go();
  const { instance } = await WebAssembly.instantiateStreaming(fetch("page.wasm"), go.importObject);
  await pause();
  await go.run(instance);
  report("its program ended");
})().catch(report);
