// On a page that is no visit's: says what was noted on this phone and is not in
// the record yet, and sends it. At the door, before anybody is in, it only says
// that it is there; whose phone was put out loses the pages that it kept.
import { forget, missing, things } from "./kept.js";

export default async function left(aside) {
  if (document.querySelector('[data-enhance="phone"]')) return aside.remove(); // the page says it itself
  if (missing) return;
  if (aside.dataset.forget) await forget();
  const all = await things();
  if (all.length === 0) return;
  if (!aside.dataset.door) return (await import("./phone.js")).default(aside);
  aside.querySelector(".kept-says").textContent = `${all.length === 1 ? "1 thing" : `${all.length} things`} noted on this phone and not in the record yet. What is noted stays here until somebody signs in on this phone; then it is sent, under the name that is signed in.`;
  aside.hidden = false;
}
