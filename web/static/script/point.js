// Points at something on the picture: a ring that follows a tap, a finger or the
// arrow keys, in parts of the picture's width and height.
const svgNS = "http://www.w3.org/2000/svg";

export default function point(details) {
  const frame = document.querySelector(".photo-large .photo-frame"), image = frame?.querySelector("img");
  const { left, down } = details.querySelector("form").elements;
  if (!image) return;
  for (const hint of details.querySelectorAll("[data-taps]")) hint.hidden = false;
  const svg = document.createElementNS(svgNS, "svg"), ring = document.createElementNS(svgNS, "svg");
  svg.setAttribute("class", "pointing");
  ring.setAttribute("overflow", "visible");
  const g = ring.appendChild(document.createElementNS(svgNS, "g"));
  for (const [name, v] of Object.entries({ tabindex: 0, role: "button", class: "photo-mark", "aria-label": "Move the mark" })) g.setAttribute(name, v);
  for (const [name, r] of [["wide", 24], ["seen", 9], ["seen", 1.5]]) {
    const c = g.appendChild(document.createElementNS(svgNS, "circle"));
    c.setAttribute("r", r);
    c.setAttribute("class", name);
  }
  svg.append(ring);
  const inside = (v) => Math.min(1, Math.max(0, v));
  const draw = () => {
    ring.setAttribute("x", `${100 * (Number(left.value) || 0)}%`);
    ring.setAttribute("y", `${100 * (Number(down.value) || 0)}%`);
  };
  const to = (x, y) => {
    left.value = inside(x).toFixed(3);
    down.value = inside(y).toFixed(3);
    draw();
  };
  const follow = (event) => {
    const box = image.getBoundingClientRect();
    to((event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height);
  };
  let held = false;
  svg.addEventListener("pointerdown", (event) => { held = true; svg.setPointerCapture(event.pointerId); follow(event); event.preventDefault(); });
  svg.addEventListener("pointermove", (event) => { if (held) follow(event); });
  for (const end of ["pointerup", "pointercancel"]) svg.addEventListener(end, () => { held = false; });
  g.addEventListener("keydown", (event) => {
    const step = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!step) return;
    const by = event.shiftKey ? 0.05 : 0.005;
    to(Number(left.value) + by * step[0], Number(down.value) + by * step[1]);
    event.preventDefault();
  });
  details.addEventListener("input", draw);
  details.addEventListener("toggle", () => {
    if (!details.open) return svg.remove();
    for (const other of document.querySelectorAll("details[data-enhance=point]")) if (other !== details) other.open = false;
    if (left.value === "" || down.value === "") to(0.5, 0.5);
    draw();
    frame.append(svg);
    frame.scrollIntoView({ block: "nearest" });
  });
}
