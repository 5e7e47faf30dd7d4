import type { Browser } from 'playwright-core';
import type { JSX } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawAlarms } from '../../../src/report/audit/alarm-drawings.js';
import { alarmsResult, isNightHour } from '../../../src/report/audit/alarms-result.js';
import { AlarmsSection, channelSentence } from '../../../src/report/audit/alarms-section.js';
import { CLASS_WORDS, CLASSES_SHOWN } from '../../../src/report/audit/class-words.js';
import { ClockNote } from '../../../src/report/audit/clock-note.js';
import { clockSentence, correctionWords, shiftOf } from '../../../src/report/audit/clock-words.js';
import { rate } from '../../../src/report/audit/estimate-words.js';
import { HoursSection } from '../../../src/report/audit/hours-section.js';
import { LogAccountSection, logLines } from '../../../src/report/audit/log-account-section.js';
import { maskAlarms } from '../../../src/report/audit/mask-alarms.js';
import { AlarmPatients } from '../../../src/report/audit/patients-section.js';
import { noticeSentence, UnnoticedSection } from '../../../src/report/audit/unnoticed-section.js';
import { renderSvg } from '../../../src/report/charts/render.js';
import type { AuditAlarms } from '../../../src/report/results-audit-alarms.js';
import { share } from '../../../src/report/words.js';
import { auditUnit, MONTH, patientOver, unitOf } from '../../support/audit-unit.js';
import { openChromium } from '../../support/chromium.js';
import { LABEL_FAULTS } from '../../support/label-faults.js';

