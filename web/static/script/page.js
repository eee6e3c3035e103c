// Runs each helper that the page asks for (data-enhance="name" loads name.js
// and calls its default function with the element), then sets data-settled on
// the document: from then on the page moves no more by itself.
const helpers = [...document.querySelectorAll("[data-enhance]")].map(async (element) => {
  const helper = await import(`./${element.dataset.enhance}.js`);
  await helper.default(element);
});

await Promise.allSettled([document.fonts.ready, ...helpers]);
document.documentElement.dataset.settled = "";
