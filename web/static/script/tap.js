// A tap is written without leaving one's place: the form is sent in the
// background, and the stop it belongs to is laid anew from the answer.
// Without this script the same form does the same by loading the page.
export default function tap(form) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const button = event.submitter;
    const body = new URLSearchParams(new FormData(form));
    if (button) body.set(button.name, button.value);
    const stop = form.closest(".stop");
    document.documentElement.removeAttribute("data-settled");
    form.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.action, { method: "POST", body });
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const fresh = stop && page.getElementById(stop.id);
      if (!answer.ok || !fresh) throw new Error(answer.statusText);
      replace(stop, fresh, button);
      const found = page.querySelector(".found");
      document.querySelector(".found")?.replaceWith(found);
      const note = document.querySelector(".fresh"); // one's own entry is nothing new; another's in between is
      note.dataset.after = Number(note.dataset.after) + 1;
    } catch {
      form.removeAttribute("aria-busy");
      const word = Object.assign(document.createElement("input"), { type: "hidden", name: button?.name ?? "", value: button?.value ?? "" });
      form.append(word);
      form.submit(); // let the page itself say what is wrong
      return;
    }
    document.documentElement.dataset.settled = "";
  });
}

function replace(stop, fresh, button) {
  const at = button && [...stop.querySelectorAll("button")].indexOf(button);
  stop.replaceWith(fresh);
  for (const form of fresh.querySelectorAll("form.tap")) tap(form);
  if (at >= 0) fresh.querySelectorAll("button")[at]?.focus({ preventScroll: true });
}
