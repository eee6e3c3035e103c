// Lays a ring over each end, eye and guide of the deck's drawing. A ring moves
// under mouse, finger or arrow keys; while it moves the server works the lines
// that it holds, and when it is let go the whole arrangement. Without this
// script the places are typed in the form.
const svgNS = "http://www.w3.org/2000/svg";
const make = (name, attributes) => {
  const e = document.createElementNS(svgNS, name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  return e;
};

export default function deck(form) {
  let overlay, scale, origin, newest = 0, whole = 0, busy = false, waiting = null;

  const lay = () => {
    const figure = document.getElementById("deck-drawing");
    const drawing = figure.querySelector("svg");
    const [s, x0, y0] = figure.dataset.scale.split(" ").map(Number);
    [scale, origin] = [s, [x0, y0]];
    const frame = document.createElement("div");
    frame.className = "deck-frame";
    drawing.before(frame);
    frame.append(drawing);
    overlay = make("svg", { viewBox: figure.dataset.box, class: "deck-hands" });
    frame.append(overlay);
    for (const input of form.querySelectorAll("input[data-x]")) ring(input);
  };

  // A ring is at least 44 px wide to a finger, whatever the drawing's size.
  const ring = (input) => {
    const perPx = overlay.viewBox.baseVal.width / overlay.getBoundingClientRect().width;
    const name = form.querySelector(`label[for="${input.id}"]`).textContent;
    const g = make("g", { class: "deck-ring", tabindex: 0, role: "button", "aria-label": `Move: ${name}` });
    g.append(make("circle", { class: "wide", r: 23 * perPx }), make("circle", { class: "seen", r: Math.max(1.6, 6 * perPx) }));
    const place = () => g.setAttribute("transform", `translate(${input.dataset.x} ${input.dataset.y})`);
    place();
    overlay.append(g);
    let from = null;
    const to = (x, y) => {
      [input.dataset.x, input.dataset.y] = [x.toFixed(3), y.toFixed(3)];
      const [, , z] = input.value.split(";");
      input.value = `${metres((x - origin[0]) / scale)}; ${metres((origin[1] - y) / scale)};${z ?? " 0"}`;
      place();
    };
    g.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      g.setPointerCapture(event.pointerId);
      from = { x: event.clientX, y: event.clientY, at: [Number(input.dataset.x), Number(input.dataset.y)] };
      document.documentElement.removeAttribute("data-settled");
      event.preventDefault();
    });
    g.addEventListener("pointermove", (event) => {
      if (!from) return;
      to(from.at[0] + (event.clientX - from.x) * perPx, from.at[1] + (event.clientY - from.y) * perPx);
      hold(input, event.clientX, event.clientY);
    });
    const drop = () => { if (from) { from = null; say.hidden = true; ask(input.id); } };
    g.addEventListener("pointerup", drop);
    g.addEventListener("pointercancel", drop);
    g.addEventListener("keydown", (event) => {
      const step = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!step || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      const by = 0.01 * (event.shiftKey ? 10 : 1) * scale;
      document.documentElement.removeAttribute("data-settled");
      to(Number(input.dataset.x) + by * step[0], Number(input.dataset.y) + by * step[1]);
      const box = g.getBoundingClientRect();
      hold(input, box.right, box.top);
      clearTimeout(whole);
      whole = setTimeout(() => ask(input.id), 700);
    });
  };
  const metres = (v) => String(Math.round(v * 100) / 100);

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
      const answer = await (await fetch(`/deck/hand?${q}`)).json();
      if (turn === newest) show(answer, x, y);
    } catch {
      // The program sleeps; what is in the hand stays in sight.
    }
    busy = false;
    if (waiting) next();
  };
  const show = (answer, x, y) => {
    overlay.querySelectorAll(".deck-tried").forEach((e) => e.remove());
    for (const line of answer.lines ?? []) {
      for (const d of line.reach ?? []) overlay.prepend(make("path", { class: "deck-tried reach", d }));
      overlay.prepend(make("path", { class: "deck-tried run", d: line.run }));
    }
    say.textContent = (answer.says ?? []).join(" ");
    say.hidden = !say.textContent;
    say.style.left = `${Math.round(Math.max(8, Math.min(x + 24, innerWidth - 300)))}px`;
    say.style.top = `${Math.round(Math.max(8, y - 90))}px`;
  };

  // Let go: the whole arrangement is worked, and every figure of the page
  // follows; only the newest answer counts.
  const ask = async (focus) => {
    const turn = ++newest;
    [waiting, say.hidden] = [null, true];
    const at = new URL("/deck", location.href);
    at.search = new URLSearchParams(new FormData(form));
    try {
      const answer = await fetch(at);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (turn !== newest || !answer.ok) return;
      for (const id of ["deck-answer", "deck-numbers", "deck-places"]) {
        const fresh = page.getElementById(id), old = document.getElementById(id);
        if (fresh && old) old.replaceChildren(...fresh.childNodes);
      }
      history.replaceState(null, "", at);
      lay();
      const held = document.getElementById(focus);
      const rings = [...form.querySelectorAll("input[data-x]")];
      if (held) overlay.querySelectorAll(".deck-ring")[rings.indexOf(held)]?.focus({ preventScroll: true });
    } catch {
      // The program sleeps; the places typed stay in the form.
    }
    document.documentElement.dataset.settled = "";
  };

  lay();
}
