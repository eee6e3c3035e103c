// Lays a ring over each end, eye and guide of the deck's drawing. A ring moves
// under mouse, finger or arrow keys; while it moves the server works the lines
// that it holds, and when it is let go the whole arrangement. What is picked
// from the list is shown alone; the drawing comes closer by buttons, two
// fingers or keys. Without this script the places are typed in the form.
import frame from "./deckframe.js";

const svgNS = "http://www.w3.org/2000/svg";
const make = (name, attributes) => {
  const e = document.createElementNS(svgNS, name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  return e;
};
const metres = (v) => String(Math.round(v * 100) / 100);

export default function deck(form) {
  const sheet = document.getElementById("deck-sheet");
  let overlay, view, newest = 0, whole = 0, busy = false, waiting = null, picked = "";
  const only = form.querySelector('input[name="show"]');
  if (only) [picked] = [only.value, only.remove()];

  // The view carries metres to the drawing's sheet and back, bow to the right
  // or bow up.
  const viewOf = (drawn) => {
    const [s, x0, y0] = drawn.dataset.scale.split(" ").map(Number);
    return "up" in drawn.dataset
      ? { up: true, s, to: (x, y) => [x0 - s * y, y0 - s * x], from: (X, Y) => [(y0 - Y) / s, (x0 - X) / s] }
      : { up: false, s, to: (x, y) => [x0 + s * x, y0 - s * y], from: (X, Y) => [(X - x0) / s, (y0 - Y) / s] };
  };
  const spotOf = (input) => input.value.replaceAll(",", ".").split(";").map((t) => Number.parseFloat(t));
  const perPx = () => overlay.viewBox.baseVal.width / overlay.getBoundingClientRect().width;

  const close = frame(sheet, () => size());
  const lay = () => {
    overlay?.remove();
    const drawn = [...sheet.querySelectorAll(".deck-drawn")].find((d) => d.offsetParent);
    if (!drawn) return;
    view = viewOf(drawn);
    overlay = make("svg", { viewBox: drawn.dataset.box, class: "deck-hands" });
    drawn.querySelector(".deck-paper").append(overlay);
    for (const input of form.querySelectorAll("input[data-spot]")) ring(input);
    size();
    alone();
  };
  // A ring is at least 44 px wide to a finger, whatever the drawing's size.
  const size = () => {
    const px = perPx();
    for (const c of overlay.querySelectorAll(".wide")) c.setAttribute("r", 23 * px);
    for (const c of overlay.querySelectorAll(".seen")) c.setAttribute("r", Math.min(2.4, Math.max(1.5, 6 * px)));
  };

  const ring = (input) => {
    const name = form.querySelector(`label[for="${CSS.escape(input.id)}"]`).textContent;
    const g = make("g", { class: "deck-ring", tabindex: 0, role: "button", "aria-label": `Move: ${name}` });
    g.append(make("circle", { class: "wide" }), make("circle", { class: "seen" }));
    const place = () => {
      const [x, y] = spotOf(input);
      if (Number.isFinite(x) && Number.isFinite(y)) g.setAttribute("transform", `translate(${view.to(x, y).map((v) => v.toFixed(3)).join(" ")})`);
    };
    place();
    overlay.append(g);
    let from = null;
    const to = (x, y) => {
      const z = input.value.split(";")[2] ?? " 0";
      input.value = `${metres(x)}; ${metres(y)};${z}`;
      place();
    };
    const begin = () => document.documentElement.removeAttribute("data-settled");
    g.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      g.setPointerCapture(event.pointerId);
      g.focus({ preventScroll: true });
      from = { id: event.pointerId, x: event.clientX, y: event.clientY, at: view.to(...spotOf(input)) };
      begin();
      event.preventDefault();
    });
    g.addEventListener("pointermove", (event) => {
      if (from?.id !== event.pointerId) return;
      to(...view.from(from.at[0] + (event.clientX - from.x) * perPx(), from.at[1] + (event.clientY - from.y) * perPx()));
      hold(input, event.clientX, event.clientY);
    });
    const drop = (event) => { if (from?.id === event.pointerId) { from = null; ask(input.id); } };
    g.addEventListener("pointerup", drop);
    g.addEventListener("pointercancel", drop);
    g.addEventListener("keydown", (event) => {
      const step = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!step || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      event.stopPropagation(); // the frame does not move along
      const by = (event.shiftKey ? 0.1 : 0.01) * view.s, at = view.to(...spotOf(input));
      begin();
      to(...view.from(at[0] + by * step[0], at[1] + by * step[1]));
      const box = g.getBoundingClientRect();
      hold(input, box.right, box.top);
      clearTimeout(whole);
      whole = setTimeout(() => ask(input.id), 700);
    });
  };

  // What the hand holds: its lines as they would run, and their figures. One
  // question is on the way at a time; the newest place is asked for next.
  const say = Object.assign(document.createElement("p"), { className: "hand", hidden: true });
  say.setAttribute("role", "status");
  form.before(say);
  const hold = (input, x, y) => {
    waiting = { input, x, y };
    if (!busy) next();
  };
  const next = async () => {
    const { input, x, y } = waiting;
    [waiting, busy] = [null, true];
    const turn = newest;
    try {
      const q = new URLSearchParams(new FormData(form));
      q.set("held", input.name.replace(/^at\./, ""));
      if (view.up) q.set("up", "1");
      const answer = await (await fetch(`/deck/hand?${q}`)).json();
      if (turn === newest) show(answer, input, x, y);
    } catch {
      // The program sleeps; what is in the hand stays in sight.
    }
    busy = false;
    if (waiting) next();
  };
  const show = (answer, input, x, y) => {
    overlay.querySelectorAll(".deck-tried").forEach((e) => e.remove());
    for (const line of answer.lines ?? []) {
      for (const d of line.reach ?? []) overlay.prepend(make("path", { class: "deck-tried reach", d }));
      overlay.prepend(make("path", { class: "deck-tried run", d: line.run }));
      follow(line);
    }
    const where = input.value.split(";").map((t) => t.trim());
    say.textContent = `${where[0]} m forward, ${where[1]} m to port. ${(answer.says ?? []).join(" ")}`;
    say.hidden = false;
    const wide = Math.min(300, innerWidth - 24);
    say.style.left = `${Math.round(Math.max(8, Math.min(x + 30, innerWidth - wide - 8)))}px`;
    say.style.top = `${Math.round(Math.max(8, y - say.offsetHeight - 34))}px`;
  };
  // The figures of a line that the hand holds follow it beside the drawing.
  const follow = (line) => {
    const entry = sheet.querySelector(`.deck-picks details[data-of="${CSS.escape(line.of)}"]`);
    const list = entry?.querySelector(".deck-facts");
    if (!list) return;
    if (!sheet.querySelector(".deck-picks details[open]")) entry.open = true;
    list.replaceChildren(...line.deck-facts.map(([label, text]) => {
      const row = document.createElement("div");
      row.append(Object.assign(document.createElement("dt"), { textContent: label[0].toUpperCase() + label.slice(1) }), Object.assign(document.createElement("dd"), { textContent: text }));
      return row;
    }));
    list.classList.add("held");
  };

  // Let go: the whole arrangement is worked, and every figure of the page
  // follows; only the newest answer counts. The drawing stays where it is on
  // the screen.
  const ask = async (focus) => {
    const turn = ++newest;
    waiting = null;
    const at = new URL("/deck", location.href);
    at.search = new URLSearchParams(new FormData(form));
    try {
      const answer = await fetch(at);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (turn !== newest) return;
      if (answer.ok) take(page, at, focus);
    } catch {
      // The program sleeps; the places typed stay in the form.
    }
    say.hidden = true;
    document.documentElement.dataset.settled = "";
  };
  const take = (page, at, focus) => {
    const opened = [...document.querySelectorAll("#deck-numbers details[open] > summary")].map((s) => s.textContent);
    const top = sheet.getBoundingClientRect().top, keep = close.keep();
    for (const id of ["deck-answer", "deck-drawn", "deck-picks", "deck-numbers", "deck-places"]) {
      const fresh = page.getElementById(id), old = document.getElementById(id);
      if (fresh && old) old.replaceChildren(...fresh.childNodes);
    }
    for (const s of document.querySelectorAll("#deck-numbers details:not([open]) > summary")) if (opened.includes(s.textContent)) s.parentElement.open = true;
    history.replaceState(null, "", at);
    close.again(keep);
    picks();
    lay();
    const rings = [...form.querySelectorAll("input[data-spot]")], held = document.getElementById(focus);
    if (held) overlay.querySelectorAll(".deck-ring")[rings.indexOf(held)]?.focus({ preventScroll: true });
    scrollBy({ top: sheet.getBoundingClientRect().top - top, behavior: "instant" });
  };

  // What is open in the list is drawn alone, with what belongs to it.
  const alone = () => {
    for (const g of sheet.querySelectorAll("#deck-drawn [data-of]")) {
      const mine = g.dataset.of.split(" ").includes(picked);
      g.classList.toggle("apart", g.dataset.layer === "alone" ? !mine : Boolean(picked) && !mine);
    }
  };
  const picks = () => {
    const all = [...sheet.querySelectorAll(".deck-picks details")];
    for (const d of all) {
      d.open = d.dataset.of === picked;
      d.addEventListener("toggle", () => {
        picked = all.find((x) => x.open)?.dataset.of ?? "";
        alone();
      });
    }
  };
  sheet.addEventListener("click", (event) => {
    const link = event.target.closest("#deck-drawn a");
    const of = link && decodeURIComponent(link.getAttribute("href").split("?")[0].replace(/^\/of\//, ""));
    const entry = of && sheet.querySelector(`.deck-picks details[data-of="${CSS.escape(of)}"]`);
    if (!entry) return;
    event.preventDefault();
    entry.open = !entry.open;
  });

  sheet.classList.add("live");
  matchMedia("(max-width: 40rem) and (orientation: portrait)").addEventListener("change", lay);
  addEventListener("resize", () => { if (overlay) size(); });
  picks();
  lay();
}
