// The handle of a bar that was picked: dragged, or moved by arrow keys, it tries
// a later start on. A finger picks a bar by a tap, since bars are narrower than
// a finger; a second tap leads to the step. Everywhere but on the handle a
// finger moves the page as ever.
const most = 104; // weeks

// Returns what the bars need of it: pick, to have a bar picked; at, its link.
export default function grip(figure, asks) {
  const { tryOn, word, quiet } = asks;
  const handle = Object.assign(document.createElement("span"), { className: "grip", tabIndex: 0, hidden: true });
  handle.setAttribute("role", "slider");
  handle.setAttribute("aria-valuemin", "0");
  handle.setAttribute("aria-valuemax", String(most));
  const card = Object.assign(document.createElement("div"), { className: "picked", hidden: true });
  card.setAttribute("role", "status");
  figure.after(card);
  let link = null, weeks = 0, held = null, timer = 0;

  const choice = (l) => document.querySelector(`#what-if-box option[value="${CSS.escape(keyOf(l))}"]`);
  const name = (l) => choice(l)?.textContent ?? l.querySelector("title")?.textContent ?? "This step";
  const scale = () => link.ownerSVGElement.viewBox.baseVal.width / link.ownerSVGElement.getBoundingClientRect().width;
  // Where the bar begins, in the figure's own measure: at its first upright line.
  const place = () => {
    const box = figure.getBoundingClientRect(), all = [...link.children].map((e) => e.getBoundingClientRect());
    const upright = all.filter((b) => b.width < 3 && b.height > 8).sort((a, b) => a.left - b.left);
    const bar = upright[0] ?? link.getBoundingClientRect();
    return { x: bar.left - box.left + figure.scrollLeft, y: bar.top + bar.height / 2 - box.top + figure.scrollTop };
  };
  const lay = () => {
    const at = place();
    handle.style.left = `${at.x - 24}px`;
    handle.style.top = `${at.y - 24}px`;
  };
  const say = (n, x, y) => {
    weeks = Math.min(most, Math.max(0, n));
    const text = `starts ${weeks} ${weeks === 1 ? "week" : "weeks"} later`;
    handle.setAttribute("aria-valuenow", String(weeks));
    handle.setAttribute("aria-valuetext", text);
    word(text, x, y);
  };
  // The card says which bar it is, leads to its step, and says what came of a try.
  const write = (text, more) => {
    const line = (...parts) => { const p = document.createElement("p"); p.append(...parts); return p; };
    const to = Object.assign(document.createElement("a"), { className: "button", href: link.href.baseVal, textContent: "Open the step" });
    const off = Object.assign(document.createElement("button"), { type: "button", textContent: "Let go" });
    off.addEventListener("click", drop);
    const does = Object.assign(document.createElement("b"), { textContent: name(link) });
    const buttons = line(to, " ", off);
    buttons.className = "buttons";
    card.replaceChildren(line(does, text ? `: ${text} ` : " ", ...(more ? [more] : [])), buttons);
  };
  const drop = () => {
    link?.removeAttribute("transform");
    link = null;
    handle.hidden = card.hidden = true;
    quiet();
  };
  const pick = (l) => {
    if (link) link.removeAttribute("transform");
    link = l;
    figure.append(handle);
    card.hidden = false;
    handle.hidden = !choice(l);
    handle.setAttribute("aria-label", `Start of ${name(l)}`);
    weeks = 0;
    handle.setAttribute("aria-valuenow", "0");
    handle.setAttribute("aria-valuetext", "starts as it stands");
    write(handle.hidden ? "done; nothing can be tried on it." : "drag the handle to try a later start.");
    lay();
  };

  // What a try would do to the launch stands where the hand is; the rest below.
  const tried = async () => {
    const at = link;
    quiet();
    at.removeAttribute("transform");
    lay();
    if (weeks < 1) return;
    const box = await tryOn(at, weeks, false);
    if (!box || link !== at) return;
    const refused = box.querySelector(".refused")?.textContent;
    const first = box.querySelector(".rows li");
    const rest = Object.assign(document.createElement("a"), { href: "#what-if-box", textContent: "All that would move" });
    const what = first?.querySelector("a")?.textContent ?? first?.querySelector(".row-name")?.firstChild.textContent.trim();
    const text = refused ?? (first ? `${weeks} ${weeks === 1 ? "week" : "weeks"} later. ${what}: ${first.lastElementChild.textContent.toLowerCase()}.` : "nothing that has a date would move.");
    write(text, rest);
  };

  handle.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    event.preventDefault(); // no text is picked, no click follows
    event.stopPropagation(); // the bars do not move along
    handle.setPointerCapture(event.pointerId);
    handle.focus({ preventScroll: true });
    held = { id: event.pointerId, x: event.clientX, scroll: figure.scrollLeft };
  });
  handle.addEventListener("pointermove", (event) => {
    if (held?.id !== event.pointerId) return;
    const box = figure.getBoundingClientRect();
    if (event.clientX > box.right - 20) figure.scrollLeft += 12; // further along than is in sight
    if (event.clientX < box.left + 20) figure.scrollLeft -= 12;
    const far = Math.max(0, event.clientX - held.x + figure.scrollLeft - held.scroll);
    link.setAttribute("transform", `translate(${far * scale()} 0)`);
    lay();
    say(Math.round(far / asks.perDay() / 7), event.clientX, event.clientY);
  });
  handle.addEventListener("pointerup", (event) => {
    if (held?.id !== event.pointerId) return;
    held = null;
    tried();
  });
  handle.addEventListener("pointercancel", () => { held = null; weeks = 0; tried(); });
  handle.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const by = event.shiftKey ? 10 : 1;
    const to = { ArrowRight: weeks + by, ArrowUp: weeks + by, ArrowLeft: weeks - by, ArrowDown: weeks - by, Home: 0 }[event.key];
    if (event.key === "Escape") { const at = link; drop(); at?.focus(); }
    else if (to === undefined) return;
    else {
      const box = handle.getBoundingClientRect();
      say(to, box.left, box.top);
      link.setAttribute("transform", `translate(${weeks * 7 * asks.perDay() * scale()} 0)`);
      lay();
      clearTimeout(timer);
      timer = setTimeout(tried, 900);
    }
    event.preventDefault();
    event.stopPropagation();
  });
  addEventListener("resize", () => { if (link) lay(); });
  return { pick, drop, get link() { return link; } };
}

// The key of the step that a bar leads to.
export const keyOf = (link) => decodeURIComponent(new URL(link.href.baseVal, location.href).pathname.split("/").pop());
