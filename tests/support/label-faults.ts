/** What of the text on a page is cut by its drawing, or stands on other text by more than a pixel. */
export const LABEL_FAULTS = `[...document.querySelectorAll('svg')].flatMap((svg) => {
  const page = svg.getBoundingClientRect();
  const texts = [...svg.querySelectorAll('text')].map((text) => ({ says: text.textContent, box: text.getBoundingClientRect() }));
  const cut = texts.filter(({ box }) => box.left < page.left || box.right > page.right || box.top < page.top - 1 || box.bottom > page.bottom);
  const pairs = texts.flatMap((a, i) => texts.slice(i + 1).map((b) => [a, b]));
  const on = pairs.filter(([a, b]) => Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left) > 0 && Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) > 1);
  return [...cut.map(({ says }) => 'cut: ' + says), ...on.map(([a, b]) => a.says + ' on ' + b.says), ...(texts.length < 3 ? ['only ' + texts.length + ' labels: ' + svg.outerHTML.slice(0, 3000)] : [])];
})`;
