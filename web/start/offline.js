// @ts-nocheck: the checker knows pages, not service workers.
//
// The service worker: a page that was visited once starts without a network. tools/bundle
// puts this file at the top of the site and says first, in set, which files the page is made
// of: { version, files: { path: SHA-256 } }. They are kept whole or not at all, each
// checked, so that files of two versions never come together. A newer set waits until no tab
// shows the older one, or the only one that does is loaded again.

const ours = `threeply ${registration.scope} `; // of this folder: the host may have others
const kept = ours + set.version;
const address = (name) => registration.scope + name;

// fetched fetches a file of the set: what the browser still has of it if that holds, else
// anew.
async function fetched(name) {
  for (const cache of ["no-cache", "reload"]) {
    const response = await fetch(address(name), { cache });
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await response.clone().arrayBuffer()));
    const hash = [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    if (response.ok && hash === set.files[name]) return response;
  }
  throw new Error(`${name} is of another version`);
}

async function keep() {
  try {
    const cache = await caches.open(kept);
    for (const name in set.files) await cache.put(address(name), await fetched(name));
  } catch (error) {
    await caches.delete(kept);
    throw error;
  }
}

async function forgetOthers() {
  for (const name of await caches.keys()) if (name.startsWith(ours) && name !== kept) await caches.delete(name);
}

// answer gives a file of the set as it is kept; where the browser has thrown it away, from
// the network, if it is still of this set.
const answer = async (name) => await (await caches.open(kept)).match(address(name)) ?? fetched(name);

// page gives the page. Where a newer set waits and no other tab is open, it is that one's.
async function page() {
  if (registration.waiting && (await clients.matchAll()).length < 2) {
    registration.waiting.postMessage("begin");
    return new Response('<link rel="icon" href="data:,">', { headers: { "Content-Type": "text/html", Refresh: "0" } });
  }
  return answer("index.html");
}

oninstall = (event) => event.waitUntil(keep());
onactivate = (event) => event.waitUntil(forgetOthers());
onmessage = () => skipWaiting();
onfetch = (event) => {
  const { origin, pathname } = new URL(event.request.url);
  if (event.request.method !== "GET" || !(origin + pathname).startsWith(registration.scope)) return;
  const name = (origin + pathname).slice(registration.scope.length) || "index.html";
  if (!(name in set.files)) return;
  event.respondWith(name === "index.html" && event.request.mode === "navigate" ? page() : answer(name));
};
