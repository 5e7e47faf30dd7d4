import { describe, expect, it } from 'vitest';
import { RULES } from '../../src/clean/rules.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { cleaningStripSpec, NAMES_WIDTH, type StripBar } from '../../src/report/charts/cleaning-strip.js';
import { renderSvg } from '../../src/report/charts/render.js';
import { visibleSpans } from '../../src/report/charts/spans.js';
import { stripRows } from '../../src/report/morning/strip-rows.js';
import type { RecordingResult } from '../../src/report/results-schema.js';
import { shortRuleTitle } from '../../src/report/rule-title.js';
import { seconds } from '../support/shapes.js';
import { T0 } from '../support/signals.js';

const NIGHT = seconds(0, 12 * 3600);
const bar = (from: number, to: number, kind: StripBar['kind'] = 'removed'): StripBar => ({
  ...seconds(from, to),
  kind,
});
const iso = (second: number): string => new ZoneClock('UTC').format(T0 + second * 1000);

describe('the bars of the cleaning strip', () => {
  it('show a cough of 5 s in a night, two pixels wide', () => {
    const [{ from, to }] = visibleSpans([bar(3600, 3605)], NIGHT, 720);
    expect([from, to]).toEqual([60, 62]);
  });

  it('have the length of what was taken where it is longer, and stay inside the period', () => {
    expect(visibleSpans([bar(3600, 7200), bar(-600, 600), bar(43_000, 50_000)], NIGHT, 720)).toEqual([
      { from: 0, to: 10 },
      { from: 60, to: 120 },
      { from: expect.closeTo(716.67, 2), to: 720 },
    ]);
  });

  it('show what was taken in the last second of the period', () => {
    const [{ from, to }] = visibleSpans([bar(43_199, 43_200)], NIGHT, 720);
    expect([from, to]).toEqual([718, 720]);
  });

  it('are few where they would touch, however many were taken', () => {
    const coughs = Array.from({ length: 5000 }, (_, i) => bar(i * 8, i * 8 + 3));
    expect(visibleSpans(coughs, NIGHT, 720).length).toBeLessThan(3);
  });
});

describe('the cleaning strip', () => {
  const result = {
    cleaning: {
      takes: [
        { channel: 'icp', rule: 'briefSpike' },
        { channel: 'icp', rule: 'negative' },
        { channel: 'icpDrain', rule: 'openDrain' },
      ],
    },
    removed: [
      {
        channel: 'icp',
        rule: 'negative',
        start: iso(7200),
        end: iso(9000),
        grade: 'suspect',
        decidedBy: null,
      },
      {
        channel: 'icpDrain',
        rule: 'openDrain',
        start: iso(60),
        end: iso(600),
        grade: 'removed',
        decidedBy: null,
      },
      { channel: 'icp', rule: 'briefSpike', start: iso(30), end: iso(35), grade: 'removed', decidedBy: null },
      { channel: 'icp', rule: 'reviewed', start: iso(900), end: iso(960), grade: 'suspect', decidedBy: 'AB' },
    ],
    decisions: [{ channel: 'icp', decision: 'keep', start: iso(1000), end: iso(1100), reviewer: 'AB' }],
  } as unknown as RecordingResult;

  it('has a row a rule and channel, in the order of the account, and one of what a person decided', () => {
    const rows = stripRows(result).map(({ name, bars }) => [name, bars.map(({ kind }) => kind)]);
    expect(rows).toEqual([
      ['ICP: brief spikes', ['removed']],
      ['ICP: negative ICP', ['suspect']],
      ['Drain: drain open', ['removed']],
      ["ICP: a person's decision", ['decidedSuspect', 'decidedKept']],
    ]);
  });

  it('has room for the longest name, also in a wider font than it asks for', () => {
    // DejaVu Sans, which stands in where Helvetica is missing, is about 6.4 pixels a character at 11 pixels; 7 are the gap.
    const longest = Math.max(
      ...(['ICP', 'Drain', 'MAP'] as const).flatMap((channel) =>
        RULES.filter(({ name }) => channel !== 'Drain' || name !== 'handling').map(
          ({ name }) => `${channel}: ${shortRuleTitle(name)}`.length,
        ),
      ),
    );
    expect(longest).toBeGreaterThan(38);
    expect(longest * 6.4 + 7).toBeLessThan(NAMES_WIDTH);
  });

  it('is drawn with names, with fills and with strokes, so that colour is not all', async () => {
    const svg = await renderSvg(cleaningStripSpec(stripRows(result), NIGHT, new ZoneClock('UTC')), 'taken');
    for (const name of ['ICP: brief spikes', 'Drain: drain open', 'ICP: a person'])
      expect(svg).toContain(name);
    // Slanted strokes run from the bottom of a bar to its top; outlines have a stroke and no fill.
    expect(svg).toMatch(/stroke="#cc79a7"/);
    expect(svg).toMatch(/stroke="#1a1a1a"/);
    expect(svg).toMatch(/fill="#8c8c8c"/);
    expect(svg.length).toBeLessThan(40_000);
  });
});
