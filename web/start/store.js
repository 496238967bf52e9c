// What the browser keeps over a reload: the session as text and the scans as
// they were opened, in one IndexedDB database. Nothing leaves this machine.

const NAME = "threeply";
const KEPT = "kept";

let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(KEPT);
    request.onsuccess = () => {
      request.result.onversionchange = () => { request.result.close(); opened = null; };
      resolve(request.result);
    };
    request.onerror = () => { opened = null; reject(request.error); };
    request.onblocked = () => { opened = null; reject(new Error("another tab holds an older copy open")); };
  });
  return opened;
}

// run does one piece of work in one transaction and waits until it is on disk.
async function run(mode, work) {
  const base = await open();
  return new Promise((resolve, reject) => {
    const transaction = base.transaction(KEPT, mode);
    const request = work(transaction.objectStore(KEPT));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onabort = () => reject(transaction.error ?? request?.error);
    transaction.onerror = () => {};
  });
}

// attempt turns a failure into a sentence for the user; "" is success.
async function attempt(what, work) {
  try {
    await work();
    return "";
  } catch (error) {
    if (error?.name === "QuotaExceededError") {
      return `${what} too large to keep in this browser: a reload will ask for the files again. Save the session file on the Sheets station to keep your settings.`;
    }
    return `${what} not kept in this browser (${error?.message || "its storage is closed to this page"}). Save the session file on the Sheets station to keep your settings.`;
  }
}

// saveSession keeps the session's text. It resolves to "" or to a note for the
// user that says why it could not.
export function saveSession(text) {
  return attempt("The session is", () => run("readwrite", (kept) => kept.put(text, "session")));
}

// saveScans keeps the open files, [File], and how they were laid out, in place
// of those kept before. The browser copies them without the page's memory. Where they do not fit, the old
// ones are dropped too, lest a reload joins other scans to the new session. It
// resolves to "" or to a note for the user.
export async function saveScans(scans, options) {
  const note = await attempt("The scans are", () =>
    run("readwrite", (kept) => kept.put({ scans, options }, "scans")));
  if (note) await attempt("", () => run("readwrite", (kept) => kept.delete("scans")));
  return note;
}

// load resolves to {session, scans, options}, or to null where nothing was
// kept or the browser's storage is closed. scans is [] and options null where
// only the session was kept.
export async function load() {
  try {
    const session = await run("readonly", (kept) => kept.get("session"));
    if (!session) return null;
    const files = await run("readonly", (kept) => kept.get("scans"));
    return { session, scans: (files?.scans ?? []).filter((scan) => scan instanceof File), options: files?.options ?? null };
  } catch {
    return null;
  }
}
