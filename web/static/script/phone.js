// Says what is still on this phone, sends it when it can, and lays the page
// anew from what the program then says.
import { change, changed, missing, other, others, remember, takeBack, things } from "./kept.js";
import { send } from "./send.js";

let aside = null, last = { why: "" };

export default async function phone(element) {
  aside = element;
  document.addEventListener("click", here);
  const says = aside.querySelector(".kept-says");
  if (missing) {
    aside.hidden = false;
    says.textContent = missing;
    return;
  }
  changed.addEventListener("change", show);
  others?.addEventListener("message", ({ data }) => data.written > 0 && fresh(null, null, data.written).then(show));
  addEventListener("online", () => sending());
  document.addEventListener("visibilitychange", () => { if (!document.hidden) sending(); });
  aside.querySelector(".kept-send").addEventListener("click", () => marked(sending));
  document.querySelector(".visit-bar .undo")?.addEventListener("click", () => marked(undo));
  await show();
  service();
  sending(); // in the background: what was kept when the page was shut last
}

// here begins a defect at a stop: its part is chosen already.
function here({ target }) {
  const stop = target.closest?.(".here a") && target.closest(".stop");
  if (!stop) return;
  const name = stop.querySelector("h3 a").textContent;
  const option = [...document.querySelectorAll("#d-part option")].find((o) => o.text === name);
  if (option) option.selected = true;
}

// service has the browser keep these pages, and this one too.
async function service() {
  try {
    await navigator.serviceWorker.register("/service.js");
    const worker = (await navigator.serviceWorker.ready).active;
    if (!location.search.includes("as-of")) worker.postMessage({ keep: [location.pathname] });
  } catch {
    // The pages then need the connection; what is noted is kept all the same.
  }
}

// sending sends what there is and shows what came of it. It returns the thing
// that was just noted if it was refused.
export async function sending(form, button, thing) {
  if ((await things()).length > 0 || last.why) {
    last = await send();
    if (last.written > 0) await fresh(form, button, last.written);
    await show();
    if (last.why) later();
  }
  return thing && (await things()).find((t) => t.id === thing.id && t.why);
}

// later has the browser send by itself once there is a connection, with or
// without a window open, where it can; elsewhere the next page that is opened
// sends.
async function later() {
  try {
    await (await navigator.serviceWorker.ready).sync?.register("send");
  } catch {
    // The browser was told not to; it stays for the next opening.
  }
}

// fresh lays anew what the program has to say of this visit; a stop in which
// somebody is writing stays as it is.
async function fresh(form, button, written) {
  const note = document.querySelector(".fresh"); // one's own entries are nothing new; another's in between are
  if (note) note.dataset.after = Number(note.dataset.after) + written;
  const blank = document.getElementById("visit-name") && document.getElementById("set")?.textContent.includes('"visit/blank"');
  if (blank) return location.reload();
  if (!document.getElementById("set")) return;
  let page;
  try {
    const answer = await fetch(location.pathname, { cache: "no-store" });
    if (!answer.ok || answer.redirected) return;
    page = new DOMParser().parseFromString(await answer.text(), "text/html");
  } catch {
    return; // the connection went again; the page shows what it knew
  }
  const here = form?.closest(".stop"), at = here?.id, turn = here && button ? [...here.querySelectorAll("button")].indexOf(button) : -1;
  for (const stop of document.querySelectorAll(".stop")) {
    const other = page.getElementById(stop.id);
    if (!other || writing(stop) || stop.id !== at && stop.querySelector("details[open]")) continue;
    stop.replaceWith(other);
    await enhance(other);
    if (stop.id === at && turn >= 0) other.querySelectorAll("button")[turn]?.focus({ preventScroll: true });
  }
  for (const part of ["#set", ".found", ".doubts"]) document.querySelector(part)?.replaceWith(page.querySelector(part));
}

const writing = (e) => [...e.querySelectorAll("input, textarea")].some((i) => i.type !== "hidden" && i.value !== i.defaultValue);

async function enhance(piece) {
  for (const e of piece.querySelectorAll("[data-enhance]")) (await import(`./${e.dataset.enhance}.js`)).default(e);
}

