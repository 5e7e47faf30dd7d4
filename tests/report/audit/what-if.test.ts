import { h } from 'preact';
import { beforeAll, describe, expect, it } from 'vitest';
import { maskWhatIf } from '../../../src/report/audit/mask-what-if.js';
import { drawWhatIf, shortNumber, shortPercent, whatIfMap } from '../../../src/report/audit/what-if-maps.js';
import { whatIfResult } from '../../../src/report/audit/what-if-result.js';
import { WhatIfSection } from '../../../src/report/audit/what-if-section.js';
import { listedChoices, missedWords, whatIfAnswer } from '../../../src/report/audit/what-if-words.js';
import { HEAT_STEPS, heatStep } from '../../../src/report/charts/audit-heat-map.js';
import { renderSvg } from '../../../src/report/charts/render.js';
import { renderPage } from '../../../src/report/page/page.js';
import { type AuditWhatIf, auditWhatIf } from '../../../src/report/results-audit-what-if.js';
import { auditWhatIfTables } from '../../../src/report/tables/audit-what-if-tables.js';
import { tidyCsv } from '../../../src/report/tables/tidy-table.js';
import { inventedUnit, patientOf, unitOf } from './what-if-unit.js';

const input = inventedUnit(12);
const part = whatIfResult(input).whatIf as AuditWhatIf;
const BELOW = 5;
const masked = maskWhatIf(part, BELOW);
const PERIOD = { start: input.clock.format(input.period.start), end: input.clock.format(input.period.end) };

describe('what if in results.json', () => {
  it('is what its schema says, and names times by the clock on the wall', () => {
    expect(auditWhatIf.parse(part)).toEqual(part);
    expect(JSON.parse(JSON.stringify(part))).toEqual(part);
    expect(part.missedLong?.length).toBeGreaterThan(0);
    for (const { start, minutes } of part.missedLong ?? []) {
      expect(start).toMatch(/^2031-02-1\dT\d\d:\d\d:\d\d\+01:00$/);
      expect(minutes).toBeGreaterThanOrEqual(30 - 1e-6);
    }
  });

  it('is null with a reason where nothing can be replayed', () => {
    expect(whatIfResult(unitOf([patientOf('1', null, 4)]))).toEqual({
      whatIf: null,
      whatIfReason: 'no patient has ICP that is sampled often enough for a replay',
    });
  });
});

describe('tables of what if', () => {
  const [unit, patients, missed] = auditWhatIfTables(part, input);

  it('hold counts of the unit that are sums over its patients', () => {
    expect(unit.rows).toHaveLength(512);
    expect(patients.rows).toHaveLength(512 * 12);
    for (const row of unit.rows) {
      const mine = patients.rows.filter(
        (one) =>
          one.reading === row.reading &&
          one.limitMmHg === row.limitMmHg &&
          one.delaySeconds === row.delaySeconds,
      );
      for (const count of ['alarms', 'sustainedAlarms', 'episodes', 'episodesCaught']) {
        expect(mine.reduce((sum, one) => sum + Number(one[count]), 0)).toBe(row[count]);
      }
    }
  });

  it('mark one present setting a reading, and the choices of the raw one', () => {
    expect(unit.rows.filter(({ isPresent }) => isPresent)).toHaveLength(2);
    expect(unit.rows.filter(({ isChoice }) => isChoice)).toHaveLength(part.choices.length);
  });

  it('list missed episodes by limit, and write what their dictionary says', () => {
    const lines = tidyCsv(missed).trimEnd().split('\r\n');
    expect(lines[0]).toBe('patient,start,end,minutes,limitMmHg,missedFromDelaySeconds');
    const pairs = (part.missedLong ?? []).flatMap(({ missedFrom }) => missedFrom);
    expect(lines).toHaveLength(1 + pairs.length);
  });

  it('hold no patient where small counts are masked', () => {
    const settings = { ...input.settings, maskBelow: BELOW };
    const tables = auditWhatIfTables(masked, { ...input, settings });
    expect(tables.map(({ rows }) => rows.length)).toEqual([512, 0, 0]);
  });
});

