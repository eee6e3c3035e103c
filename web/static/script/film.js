// Takes stills out of a film: what stands on the screen is drawn onto a canvas,
// packed as a JPEG and handed in with the time into the film. The film may run
// on; stills are sent one after the other.
export default function film(box) {
  const video = box.querySelector("video"), form = box.querySelector("form"), list = box.querySelector("[data-stills]");
  const says = box.querySelector("[data-says]");
  for (const hidden of box.querySelectorAll("[data-taps]")) hidden.hidden = false;
  const say = (text) => { says.textContent = text; };
  const longest = 4096; // pixels, either way

  const still = () => {
    if (!video.videoWidth || video.readyState < 2) return null;
    const k = Math.min(1, longest / Math.max(video.videoWidth, video.videoHeight));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(k * video.videoWidth);
    canvas.height = Math.round(k * video.videoHeight);
    canvas.getContext("2d").drawImage(video, 0, 0, canvas.width, canvas.height);
    return { at: video.currentTime, jpeg: new Promise((got) => canvas.toBlob(got, "image/jpeg", 0.92)) };
  };
  const put = ({ href, name, thumb, last }) => {
    const note = document.querySelector(".fresh"); // what this page wrote itself is no news to it
    if (note && last === Number(note.dataset.after) + 1) note.dataset.after = last;
    if ([...list.querySelectorAll("a")].some((a) => a.getAttribute("href") === href)) return;
    const item = document.createElement("li"), figure = item.appendChild(document.createElement("figure"));
    figure.className = "shot";
    const shown = figure.appendChild(Object.assign(document.createElement("a"), { href }));
    shown.append(Object.assign(document.createElement("img"), { src: thumb, alt: name, width: 160, height: 120 }));
    figure.appendChild(document.createElement("figcaption")).append(Object.assign(document.createElement("a"), { href, textContent: name }));
    list.append(item);
    list.nextElementSibling.hidden = true;
  };

  let before = Promise.resolve(), waiting = 0;
  const take = () => {
    const one = still();
    if (!one) return say("Nothing of the film is to be seen yet: start it first.");
    waiting += 1;
    document.documentElement.removeAttribute("data-settled");
    before = before.then(async () => {
      try {
        const body = new FormData(form);
        body.set("still", await one.jpeg, "still.jpg");
        body.set("at", one.at.toFixed(2));
        const answer = await fetch(form.action, { method: "POST", body, headers: { Accept: "application/json" } });
        if (!answer.ok) throw new Error(answer.status);
        const kept = await answer.json();
        put(kept);
        say(`Kept: ${kept.name}`);
      } catch {
        say("The still was not kept: the program sleeps or refused it. Take it once more.");
      }
      waiting -= 1;
      if (waiting === 0) document.documentElement.dataset.settled = "";
    });
  };
  const move = (by) => {
    video.pause();
    video.currentTime = Math.min(Math.max(0, video.currentTime + by), video.duration || 0);
  };
  box.querySelector("[data-take]").addEventListener("click", take);
  for (const b of box.querySelectorAll("[data-by]")) b.addEventListener("click", () => move(Number(b.dataset.by)));
  video.addEventListener("error", () => say("This browser can't play the film. A still that was taken elsewhere can be handed in below."));
  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input, textarea, select")) return;
    const by = { ArrowRight: 0.2, ArrowLeft: -0.2 }[event.key];
    if (by) move(by);
    else if (event.key === "s" || event.key === "S") take();
    else return;
    event.preventDefault();
  }, true);
}
