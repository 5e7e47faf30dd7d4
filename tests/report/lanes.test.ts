import { describe, expect, it } from 'vitest';
import type { Bedside, BedsideAlarm, BedsideEntry } from '../../src/report/bedside.js';
import { lanesIn } from '../../src/report/charts/lane-marks.js';
import { overviewSpec } from '../../src/report/charts/period-overview.js';
import { renderSvg } from '../../src/report/charts/render.js';
import { busyBedside, drawnOver, NO_BEDSIDE } from '../support/drawn.js';
import { seconds } from '../support/shapes.js';
import { T0 } from '../support/signals.js';

const NIGHT = seconds(0, 12 * 3600);
/** A pixel a minute. */
const WIDTH = 720;
const at = (minute: number): number => T0 + minute * 60_000;
const alarm = (start: number, end: number | null, acknowledged: number | null = null): BedsideAlarm => ({
  start: at(start),
  end: end === null ? null : at(end),
  acknowledged: acknowledged === null ? null : at(acknowledged),
  text: 'ICP above 22 mmHg',
});
const entry = (start: number, end: number | null = null, isTreatment = true): BedsideEntry => ({
  start: at(start),
  end: end === null ? null : at(end),
  isTreatment,
  text: 'mannitol',
});
const lanesOf = (bedside: Partial<Bedside>) => lanesIn({ ...NO_BEDSIDE, ...bedside }, NIGHT, WIDTH);

describe('the lanes of what logs say', () => {
  it('are there only where something is in the window', () => {
    expect(lanesOf({})).toEqual([]);
    expect(lanesOf({ alarms: [], entries: [] })).toEqual([]);
    expect(lanesOf({ alarms: [alarm(-60, -30), alarm(-60, null), alarm(800, 900)] })).toEqual([]);
    expect(lanesOf({ entries: [entry(60, null, false), entry(-5), entry(-60, -5)] })).toEqual([]);
    expect(lanesOf({ drainOpen: [{ start: at(-9), end: at(-3), isClosed: true }] })).toEqual([]);
    const all = lanesOf({
      alarms: [alarm(60, 70)],
      entries: [entry(60)],
      drainOpen: [{ start: at(-9), end: at(90), isClosed: false }],
    });
    expect(all.map(({ name }) => name)).toEqual(['Alarms', 'Treatments', 'Drain open']);
    expect(all[2].frames).toEqual([{ from: 0, to: 90 }]);
  });

  it('show an alarm from onset to end, one without an end as a stroke, and who acknowledged it when', () => {
    const [{ bars, strokes, rounds }] = lanesOf({
      alarms: [alarm(60, 80, 65), alarm(100, null), alarm(200, 240)],
    });
    expect(bars).toEqual([
      { from: 60, to: 80 },
      { from: 200, to: 240 },
    ]);
    expect(strokes).toEqual([{ from: 99.25, to: 100.75 }]);
    expect(rounds).toEqual([{ from: 62, to: 68 }]);
  });

  it('show a treatment as a mark, and how long it lasted', () => {
    const [{ triangles, lasts }] = lanesOf({
      entries: [entry(60), entry(100, 130), entry(300, null, false)],
    });
    expect(triangles).toEqual([60, 100]);
    expect(lasts).toEqual([{ from: 100, to: 130 }]);
  });

  it('make one of marks that would touch, however many there are', () => {
    const minutes = Array.from({ length: 5000 }, (_, i) => 60 + i / 10);
    const [alarms, treatments] = lanesOf({
      alarms: minutes.map((m) => alarm(m, m + 0.05, m + 0.01)),
      entries: minutes.map((m) => entry(m)),
    });
    expect([alarms.bars.length, alarms.rounds.length]).toEqual([1, 1]);
    expect(treatments.triangles.length).toBeLessThanOrEqual(500 / 8 + 1);
    expect(treatments.lasts[0]).toEqual({ from: 60, to: expect.closeTo(67.9, 5) });
  });

  it('take part of what lies across an edge of the window', () => {
    const [alarms, treatments] = lanesOf({ alarms: [alarm(-30, 30, -10)], entries: [entry(-10, 20)] });
    expect(alarms).toMatchObject({ bars: [{ from: 0, to: 30 }], rounds: [] });
    expect(treatments).toMatchObject({ triangles: [], lasts: [{ from: 0, to: 20 }] });
  });
});

describe('lanes in a drawing', () => {
  const drawn = (bedside: Bedside): Promise<string> =>
    renderSvg(overviewSpec({ ...drawnOver(NIGHT, 'Europe/Oslo', { bedside }), period: NIGHT }), 'k');

  it('have names, and shapes that tell them apart without colour', async () => {
    const svg = await drawn(busyBedside(NIGHT));
    for (const name of ['Alarms', 'Treatments', 'Drain open']) expect(svg).toContain(`>${name}</text>`);
    const marks = [...svg.matchAll(/<path d="([^"]*)" fill="(#1a1a1a|#ffffff)"/g)];
    const kindOf = (d: string): string => (/[AC]/i.test(d) ? 'round' : /L/i.test(d) ? 'triangle' : 'bar');
    const kinds = marks.map(([, d, fill]) => `${kindOf(d)} ${fill}`);
    expect(kinds).toContain('bar #1a1a1a');
    expect(kinds).toContain('bar #ffffff');
    expect(svg).toMatch(/fill="#ffffff" stroke="#1a1a1a"/);
  });

  it('hold no text of a log', async () => {
    const svg = await drawn(busyBedside(NIGHT));
    for (const text of ['above 22', 'saline', 'head of bed', 'turned']) expect(svg).not.toContain(text);
  });

  it('add their rows to the height, and nothing where there are no logs', async () => {
    const heightOf = (svg: string): number => Number(/height="(\d+)"/.exec(svg)?.[1]);
    const [without, three] = [await drawn(NO_BEDSIDE), await drawn(busyBedside(NIGHT))];
    expect(heightOf(three) - heightOf(without)).toBe(14 + 3 * 16);
    expect(without).not.toContain('Alarms');
  });
});
