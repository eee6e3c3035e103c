// Hands pictures in one by one, so that one sees how far it is, can stop, and
// can go on later: what lies in the tray already is not sent again. Without
// this script the form sends them all at once.
export default function pictures(form) {
  const said = form.querySelector(".said"), bar = form.querySelector("progress"), halt = form.querySelector(".halt");
  const send = form.querySelector("button.main");
  let at = form.dataset.tray && `/pictures/${form.dataset.tray}`;
  let dropped = [], stop = null;

  const chosen = () => [...dropped, ...[...form.querySelectorAll("input[type=file]")].flatMap((input) =>
    [...input.files].map((file) => ({ file, name: file.webkitRelativePath || file.name })))];
  const say = (text) => { said.hidden = false; said.textContent = text; };

  const there = async () => {
    if (!at) return new Set();
    const answer = await fetch(`${at}/names`);
    return new Set(answer.ok ? (await answer.json()).map(([name, size]) => `${name} ${size}`) : []);
  };
  const tail = (name) => name.split("/").filter((x) => x && x !== "." && x !== "..").slice(-4).join("/");

  const one = async ({ file, name }) => {
    const body = new FormData();
    body.append(`file:${name}`, file, file.name);
    const answer = await fetch(at ? `${at}/more` : "/pictures", { method: "POST", body, headers: { Accept: "application/json" }, signal: stop.signal });
    if (!answer.ok) throw new Error(name);
    at = (await answer.json()).at;
  };

  form.addEventListener("submit", async (event) => {
    const all = chosen();
    if (all.length === 0) return; // the page says what is missing
    event.preventDefault();
    document.documentElement.removeAttribute("data-settled");
    stop = new AbortController();
    send.disabled = true;
    halt.hidden = bar.hidden = false;
    const failed = [];
    let done = 0, bytes = 0;
    const whole = all.reduce((sum, x) => sum + x.file.size, 0) || 1;
    try {
      const here = await there();
      for (const x of all) {
        if (stop.signal.aborted) break;
        if (!here.has(`${tail(x.name)} ${x.file.size}`)) {
          try { await one(x); } catch (why) {
            if (stop.signal.aborted) break;
            failed.push(x.name);
          }
        }
        done += 1;
        bytes += x.file.size;
        bar.value = bytes / whole;
        say(`${done} of ${all.length} handed in`);
      }
    } finally {
      halt.hidden = true;
      send.disabled = false;
      document.documentElement.dataset.settled = "";
    }
    if (stop.signal.aborted) return say(`Stopped: ${done} of ${all.length} handed in. Hand in the same again to go on.`);
    if (failed.length > 0) return say(`${failed.length} could not be handed in: ${failed.slice(0, 5).join(", ")}. Hand in the same again to go on.`);
    location.href = at;
  });
  halt.addEventListener("click", () => stop?.abort());

  // A folder that is dropped is walked to its end.
  const walk = async (entry, path) => {
    if (entry.isFile) {
      const file = await new Promise((got, lost) => entry.file(got, lost));
      return [{ file, name: path + file.name }];
    }
    const reader = entry.createReader(), out = [];
    for (;;) {
      const some = await new Promise((got, lost) => reader.readEntries(got, lost));
      if (some.length === 0) return out;
      for (const inner of some) out.push(...await walk(inner, `${path}${entry.name}/`));
    }
  };
  form.addEventListener("dragover", (event) => { event.preventDefault(); form.classList.add("over"); });
  form.addEventListener("dragleave", () => form.classList.remove("over"));
  form.addEventListener("drop", async (event) => {
    event.preventDefault();
    form.classList.remove("over");
    const entries = [...event.dataTransfer.items].map((item) => item.webkitGetAsEntry()).filter(Boolean);
    dropped = (await Promise.all(entries.map((entry) => walk(entry, "")))).flat();
    form.requestSubmit(send);
  });
}
