import type { Browser, Page } from 'playwright-core';
import { h } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { maskResponse } from '../../../src/report/audit/mask-response.js';
import { maskTime } from '../../../src/report/audit/mask-time.js';
import { drawResponse } from '../../../src/report/audit/response-drawings.js';
import { responseResult } from '../../../src/report/audit/response-result.js';
import { ResponseSection } from '../../../src/report/audit/response-section.js';
import { drawTime } from '../../../src/report/audit/time-drawings.js';
import { timeResult } from '../../../src/report/audit/time-result.js';
import { TimeSection } from '../../../src/report/audit/time-section.js';
import { renderSvg } from '../../../src/report/charts/render.js';
import { renderPage } from '../../../src/report/page/page.js';
import { auditResponseTables } from '../../../src/report/tables/audit-response-tables.js';
import { tidyCsv } from '../../../src/report/tables/tidy-table.js';
import type { UnitAuditInput } from '../../../src/summarize/alarms/audit-settings.js';
import { unitResponse } from '../../../src/summarize/alarms/unit-response.js';
import { Resampler } from '../../../src/summarize/statistics/resampler.js';
import { openChromium } from '../../support/chromium.js';
import { type Invented, inventedUnit } from '../../support/invented-unit.js';
import { LABEL_FAULTS as FAULTS } from '../../support/label-faults.js';

const FEW = new Resampler(100, 5);
const CHANGED: Partial<Invented> = { seed: 8, patients: 40, weeks: 44, changedAfterWeeks: 22, faster: 3 };
const LONG = 'a <b>checklist</b> with a name that goes on & on, and never comes to an end';

async function sectionsOf(unit: UnitAuditInput, below: number | null = null) {
  const plain = { response: responseResult(unit, unitResponse(unit, FEW)), time: timeResult(unit) };
  const { response, time } =
    below === null
      ? plain
      : { response: maskResponse(plain.response, below), time: maskTime(plain.time, below) };
  const children = [
    h(ResponseSection, { response, drawings: await drawResponse(response, renderSvg) }),
    h(TimeSection, { time, drawings: await drawTime(time, renderSvg) }),
  ];
  return { response, time, children, html: renderToStaticMarkup(h('div', null, children)) };
}

const withChange = (unit: UnitAuditInput, per: 'week' | 'month', share: number): UnitAuditInput => ({
  ...unit,
  settings: {
    ...unit.settings,
    per,
    changed: { atMs: unit.period.start + share * (unit.period.end - unit.period.start), what: LONG },
  },
});

