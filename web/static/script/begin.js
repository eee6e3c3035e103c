// Begins a visit; without a connection it is begun on this phone, under an id
// that the record takes over.
import { missing, newId, put } from "./kept.js";

export default function begin(form) {
  if (missing) return;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    try {
      const there = await fetch("/last", { cache: "no-store", signal: AbortSignal.timeout(4000) });
      if (there.ok) return form.submit();
    } catch {
      // No connection.
    }
    const { day, by } = Object.fromEntries(new FormData(form));
    const id = newId();
    await put([{ id, visit: id, kind: "visit", says: "Visit", words: day, fields: { day, by }, over: {}, wall: new Date().toISOString() }]);
    location.href = `/visit/${id}`;
  });
}