describe('masked counts', () => {
  const isSmall = (count: number | null): boolean => count !== null && count > 0 && count < BELOW;
  const cells = [...masked.raw, ...masked.cleaned];

  it('leave no small count, nor one that a subtraction gives', () => {
    const unmasked = [...part.raw, ...part.cleaned];
    expect(unmasked.some(({ alarms }) => isSmall(alarms))).toBe(true);
    expect(unmasked.some(({ episodesCaught }) => isSmall(part.episodes! - episodesCaught!))).toBe(true);
    for (const { alarms, sustainedAlarms, episodesCaught, longMissed } of cells) {
      for (const count of [alarms, sustainedAlarms, episodesCaught, longMissed])
        expect(isSmall(count)).toBe(false);
      if (alarms !== null && sustainedAlarms !== null) expect(isSmall(alarms - sustainedAlarms)).toBe(false);
      if (masked.episodes !== null && episodesCaught !== null)
        expect(isSmall(masked.episodes - episodesCaught)).toBe(false);
    }
  });

  it('take with them what is computed of them, and say why', () => {
    expect(auditWhatIf.parse(masked)).toEqual(masked);
    for (const cell of cells) {
      if (cell.alarms === null) expect([cell.alarmsPerDay, cell.sustainedShare]).toEqual([null, null]);
      if (cell.sustainedAlarms === null) expect(cell.sustainedShare).toBeNull();
      if (cell.episodesCaught === null)
        expect([cell.caughtShare, cell.medianNoticeMinutes, cell.medianDoseMmHgHours]).toEqual([
          null,
          null,
          null,
        ]);
      for (const [key, value] of Object.entries(cell))
        if (value === null) expect(cell).toHaveProperty(`${key}Reason`);
    }
    for (const choice of masked.choices) {
      const cell = masked.raw.find(
        (one) => one.limitMmHg === choice.limitMmHg && one.delaySeconds === choice.delaySeconds,
      );
      expect(choice.alarmsPerDay.value === null).toBe(cell?.alarms === null);
      expect(choice.caughtShare.value === null).toBe(cell?.episodesCaught === null);
    }
    expect([masked.missedLong, masked.missedLongReason]).toEqual([null, 'counts under 5 are not shown']);
  });

  it('give away no number of patients in a reason', () => {
    const few = whatIfResult(inventedUnit(3)).whatIf as AuditWhatIf;
    expect(JSON.stringify(few.choices)).toContain('and there are 3');
    const hidden = maskWhatIf(few, BELOW);
    expect([hidden.patients, hidden.patientsReason]).toEqual([null, 'counts under 5 are not shown']);
    expect(JSON.stringify(hidden)).not.toContain('there are 3');
  });

  it('change nothing that is large', () => {
    expect(maskWhatIf(part, 1)).toEqual({
      ...part,
      missedLong: null,
      notReplayed: null,
      notReplayedReason: 'counts under 1 are not shown',
      missedLongReason: 'counts under 1 are not shown',
    });
  });
});