const textOf = (html: string): string =>
  html
    .replace(/<svg[\s\S]*?<\/svg>/g, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');

describe('sections on responses and on time', () => {
  let full: Awaited<ReturnType<typeof sectionsOf>>;
  beforeAll(async () => {
    full = await sectionsOf(inventedUnit(CHANGED));
  });

  it('say all signals that results.json has, and never a verdict', () => {
    const text = textOf(full.html);
    for (const { views } of full.time.measures) {
      for (const view of views) {
        if (view.run.reason === null) expect(text).toContain(view.runSays);
        if (view.limitsReason === null) expect(text).toContain(view.limitsSay);
      }
    }
    expect(text).toMatch(/signal: \d+ weeks in a row (over|under) the median/);
    expect(text).toContain('The medians from before the change rest on 21 to 22 weeks');
    expect(text).toContain('draw whole patients 2000 times');
    expect(text).not.toMatch(/\b(good|bad|improved|worsened|NaN|undefined|null|\[object)\b/);
  });

  it('say why where the logs are missing, and draw nothing then', async () => {
    const bare = await sectionsOf({ ...inventedUnit(CHANGED), careCover: null, hasAcknowledgements: false });
    const text = textOf(bare.html);
    expect(text).toContain('First treatment Cannot be told: no care log was given.');
    expect(text).toContain('Acknowledged Cannot be told: the log tells of no acknowledgement.');
    expect(bare.html.match(/<svg/g)?.length).toBe(3);
    const none = await sectionsOf({
      ...inventedUnit(CHANGED),
      patients: [],
      alarmsCover: null,
      careCover: null,
    });
    expect(textOf(none.html)).not.toMatch(/\b(NaN|undefined)\b/);
  });

  it('show no count under the limit where they are masked', async () => {
    const { html, response, time } = await sectionsOf(inventedUnit(CHANGED), 6);
    expect(textOf(html)).toContain('Not shown: counts under 6');
    const csv = auditResponseTables(response, time).map(tidyCsv).join('\n');
    expect(csv).toContain('masked');
    // The third column of the table of responses on is counts; the whole row of a masked part is blank.
    expect(csv).not.toMatch(/^(icp|cpp),\w+,\w+,[^,]*,[^,]*,[1-5],/m);
  });

  it('have tables with a row a channel, clock and part, and a row a measure, point and view', () => {
    const [response, risk, time] = auditResponseTables(full.response, full.time);
    expect(response.rows.length).toBe(
      full.response.clocks.reduce((sum, { periods }) => sum + periods.length, 0),
    );
    expect(risk.rows.length).toBe(6 * 7);
    const inViews = full.time.measures.flatMap(({ views }) => views.flatMap(({ limits }) => limits)).length;
    const inNone = full.time.measures.reduce(
      (sum, { points, views }) =>
        sum +
        points.filter(({ start }) => !views.some(({ limits }) => limits.some((one) => one.start === start)))
          .length,
      0,
    );
    expect(time.rows.length).toBe(inViews + inNone);
    for (const table of [response, risk, time]) {
      const names = new Set(table.columns.map(({ name }) => name));
      expect(table.rows.every((row) => Object.keys(row).every((key) => names.has(key)))).toBe(true);
      expect(tidyCsv(table)).not.toMatch(/NaN|undefined|\[object/);
    }
  });
});

describe('charts of responses and over time', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await openChromium();
    page = await browser.newPage({ viewport: { width: 1000, height: 1500 } });
  });
  afterAll(() => browser?.close());

  const CASES: [string, UnitAuditInput, number | null][] = [
    ['44 weeks', inventedUnit(CHANGED), null],
    ['masked', inventedUnit(CHANGED), 6],
    ['a change early on, with a long name', withChange(inventedUnit({ ...CHANGED }), 'week', 0.02), null],
    ['a change in the middle', withChange(inventedUnit(CHANGED), 'week', 0.51), null],
    ['months', withChange(inventedUnit(CHANGED), 'month', 0.98), null],
    ['3 weeks', inventedUnit({ patients: 11, weeks: 3 }), null],
    [
      'a cut first week',
      {
        ...inventedUnit({ patients: 11, weeks: 6 }),
        alarmsCover: { start: Date.parse('2031-01-10T23:00:00Z'), end: Date.parse('2031-02-11T23:00:00Z') },
      },
      null,
    ],
  ];

  it.each(CASES)(
    'have labels that are whole and apart, and are no wider than 620 pixels: %s',
    async (_, unit, below) => {
      const { html } = await sectionsOf(unit, below);
      const svgs = html.match(/<svg[\s\S]*?<\/svg>/g) ?? [];
      expect(svgs.length).toBeGreaterThan(4);
      for (const svg of svgs) expect(Number(/width="([\d.]+)"/.exec(svg)?.[1])).toBeLessThanOrEqual(620);
      for (const font of ['Helvetica', 'DejaVu Sans']) {
        await page.setContent(
          `<style>svg, svg * { font-family: '${font}' !important }</style>${svgs.join('')}`,
        );
        expect(await page.evaluate(FAULTS), font).toEqual([]);
      }
    },
  );

  it('stand on a page that is no wider than a window or a sheet', async () => {
    const { children } = await sectionsOf(inventedUnit(CHANGED));
    await page.setContent(renderPage({ title: 'Lantern Bay', subtitle: '', running: '', children }));
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
    // What a table is wider than its box would be cut on paper.
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: 703, height: 1000 });
    const over = `[...document.querySelectorAll('.scroll')].map((box) => box.scrollWidth - box.clientWidth).filter((n) => n > 1)`;
    expect(await page.evaluate(over)).toEqual([]);
  });
});
