// What the browser keeps when the page is closed: the records of the desk and the
// scans, in one IndexedDB database. Nothing leaves this machine.

/** @import { Options, Record, Store } from "../types/desk.js" */

const NAME = "threeply";
const TEXTS = ["cards", "heads", "steps"]; // the stores of texts
const SCANS = "scans"; // the files, by the SHA-256 of their content
const OLD = "kept"; // what version 1 kept: one session and its scans

/** @type {Promise<IDBDatabase> | null} */
let opened = null;

/** @returns {Promise<IDBDatabase>} */
function open() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 2);
    request.onupgradeneeded = () => {
      for (const store of [...TEXTS, SCANS]) {
        if (!request.result.objectStoreNames.contains(store)) request.result.createObjectStore(store);
      }
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => { request.result.close(); opened = null; };
      request.result.onclose = () => { opened = null; };
      resolve(request.result);
    };
    request.onerror = () => { opened = null; reject(request.error); };
    request.onblocked = () => { opened = null; reject(new Error("another tab has an older version of this page open")); };
  });
  return opened;
}

/**
 * transact does some work in one transaction, all of it or none, and waits until it is on
 * disk.
 * @template Result
 * @param {string[]} stores
 * @param {IDBTransactionMode} mode
 * @param {(store: (name: string) => IDBObjectStore) => Result} work
 * @returns {Promise<Result>}
 */
async function transact(stores, mode, work) {
  const base = await open();
  return new Promise((resolve, reject) => {
    const transaction = base.transaction(stores, mode);
    const result = work((name) => transaction.objectStore(name));
    transaction.commit(); // at once: nothing more comes, and a page that goes would not do it later
    transaction.oncomplete = () => resolve(result);
    transaction.onabort = () => reject(transaction.error ?? new Error("its storage gave up"));
  });
}

/**
 * attempt does some work. It resolves to "" on success, else to the reason as a user
 * reads it.
 * @param {() => Promise<unknown>} work
 */
async function attempt(work) {
  try {
    await work();
    return "";
  } catch (error) {
    if (error instanceof DOMException && error.name === "QuotaExceededError") return "there is no room left in what the browser lets this page keep";
    if (!(error instanceof Error) || !error.message || error.name === "SecurityError") return "its storage is closed to this page";
    return error.message.replace(/\.$/, "");
  }
}

// recordsOf takes in all records of a document in a store of texts: their names begin
// with its id.
const recordsOf = (/** @type {string} */ id) => IDBKeyRange.bound(id, `${id}/\uffff`);

/**
 * cards gives the texts of all cards.
 * @returns {Promise<string[]>}
 */
export async function cards() {
  const request = await transact(["cards"], "readonly", (store) => store("cards").getAll());
  return request.result;
}

/**
 * old gives what version 1 of the store kept, null for nothing.
 * @returns {Promise<{ session: string, files: File[], options: Options } | null>}
 */
export async function old() {
  const base = await open();
  if (!base.objectStoreNames.contains(OLD)) return null;
  const [session, scans] = await transact([OLD], "readonly", (store) => [store(OLD).get("session"), store(OLD).get("scans")]);
  if (!session.result || !scans.result) return null;
  return { session: session.result, files: scans.result.scans ?? [], options: scans.result.options ?? {} };
}

/**
 * load gives the records of a document, and of its scans those that are kept.
 * @param {string} id
 */
export async function load(id) {
  /** @type {Record[]} */
  const records = [];
  const requests = await transact(TEXTS, "readonly", (store) => TEXTS.map((name) => ({ name, keys: store(name).getAllKeys(recordsOf(id)), texts: store(name).getAll(recordsOf(id)) })));
  for (const { name, keys, texts } of requests) {
    keys.result.map(String).forEach((key, i) => {
      if (key === id || key.startsWith(`${id}/`)) records.push({ store: name, name: key, text: texts.result[i] });
    });
  }
  const card = records.find((record) => record.store === "cards");
  /** @type {{ scans: { sha256: string }[] }} */
  const { scans } = card ? JSON.parse(card.text) : { scans: [] };
  const hashes = [...new Set(scans.map((scan) => scan.sha256).filter(Boolean))];
  const requested = await transact([SCANS], "readonly", (store) => hashes.map((hash) => ({ hash, request: store(SCANS).get(hash) })));
  const files = requested.map(({ hash, request }) => ({ hash, file: /** @type {unknown} */ (request.result) }));
  return { records, files: files.filter(isKept) };
}

/**
 * isKept tells whether a scan was found in the store.
 * @param {{ hash: string, file: unknown }} scan
 * @returns {scan is { hash: string, file: File }}
 */
const isKept = (scan) => scan.file instanceof File;

/**
 * write carries out an order to put and delete records of a document. It resolves to "",
 * or to why that was refused.
 * @param {Store} order
 */
export function write({ id, put, delete: gone, allSteps }) {
  return attempt(() => transact([...TEXTS, SCANS], "readwrite", (store) => {
    for (const record of put) store(record.store).put(record.text, record.name);
    for (const key of gone) store(key.store).delete(key.name);
    if (allSteps) store("steps").delete(recordsOf(id));
  }));
}

/**
 * keep stores the files that are not kept yet. The browser copies them without filling the
 * page's memory. It resolves to "", or to why that was refused.
 * @param {{ hash: string, file: File }[]} files
 */
export function keep(files) {
  return attempt(async () => {
    navigator.storage?.persist?.().catch(() => {}); // some browsers ask the user, who may let it stand: nothing waits for the answer
    const there = await transact([SCANS], "readonly", (store) => store(SCANS).getAllKeys());
    const fresh = files.filter(({ hash }) => !there.result.includes(hash));
    if (fresh.length > 0) await transact([SCANS], "readwrite", (store) => { for (const { hash, file } of fresh) store(SCANS).put(file, hash); });
  });
}
