// Marks and draws over a picture: by mouse, by finger, or by keys with a cross
// that the arrows move. What stands in the forms below is what counts; this
// script only fills it in, so all of it can be typed as well.
const svgNS = "http://www.w3.org/2000/svg";
const make = (name, attributes = {}) => {
  const e = document.createElementNS(svgNS, name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  return e;
};
const metres = (v) => String(Math.round(v * 1000) / 1000 + 0);
const near = 14; // px, within which a point on record is taken

export default async function trace(stage) {
  const tools = stage.querySelector(".trace-tools");
  const scaleForm = document.getElementById("trace-scale"), form = document.getElementById("trace-outline");
  if (!tools || !form) return;
  const text = form.elements[stage.dataset.path];
  const view = stage.querySelector(".trace-window"), frame = stage.querySelector(".trace-frame"), image = frame.querySelector("img");
  const over = frame.querySelector("svg"), says = tools.querySelector(".trace-says");
  const [w, h] = [Number(stage.dataset.w), Number(stage.dataset.h)];
  const map = stage.dataset.map ? stage.dataset.map.split(" ").map(Number) : null;
  const closed = stage.dataset.closed === "true";
  const layer = over.appendChild(make("g"));
  let zoom = 1, held = -1, cross = [w / 2, h / 2];
  const undo = [];

  // From pixels to metres and back; without the two points there is neither.
  const toBoat = ([l, d]) => [map[0] * l + map[1] * d + map[2], map[3] * l + map[4] * d + map[5]];
  const toPicture = ([x, y]) => {
    const [a, b, c, p, q, r] = map, det = a * q - b * p;
    return [(q * (x - c) - b * (y - r)) / det, (a * (y - r) - p * (x - c)) / det];
  };
  const perPx = () => w / frame.getBoundingClientRect().width;

  // The outline as the field has it; what can't be read is no corner.
  const read = () => text.value.split(";").map((s) => s.trim().split(/\s+/).map((n) => Number(n.replace(",", ".")))).filter((p) => p.length === 2 && p.every(Number.isFinite));
  const write = (points) => { text.value = points.map((p) => p.map(metres).join(" ")).join("; "); };
  const marks = () => ["a", "b", "c"].map((name) => ({ name, left: scaleForm.elements[`${name}_left`], down: scaleForm.elements[`${name}_down`] }));
  const keep = () => {
    undo.push([text.value, ...marks().flatMap((m) => [m.left.value, m.down.value])]);
    if (undo.length > 200) undo.shift();
  };
  const takeBack = () => {
    const was = undo.pop();
    if (!was) return say("There is nothing to undo.");
    text.value = was[0];
    marks().forEach((m, i) => ([m.left.value, m.down.value] = was.slice(1 + 2 * i, 3 + 2 * i)));
    held = -1;
    draw();
    say("Undone.");
  };
  const say = (what) => { says.textContent = what; };
  const tool = () => tools.querySelector("input[name=tool]:checked")?.value;

  // The nearest corner on record, if one is near and is to be taken.
  const snap = (at) => {
    if (!tools.querySelector("[data-do=snap]").checked) return null;
    let best = null, least = near * perPx();
    for (const v of over.querySelectorAll(".trace-vertex")) {
      const d = Math.hypot(v.cx.baseVal.value - at[0], v.cy.baseVal.value - at[1]);
      if (d < least) [best, least] = [v, d];
    }
    return best;
  };
  const inside = ([l, d]) => [Math.min(w, Math.max(0, l)), Math.min(h, Math.max(0, d))];
  const boat = (at) => {
    const v = snap(at);
    const p = v ? v.dataset.at.split(" ").map(Number) : toBoat(at);
    say(`x ${metres(p[0])}, y ${metres(p[1])} m${v ? `, on a corner of ${v.dataset.of}` : ""}`);
    return p;
  };

  const place = (at) => {
    at = inside(at);
    if (tool() !== "draw") {
      keep();
      mark(marks().find((m) => m.name === tool()), at);
      say("Marked. Type its place on the boat below; the two points count once they are written.");
      return draw();
    }
    if (!map) return say("First mark two known points and write them; then outlines can be drawn.");
    keep();
    const points = read();
    points.push(boat(at));
    write(points);
    held = points.length - 1;
    draw();
  };
  const mark = (m, [l, d]) => { m.left.value = l.toFixed(1); m.down.value = d.toFixed(1); };

  // A handle is at least 44 px wide to a finger, whatever the picture's size.
  const handle = (at, name, label, to, extra = {}) => {
    const k = perPx();
    const g = make("g", { class: `trace-handle${extra.mark ? " mark" : ""}${extra.held ? " held" : ""}`, tabindex: 0, role: "button", "aria-label": name });
    g.append(make("circle", { class: "wide", r: 23 * k }), make("circle", { class: "seen", r: 6 * k }));
    if (label) {
      const t = make("text", { x: 10 * k, y: -8 * k, "font-size": 15 * k, "aria-hidden": "true" });
      t.textContent = label;
      g.append(t);
    }
    const put = () => g.setAttribute("transform", `translate(${at[0]} ${at[1]})`);
    put();
    let from = null;
    g.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      g.setPointerCapture(event.pointerId);
      keep();
      from = { x: event.clientX, y: event.clientY, at, moved: false };
      extra.hold?.();
      event.preventDefault();
      g.focus({ preventScroll: true });
    });
    g.addEventListener("pointermove", (event) => {
      if (!from) return;
      from.moved ||= Math.hypot(event.clientX - from.x, event.clientY - from.y) > 2;
      if (!from.moved) return;
      at = inside([from.at[0] + (event.clientX - from.x) * perPx(), from.at[1] + (event.clientY - from.y) * perPx()]);
      put();
      to(at);
      line();
      loupe(at, event.clientX, event.clientY);
    });
    const drop = () => {
      if (!from) return;
      if (!from.moved) undo.pop();
      from = null;
      glass.hidden = true;
      draw();
      refocus(name);
    };
    g.addEventListener("pointerup", drop);
    g.addEventListener("pointercancel", drop);
    g.addEventListener("click", (event) => event.stopPropagation());
    g.addEventListener("focus", () => extra.hold?.());
    g.addEventListener("keydown", (event) => {
      const step = arrow(event);
      if (step) {
        keep();
        at = inside([at[0] + step[0], at[1] + step[1]]);
        to(at);
        draw();
        refocus(name);
      } else if (event.key === "Delete" && extra.out) {
        event.preventDefault();
        extra.out();
      }
      if (step || event.key === "Delete" || event.key === "Enter") event.stopPropagation();
    });
    layer.append(g);
  };
  const refocus = (name) => [...layer.querySelectorAll(".trace-handle")].find((g) => g.getAttribute("aria-label") === name)?.focus({ preventScroll: true });
  const arrow = (event) => {
    const step = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!step || event.altKey || event.ctrlKey || event.metaKey) return null;
    event.preventDefault();
    const by = (event.shiftKey ? 10 : 1) * perPx();
    return [step[0] * by, step[1] * by];
  };

  const run = make("polyline", { class: "trace-run" });
  const line = () => {
    const points = map ? read().map(toPicture) : [];
    if (closed && points.length > 2) points.push(points[0]);
    run.setAttribute("points", points.map((p) => p.map((v) => v.toFixed(1)).join(",")).join(" "));
  };
  const draw = () => {
    layer.replaceChildren(run);
    line();
    const points = map ? read() : [];
    points.forEach((p, i) => handle(toPicture(p), `Corner ${i + 1} of the outline`, "", (at) => {
      const now = read();
      now[i] = boat(at);
      write(now);
    }, { held: i === held, hold: () => { held = i; }, out: () => { held = i; takeOut(); } }));
    for (const m of marks()) {
      if (m.left.value === "" || m.down.value === "") continue;
      const at = [m.left.value, m.down.value].map((v) => Number(v.replace(",", ".")));
      const n = { a: "1", b: "2", c: "3" }[m.name];
      if (at.every(Number.isFinite)) handle(at, `Known point ${n}`, n, (to) => mark(m, to), { mark: true });
    }
    if (document.activeElement === over) drawCross();
  };
  const drawCross = () => {
    layer.querySelectorAll(".trace-cross").forEach((e) => e.remove());
    const k = 14 * perPx(), [x, y] = cross;
    layer.append(make("line", { class: "trace-cross", x1: x - k, x2: x + k, y1: y, y2: y }), make("line", { class: "trace-cross", x1: x, x2: x, y1: y - k, y2: y + k }));
  };
  const takeOut = () => {
    const points = read();
    if (held < 0 || held >= points.length) return say("Hold a corner first: tap it, or reach it with Tab.");
    keep();
    points.splice(held, 1);
    write(points);
    held = Math.min(held, points.length - 1);
    draw();
    say("Taken out.");
  };
  const addAfter = () => {
    const points = read();
    if (points.length < 2 || held < 0 || held >= points.length) return say("Hold a corner first: tap it, or reach it with Tab.");
    const last = held === points.length - 1;
    if (last && !closed) return say("Behind the last corner a tap adds the next one.");
    keep();
    const next = points[(held + 1) % points.length];
    points.splice(held + 1, 0, [0, 1].map((i) => (points[held][i] + next[i]) / 2));
    held += 1;
    write(points);
    draw();
    refocus(`Corner ${held + 1} of the outline`);
    say("A corner stands halfway to the next one: move it where it belongs.");
  };

  // What a finger covers is shown beside it, three times as large.
  const glass = Object.assign(document.createElement("canvas"), { className: "trace-loupe", width: 264, height: 264, hidden: true });
  glass.setAttribute("aria-hidden", "true");
  stage.append(glass);
  const loupe = ([l, d], x, y) => {
    const c = glass.getContext("2d"), ratio = image.naturalWidth / w, side = 44 * perPx();
    c.fillStyle = "#fff";
    c.fillRect(0, 0, 264, 264);
    c.drawImage(image, (l - side / 2) * ratio, (d - side / 2) * ratio, side * ratio, side * ratio, 0, 0, 264, 264);
    c.strokeStyle = "#0b4a8f";
    c.lineWidth = 2;
    c.beginPath();
    c.moveTo(132, 92); c.lineTo(132, 172); c.moveTo(92, 132); c.lineTo(172, 132);
    c.stroke();
    glass.hidden = false;
    glass.style.left = `${Math.round(x > innerWidth / 2 ? x - 172 : x + 40)}px`;
    glass.style.top = `${Math.round(Math.max(8, y - 172))}px`;
  };

  const enlarge = (by) => {
    const mid = [(view.scrollLeft + view.clientWidth / 2) / frame.clientWidth, (view.scrollTop + view.clientHeight / 2) / frame.clientHeight];
    zoom = Math.min(8, Math.max(1, zoom * by));
    frame.style.width = `${100 * zoom}%`;
    view.scrollLeft = mid[0] * frame.clientWidth - view.clientWidth / 2;
    view.scrollTop = mid[1] * frame.clientHeight - view.clientHeight / 2;
    draw();
  };
  const does = { undo: takeBack, after: addAfter, out: takeOut, larger: () => enlarge(1.6), smaller: () => enlarge(1 / 1.6) };
  for (const button of tools.querySelectorAll("button[data-do]")) button.addEventListener("click", () => does[button.dataset.do]());

  over.setAttribute("tabindex", 0);
  over.setAttribute("aria-label", "The picture: arrow keys move the cross, Enter marks or adds a corner, Backspace undoes");
  over.classList.add("ready");
  over.addEventListener("click", (event) => {
    const box = over.getBoundingClientRect();
    cross = [((event.clientX - box.left) / box.width) * w, ((event.clientY - box.top) / box.height) * h];
    place(cross);
  });
  over.addEventListener("focus", drawCross);
  over.addEventListener("blur", () => layer.querySelectorAll(".trace-cross").forEach((e) => e.remove()));
  over.addEventListener("keydown", (event) => {
    if (event.target !== over) return;
    const step = arrow(event);
    if (step) {
      cross = inside([cross[0] + step[0], cross[1] + step[1]]);
      drawCross();
      if (map && tool() === "draw") boat(cross);
    } else if (event.key === "Enter") {
      event.preventDefault();
      place(cross);
    } else if (event.key === "Backspace") {
      event.preventDefault();
      takeBack();
    }
  });
  text.addEventListener("input", draw);
  for (const m of marks()) for (const e of [m.left, m.down]) e.addEventListener("input", draw);
  new ResizeObserver(() => draw()).observe(view);

  await image.decode().catch(() => {});
  tools.querySelector(`input[value=${map ? "draw" : marks()[0].left.value === "" ? "a" : "b"}]`).checked = true;
  tools.hidden = false;
  draw();
}
