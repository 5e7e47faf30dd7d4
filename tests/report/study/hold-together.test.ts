import { describe, expect, it } from 'vitest';
import { holdTogether } from '../../../src/report/study/hold-together.js';

/** A space that does not break, as a reader of this file can see it. */
const shown = (html: string): string => holdTogether(html).replaceAll('\u00a0', '~');

describe('a page of a study', () => {
  it('ends no line between a number and its unit, or inside the levels of a scale', () => {
    expect(shown('<p>the first 72 h, 32 (47 %), ICP above 22 mmHg for 300 s or 5 min.</p>')).toBe(
      '<p>the first 72~h, 32 (47~%), ICP above 22~mmHg for 300~s or 5~min.</p>',
    );
    expect(shown('<th>Favourable (GOSE 5 to 8), 36</th><td>GOS 3</td>')).toBe(
      '<th>Favourable (GOSE~5~to~8), 36</th><td>GOS~3</td>',
    );
  });

  it('leaves other words, drawings and attributes as they are', () => {
    const html =
      '<p title="72 h">4 hours, 2 more, 5 mins, 8 to 9</p><svg aria-label="5 mmHg"><text>5 mmHg</text></svg>';
    expect(holdTogether(html)).toBe(html);
  });
});
