// Says how far the small pictures are, now and then, while some are missing.
export default function progress(box) {
  const made = box.querySelector(".made"), all = box.querySelector(".all");
  const ask = async () => {
    try {
      const now = await (await fetch("/pictures/progress")).json();
      made.textContent = now.done;
      all.textContent = now.all;
      if (now.stopped || now.done >= now.all) return;
    } catch {
      return; // the program sleeps
    }
    setTimeout(ask, 2000);
  };
  if (made.textContent !== all.textContent) setTimeout(ask, 2000);
}
