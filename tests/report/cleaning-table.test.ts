import { h } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import { CleaningTable } from '../../src/report/morning/cleaning-table.js';
import type { RecordingResult } from '../../src/report/results-schema.js';
import { ADULT } from '../support/targets.js';

const without = (icpHours: number, icpDose: number, cppHours: number, cppDose: number) => ({
  icpHoursAboveThreshold: icpHours,
  icpDoseMmHgHours: icpDose,
  cppHoursBelowFloor: cppHours,
  cppDoseBelowFloorMmHgHours: cppDose,
});
const take = (rule: string, more: object = {}) => ({
  channel: 'icp',
  rule,
  grade: 'removed',
  staysIn: false,
  intervals: 12,
  hours: 0.05,
  shareOfPeriod: 0.0041,
  without: without(1, 4, 0.5, 2),
  ...more,
});

function htmlOf(more: Partial<RecordingResult>, takes: object[], isOff = false): string {
  const result = {
    icp: { hoursAboveThreshold: 1, doseMmHgHours: 4 },
    cpp: { hoursBelowFloor: 0.5, doseBelowFloorMmHgHours: 2 },
    icpRaw: { hoursAboveThreshold: 1.5, doseMmHgHours: 9.25 },
    cppRaw: { hoursBelowFloor: 0.75, doseBelowFloorMmHgHours: 3 },
    icpOtherWay: null,
    cppOtherWay: null,
    monitoredHours: { icp: 11, map: 12, cpp: 11 },
    cleaning: {
      isOff,
      takes,
      channels: [
        { channel: 'icp', keptHours: 11, noDataHours: 0.95, keptShare: 0.9167, noDataShare: 0.0792 },
      ],
      withoutDecisions: null,
      stoodAside: [],
    },
    ...more,
  } as unknown as RecordingResult;
  return renderToStaticMarkup(h(CleaningTable, { result, targets: ADULT }));
}

const captionOf = (takes: object[]): string =>
  /<caption><div class="beside">(.*?)<\/div><\/caption>/
    .exec(htmlOf({}, takes))?.[1]
    .replaceAll('&quot;', '"') ?? '';

function rowsOf(
  more: Partial<RecordingResult> = {},
  takes: object[] = [take('briefSpike')],
  isOff = false,
): string[][] {
  const html = htmlOf(more, takes, isOff);
  return [...html.matchAll(/<tr[^>]*>(.*?)<\/tr>/g)].map(([, row]) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/g)].map(([, cell]) => cell.replaceAll('&lt;', '<')),
  );
}

describe('the table of cleaning', () => {
  it('begins with the burden as exported and cleaned, and has each rule with what it took and changed', () => {
    expect(rowsOf({}, [take('briefSpike', { without: without(1.4, 9, 0.5, 2) })])).toEqual([
      [
        'What was taken',
        'How',
        'Times',
        'Time',
        'Share',
        'ICP above 22',
        'Dose, mmHg·h',
        'CPP below 60',
        'CPP dose, mmHg·h',
      ],
      ['As exported', '', '', '', '', '1 h 30 min', '9.3', '45 min', '3.0'],
      ['Cleaned', '', '', '', '', '1 h', '4.0', '30 min', '2.0'],
      [
        'ICP: brief spikes (cough, strain, turn)',
        'removed',
        '12',
        '3 min',
        '< 1 %',
        '1 h 24 min',
        '9.0',
        'the same',
        'the same',
      ],
      ['ICP: no data', '', '', '57 min', '8 %', '', '', '', ''],
      ['ICP: kept', '', '', '11 h', '92 %', '', '', '', ''],
    ]);
  });

  it('tells what is left out from what stays in', () => {
    const rows = rowsOf({}, [
      take('negative', { grade: 'suspect' }),
      take('step', { grade: 'suspect', staysIn: true }),
    ]);
    expect(rows.slice(3, 5).map(([name, how]) => [name, how])).toEqual([
      ['ICP: negative ICP', 'suspect, left out'],
      ['ICP: step to another level', 'suspect, stays in'],
    ]);
  });

  it('calls the same what is printed the same', () => {
    const [, , , spikes] = rowsOf({}, [take('briefSpike', { without: without(1.004, 4.04, 0.496, 2.06) })]);
    expect(spikes.slice(5)).toEqual(['the same', 'the same', 'the same', '2.1']);
  });

  it('says how the shares add up, and of what stays in that it counts twice', () => {
    const usual =
      'Beside each rule, what it took, and the burden with this rule off and all others on; "the same" as it is printed. Where two rules take the same, leaving one out changes little. Each second counts for the first rule that took it, so that removed, left out, no data and kept add up. ';
    expect(captionOf([take('briefSpike')])).toBe(usual);
    expect(captionOf([take('step', { grade: 'suspect', staysIn: true })])).toBe(
      `${usual}What is "suspect, stays in" has a share of its own and stands in "kept" a second time: leave it out of the sum. `,
    );
  });

  it('leaves out a rule that took no time and changes nothing, and says where it stands', () => {
    const takes = [
      take('zeroing'),
      take('handling', { hours: 0, shareOfPeriod: 0, intervals: 1 }),
      take('coughTrain', { hours: 0, shareOfPeriod: 0, without: without(1.5, 4, 0.5, 2) }),
    ];
    expect(rowsOf({}, takes).map(([name]) => name)).toEqual([
      'What was taken',
      'As exported',
      'Cleaned',
      'ICP: zeroing',
      'ICP: cough trains',
      'ICP: no data',
      'ICP: kept',
    ]);
    expect(captionOf(takes)).toMatch(
      /Rules whose stretches others had taken already, or which hold no time, are not shown: see tables\/cleaning\.csv\.$/,
    );
  });

  it('speaks of no cleaning where there was none', () => {
    const rows = rowsOf({}, [], true);
    expect(rows.map((row) => row.slice(0, 4))).toEqual([
      ['Where the time went', 'Time', 'Share', 'ICP above 22'],
      ['As exported', '', '', '1 h 30 min'],
      ['ICP: no data', '57 min', '8 %', ''],
      ['ICP: known', '11 h', '92 %', ''],
    ]);
    const html = htmlOf({}, [], true);
    expect(html).toContain(
      'No rule was on and nobody decided anything: the burden as exported, and where the time went.',
    );
    expect(html).not.toContain('Beside each rule');
  });

  it('shows suspect stretches the other way where there are any', () => {
    const rows = rowsOf({
      icpOtherWay: { hoursAboveThreshold: 2, doseMmHgHours: 4 },
      cppOtherWay: { hoursBelowFloor: 0, doseBelowFloorMmHgHours: 0 },
    } as Partial<RecordingResult>);
    expect(rows[3].slice(5)).toEqual(['2 h', 'the same', '0 min', '0.0']);
  });

  it('has no columns of CPP without an arterial line, and no figures that the sampling cannot show', () => {
    const rows = rowsOf({
      monitoredHours: { icp: 11, map: 0, cpp: 0 },
      icp: { hoursAboveThreshold: null, doseMmHgHours: null },
    } as Partial<RecordingResult>);
    expect(rows[0].slice(5)).toEqual(['ICP above 22', 'Dose, mmHg·h']);
    expect(rows[2].slice(5)).toEqual(['–', '–']);
    expect(rows[3].slice(5)).toEqual(['–', '–']);
  });
});
