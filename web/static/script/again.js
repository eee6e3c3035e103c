// A picture that is still being made is shown by a drawing in its place, 163
// pixels wide as no picture is. While one is looked at it is asked for again,
// less and less often, until the picture is there.
const standIn = 163;

const again = (image, wait) => setTimeout(() => {
  if (!image.isConnected) return;
  const box = image.getBoundingClientRect();
  if (document.hidden || box.bottom < 0 || box.top > innerHeight) return again(image, wait);
  const next = new Image();
  const at = new URL(image.src);
  at.searchParams.set("again", Date.now());
  next.addEventListener("load", () => {
    if (next.naturalWidth === standIn) return again(image, Math.min(1.5 * wait, 30000));
    image.src = next.src;
  });
  next.addEventListener("error", () => again(image, 30000));
  next.src = at.href;
}, wait);

const look = (image) => { if (image.naturalWidth === standIn && image.src.includes("/picture/")) again(image, 1500); };

// Those of lists load when they come into sight.
export default function watch(main) {
  main.addEventListener("load", (event) => { if (event.target instanceof HTMLImageElement && !event.target.src.includes("again=")) look(event.target); }, true);
  for (const image of main.querySelectorAll("img")) if (image.complete) look(image);
}
