// Takes a tray in and says how far it is. Stopped, what was taken in stays, and
// the same button goes on from there.
export default function tray(form) {
  const says = form.querySelector("[data-says]"), bar = form.querySelector("progress"), halt = form.querySelector("[data-halt]");
  form.addEventListener("submit", async (event) => {
    const by = event.submitter;
    if (by?.value !== "accept") return;
    event.preventDefault();
    const stop = new AbortController(), body = new URLSearchParams(new FormData(form, by));
    const buttons = [...form.querySelectorAll("button:not([data-halt])")];
    const busy = (is) => {
      for (const b of buttons) b.disabled = is;
      halt.hidden = bar.hidden = !is;
    };
    halt.onclick = () => stop.abort();
    busy(true);
    const far = setInterval(async () => {
      try {
        const { done, all } = await (await fetch(`${form.action}/taken`)).json();
        if (all) {
          bar.value = done / all;
          says.textContent = `${done} of ${all} taken in`;
        }
      } catch {
        // The next turn asks again.
      }
    }, 1000);
    try {
      const answer = await fetch(form.action, { method: "POST", body, signal: stop.signal });
      if (answer.redirected) return location.assign(answer.url);
      form.append(Object.assign(document.createElement("input"), { type: "hidden", name: "do", value: "accept" })); // the page says why not
      for (const b of buttons) b.disabled = false;
      form.submit();
    } catch {
      busy(false);
      says.textContent = "Stopped. What was taken in stays; take in the rest when you like.";
    } finally {
      clearInterval(far);
    }
  });
}
