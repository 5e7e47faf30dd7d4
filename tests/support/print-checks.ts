import type { Sheet, Word } from './poppler.js';
import type { Marked, Whole } from './print-marks.js';

/** A page with marks, as it came out on paper. */
export interface Printed {
  readonly marked: Marked;
  readonly sheets: readonly Sheet[];
}

/** A mark or word on a sheet, counted from 0. */
interface Found extends Word {
  readonly sheet: number;
}

const MARK = /QX\d+XQ/g;

/** Points by which the box of a word may be larger than what is drawn of it. */
const TOLERANCE = 1;

/** Where each mark stands; on more than one sheet where a head is repeated. */
function placesOf({ sheets }: Printed): (mark: string) => Found[] {
  const places = new Map<string, Found[]>();
  sheets.forEach(({ words }, sheet) => {
    for (const word of words)
      for (const mark of word.text.match(MARK) ?? [])
        places.set(mark, [...(places.get(mark) ?? []), { ...word, sheet }]);
  });
  return (mark) => places.get(mark) ?? [];
}

/** True for a word inside the margins. */
function isWithin({ left, top, right, bottom }: Word, sheet: Sheet, { marked }: Printed): boolean {
  const [above, rightward, below, leftward] = marked.margins;
  return (
    left >= leftward - TOLERANCE &&
    right <= sheet.width - rightward + TOLERANCE &&
    top >= above - TOLERANCE &&
    bottom <= sheet.height - below + TOLERANCE
  );
}

/** What is cut: figures, drawings and rows whose corners do not both stand, once, on one sheet and inside its margins. */
export function cut(printed: Printed): string[] {
  const places = placesOf(printed);
  const { whole, tables } = printed.marked;
  const isWhole = ({ marks }: Whole): boolean => {
    const [first, last] = marks.map(places);
    return (
      first.length === 1 &&
      last.length === 1 &&
      first[0].sheet === last[0].sheet &&
      [...first, ...last].every((mark) => isWithin(mark, printed.sheets[mark.sheet], printed))
    );
  };
  return [...whole, ...tables.flatMap(({ rows }) => rows)]
    .filter((one) => !isWhole(one))
    .map(({ what }) => what);
}

/** A line may end behind a hyphen. */
const parts = (words: readonly string[]): string[] =>
  words
    .flatMap((word) => word.replace(MARK, '').split(/(?<=-)/))
    .filter((part) => part !== '')
    .sort();

/** Heads that do not stand, with all of their words, over the rows of each sheet that their table covers. */
export function headless(printed: Printed): string[] {
  const places = placesOf(printed);
  return printed.marked.tables.flatMap(({ head, rows }) => {
    if (head === null) return [];
    const covered = [...new Set(rows.flatMap(({ marks }) => places(marks[0]).map(({ sheet }) => sheet)))];
    return covered.flatMap((sheet) => {
      const [top, bottom] = head.marks.map((mark) => places(mark).filter((found) => found.sheet === sheet));
      const name = `${head.words.join(' ')}, sheet ${sheet + 1}`;
      if (top.length !== 1 || bottom.length !== 1) return [name];
      const inHead = printed.sheets[sheet].words.filter(
        (word) =>
          word.top >= top[0].top - TOLERANCE &&
          word.bottom <= bottom[0].bottom + TOLERANCE &&
          word.left >= top[0].left - TOLERANCE &&
          word.right <= bottom[0].right + TOLERANCE,
      );
      const isSame = parts(inHead.map(({ text }) => text)).join(' ') === parts(head.words).join(' ');
      const isOverRows = rows
        .flatMap(({ marks }) => places(marks[0]))
        .every((row) => row.sheet !== sheet || row.top >= bottom[0].top - TOLERANCE);
      return isSame && isOverRows ? [] : [name];
    });
  });
}

const isAtFoot = ({ top }: Word, { height }: Sheet, { marked }: Printed): boolean =>
  top >= height - marked.margins[2];

/** Words of the page that stand on no sheet inside its margins, such as those that the edge of a sheet cuts. */
export function lost(printed: Printed): string[] {
  const shown = new Map<string, number>();
  for (const sheet of printed.sheets) {
    const within = sheet.words.filter((word) => isWithin(word, sheet, printed));
    for (const part of parts(within.map(({ text }) => text))) shown.set(part, (shown.get(part) ?? 0) + 1);
  }
  return parts(printed.marked.words).filter((part) => {
    const left = shown.get(part) ?? 0;
    shown.set(part, left - 1);
    return left <= 0;
  });
}

/** The size on paper to the size that the style sheet gives: a browser makes a page smaller that is too wide. */
export function scale(printed: Printed): number {
  const places = placesOf(printed);
  const [from, to] = printed.marked.ruler.map((mark) => places(mark)[0].left);
  // 300 pixels of 1/96 inch.
  return (to - from) / 225;
}

/** The line at the foot of each sheet. */
export const feet = (printed: Printed): string[] =>
  printed.sheets.map((sheet) =>
    sheet.words
      .filter((word) => isAtFoot(word, sheet, printed))
      .sort((a, b) => a.left - b.left)
      .map(({ text }) => text)
      .join(' '),
  );
