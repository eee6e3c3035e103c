// Sorts pictures by keys: a digit sends them to a suggestion, the arrows take
// more or fewer of the next along. The form does the same by taps.
export default function sort(form) {
  const run = [...form.querySelectorAll("input[name=last]")];
  const mark = () => {
    const last = run.findIndex((r) => r.checked);
    run.forEach((r, i) => r.closest("label").classList.toggle("taken", i <= last));
  };
  form.addEventListener("change", mark);
  mark();
  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.target.matches("input[name=other], textarea, select")) return;
    const last = run.findIndex((r) => r.checked);
    const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (by && run[last + by]) {
      run[last + by].checked = true;
      run[last + by].closest("li").scrollIntoView({ block: "nearest", inline: "nearest" });
      mark();
      event.preventDefault();
    } else if (/^[1-9]$/.test(event.key)) {
      form.querySelectorAll("button[name=of]")[Number(event.key) - 1]?.click();
    } else if (event.key === "l" || event.key === "L") {
      form.querySelector("a.button")?.click();
    }
  });
}
