// Four marks on a picture, dragged by hand or moved by arrow keys: the ends of
// a length that is known, and of one that is not. The server works it out.
const svgNS = "http://www.w3.org/2000/svg";

export default async function measure(figure) {
  const form = document.getElementById("measure-form");
  const image = figure.querySelector("img");
  if (!form || !image) return;
  await image.decode().catch(() => {});
  if (!image.naturalWidth) return;
  const shape = () => { form.elements.aspect.value = (image.naturalWidth / image.naturalHeight).toFixed(5); };
  image.addEventListener("load", shape); // what stood in its place had another
  shape();
  const frame = figure.querySelector(".photo-frame"), offer = document.querySelector("[data-marks]");
  if ([1, 2, 3, 4].some((i) => form.elements[`x${i}`].value !== "")) return marks(form, image, frame);
  offer.hidden = false; // not in the way until they are wanted
  offer.querySelector("button").addEventListener("click", () => {
    offer.hidden = true;
    marks(form, image, frame);
    frame.scrollIntoView({ block: "nearest" });
  });
}

function marks(form, image, frame) {
  const svg = document.createElementNS(svgNS, "svg");
  const [w, h] = [1000, (1000 * image.naturalHeight) / image.naturalWidth];
  svg.setAttribute("viewBox", `0 0 ${w} ${h}`);
  frame.append(svg);
  const start = [[0.2, 0.85], [0.5, 0.85], [0.2, 0.6], [0.7, 0.6]];
  const lines = [0, 1].map((i) => svg.appendChild(Object.assign(document.createElementNS(svgNS, "line"), { id: `mark-line-${i}` })));
  const at = (i) => ["x", "y"].map((axis) => form.elements[axis + (i + 1)]);
  const draw = () => lines.forEach((line, k) => {
    const [[x1, y1], [x2, y2]] = [2 * k, 2 * k + 1].map((i) => at(i).map((e) => Number(e.value)));
    for (const [name, v] of Object.entries({ x1: x1 * w, y1: y1 * h, x2: x2 * w, y2: y2 * h })) line.setAttribute(name, v);
  });
  for (let i = 0; i < 4; i++) {
    const [ex, ey] = at(i);
    if (ex.value === "") [ex.value, ey.value] = start[i];
    const g = document.createElementNS(svgNS, "g");
    for (const [name, v] of Object.entries({ tabindex: 0, role: "button", class: "photo-mark", "aria-label": `Move end ${i + 1}` })) g.setAttribute(name, v);
    const r = (24 * w) / frame.getBoundingClientRect().width;
    for (const [cls, radius] of [["wide", r], ["seen", r / 4]]) {
      const c = document.createElementNS(svgNS, "circle");
      c.setAttribute("r", radius);
      c.setAttribute("class", cls);
      g.append(c);
    }
    svg.append(g);
    const to = (x, y) => {
      ex.value = Math.min(1, Math.max(0, x)).toFixed(4);
      ey.value = Math.min(1, Math.max(0, y)).toFixed(4);
      g.setAttribute("transform", `translate(${ex.value * w} ${ey.value * h})`);
      draw();
    };
    to(Number(ex.value), Number(ey.value));
    let held = null;
    g.addEventListener("pointerdown", (event) => {
      g.setPointerCapture(event.pointerId);
      held = [event.clientX, event.clientY, Number(ex.value), Number(ey.value)];
      event.preventDefault();
    });
    g.addEventListener("pointermove", (event) => {
      if (!held) return;
      const box = svg.getBoundingClientRect();
      to(held[2] + (event.clientX - held[0]) / box.width, held[3] + (event.clientY - held[1]) / box.height);
    });
    for (const end of ["pointerup", "pointercancel"]) g.addEventListener(end, () => { held = null; ask(); });
    g.addEventListener("keydown", (event) => {
      const step = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!step) return;
      const by = event.shiftKey ? 0.01 : 0.001;
      to(Number(ex.value) + by * step[0], Number(ey.value) + by * step[1]);
      event.preventDefault();
      ask();
    });
  }
  let newest = 0;
  const ask = async () => {
    if (!form.elements.known.value.trim()) return;
    const turn = ++newest;
    try {
      const answer = await fetch(`${location.pathname}?${new URLSearchParams(new FormData(form))}`);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      if (turn === newest) document.getElementById("measure-says").replaceChildren(...page.getElementById("measure-says").childNodes);
    } catch {
      // The program sleeps; the marks stay where they are.
    }
  };
  form.elements.known.addEventListener("change", ask);
}
