// Moves the bars under the hand, and asks the server for the sheets of the
// days that are then in sight. Without this script the form above the bars
// does the same.
import grip, { keyOf } from "./grip.js";

const day0 = Date.UTC(1899, 11, 31); // day 0 of the data-from and data-to

export default function bars(figure) {
  let from = Number(figure.dataset.from), to = Number(figure.dataset.to) + 1;
  const whole = [from, to];
  let shown = [from, to], timer = 0, newest = 0;

  // Lays the window of days [from, to) over each sheet, as far as it was drawn.
  const lay = () => {
    const span = shown[1] - shown[0];
    for (const svg of figure.querySelectorAll("svg")) {
      const [, , w, h] = (svg.dataset.box ??= svg.getAttribute("viewBox")).split(" ").map(Number);
      const perDay = (w - 6) / span;
      svg.setAttribute("preserveAspectRatio", "none");
      svg.setAttribute("viewBox", `${(from - shown[0]) * perDay} 0 ${(to - from) * perDay + 6} ${h}`);
    }
    picked.drop();
    document.documentElement.removeAttribute("data-settled");
    clearTimeout(timer);
    timer = setTimeout(ask, 350);
  };

  // Asks for the sheets of these days; only the newest answer counts.
  const ask = async () => {
    const turn = ++newest;
    const at = new URL(location.href);
    at.searchParams.set("from", iso(Math.round(from)));
    at.searchParams.set("to", iso(Math.max(Math.round(from) + 1, Math.round(to) - 1)));
    at.searchParams.set("scale", "to fit");
    at.hash = "";
    try {
      const answer = await fetch(at);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const fresh = page.getElementById("bars");
      if (turn !== newest || !answer.ok || !fresh) return;
      figure.replaceChildren(...fresh.childNodes);
      figure.scrollLeft = 0;
      shown = [Number(fresh.dataset.from), Number(fresh.dataset.to) + 1];
      [from, to] = shown;
      for (const name of ["from", "to", "scale"]) {
        const input = document.getElementById(`sift-${name}`);
        if (input) input.value = at.searchParams.get(name);
      }
      history.replaceState(null, "", at);
    } catch {
      // The program sleeps; what is in the hand stays in sight.
    }
    document.documentElement.dataset.settled = "";
  };

  const move = (days) => { from += days; to += days; lay(); };
  const zoom = (factor, about) => {
    const span = Math.min(366 * 6, Math.max(14, (to - from) * factor));
    from = about - ((about - from) / (to - from)) * span;
    to = from + span;
    lay();
  };
  const width = () => figure.querySelector("svg").getBoundingClientRect().width;
  const dayAt = (x) => from + ((x - figure.querySelector("svg").getBoundingClientRect().left) / width()) * (to - from);

  figure.addEventListener("wheel", (event) => {
    if (event.ctrlKey || event.metaKey) zoom(Math.exp(event.deltaY / 300), dayAt(event.clientX));
    else if (event.shiftKey) move((event.deltaY / width()) * (to - from));
    else return; // the page scrolls as ever
    event.preventDefault();
  }, { passive: false });

  figure.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const link = event.target.closest("a[href*='/step/']");
    const step = (to - from) / (event.shiftKey ? 2 : 8);
    switch (event.key) {
      case "ArrowLeft": link ? wait(link, event.shiftKey ? -10 : -1) : move(-step); break;
      case "ArrowRight": link ? wait(link, event.shiftKey ? 10 : 1) : move(step); break;
      case "+": case "=": zoom(0.7, (from + to) / 2); break;
      case "-": case "_": zoom(1 / 0.7, (from + to) / 2); break;
      case "0": [from, to] = whole; lay(); break;
      default: return;
    }
    event.preventDefault();
  });

  // Two fingers draw nearer and farther, a mouse drags: over a bar it tries on a
  // later start, beside the bars it moves along. One finger moves the page; a tap
  // picks a bar, and a second tap on it leads to its step.
  const hands = new Map();
  let held = null, moved = false, finger = false;
  figure.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    const link = event.target.closest("a[href*='/step/']");
    hands.set(event.pointerId, event.clientX);
    moved = false;
    finger = event.pointerType !== "mouse";
    held = finger ? null : { link, x: event.clientX, from, to };
  });
  figure.addEventListener("pointermove", (event) => {
    if (!hands.has(event.pointerId)) return;
    const before = [...hands.values()];
    hands.set(event.pointerId, event.clientX);
    const after = [...hands.values()];
    if (after.length === 2) {
      const gap = (xs) => Math.max(20, Math.abs(xs[0] - xs[1]));
      zoom(gap(before) / gap(after), dayAt((after[0] + after[1]) / 2));
      return;
    }
    if (!held || Math.abs(event.clientX - held.x) < 4 && !moved) return;
    if (!moved) figure.setPointerCapture(event.pointerId);
    moved = true;
    figure.classList.add("held");
    const days = ((event.clientX - held.x) / width()) * (held.to - held.from);
    if (held.link) return say(held.link, days, event);
    [from, to] = [held.from - days, held.to - days];
    lay();
  });
  const up = (event) => {
    hands.delete(event.pointerId);
    figure.classList.remove("held");
    hand.hidden = true;
    if (held?.link && moved) {
      const days = ((event.clientX - held.x) / width()) * (held.to - held.from);
      held.link.removeAttribute("transform");
      if (event.type === "pointerup" && days >= 3.5) tryOn(held.link, Math.round(days / 7));
    }
    held = null;
  };
  figure.addEventListener("pointerup", up);
  figure.addEventListener("pointercancel", up);
  figure.addEventListener("click", (event) => {
    const link = event.target.closest("svg a[href*='/step/']");
    if (moved) event.preventDefault();
    else if (finger && link && link !== picked.link) {
      event.preventDefault();
      picked.pick(link);
    } else if (finger && !link && !event.target.closest(".grip, .picked")) picked.drop();
    moved = false;
  }, true);
  figure.addEventListener("dragstart", (event) => event.preventDefault());

  // What is in the hand: the bar moves with it, and says by how much.
  const hand = Object.assign(document.createElement("p"), { className: "hand", hidden: true });
  hand.setAttribute("role", "status");
  figure.after(hand);
  const say = (link, days, event) => {
    const weeks = Math.max(0, Math.round(days / 7));
    const svg = link.ownerSVGElement, scale = svg.viewBox.baseVal.width / svg.getBoundingClientRect().width;
    link.setAttribute("transform", `translate(${Math.max(0, event.clientX - held.x) * scale} 0)`);
    word(`starts ${weeks} ${weeks === 1 ? "week" : "weeks"} later`, event.clientX, event.clientY);
  };
  const word = (text, x, y) => {
    hand.textContent = text;
    hand.hidden = false;
    hand.style.left = `${Math.round(Math.max(8, Math.min(x + 12, innerWidth - 200)))}px`;
    hand.style.top = `${Math.round(Math.max(8, y - 44))}px`;
  };
  const waits = new Map();
  let later = 0;
  const wait = (link, by) => {
    const weeks = Math.max(0, (waits.get(link) ?? 0) + by);
    waits.set(link, weeks);
    const box = link.getBoundingClientRect();
    word(`starts ${weeks} ${weeks === 1 ? "week" : "weeks"} later`, box.left, box.top);
    clearTimeout(later);
    later = setTimeout(() => { hand.hidden = true; if (weeks > 0) tryOn(link, weeks); }, 900);
  };

  // Tries a later start on: the server answers what it would do.
  let thought = 0;
  const tryOn = async (link, weeks, show = true) => {
    const turn = ++thought;
    const at = new URL(location.href);
    at.searchParams.set("if", keyOf(link));
    at.searchParams.set("later", weeks);
    at.searchParams.delete("more");
    document.documentElement.removeAttribute("data-settled");
    try {
      const answer = await fetch(at);
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const fresh = page.getElementById("what-if-box");
      if (turn === thought && answer.ok && fresh) {
        document.getElementById("what-if-box").replaceWith(fresh);
        if (show) fresh.scrollIntoView({ block: "nearest" });
        history.replaceState(null, "", at);
        return fresh;
      }
    } catch {
      // The program sleeps; nothing was tried on.
    } finally {
      document.documentElement.dataset.settled = "";
    }
  };

  const picked = grip(figure, { tryOn, word, quiet: () => { hand.hidden = true; }, perDay: () => width() / (to - from) });
}

const iso = (day) => new Date(day0 + day * 86400000).toISOString().slice(0, 10);