/** Contrast of two colours. Source: WCAG 2.1, relative luminance and contrast ratio. */
function contrast(a: string, b: string): number {
  const luminance = (colour: string): number => {
    const [r, g, blue] = [1, 3, 5]
      .map((from) => Number.parseInt(colour.slice(from, from + 2), 16) / 255)
      .map((x) => (x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * blue;
  };
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

describe('maps of limit and delay', () => {
  it('have text that stands out by 4.5 : 1, and shades that only grow darker', () => {
    for (const { fill, text } of [...HEAT_STEPS, heatStep(null)])
      expect(contrast(fill, text)).toBeGreaterThan(4.5);
    const onPaper = HEAT_STEPS.map(({ fill }) => contrast(fill, '#ffffff'));
    expect([...onPaper].sort((a, b) => a - b)).toEqual(onPaper);
    expect([heatStep(0), heatStep(1)]).toEqual([HEAT_STEPS[0], HEAT_STEPS[HEAT_STEPS.length - 1]]);
  });

  it('write numbers with no false digits, and nothing that is there as none', () => {
    expect([0, 0.02, 0.3, 9.94, 9.96, 123.4, null].map(shortNumber)).toEqual([
      '0',
      '<0.1',
      '0.3',
      '9.9',
      '10',
      '123',
      '–',
    ]);
    expect([0, 0.001, 0.5, 0.999, 1, null].map(shortPercent)).toEqual(['0', '<1', '50', '>99', '100', '–']);
  });

  it('frame the present setting and dot the choices of the raw reading', () => {
    const map = whatIfMap(part, 'raw', 'caughtShare');
    expect(map.framed).toBe(5 * 16);
    expect(map.marked.size).toBe(part.choices.length);
    expect(whatIfMap(part, 'cleaned', 'caughtShare').marked.size).toBe(0);
    expect(whatIfMap({ ...part, present: null }, 'raw', 'caughtShare').framed).toBeNull();
  });
});

describe('the section', () => {
  let drawings: Awaited<ReturnType<typeof drawWhatIf>>;
  beforeAll(async () => {
    drawings = await drawWhatIf(part, renderSvg);
  });
  const pageOf = (one: AuditWhatIf): string =>
    renderPage({
      title: 'Audit',
      subtitle: '',
      running: '',
      children: h(WhatIfSection, { part: one, drawings, period: PERIOD }),
    });

  it('draws a number in each cell', () => {
    for (const reading of ['raw', 'cleaned'] as const) {
      for (const name of ['alarmsPerDay', 'caughtShare', 'medianNoticeMinutes'] as const) {
        const texts = [...drawings[reading][name].matchAll(/<text[^>]*>([^<]*)</g)].map(([, text]) =>
          text.replace('&lt;', '<'),
        );
        for (const text of new Set(whatIfMap(part, reading, name).texts)) expect(texts).toContain(text);
        expect(texts.length).toBe(256 + 16 + 16 + 2);
      }
    }
  });

  it('says that it is a replay, and no recommendation', () => {
    const page = pageOf(part);
    expect(page).toContain('nobody was treated otherwise');
    expect(page).toContain('It is no recommendation');
    expect(page).toContain('alarm settings follow local policy and clinical');
    expect(page).not.toMatch(/NaN|undefined|Infinity/);
    expect(whatIfAnswer(part)).toMatch(
      /^On this ICP the present setting, 20 mmHg without delay, would have raised \d+ alarms/,
    );
  });

  it('lists choices that catch as many as the present setting', () => {
    const caught = (limit: number, delay: number) =>
      part.raw.find((one) => one.limitMmHg === limit && one.delaySeconds === delay)?.episodesCaught ?? 0;
    const listed = listedChoices(part) ?? [];
    expect(listed.length).toBeGreaterThan(0);
    for (const one of listed)
      expect(caught(one.limitMmHg, one.delaySeconds)).toBeGreaterThanOrEqual(caught(20, 0));
  });

  it('is written without a present setting, without episodes and masked', () => {
    const noPresent = { ...part, present: null, presentRated: null, againstPresent: null };
    expect(pageOf(noPresent)).toContain('does not say how the monitors are set');
    const quiet = whatIfResult(
      unitOf([patientOf('1', { ...input.patients[0].replay!, ...noEpisodes() }, 24)]),
    ).whatIf!;
    expect(pageOf(quiet)).toContain('There is no sustained episode of ICP');
    const page = pageOf(masked);
    expect(page).toContain('Single episodes are not listed: counts under 5 are not shown.');
    expect(page).toContain('as far as counts are shown');
    expect(whatIfAnswer(masked)).not.toContain('–');
  });

  it('says in few words which settings miss an episode', () => {
    const from = [
      { limitMmHg: 25, delaySeconds: 840 },
      { limitMmHg: 26, delaySeconds: 60 },
      { limitMmHg: 27, delaySeconds: 60 },
      { limitMmHg: 29, delaySeconds: 0 },
      { limitMmHg: 30, delaySeconds: 0 },
    ];
    expect(missedWords(part, from)).toBe(
      '25 mmHg from 14 min, 26 to 27 mmHg from 1 min, 29 to 30 mmHg with any delay',
    );
  });
});

/** A replay that is held against no episode. */
function noEpisodes() {
  const none = {
    alarms: new Uint32Array(256).fill(3),
    sustained: new Uint32Array(256),
    noticedMinutes: new Float64Array(0),
    doseMmHgHours: new Float64Array(0),
  };
  return { episodes: [], raw: none, cleaned: none };
}
