/**
 * Run inside a page before it is printed. Writes tiny words into the corners of what must not be cut, which take no room,
 * so that they can be found again on the sheets, and says what was marked:
 *
 * - `words`: all that a reader sees
 * - `ruler`: two marks, 300 pixels apart
 * - `whole`: figures, drawings and table rows, with a word in the upper left and the lower right corner
 * - `tables`: with the words of their head, a mark at its top and at its bottom, and the marks of their rows; `head` is
 *   null where a table shows none
 * - `margins`: of a sheet, in points of 1/72 inch
 */
export const MARK_PAGE = `(() => {
  let count = 0;
  const mark = (inside, of, place) => {
    const word = document.createElement('span');
    word.textContent = 'QX' + ++count + 'XQ';
    word.style.cssText = 'position:absolute;padding:0;margin:0;font:1px/1px Arial;white-space:nowrap;' + place;
    of.style.position = 'relative';
    inside.append(word);
    return word.textContent;
  };
  const first = 'left:0;top:0';
  // At the very edge of a sheet a word would be cut itself.
  const last = 'right:0;bottom:1px';
  const corners = (of, inside = of) => ({
    what: of.localName + ' ' + of.textContent.trim().slice(0, 40),
    marks: [mark(inside, of, first), mark(inside, of, last)],
  });
  const isShown = (element) => element.getClientRects().length > 0;
  // For those only who listen to the page; on paper it takes no room.
  for (const head of document.querySelectorAll('thead'))
    if (getComputedStyle(head).position === 'absolute') head.style.display = 'none';
  // Boxes in a line stand apart by their margins, which are no words; the page is printed without these spaces.
  const inLine = [...document.body.querySelectorAll('*')].filter((one) => getComputedStyle(one).display === 'inline-block');
  const spaces = inLine.map((one) => {
    const space = document.createTextNode(' ');
    one.after(space);
    return space;
  });
  // A label of a chart may have two lines, which innerText runs together.
  for (const line of document.querySelectorAll('svg tspan + tspan')) line.prepend(' ');
  const words = document.body.innerText.split(/\\s+/).filter(Boolean);
  for (const space of spaces) space.remove();
  const boxes = new Set([...document.querySelectorAll('figure'), ...[...document.querySelectorAll('svg')].map((svg) => svg.parentElement)]);
  const tables = [...document.querySelectorAll('table')].filter(isShown).map((table) => {
    const head = table.tHead && isShown(table.tHead) ? table.tHead.rows[0] : null;
    return {
      kind: table.className,
      head: head && {
        words: [...head.cells].flatMap((cell) => cell.textContent.split(/\\s+/)).filter(Boolean),
        marks: corners(head, head.cells[0]).marks,
      },
      rows: [...table.tBodies].flatMap((body) => [...body.rows]).filter(isShown).map((row) => corners(row, row.cells[0])),
    };
  });
  const whole = [...boxes].filter(isShown).map((box) => corners(box));
  const rules = [...document.styleSheets].flatMap((sheet) => [...sheet.cssRules]).filter((rule) => rule instanceof CSSPageRule);
  const sides = rules.map(({ style }) => ['Top', 'Right', 'Bottom', 'Left'].map((side) => style['margin' + side])).find(([top]) => top !== '');
  const ruler = [0, 300].map((left) => mark(document.body, document.body, 'left:' + left + 'px;top:0'));
  return {
    words,
    ruler,
    whole,
    tables,
    figures: document.querySelectorAll('figure').length,
    margins: sides.map((text) => (Number.parseFloat(text) * 72) / 25.4),
    title: document.querySelector('h1').textContent,
  };
})()`;

/** A figure, drawing or row, and the words in its corners. */
export interface Whole {
  readonly what: string;
  readonly marks: readonly [first: string, last: string];
}

/** What `MARK_PAGE` gives. */
export interface Marked {
  readonly words: readonly string[];
  readonly ruler: readonly [string, string];
  readonly whole: readonly Whole[];
  readonly tables: readonly {
    readonly kind: string;
    readonly head: { readonly words: readonly string[]; readonly marks: readonly [string, string] } | null;
    readonly rows: readonly Whole[];
  }[];
  readonly figures: number;
  readonly margins: readonly [top: number, right: number, bottom: number, left: number];
  readonly title: string;
}
