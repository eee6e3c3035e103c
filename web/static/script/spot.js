// Reads a place off the boat's drawing: a tap fills the fields of the form beside
// it, in the boat's axes; a form that only asks is then sent. A cross in each
// view stands where the fields say.
const svgNS = "http://www.w3.org/2000/svg";

export default function spot(figure) {
  const svg = figure.querySelector("svg"), form = document.getElementById("spot-form");
  if (!svg || !form) return;
  const views = JSON.parse(figure.dataset.views), turned = "lies" in figure.dataset ? -1 : 1;
  const { x: fx, y: fy, z: fz } = form.elements;
  for (const hint of form.parentElement.querySelectorAll("[data-taps]")) hint.hidden = false;
  svg.classList.add("tapped");

  const crosses = views.map((view) => {
    const cross = document.createElementNS(svgNS, "path");
    cross.setAttribute("class", "lead tap-cross");
    cross.setAttribute("d", "M-3 0H3M0 -3V3");
    svg.append(cross);
    return [view, cross];
  });
  const number = (field) => field.value.trim() === "" ? NaN : Number(field.value.replace(",", "."));
  const draw = () => {
    for (const [view, cross] of crosses) {
      const [a, b] = [number(fx), view.profile ? number(fz) : turned * number(fy)];
      const seen = Number.isFinite(a) && Number.isFinite(b);
      cross.style.display = seen ? "" : "none";
      if (seen) cross.setAttribute("transform", `translate(${view.left + view.scale * a} ${view.zero - view.scale * b})`);
    }
  };
  const put = (field, metres) => { field.value = metres.toFixed(2); };

  let typed = { y: fy.value !== "", z: fz.value !== "" };
  svg.addEventListener("click", (event) => {
    if (event.detail === 0) return; // a key on a link: it leads on by itself
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const near = (view) => Math.max(view.Top - at.y, at.y - view.Bottom, 0);
    const view = views.toSorted((a, b) => near(a) - near(b))[0];
    if (!view || near(view) > 4) return;
    if (form.hasAttribute("data-go") && event.target.closest("a")?.getAttribute("href").match(/^\/(photo|behind\/at)/)) return;
    event.preventDefault();
    const was = number(fx), [x, b] = [(at.x - view.left) / view.scale, (view.zero - at.y) / view.scale];
    put(fx, x);
    put(view.profile ? fz : fy, view.profile ? b : turned * b);
    const other = view.profile ? "y" : "z", field = form.elements[other];
    if (!typed[other] || Math.abs(was - x) > 0.5) field.value = ""; // it belonged to another place
    typed = { ...typed, [view.profile ? "z" : "y"]: true, [other]: field.value !== "" };
    draw();
    if (form.hasAttribute("data-go")) form.requestSubmit();
  });
  form.addEventListener("input", () => { typed = { y: fy.value !== "", z: fz.value !== "" }; draw(); });
  draw();
}
