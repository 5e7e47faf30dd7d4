/** A markdown table; numbers stand right. */
export function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const isNumber = header.map((_, c) =>
    rows.every((row) => /^[\d.,()\s–-]*$/.test(row[c]) || row[c] === '1'),
  );
  const rule = header.map((_, c) => (isNumber[c] ? '--:' : '---'));
  return [header, rule, ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n');
}

/** The middle one, or the mean of the two middle ones. */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
