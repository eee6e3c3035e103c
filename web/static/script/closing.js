// Closes a visit only when nothing of it is left on this phone.
import { missing, things } from "./kept.js";
import { sending } from "./phone.js";

export default function closing(form) {
  if (missing) return;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    await sending();
    const left = (await things()).length;
    if (left === 0) return form.submit();
    form.querySelector(".wrong-why")?.remove();
    const why = Object.assign(document.createElement("p"), { className: "wrong-why", textContent: `${left} still on this phone: send, mend or throw away first, so that the letter says all.` });
    why.setAttribute("role", "alert");
    form.prepend(why);
  });
}
