// The scripts' side of the desk: it tells the program what has come, and carries
// out what the program orders. It decides nothing.

/** @import { File as Listed, Heard, Order, Work } from "../types/desk.js" */
/** @import { Hooks, Part, Turn, Wanted } from "../types/worker.js" */

import { capital, reason } from "../ui/words.js";
import * as page from "../page/page.js";
import { part } from "./parts.js";
import * as store from "./store.js";
import * as work from "./work.js";

/** @type {Map<string, File>} */
const files = new Map(); // the files that the program knows, by their keys
let lastKey = 0; // keys are numbered

/**
 * tell tells the desk something.
 * @param {Heard} heard
 * @returns {{ error?: string }} with why it was refused, where it was
 */
export function tell(heard) {
  const answer = JSON.parse(window.threeply.desk(JSON.stringify(heard)));
  carryOut();
  return answer;
}

/**
 * listed notes files by keys, and gives what the desk is told of them.
 * @param {File[]} list
 * @param {(file: File) => string} [keyOf] the key of a file; a new one where it is left out
 * @returns {Listed[]}
 */
function listed(list, keyOf = () => `file ${++lastKey}`) {
  return list.map((file) => {
    const key = keyOf(file);
    files.set(key, file);
    return { key, name: file.name, size: file.size };
  });
}

/**
 * packed has a session taken up on the scans that came with it.
 * @param {string} name
 * @param {string} text
 * @param {File[]} scans
 */
export const packed = (name, text, scans) => tell({ do: "openPacked", name, text, files: listed(scans), notes: [], sight: "" });

// bring has files opened.
export const bring = (/** @type {File[]} */ list) => tell({ do: "bring", files: listed(list) });

// carryOut carries out what the desk has ordered.
export function carryOut() {
  for (const { do: name, with: order } of /** @type {Order[]} */ (JSON.parse(window.threeply.orders()))) orders[name](/** @type {never} */ (order));
}

/** @type {{ [Name in Order["do"]]: (order: Extract<Order, { do: Name }>["with"]) => void }} */
const orders = {
  async work(order) {
    try {
      await works[order.op](order);
    } catch (error) {
      work.halt(order.token); // what another worker does for it
      failed(order.token, error);
    }
  },
  halt: ({ token }) => work.halt(token),
  async store(order) {
    const refused = await store.write(order);
    tell({ do: "stored", id: order.id, revision: order.revision, refused });
    others?.postMessage("cards");
  },
  async keepScans({ id, files: list }) {
    try {
      const scans = list.map(({ key, sha256 }) => ({ hash: sha256, file: fileOf(key) }));
      tell({ do: "scansKept", id, refused: await store.keep(scans) });
    } catch (error) {
      tell({ do: "scansKept", id, refused: reason(error) });
    }
  },
  async load({ id }) {
    try {
      const { records, files: kept } = await store.load(id);
      for (const { store: place, name, text } of records) window.threeply.record(id, place, name, text);
      const hashes = new Map(kept.map(({ hash, file }) => [file, hash]));
      tell({ do: "loaded", id, files: listed([...hashes.keys()], (file) => String(hashes.get(file))) });
    } catch {
      tell({ do: "loaded", id, files: [] });
    }
  },
  async lock({ id }) { tell({ do: "locked", id, ok: await lock(id) }); },
  unlock({ id }) { locks.get(id)?.(); locks.delete(id); },
  remember({ id }) { try { sessionStorage.setItem("document", id); } catch { /* a new tab then opens the latest */ } },
  async fetchDemo({ token }) {
    try {
      tell({ do: "demoFetched", token, files: listed(await demo()) });
    } catch (error) {
      tell({ do: "failed", token, why: `The demonstration set cannot be opened: ${reason(error)}. Drop three scans of your own.` });
    }
  },
};

// openScans are the files of the open set.
export const openScans = () => window.threeply.scanKeys().map(fileOf);

/**
 * openPacked has a worker take a session and its scans out of their one file.
 * @param {File} file
 */
