// Looks at the page as it stands and lists what a reader would stumble over.
function dogshoreStumbles(touch) {
  const found = [];
  const short = (e) => e.outerHTML.slice(0, 110).replace(/\s+/g, " ");
  const seen = (e) => {
    const box = e.getBoundingClientRect();
    const style = getComputedStyle(e);
    return box.width > 0 && box.height > 0 && style.visibility !== "hidden" && e.checkVisibility();
  };

  const root = document.documentElement;
  if (root.scrollWidth > innerWidth) {
    const wide = [...document.querySelectorAll("body *")].find((e) => e.getBoundingClientRect().right > innerWidth + 1);
    found.push(`the page is ${root.scrollWidth} wide in a window of ${innerWidth}: ${wide ? short(wide) : ""}`);
  }

  if (touch) {
    const controls = "button, .button, summary, select, textarea, input:not([type=hidden], [type=checkbox], [type=radio]), .tick, .choice, nav a";
    for (const e of document.querySelectorAll(controls)) {
      const box = e.getBoundingClientRect();
      if (seen(e) && (box.height < 43.9 || box.width < 43.9) && !e.closest(".figure")) {
        found.push(`${Math.round(box.width)} x ${Math.round(box.height)} is small for a thumb: ${short(e)}`);
      }
    }
  }

  const numbers = (c) => c.match(/[\d.]+/g).map(Number);
  const light = (c) => {
    const [r, g, b] = c.map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (e) => {
    for (let at = e; at; at = at.parentElement) {
      const c = numbers(getComputedStyle(at).backgroundColor);
      if (c.length === 3 || c[3] > 0) return c.slice(0, 3);
    }
    return [255, 255, 255];
  };
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const done = new Set();
  while (words.nextNode()) {
    const e = words.currentNode.parentElement;
    if (!words.currentNode.textContent.trim() || done.has(e) || !seen(e) || e.closest("svg, script, style, option")) continue;
    done.add(e);
    const a = light(numbers(getComputedStyle(e).color).slice(0, 3));
    const b = light(behind(e));
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (ratio < 7) found.push(`contrast ${ratio.toFixed(1)}: ${short(e)}`);
  }
  return found;
}