// show says what is still on this phone: in words, as a list, and at the taps.
async function show() {
  const every = await things(), key = aside.dataset.visit && decodeURIComponent(location.pathname.split("/")[2] ?? "");
  const struck = new Set(every.map((t) => t.strikes));
  const all = every.filter((t) => !struck.has(t.id)); // what is taken back is one line, not two
  const refused = all.filter((t) => t.why).length;
  const bar = document.querySelector(".bar-kept");
  const text = all.length === 0 ? "Everything noted here is in the record." : `${count(all.length)} still on this phone, not in the record yet${refused ? `; ${count(refused)} refused` : ""}${last.why ? ` (${last.why})` : ""}.`;
  aside.hidden = false;
  if (aside.querySelector(".kept-says").textContent !== text) aside.querySelector(".kept-says").textContent = text;
  aside.querySelector(".kept-send").hidden = all.length === refused;
  const what = aside.querySelector(".kept-what");
  what.hidden = all.length === 0;
  what.open ||= refused > 0;
  aside.querySelector(".kept-list").replaceChildren(...all.map((t) => line(t, key)));
  for (const form of document.querySelectorAll("form.tap[data-step]")) {
    tapped(form, all.findLast((t) => t.visit === key && t.kind === "sighting" && t.step === form.dataset.step));
  }
  if (bar) {
    const stack = await other(`last ${key}`) ?? [];
    const latest = stack.at(-1), button = bar.querySelector(".undo");
    button.hidden = !latest;
    button.textContent = latest ? `Undo: ${latest.says.slice(0, 40)}` : "";
    bar.querySelector(".bar-says").textContent = all.length ? `${all.length} on this phone` : "";
    bar.hidden = !latest && all.length === 0;
  }
  begunHere(all, key);
}

const count = (n) => n === 1 ? "1 thing" : `${n} things`;

// line is one kept thing: what it is, where it stands, and what one can do.
function line(thing, key) {
  const li = document.createElement("li");
  const p = Object.assign(document.createElement("p"), { textContent: [thing.says, thing.words].filter(Boolean).join(": ") });
  li.append(p);
  if (thing.visit !== key) {
    const a = Object.assign(document.createElement("a"), { href: `/visit/${encodeURIComponent(thing.visit)}`, textContent: "its visit" });
    p.append(" (", a, ")");
  }
  if (!thing.why) return li;
  li.append(Object.assign(document.createElement("p"), { className: "wrong-why", textContent: thing.why }));
  const buttons = Object.assign(document.createElement("p"), { className: "buttons" });
  const form = thing.visit === key && document.getElementById(`form-${thing.kind}`);
  if (form) buttons.append(press("Mend it", async () => (await import("./note.js")).fill(form, thing)));
  buttons.append(press("Send it again", async () => { await change([{ ...thing, why: "" }]); await sending(); }));
  buttons.append(press("Throw it away", () => change([], [thing])));
  li.append(buttons);
  return li;
}

function press(text, does) {
  const b = Object.assign(document.createElement("button"), { type: "button", textContent: text });
  b.addEventListener("click", () => marked(does));
  return b;
}

// tapped marks a stage as noted on this phone, or as the page had it.
function tapped(form, thing) {
  const now = form.querySelector(".now"), buttons = [...form.querySelectorAll(".taps button")];
  form.dataset.was ??= JSON.stringify([now.textContent, buttons.findIndex((b) => b.ariaPressed === "true")]);
  const [text, pressed] = JSON.parse(form.dataset.was);
  now.textContent = thing ? `noted now, on this phone: ${thing.fields.state}` : text;
  buttons.forEach((b, i) => {
    const on = thing ? b.value === thing.fields.state : i === pressed;
    b.classList.toggle("main", on);
    if (on) b.setAttribute("aria-pressed", "true");
    else b.removeAttribute("aria-pressed");
  });
}

// begunHere names a visit that the record does not know of yet.
function begunHere(all, key) {
  const begun = all.find((t) => t.kind === "visit" && t.id === key);
  const name = document.getElementById("visit-name");
  if (begun && name) name.textContent = `Visit of ${begun.fields.day}, begun on this phone`;
}

// undo takes the last thing back that was noted at this visit.
async function undo() {
  const key = decodeURIComponent(location.pathname.split("/")[2] ?? ""), name = `last ${key}`;
  const stack = await other(name) ?? [];
  const latest = stack.at(-1);
  if (!latest) return;
  await remember(name, stack.slice(0, -1));
  await takeBack(latest.ids, key);
  await sending();
}

// marked does something that moves the page, and marks when that is done.
async function marked(does) {
  document.documentElement.removeAttribute("data-settled");
  try {
    await does();
  } finally {
    document.documentElement.dataset.settled = "";
  }
}
