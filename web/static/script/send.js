// Sends what this phone keeps. One page of this browser sends at a time; what
// was sent and got no answer is sent again, and written once.
import { change, forget, others, picture, things, trying } from "./kept.js";

const most = 100;         // things in one sending,
const longest = 400_000;  // and characters
const piece = 384 * 1024; // bytes of a picture in one sending
const patience = 20000;   // milliseconds for one sending

// send tries to send everything, and says what came of it: how many entries
// were written, and why it went no further ("" if all is sent or refused).
export const send = () => navigator.locks.request("dogshore-send", async () => {
  const sum = { written: 0, why: "" };
  try {
    await ask("/last", {}); // while nobody answers nothing is tried, and can be taken back
    while (await some(sum));
  } catch (error) {
    sum.why = error.says ?? "no connection";
  }
  if (sum.written > 0) others?.postMessage({ written: sum.written });
  return sum;
});

// some sends the next things that can go; it reports whether there were any.
async function some(sum) {
  const all = await things();
  const waiting = new Set(all.map((t) => t.id));
  const free = all.filter((t) => !t.why && !(t.after ?? []).some((id) => waiting.has(id)));
  if (free.length === 0) return false;
  let next = free.filter((t) => !t.picture || t.picture.sent);
  if (next.length === 0) { // words first; a picture takes its time
    if (!await upload(free[0])) return true;
    next = [free[0]];
  }
  let length = 0;
  next = next.filter((t) => t.visit === next[0].visit).slice(0, most)
    .filter((t, i) => (length += JSON.stringify(t).length) < longest || i === 0);
  next = await trying(next);
  if (next.length === 0) return true;
  const answer = await ask(`/visit/${encodeURIComponent(next[0].visit)}/sent`, {
    method: "POST", headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ things: next.map(({ id, kind, who, wall, fields, over, strikes }) => ({ id, kind, who, wall, fields, over, strikes })) }),
  });
  const states = new Map(answer.things.map((x) => [x.id, x]));
  const gone = [], stays = [];
  for (const t of next) {
    const x = states.get(t.id);
    if (x?.state === "written" || x?.state === "there") gone.push(t);
    else stays.push({ ...t, why: x?.why || "It was not answered." });
    if (x?.state === "written") sum.written++;
  }
  await change(stays, gone);
  return true;
}

// upload sends a picture in pieces, from where the last try broke off; false if
// it is refused.
async function upload(thing) {
  try {
    await pieces(thing);
    return true;
  } catch (error) {
    if (error.status !== 422 && error.status !== 413 && error.status !== 0) throw error;
    await change([{ ...thing, why: error.says }]);
    return false;
  }
}

async function pieces(thing) {
  const bytes = await picture(thing.id);
  if (!bytes) throw Object.assign(new Error(), { status: 0, says: "Its picture is no longer on this phone." });
  const at = `/visit/${encodeURIComponent(thing.visit)}/sent/${thing.picture.hash}`;
  let here = await ask(at, {});
  while (!here.whole) {
    const from = here.have;
    here = await ask(`${at}?from=${from}&size=${bytes.byteLength}`, {
      method: "POST", headers: { "Content-Type": "application/octet-stream" }, body: bytes.slice(from, from + piece),
    });
    if (!here.whole && here.have <= from) throw Object.assign(new Error(), { says: "a picture does not get through" });
  }
  thing.picture.sent = true;
  await change([thing]);
}

// ask sends a request and reads the answer; anything but a plain yes is a
// reason to stop and keep what there is.
async function ask(at, options) {
  const answer = await fetch(at, { ...options, cache: "no-store", credentials: "same-origin", signal: AbortSignal.timeout(patience) });
  if (answer.redirected || answer.status === 401) {
    if (answer.headers.get("WWW-Authenticate")?.includes("put out")) await forget();
    throw Object.assign(new Error(), { says: "the program asks you to sign in first" });
  }
  if (!answer.ok) {
    throw Object.assign(new Error(), { status: answer.status, says: headOf(await answer.text()) || `the program answered ${answer.status}` });
  }
  return answer.json();
}

// headOf reads the heading of one of the program's pages. Where no window is
// there is no parser either.
const headOf = (page) => (/<h1[^>]*>([^<]+)/.exec(page)?.[1] ?? "")
  .replace(/&#(\d+);/g, (_, n) => String.fromCodePoint(Number(n))).replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&amp;", "&");