/** What a reader reads. */
const textOf = (element: JSX.Element): string =>
  renderToStaticMarkup(element)
    .replace(/<svg.*?<\/svg>/gs, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');

const unit = (patients: number, seed: number, offsetSeconds = 0): AuditAlarms => {
  const { input, account } = auditUnit(patients, seed, offsetSeconds);
  return alarmsResult(input, account);
};

async function pageOf(alarms: AuditAlarms, maskBelow: number | null): Promise<JSX.Element> {
  const drawings = await drawAlarms(alarms, renderSvg);
  const props = { alarms, drawings, maskBelow };
  return (
    <>
      <AlarmsSection {...props} />
      <HoursSection {...props} />
      <AlarmPatients alarms={alarms} />
      <UnnoticedSection alarms={alarms} />
      <ClockNote clock={alarms.clock} svg={drawings.lags} />
      <LogAccountSection log={alarms.log} />
    </>
  );
}

const MANY = unit(14, 6);
const CLASS_ROWS = CLASSES_SHOWN.map((alarmClass) => ({ alarmClass, ...CLASS_WORDS[alarmClass] }));
const [ICP] = MANY.channels;

describe('sections on alarms', () => {
  it('answer in a sentence', () => {
    expect(
      channelSentence({
        ...ICP,
        alarms: 412,
        patients: 28,
        perDay: { value: 3.14, lower: 2.1, upper: 4.4 },
        sustained: {
          ...ICP.sustained,
          ofThoseTold: {
            ...ICP.sustained.ofThoseTold,
            byPatients: { value: 0.18, lower: 0.11, upper: 0.27 },
          },
        },
        sustainedOrCutShort: {
          ...ICP.sustainedOrCutShort,
          ofThoseTold: {
            ...ICP.sustained.ofThoseTold,
            byPatients: { value: 0.25, lower: null, upper: null },
          },
        },
      }),
    ).toBe(
      'ICP: 412 alarms while 28 patients were monitored, 3.1 (95 % interval 2.1 to 4.4) a monitored patient-day. Of those of which one can tell, 18 % (95 % interval 11 % to 27 %) were sustained; 25 % with those that treatment cut short.',
    );
    expect(
      noticeSentence({ ...ICP, episodes: 30, notices: { inTime: 11, late: 9, none: 5, notCovered: 5 } }),
    ).toBe(
      'ICP: 25 sustained episodes that the alarm log reaches: an alarm in time in 11, a late one in 9, none in 5. The alarm log does not reach 5 more of them.',
    );
    expect(
      noticeSentence({
        ...ICP,
        episodes: 30,
        notices: { inTime: 20, late: null, none: null, notCovered: 0 },
      }),
    ).toBe(
      'ICP: 30 sustained episodes (an alarm in time: 20; a late one: not shown; none: not shown; not reached by the alarm log: 0).',
    );
  });

  it('show what results.json holds, and say all of it in words', async () => {
    const text = textOf(await pageOf(MANY, null));
    for (const channel of MANY.channels) {
      expect(text).toContain(channelSentence(channel));
      const { part, whole } = channel.sustained.ofAll;
      expect(text).toContain(`${part} of ${whole}`);
    }
    for (const { alarmClass, says, name } of CLASS_ROWS) {
      const cells = MANY.channels.flatMap(({ classes }) => {
        const one = classes.find((candidate) => candidate.alarmClass === alarmClass);
        return [String(one?.alarms), share(one?.share ?? Number.NaN)];
      });
      expect(text).toContain(` ${[name, ...cells, says].join(' ')} `);
    }
    for (const { patient } of MANY.unnoticed) expect(text).toContain(patient);
    expect(text).not.toMatch(/NaN|undefined|null|not shown/);
    expect(text).not.toMatch(/\b(good|bad|useless alarm|false alarm)/i);
  });

  it('say that counts are hidden, and hide them', async () => {
    const masked = maskAlarms(unit(4, 6), 6);
    const text = textOf(await pageOf(masked, 6));
    expect(text).toContain('Not shown: counts under 6, other than none');
    expect(text).toContain('?: nothing was monitored, or not shown');
    const { hours } = await drawAlarms(masked, renderSvg);
    const hidden = masked.channels.flatMap(({ byHour }) => byHour).filter(({ alarms }) => alarms === null);
    expect(hidden.length).toBeGreaterThan(5);
    expect(hours?.match(/>\?</g)).toHaveLength(hidden.length);
    expect(text).not.toContain('LB-');
    expect(text).not.toMatch(/NaN|undefined|null/);
  });

  it('say so where no alarm log was given, and where it holds no alarm', async () => {
    const patients = [patientOver('1', { start: MONTH.start, end: MONTH.start + 86_400_000 })];
    const without = textOf(await pageOf(alarmsResult(unitOf(patients, { alarmsCover: null }), null), null));
    expect(without).toContain('No alarm log was given, so that no alarm can be judged.');
    expect(without).toContain('No alarm log was given, so that nobody can say which sustained episodes');
    const account = { rowsRead: 0, setAside: [], merged: 0, withoutExport: 0 };
    const empty = textOf(await pageOf(alarmsResult(unitOf(patients), account), null));
    expect(empty).toContain('The log holds no alarm of ICP or CPP that could be judged.');
    expect(empty).not.toMatch(/NaN|undefined|null/);
    expect(textOf(await pageOf(alarmsResult(unitOf([]), account), null))).not.toMatch(/NaN|undefined|null/);
  });

  it('have lines of the log that add up to the rows read, also where parameters are many', () => {
    const { log } = MANY;
    if (log === null) throw new Error('no log');
    const many = Array.from({ length: 20 }, (_, i) => ({
      why: 'unknownParameter' as const,
      parameter: `word ${i}`,
      alarms: 3,
    }));
    const lines = logLines({
      ...log,
      unjudged: [...log.unjudged, ...many],
      rowsRead: (log.rowsRead ?? 0) + 60,
    });
    expect(lines.reduce((sum, { rows }) => sum + (rows ?? 0), 0)).toBe((log.rowsRead ?? 0) + 60);
    expect(lines.length).toBeLessThan(30);
    expect(textOf(<LogAccountSection log={log} />)).not.toContain('do not add up');
    expect(textOf(<LogAccountSection log={{ ...log, unaccounted: -2 }} />)).toContain('they differ by 2');
    expect(textOf(<LogAccountSection log={log} />)).toContain('It reaches over 1 to 31 October 2031');
  });

  it('write rates with two digits that count', () => {
    expect([null, 0, 0.001, 0.05, 0.994, 0.996, 3.14, 9.94, 9.96, 28.4].map(rate)).toEqual([
      '–',
      '0',
      '< 0.01',
      '0.05',
      '0.99',
      '1.0',
      '3.1',
      '9.9',
      '10',
      '28',
    ]);
  });

  it('know the hours of a night over midnight, and of one that is not', () => {
    const hours = (fromMinutes: number, toMinutes: number): number[] =>
      Array.from({ length: 24 }, (_, hour) => hour).filter((hour) =>
        isNightHour(hour, { fromMinutes, toMinutes }),
      );
    expect(hours(22 * 60, 3 * 60)).toEqual([0, 1, 2, 22, 23]);
    expect(hours(60, 4 * 60)).toEqual([1, 2, 3]);
  });
});

describe('what is said of clocks', () => {
  const pile = { offsetSeconds: 605, share: 0.61, chanceShare: 0.004 };
  it('names the shift that would correct it, and corrects nothing', () => {
    const apart = { is: 'apart', alarms: 300, piles: [pile] } as const;
    expect(shiftOf(apart)).toBe(-605);
    expect(clockSentence(apart)).toContain(
      '10 min 5 s after a crossing of their own limit (61 % of the alarms',
    );
    expect(correctionWords(apart)).toContain('shiftSeconds: -605}');
    const hour = {
      is: 'hours',
      alarms: 300,
      piles: [{ ...pile, offsetSeconds: -3590 }],
      apartSeconds: -3600,
    } as const;
    expect(clockSentence(hour)).toContain(
      'The clock of the alarm log seems to be 1 h behind that of the exports',
    );
    expect(correctionWords(hour)).toContain('shiftSeconds: 3600}');
    expect(correctionWords({ is: 'together', alarms: 300, piles: [{ ...pile, offsetSeconds: 5 }] })).toBe('');
    expect(correctionWords({ is: 'none', alarms: 300, piles: [] })).toBe('');
  });

  it('stands out on the page where they may be apart, of the unit or of one patient', () => {
    const marked = (clock: AuditAlarms['clock']): boolean =>
      renderToStaticMarkup(<ClockNote clock={clock} svg={null} />).includes('class="note"');
    expect(MANY.clock.is).toBe('together');
    expect(marked(MANY.clock)).toBe(false);
    const late = unit(14, 6, 3600);
    expect(late.clock).toMatchObject({ is: 'hours', shiftSeconds: -3600, patients: [] });
    expect(marked(late.clock)).toBe(true);
    const { input, account } = auditUnit(14, 6);
    const busiest = input.patients.reduce((a, b) => (b.lags.alarms > a.lags.alarms ? b : a));
    const counts = busiest.lags.counts.map((_, i) => busiest.lags.counts[i - 1800] ?? 0);
    const patients = input.patients.map((one) =>
      one === busiest ? { ...one, lags: { ...one.lags, counts } } : one,
    );
    const { clock } = alarmsResult({ ...input, patients }, account);
    expect(clock.patients.map(({ patient }) => patient)).toEqual([busiest.id]);
    expect(marked(clock)).toBe(true);
  });
});

describe('charts of alarms', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser?.close());

  it.each([
    ['many', MANY],
    ['few', unit(3, 9, 3600)],
    ['hidden', maskAlarms(unit(4, 6), 6)],
  ])('have whole labels that stand apart, and are no wider than a page: %s', async (_, alarms) => {
    const drawn = Object.values(await drawAlarms(alarms, renderSvg)).filter((svg) => svg !== null);
    expect(drawn.length).toBeGreaterThanOrEqual(3);
    const page = await browser.newPage({ viewport: { width: 1000, height: 1500 } });
    for (const font of ['Helvetica', 'DejaVu Sans']) {
      await page.setContent(
        `<style>svg, svg * { font-family: '${font}' !important }</style>${drawn.join('')}`,
      );
      expect(await page.evaluate(LABEL_FAULTS), font).toEqual([]);
    }
    for (const svg of drawn) expect(Number(/viewBox="0 0 (\d+) /.exec(svg)?.[1])).toBeLessThanOrEqual(640);
    await page.close();
  });
});
