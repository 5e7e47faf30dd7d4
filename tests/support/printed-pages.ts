import { expect, it } from 'vitest';
import { cut, headless, lost, type Printed, scale } from './print-checks.js';

/** Tests that pages print whole: nothing cut, no table without its head, no word lost, nothing made smaller. */
export function itPrintsWhole(
  pages: readonly string[],
  print: (name: string) => Promise<Printed>,
  format: 'A4' | 'Letter',
): void {
  it.each(pages)('%s has no figure, drawing or row cut', async (name) => {
    const { marked, sheets } = await print(name);
    const [width, height] = format === 'A4' ? [595, 842] : [612, 792];
    for (const sheet of sheets)
      expect(Math.abs(sheet.width - width) < 2 && Math.abs(sheet.height - height) < 2).toBe(true);
    if (/patient-\d+\.html$/.test(name)) expect(marked.figures).toBeGreaterThan(0);
    expect(marked.tables.flatMap(({ rows }) => rows).length).toBeGreaterThan(0);
    expect(cut({ marked, sheets })).toEqual([]);
  });

  it.each(pages)('%s has the head of each table on each sheet of it', async (name) => {
    const { marked, sheets } = await print(name);
    // Their rows are texts with a picture, in two columns; nothing stands under a head there.
    expect(marked.tables.filter(({ head, kind }) => head === null && kind !== 'removals')).toEqual([]);
    expect(headless({ marked, sheets })).toEqual([]);
  });

  it.each(pages)('%s loses no word at an edge and is not made smaller', async (name) => {
    const printed = await print(name);
    expect(printed.marked.words.length).toBeGreaterThan(100);
    expect(lost(printed)).toEqual([]);
    expect(scale(printed)).toBeCloseTo(1, 2);
  });
}
