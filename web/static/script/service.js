// Answers for the pages of a visit while the program can't be reached. What is
// kept stands in one store for each version of the program: its assets, and
// the pages that were made for them. `made` and
// `send` (what send.js does) are written in front of this script by the program.
const store = `pages ${made.base}`;
const patience = 5000; // a shed's one bar of signal is no connection

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("sync", (event) => { if (event.tag === "send") event.waitUntil(sendAll()); });
self.addEventListener("message", (event) => {
  if (Array.isArray(event.data?.keep)) event.waitUntil(Promise.all(event.data.keep.filter(isKept).map(keep)));
});

async function install() {
  const cache = await caches.open(store);
  await cache.addAll(made.files);
  await Promise.allSettled(made.pages.map(keep));
  await self.skipWaiting();
}

// What is noted is sent when the browser says that there is a connection, with
// no window open; what then does not get through it tries again later.
async function sendAll() {
  const { why } = await send();
  if (why) throw new Error(why);
}

// The stores of other versions go once every page they kept is here anew.
async function activate() {
  const cache = await caches.open(store);
  for (const name of await caches.keys()) {
    if (name === store || !name.startsWith("pages ")) continue;
    const old = await caches.open(name);
    const paths = (await old.keys()).map((r) => new URL(r.url).pathname).filter(isKept);
    await Promise.allSettled(paths.map(async (path) => (await cache.match(path)) ?? keep(path)));
    const here = await Promise.all(paths.map((path) => cache.match(path)));
    if (here.every(Boolean)) await caches.delete(name);
  }
  await self.clients.claim();
}

const isKept = (path) => made.pages.includes(path) || /^\/visit\/[^/]+$/.test(path);

async function keep(path) {
  const answer = await fetch(path, { cache: "no-store", credentials: "same-origin" });
  if (answer.ok && !answer.redirected) await (await caches.open(store)).put(path, answer);
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(asset(request));
  else if (isKept(url.pathname) && !url.searchParams.has("as-of")) event.respondWith(page(event, url.pathname));
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(() => caches.match("/away").then((a) => a ?? Response.error())));
});

const asset = async (request) => (await caches.match(request)) ?? fetch(request);

// The program's own answer is the best one; what is kept stands in for it.
async function page(event, path) {
  const fresh = fetch(event.request).then(async (answer) => {
    if (answer.ok && !answer.redirected) await (await caches.open(store)).put(path, answer.clone());
    return answer;
  });
  event.waitUntil(fresh.catch(() => {}));
  if (event.request.mode !== "navigate") return fresh;
  const late = new Promise((done) => setTimeout(done, patience));
  const first = await Promise.race([fresh.catch(() => null), late]);
  if (first) return first;
  return (await kept(path)) ?? fresh.catch(async () => (await kept("/away")) ?? Response.error());
}

// A visit that was begun on this phone has no page of its own yet.
async function kept(path) {
  const cache = await caches.open(store);
  return (await cache.match(path)) ?? (await caches.match(path)) ?? (path.startsWith("/visit/") ? caches.match(made.blank) : undefined);
}
