// The scripts' side of the desk: it tells the program what has come, and carries
// out what the program orders. It decides nothing.

import * as store from "./store.js";
import * as work from "./work.js";

const files = new Map(); // the files that the program knows by a key
let keys = 0;

// tell tells the desk something; it answers {error} where that was refused.
export function tell(what, fields = {}) {
  const answer = JSON.parse(window.threeply.desk(JSON.stringify({ do: what, ...fields })));
  carryOut();
  return answer;
}

// listed gives files keys, and what the desk knows of them.
function listed(list, key = () => `file ${++keys}`) {
  return [...list].map((file) => {
    const name = key(file);
    files.set(name, file);
    return { key: name, name: file.name, size: file.size };
  });
}

// bring has files opened.
export const bring = (list) => tell("bring", { files: listed(list) });

// carryOut carries out what the desk has ordered.
export function carryOut() {
  for (const { do: name, with: order } of JSON.parse(window.threeply.orders())) orders[name](order);
}

const orders = {
  work: (order) => (order.op === "open" ? open(order) : register(order)),
  halt: ({ token }) => work.halt(token),
  async store(order) {
    const refused = await store.write(order);
    tell("stored", { id: order.id, revision: order.revision, refused });
    others?.postMessage("cards");
  },
  async keepScans({ id, files: list }) {
    const refused = await store.keep(list.map(({ key, sha256 }) => ({ hash: sha256, file: files.get(key) })));
    tell("scansKept", { id, refused });
  },
  async load({ id }) {
    try {
      const { records, files: kept } = await store.load(id);
      for (const { store: place, name, text } of records) window.threeply.record(id, place, name, text);
      const hashes = new Map(kept.map(({ hash, file }) => [file, hash]));
      tell("loaded", { id, files: listed(hashes.keys(), (file) => hashes.get(file)) });
    } catch {
      tell("loaded", { id, files: [] });
    }
  },
  async lock({ id }) { tell("locked", { id, ok: await lock(id) }); },
  unlock({ id }) { locks.get(id)?.(); locks.delete(id); },
  remember({ id }) { try { sessionStorage.setItem("document", id); } catch { /* a new tab then opens the latest */ } },
  async fetchDemo({ token }) {
    try {
      tell("demoFetched", { token, files: listed(await demo()) });
    } catch (error) {
      tell("failed", { token, why: `The demonstration set cannot be opened: ${error.message}. Drop three scans of your own.` });
    }
  },
};

// hooks are what every job has: its name to be halted by, and how far it is.
export const hooks = (token) => ({
  name: token,
  progress: (share, words) => tell("progress", { token, share, words: capital(words) }),
});

const capital = (s) => s.charAt(0).toUpperCase() + s.slice(1);

async function open({ token, files: keys, more }) {
  try {
    const got = await work.run("open", { files: keys.map((key) => files.get(key)), options: more }, {
      ...hooks(token),
      take: (part) => window.threeply.arrive(token, part.source, part.level, part.w, part.h, part.at, part.bytes),
    });
    tell("opened", { token, session: got.session, asked: got.asked });
  } catch (error) {
    failed(token, error);
  }
}

async function register({ token, session, more }) {
  try {
    const found = await work.run("register", { session, ...more }, { ...hooks(token), give: planes(token) });
    tell("registered", { token, found });
  } catch (error) {
    failed(token, error);
  }
}

// planes gives the worker the plates that its job belongs to, part by part, so that
// the page stays live.
export const planes = (token) => ({ source, from, to }) => window.threeply.plane(token, source, from, to);

// failed tells why a job did not work; one that was stopped says nothing.
export function failed(token, error) {
  if (!(error instanceof work.Stopped)) tell("failed", { token, why: error.message });
}

// ---- locks: no two tabs have one document open

const locks = new Map(); // by document: what lets go of it

function lock(id) {
  if (!navigator.locks || locks.has(id)) return true;
  return new Promise((resolve) => {
    navigator.locks.request(`threeply ${id}`, { ifAvailable: true }, (got) => {
      resolve(got !== null);
      return got && new Promise((release) => { locks.set(id, release); });
    });
  });
}

// others hears when another tab has changed what is kept.
const others = "BroadcastChannel" in window ? new BroadcastChannel("threeply") : null;
if (others) others.onmessage = async () => tell("refresh", { cards: await store.cards() });

// ---- the demonstration set

const filters = ["red", "green", "blue"];
let fetched = null;

// demo fetches its files, once.
export function demo() {
  fetched ??= (async () => {
    const truth = await (await fetch("demo/truth.json")).json();
    return Promise.all(filters.map(async (filter) => {
      const name = truth.plates[filter].file;
      const response = await fetch("demo/" + name);
      if (!response.ok) throw new Error(`the plate ${name} is missing`);
      return new File([await response.blob()], name);
    }));
  })();
  fetched.catch(() => { fetched = null; });
  return fetched;
}

// ---- the start and the end

// wake tells the desk what the browser has kept. read is the cards' texts, asked for
// before the program had started.
export async function wake(read) {
  let cards = [];
  try {
    cards = await read;
    const old = cards.length === 0 ? await store.old() : null;
    if (old?.files.length > 0) {
      tell("wakeOld", { session: old.session, files: listed(old.files), options: old.options });
      return;
    }
  } catch { /* the storage is closed to this page: the desk says so when it has something to keep */ }
  let tab = "";
  try { tab = sessionStorage.getItem("document") ?? ""; } catch { /* as for a new tab */ }
  tell("wake", { cards, tab });
}

// A page that goes stores what it has not stored yet.
for (const [where, kind] of [[window, "pagehide"], [document, "visibilitychange"]]) {
  where.addEventListener(kind, () => {
    if (window.threeply && (kind === "pagehide" || document.visibilityState === "hidden")) tell("flush");
  });
}