export async function openPacked(file) {
  const token = window.threeply.begin("read", "Opening the session");
  try {
    const { session, sight, scans, notes } = await work.run("unpack", { file }, hooks(token));
    if (!window.threeply.end(token)) return;
    const files = scans.map(({ name, at, size, parts }) => new File(parts ?? [file.slice(at, at + size)], name));
    tell({ do: "openPacked", name: file.name, text: session, files: listed(files), notes, sight });
  } catch (error) {
    failed(token, error);
  }
}

/**
 * fileOf is the file with a key; an error where there is none any more.
 * @param {string} key
 */
function fileOf(key) {
  const file = files.get(key);
  if (!file) throw new Error("a file is not open any more");
  return file;
}

/**
 * hooks are what every job gives work.run: the token to halt it by, and where to tell how
 * far it is.
 * @param {number} token
 */
export const hooks = (token) => ({
  token,
  progress: (/** @type {number} */ share, /** @type {string} */ words) => page.progress(JSON.parse(window.threeply.progress(token, share, capital(words)))),
});

/**
 * open has a worker read the files of a set, and hands its planes on part by part.
 * @param {Work} order
 */
async function open({ token, files: keys = [], more }) {
  const of = { files: keys.map(fileOf), options: more };
  const take = (/** @type {Part} */ part) => window.threeply.arrive(token, part.source, part.level, part.w, part.h, part.at, part.bytes);
  const got = await work.run("open", { ...of, together: work.helpers > 1 }, {
    ...hooks(token), take,
    turn(told, next) { if ("open" in told) beside("openOne", { ...of, source: told.open }, { token, take }, next); },
  });
  if (got.alone !== undefined) tell({ do: "alone", token, plates: JSON.parse(got.alone) });
  else tell({ do: "opened", token, session: got.session, asked: got.asked });
}

/**
 * beside has another worker do a part of a job meanwhile, where one is free. Where there is none, or
 * it fails, the worker that asked does that part too.
 * @param {"openOne" | "registerOne"} op
 * @param {object} message
 * @param {Hooks} hooks
 * @param {(turn: Turn) => void} next
 */
function beside(op, message, hooks, next) {
  if (!work.spare()) next({});
  else work.run(op, message, hooks, true).then((found) => next({ found }), () => next({}));
}

/**
 * register has a worker find where the plates lie.
 * @param {Work} order
 */
async function register({ token, session, more }) {
  const give = planes(token);
  const found = await work.run("register", { session, .../** @type {object | undefined} */ (more), together: work.helpers > 1 }, {
    ...hooks(token), give,
    turn(told, next) { if ("register" in told) beside("registerOne", { session, source: told.register }, { token, give }, next); },
  });
  tell({ do: "registered", token, found });
}

/**
 * look has a worker look for a grey scale in the picture.
 * @param {Work} order
 */
async function look({ token, session }) {
  const found = await work.run("look", { session }, { ...hooks(token), give: planes(token) });
  tell({ do: "looked", token, found });
}

/**
 * levels has a worker find white, black and contrast of the plates.
 * @param {Work} order
 */
async function levels({ token, session, more }) {
  const found = await work.run("levels", { session, want: more }, { ...hooks(token), give: planes(token) });
  tell({ do: "levels", token, found });
}

// works are the jobs that the desk orders, by what the worker calls them.
/** @type {Record<string, (order: Work) => Promise<void>>} */
const works = { open, register, look, levels };

/**
 * planes makes what gives a worker the plates of its job, part by part, so that the page
 * stays live. Token 0 stands for the plates that are open.
 * @param {number} token
 */
export const planes = (token) => (/** @type {Wanted} */ { source, level, from, to, tiles, every }, /** @type {Uint8Array<ArrayBuffer>} */ into) => {
  if (tiles) return window.threeply.tiles(token, source, level, tiles, into);
  if (every) return window.threeply.every(token, source, level, every, into);
  return window.threeply.plane(token, source, level, from, to, into);
};

/**
 * failed tells why a job did not work; of one that was stopped nothing is said.
 * @param {number} token
 * @param {unknown} error
 */
export function failed(token, error) {
  if (error instanceof work.Stopped) return;
  tell({ do: error instanceof work.Died ? "died" : "failed", token, why: reason(error) });
}

