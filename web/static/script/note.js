// A form of a visit's sheet: what it says is kept on this phone first, and then
// sent. Where nothing can be kept the form does what it does without script.
import { missing, newId, other, picture, put, remember, things } from "./kept.js";
import { sending } from "./phone.js";

export const visitKey = () => decodeURIComponent(location.pathname.split("/")[2] ?? "");
export const set = () => JSON.parse(document.getElementById("set")?.textContent ?? "{}");

export default async function note(form) {
  for (const button of form.querySelectorAll("[data-add]")) {
    button.hidden = false;
    button.addEventListener("click", () => add(document.getElementById(button.dataset.to), button.dataset.add));
  }
  if (missing) {
    if (form.classList.contains("tap")) (await import("./tap.js")).default(form);
    return;
  }
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const button = event.submitter;
    document.documentElement.removeAttribute("data-settled");
    form.setAttribute("aria-busy", "true");
    try {
      const kept = await keep(form, button);
      form.removeAttribute("aria-busy");
      form.querySelectorAll(".wrong-why").forEach((p) => p.remove());
      delete form.dataset.mends;
      form.reset();
      const refused = await sending(form, button, kept);
      if (refused) fill(form, refused);
    } catch (error) { // the browser's store is full, or shut: the page itself writes it
      form.removeAttribute("aria-busy");
      form.append(Object.assign(document.createElement("input"), { type: "hidden", name: button?.name ?? "", value: button?.value ?? "" }));
      form.submit();
      return;
    }
    document.documentElement.dataset.settled = "";
  });
}

// kindOf is what a form writes: its address ends in it.
const kindOf = (form) => form.getAttribute("action").split("/").pop();

// saysOf is the stage that a tap is about.
const saysOf = (form) => form.elements.step.selectedOptions?.[0]?.text ?? form.querySelector(".tap-name > span:not(.number)").textContent;

// keyOf is the key of a step that is called so, where the page does not say
// another.
const keyOf = (step) => step.startsWith("step/") ? step.slice(5) : step.toLowerCase().replaceAll(" ", "-");

// add puts words where one writes.
function add(area, words) {
  const before = area.value.slice(0, area.selectionStart), after = area.value.slice(area.selectionEnd);
  area.value = before + (before && !/\s$/.test(before) ? " " : "") + words + after;
  area.focus();
  area.dispatchEvent(new Event("input", { bubbles: true }));
}

// keep makes things of a form and keeps them: the thing itself, and of a
// picture sent with a defect that picture and that it shows the defect.
async function keep(form, button) {
  const kind = kindOf(form), { says = saysOf(form) } = form.dataset;
  const fields = {};
  let file = null;
  for (const [name, value] of new FormData(form, button)) {
    if (value instanceof File) file = value.size > 0 ? value : file;
    else if (name !== "stop") fields[name] = value;
  }
  const visit = visitKey(), group = newId(), mends = [];
  const common = { visit, group, who: set().who, wall: new Date().toISOString(), over: {} };
  const thing = { ...common, id: newId(), kind, says, fields, words: wordsOf(form, fields) };
  let shot = file && await taken(file);
  if (form.dataset.mends) {
    const old = (await things()).find((t) => t.seq === Number(form.dataset.mends));
    if (old) mends.push(old.seq);
    if (!shot && old?.picture) shot = { ...old.picture, sent: false, bytes: await picture(old.id) };
  }
  const list = [thing];
  if (kind === "sighting") await over(thing, form);
  if (kind === "photo" && shot) pictured(thing, shot);
  if (kind === "defect" && shot) {
    const where = fields.part?.startsWith("place/") ? "place" : "part";
    const photo = { ...common, id: newId(), kind: "photo", says: "Picture", words: fields.what, fields: { note: fields.what, [where]: fields.part ?? "" } };
    pictured(photo, shot);
    list.push(photo, { ...common, id: newId(), kind: "evidence", says: "Picture", words: `shows ${fields.what}`, after: [thing.id, photo.id],
      fields: { shows: `defect/${thing.id}`, photo: `photo/${photo.id}` } });
  }
  await put(list, mends);
  const name = `last ${visit}`;
  await remember(name, [...(await other(name) ?? []).slice(-19), { ids: list.map((t) => t.id), says: `${says}, ${thing.words}` }]);
  return thing;
}

// taken reads a picture as it is; its name is its content's, so that a broken
// sending goes on where it stopped.
async function taken(file) {
  const bytes = await file.arrayBuffer();
  const hash = [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))].map((x) => x.toString(16).padStart(2, "0")).join("");
  return { bytes, hash, name: file.name || "picture.jpg", size: bytes.byteLength };
}

function pictured(thing, { bytes, ...shot }) {
  thing.picture = shot;
  thing.bytes = bytes;
  thing.fields.file = `sha256:${shot.hash} ${shot.name}`;
}

// over says which entries this phone was showing of a step: those of the page,
// and those of its own that the page does not know yet.
async function over(thing, form) {
  const option = [...document.querySelectorAll("#all-steps option")].find((o) => o.value === thing.fields.step);
  thing.step = form.dataset.step ?? option?.dataset.key ?? keyOf(thing.fields.step);
  const name = `over ${thing.visit} ${thing.step}`, own = await other(name) ?? [];
  const shown = (set().over?.[thing.step] ?? "").split(" ");
  const all = [...new Set([...shown, ...own])].filter(Boolean).slice(-12).join(" ");
  for (const field of ["visit", "step", "state"]) thing.over[field] = all;
  await remember(name, [...own.slice(-7), thing.id]);
}

// wordsOf says in a line what a form says.
function wordsOf(form, fields) {
  const first = fields.state && form.classList.contains("tap") ? fields.state
    : fields.text || fields.says || fields.got || fields.name || fields.note || [fields.step, fields.state].filter(Boolean).join(", ") || fields.when || "";
  return (fields.what && !fields.got && kindOf(form) === "defect" ? fields.what : first).slice(0, 80);
}

// fill puts a refused thing back into its form, with the words that say why.
export function fill(form, thing) {
  for (const [name, value] of Object.entries(thing.fields)) {
    for (const e of form.elements[name] instanceof RadioNodeList ? form.elements[name] : [form.elements[name]].filter(Boolean)) {
      if (e.type === "radio") e.checked = e.value === value;
      else if (e.type !== "file" && e.tagName !== "BUTTON") e.value = value;
    }
  }
  form.dataset.mends = thing.seq;
  form.querySelectorAll(".wrong-why").forEach((p) => p.remove());
  const why = Object.assign(document.createElement("p"), { className: "wrote wrong-why", textContent: thing.why });
  why.setAttribute("role", "alert");
  form.prepend(why);
  form.scrollIntoView({ block: "nearest" });
}
