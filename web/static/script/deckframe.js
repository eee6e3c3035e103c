// The frame around a drawing: it comes closer by buttons, by two fingers or by
// the keys + - 0, and moves in its frame as anything longer than its frame does.
const closest = 6;

// Returns keep and again, which carry the place over a change of what is drawn.
// sized is called when the drawing's size changed.
export default function frame(sheet, sized) {
  let near = 1;
  const box = () => [...sheet.querySelectorAll(".deck-frame")].find((f) => f.offsetParent);
  const paper = (f) => f.querySelector(".deck-paper");
  // The point (x, y) of the window stays where it is.
  const set = (to, x, y) => {
    const f = box(), was = paper(f).getBoundingClientRect(), out = f.getBoundingClientRect();
    const cx = x ?? out.left + out.width / 2, cy = y ?? out.top + out.height / 2;
    const at = [(cx - was.left) / was.width, (cy - was.top) / was.height];
    near = Math.min(closest, Math.max(1, to));
    lay(f);
    const now = paper(f).getBoundingClientRect();
    f.scrollLeft += now.left + at[0] * now.width - cx;
    f.scrollTop += now.top + at[1] * now.height - cy;
    sized();
  };
  const lay = (f) => {
    f.classList.toggle("near", near > 1);
    paper(f).style.width = near > 1 ? `${100 * near}%` : "";
  };

  const buttons = sheet.querySelector(".deck-zoom");
  buttons.hidden = false;
  buttons.addEventListener("click", (event) => {
    const by = event.target.closest("button")?.dataset.zoom;
    if (by !== undefined) set(Number(by) * near);
  });
  sheet.addEventListener("keydown", (event) => {
    const by = { "+": 1.5, "=": 1.5, "-": 1 / 1.5, 0: 0 }[event.key];
    if (by === undefined || !event.target.closest(".deck-frame") || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    set(by * near);
  });
  let pinch = null;
  const spread = (t) => Math.hypot(t[0].clientX - t[1].clientX, t[0].clientY - t[1].clientY);
  sheet.addEventListener("touchstart", (event) => {
    pinch = event.touches.length === 2 && event.target.closest(".deck-frame") ? { far: spread(event.touches), near } : null;
  }, { passive: true });
  sheet.addEventListener("touchmove", (event) => {
    if (!pinch || event.touches.length !== 2) return;
    event.preventDefault();
    const [a, b] = event.touches;
    set(pinch.near * spread(event.touches) / pinch.far, (a.clientX + b.clientX) / 2, (a.clientY + b.clientY) / 2);
  }, { passive: false });

  return {
    keep: () => { const f = box(); return f ? [f.scrollLeft, f.scrollTop] : [0, 0]; },
    again: ([left, top]) => {
      const f = box();
      if (!f) return;
      lay(f);
      [f.scrollLeft, f.scrollTop] = [left, top];
    },
  };
}
