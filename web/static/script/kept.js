// The things noted on this phone that are not in the record yet. They lie in
// the browser's own store, on disk before a tap counts as noted.
//
//   thing   { seq, id, visit, kind, who, says, words, fields, over, wall,
//             group, after: ids that go first, picture: {id, hash, size, type}
//             or nothing, tries, why: the reason it was refused }
//   picture { id, bytes }
//   other   { name, value }

// missing says what this page lacks to note things without a connection, ""
// if nothing.
export const missing = (() => {
  if (!isSecureContext) return "Noting without a connection needs an address that begins with https, or the computer that the program runs on. This address is neither; what you note here is written while the connection holds, and only then.";
  if (!("indexedDB" in self) || !("serviceWorker" in navigator) || !("locks" in navigator)) return "This browser can't keep anything without a connection; what you note here is written while the connection holds, and only then.";
  return "";
})();

export const changed = new EventTarget(); // "change": what is kept is other than it was
const tell = () => changed.dispatchEvent(new Event("change"));

// Other windows of this browser, and the script that sends while none is open,
// say on this channel how many entries they had written.
export const others = "BroadcastChannel" in self ? new BroadcastChannel("dogshore") : null;

let opening;
const open = () => (opening ??= new Promise((done, fail) => {
  const ask = indexedDB.open("dogshore", 1);
  ask.onupgradeneeded = () => {
    ask.result.createObjectStore("thing", { keyPath: "seq", autoIncrement: true });
    ask.result.createObjectStore("picture", { keyPath: "id" });
    ask.result.createObjectStore("other", { keyPath: "name" });
  };
  ask.onsuccess = () => done(ask.result);
  ask.onerror = () => fail(ask.error);
}));

// within runs work in one transaction over all stores: all of it or nothing.
async function within(mode, work) {
  const db = await open();
  return new Promise((done, fail) => {
    const all = db.transaction(["thing", "picture", "other"], mode, { durability: "strict" });
    let out;
    all.oncomplete = () => done(out instanceof IDBRequest ? out.result : out);
    all.onerror = all.onabort = () => fail(all.error ?? new Error("not kept"));
    out = work((name) => all.objectStore(name));
  });
}

// things lists what is kept, in the order in which it was noted.
export const things = () => within("readonly", (s) => s("thing").getAll());

// put keeps new things with their pictures, and takes the place of those that
// they mend.
export async function put(list, mends = []) {
  await within("readwrite", (s) => {
    for (const seq of mends) s("thing").delete(seq);
    for (const { bytes, ...thing } of list) {
      if (bytes) s("picture").put({ id: thing.id, bytes });
      s("thing").add(thing);
    }
  });
  navigator.storage?.persist?.();
  tell();
}

// change writes things that are there already, or takes those away that are gone.
export async function change(list, gone = []) {
  await within("readwrite", (s) => {
    for (const thing of list) s("thing").put(thing);
    for (const thing of gone) {
      s("thing").delete(thing.seq);
      s("picture").delete(thing.id);
    }
  });
  tell();
}

// trying marks things as tried, before they are sent: from then on nobody but
// the program knows whether they are written. What was taken back meanwhile is
// left out.
export const trying = (list) => within("readwrite", (s) => {
  const still = [];
  for (const thing of list) {
    s("thing").get(thing.seq).onsuccess = ({ target }) => {
      if (!target.result) return;
      thing.tries = (thing.tries ?? 0) + 1;
      s("thing").put(thing);
      still.push(thing);
    };
  }
  return still;
});

// takeBack takes things away again: those that were never tried, or were
// refused, go; of the others an entry that strikes them is kept.
export async function takeBack(ids, visit) {
  await within("readwrite", (s) => {
    s("thing").getAll().onsuccess = ({ target }) => {
      for (const id of ids) {
        const thing = target.result.find((t) => t.id === id);
        if (thing && (!thing.tries || thing.why)) {
          s("thing").delete(thing.seq);
          s("picture").delete(id);
        } else {
          s("thing").add({ id: newId(), visit, kind: "entry", says: "Taken back", words: [thing?.says, thing?.words].filter(Boolean).join(": ") || "what was noted before", who: thing?.who, fields: {}, over: {}, strikes: id, after: [id], wall: new Date().toISOString() });
        }
      }
    };
  });
  tell();
}

// forget takes away the pages that this phone keeps of the build, for whoever
// is out is to read them no longer. What was noted and not sent stays: it is
// nowhere else.
export async function forget() {
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const { pathname } = new URL(request.url);
      if (pathname !== "/away" && !pathname.startsWith("/static/")) await cache.delete(request);
    }
  }
}

export const picture = async (id) => (await within("readonly", (s) => s("picture").get(id)))?.bytes;
export const other = async (name) => (await within("readonly", (s) => s("other").get(name)))?.value;
export const remember = (name, value) => within("readwrite", (s) => { s("other").put({ name, value }); });

// newId makes an id that sorts by time and that no one else makes (RFC 9562,
// version 7).
export function newId() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 5, t = Date.now(); i >= 0; i--, t = Math.floor(t / 256)) b[i] = t % 256;
  b[6] = (b[6] & 0x0f) | 0x70;
  b[8] = (b[8] & 0x3f) | 0x80;
  return [...b].map((x, i) => ([4, 6, 8, 10].includes(i) ? "-" : "") + x.toString(16).padStart(2, "0")).join("");
}
