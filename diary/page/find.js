// Finds in the list by place: all words typed, at a place, of a stage. Without
// this script the lists by place and by stage lead everywhere too.
(() => {
  const by = (id) => document.getElementById(id);
  const plain = (s) => s.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const shelves = [...document.querySelectorAll("details.shelf")].map((shelf) => ({
    shelf,
    name: plain(shelf.querySelector("summary").textContent),
    finds: [...shelf.querySelectorAll("li")].map((find) => ({ find, text: plain(find.textContent) })),
  }));
  const look = () => {
    const words = plain(by("word").value).split(/\s+/).filter(Boolean);
    const place = by("place").value;
    const stage = by("stage").value;
    const asked = words.length > 0 || place !== "" || stage !== "";
    let many = 0;
    for (const { shelf, name, finds } of shelves) {
      let here = 0;
      for (const { find, text } of finds) {
        const hit = words.every((w) => text.includes(w) || name.includes(w)) &&
          (place === "" || find.dataset.place === place) && (stage === "" || find.dataset.stage === stage);
        find.hidden = !hit;
        here += hit ? 1 : 0;
      }
      shelf.hidden = here === 0;
      shelf.open = asked && here > 0;
      many += here;
    }
    by("all-visits").hidden = asked;
    by("stages").hidden = asked;
    by("many").textContent = asked ? `${many} found` : "";
  };
  for (const id of ["word", "place", "stage"]) by(id).addEventListener("input", look);
  by("search").hidden = false;
  look();
  document.documentElement.dataset.settled = "";
})();
