// Asks every few seconds whether something was written in another window, and
// then offers to show it. It never reloads by itself: what is typed stays.
const every = 3000;

export default function fresh(note) {
  const ask = async () => {
    if (document.hidden || !note.hidden) return;
    try {
      const answer = await fetch("/last", { cache: "no-store" });
      if (answer.ok && Number(await answer.text()) > Number(note.dataset.after)) {
        note.querySelector("a").href = location.href;
        note.hidden = false;
      }
    } catch {
      // The program has ended or sleeps; the next turn asks again.
    }
  };
  setInterval(ask, every);
  document.addEventListener("visibilitychange", ask);
}