// ---- locks: no two tabs have one document open

/** @type {Map<string, (released?: unknown) => void>} */
const locks = new Map(); // what releases a document's lock, by its id

/**
 * lock asks for the lock of a document, and tells whether this tab has it now. When a tab
 * is loaded again, the browser may release the lock that it had only a moment later, so
 * that document is asked for several times.
 * @param {string} id
 * @returns {Promise<boolean>}
 */
async function lock(id) {
  if (locks.has(id)) return true;
  if (!navigator.locks) { // an address that is not secure has none: the other tabs are asked
    const free = await unclaimed(id);
    if (free) locks.set(id, () => {});
    return free;
  }
  for (let tries = id === remembered() ? 8 : 1; ; tries--) {
    const got = await new Promise((/** @type {(got: boolean) => void} */ resolve) => {
      navigator.locks.request(`threeply ${id}`, { ifAvailable: true }, (held) => {
        resolve(held !== null);
        return held && new Promise((release) => { locks.set(id, release); });
      });
    });
    if (got || tries <= 1) return got;
    await new Promise((done) => setTimeout(done, 250));
  }
}

// others is where the tabs hear of each other: that what is kept has changed ("cards"),
// of which the list is read anew a second later, once for all that was told meanwhile;
// and who has a document open ({ asked } is answered by { open }).
const others = "BroadcastChannel" in window ? new BroadcastChannel("threeply") : null;

const ANSWER = 400; // ms that another tab has to say that it has a document open

/**
 * unclaimed asks the other tabs for a document, and tells whether none has it open.
 * @param {string} id
 * @returns {Promise<boolean>}
 */
async function unclaimed(id) {
  if (!others) return true;
  let free = true;
  const hear = (/** @type {MessageEvent} */ { data }) => { if (data.open === id) free = false; };
  others.addEventListener("message", hear);
  others.postMessage({ asked: id });
  await new Promise((done) => setTimeout(done, ANSWER));
  others.removeEventListener("message", hear);
  return free;
}

let hearing = 0;
if (others) {
  others.onmessage = ({ data }) => {
    if (locks.has(data.asked)) others.postMessage({ open: data.asked });
    if (data === "cards") hearing ||= setTimeout(refresh, 1000);
  };
}

// refresh reads the list of kept sets again, once the program is there.
async function refresh() {
  const there = "threeply" in window;
  hearing = there ? 0 : setTimeout(refresh, 1000);
  if (there) tell({ do: "refresh", cards: await store.cards() });
}

// ---- the demonstration set

const filters = ["red", "green", "blue"];
/** @type {Promise<File[]> | null} */
let fetched = null;

// demo fetches the files of the demonstration set, once.
export function demo() {
  fetched ??= (async () => {
    /** @type {{ plates: { [filter: string]: { file: string } } }} */
    const truth = await (await part("demo/truth.json")).json();
    return Promise.all(filters.map(async (filter) => {
      const name = truth.plates[filter].file;
      return new File([await (await part("demo/" + name)).blob()], name);
    }));
  })();
  fetched.catch(() => { fetched = null; });
  return fetched;
}

// ---- the start and the end

/**
 * wake tells the desk what the browser has kept.
 * @param {Promise<string[]>} read the cards' texts, asked for before the program had started
 */
export async function wake(read) {
  /** @type {string[]} */
  let cards = [];
  try {
    cards = await read;
    const old = cards.length === 0 ? await store.old() : null;
    if (old && old.files.length > 0) {
      tell({ do: "wakeOld", session: old.session, files: listed(old.files), options: old.options });
      return;
    }
  } catch { /* the storage is closed to this page: the desk says so when it has something to keep */ }
  tell({ do: "wake", cards, tab: remembered() });
}

// remembered is the document that this tab had open when it was last loaded, "" for
// none.
export function remembered() {
  try {
    return sessionStorage.getItem("document") ?? "";
  } catch {
    return "";
  }
}

// A page that is left stores first what it has not stored yet.
const flush = () => { if ("threeply" in window) tell({ do: "flush" }); };
window.addEventListener("pagehide", flush);
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") flush(); });
