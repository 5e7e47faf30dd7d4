const BLOCKS = '▁▂▃▄▅▆▇█';

/** A row of block characters, one a part, from the lowest part to the highest; a space where nothing is known. */
export function stripText(strip: readonly (number | null)[]): string {
  const known = strip.filter((value): value is number => value !== null);
  const lowest = Math.min(...known);
  const range = Math.max(...known) - lowest;
  return strip
    .map((value) => {
      if (value === null) return ' ';
      // A flat channel stands in the middle: at the bottom it would look like nothing.
      const share = range > 0 ? (value - lowest) / range : 0.4;
      return BLOCKS[Math.min(BLOCKS.length - 1, Math.floor(share * BLOCKS.length))];
    })
    .join('');
}

/** Text in columns: each as wide as its widest cell, the last as it is; `right` columns are aligned right. */
export function inColumns(rows: readonly (readonly string[])[], right: readonly number[] = []): string[] {
  const widths = (rows[0] ?? []).map((_, c) => Math.max(...rows.map((row) => [...(row[c] ?? '')].length)));
  return rows.map((row) =>
    row
      .map((cell, c) => {
        const space = ' '.repeat(Math.max(0, widths[c] - [...cell].length));
        if (right.includes(c)) return space + cell;
        return c === row.length - 1 ? cell : cell + space;
      })
      .join('  ')
      .trimEnd(),
  );
}
