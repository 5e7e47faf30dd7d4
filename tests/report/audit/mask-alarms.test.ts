import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alarmsResult } from '../../../src/report/audit/alarms-result.js';
import { maskAlarms } from '../../../src/report/audit/mask-alarms.js';
import { maskCounts } from '../../../src/report/audit/mask-counts.js';
import { auditAlarms } from '../../../src/report/results-audit-alarms.js';
import { auditUnit } from '../../support/audit-unit.js';
import { holds } from '../../support/properties.js';

/** All that hidden counts can be, each from `low` to `high`, where they add up to `sum`. */
function* candidates(n: number, sum: number, low: number, high: number): Generator<number[]> {
  if (n === 1) {
    if (sum >= low && sum <= high) yield [sum];
    return;
  }
  for (let first = low; first <= Math.min(high, sum); first++)
    for (const rest of candidates(n - 1, sum - first, low, high)) yield [first, ...rest];
}

describe('counts that are too small to be shown', () => {
  it('cannot be computed from the others and the total', () => {
    const lists = fc.array(fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 9 })), {
      minLength: 1,
      maxLength: 5,
    });
    holds(
      fc.property(lists, fc.integer({ min: 2, max: 6 }), (counts, below) => {
        const masked = maskCounts(counts, below);
        if (masked === null) return;
        masked.forEach((count, i) => {
          if (count !== null) {
            expect(count).toBe(counts[i]);
            expect(count === 0 || count >= below).toBe(true);
          }
        });
        const hidden = masked.flatMap((count, i) => (count === null ? [i] : []));
        if (hidden.length === 0) return;
        const sum = hidden.reduce((total, i) => total + counts[i], 0);
        // A reader who takes each for one or more, and one who takes each for a small one.
        for (const high of [sum, below - 1]) {
          const all = [...candidates(hidden.length, sum, 1, high)];
          if (all.length === 0) continue;
          for (const k of hidden.keys()) expect(new Set(all.map((one) => one[k])).size).toBeGreaterThan(1);
        }
      }),
      2000,
    );
  });

  it('takes the next larger one along where one alone would be missing', () => {
    expect(maskCounts([3, 40, 12, 0], 5)).toEqual([null, 40, null, 0]);
    expect(maskCounts([3, 4, 12], 5)).toEqual([null, null, 12]);
    expect(maskCounts([1, 1, 12], 5)).toEqual([null, null, null]);
    expect(maskCounts([1, 2, 12], 5)).toEqual([null, null, null]);
    expect(maskCounts([4, 4, 12], 5)).toEqual([null, null, null]);
    expect(maskCounts([5, 9, 0], 5)).toEqual([5, 9, 0]);
    expect(maskCounts([3, 0], 5)).toBeNull();
    expect(maskCounts([3, 40, 12], 5, { isShownElsewhere: (i) => i === 2 })).toEqual([null, null, 12]);
  });
});

const { input, account } = auditUnit(6, 8);
const few = { ...account, merged: 1, setAside: [{ kind: 'time', reason: 'late', rows: 3 }] };
const rowsRead = account.rowsRead - account.merged - 9 + 4;
const plain = alarmsResult(input, { ...few, rowsRead });
const BELOW = 5;
const masked = auditAlarms.parse(maskAlarms(plain, BELOW));

const COUNTS = new Set([
  ...[
    'alarms',
    'patients',
    'part',
    'whole',
    'repeats',
    'limitsAssumed',
    'episodes',
    'unitCount',
    'unitAlarms',
  ],
  ...['patientCount', 'patientAlarms', 'inTime', 'late', 'none', 'notCovered', 'rows', 'rowsRead', 'merged'],
  ...['withoutExport', 'pairs'],
]);

/** All counts of a part, with their path. */
function countsIn(value: unknown, path = ''): [string, number][] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, one]): [string, number][] =>
    typeof one === 'number' && COUNTS.has(key) ? [[`${path}/${key}`, one]] : countsIn(one, `${path}/${key}`),
  );
}

describe('a part of the report without small counts', () => {
  it('shows none from 1 to 4, where there were many', () => {
    const small = (part: unknown) => countsIn(part).filter(([, n]) => n > 0 && n < BELOW);
    expect(small(plain).length).toBeGreaterThan(40);
    expect(small(masked)).toEqual([]);
    expect(countsIn(masked).length).toBeGreaterThan(40);
  });

  it('shows no rate, share or interval that rests on a hidden count, and tells no small number of patients', () => {
    for (const channel of masked.channels) {
      for (const one of [...channel.byHour, ...channel.byWeekday]) {
        if (one.alarms === null)
          expect([one.perDay.value, one.perDay.lower, one.perDay.upper]).toEqual([null, null, null]);
        else expect(one.perDay.value).not.toBeNull();
      }
      for (const one of channel.classes) expect(one.share === null).toBe(one.alarms === null);
      for (const which of [channel.sustained, channel.sustainedOrCutShort].flatMap(Object.values)) {
        expect(which.naive.value === null).toBe(which.part === null || which.whole === null);
        expect(which.byPatients.value === null).toBe(which.part === null || which.whole === null);
      }
      // Sustained alarms are many, those cut short few: their sum would tell the few.
      const cutShort = channel.classes.find(({ alarmClass }) => alarmClass === 'cutShort');
      if (cutShort?.alarms === null) expect(channel.sustainedOrCutShort.ofAll.part).toBeNull();
    }
    expect(masked.channels.flatMap(({ byHour }) => byHour).some(({ alarms }) => alarms === null)).toBe(true);
    expect(JSON.stringify(plain)).toMatch(/there are [1-4]\b/);
    expect(JSON.stringify(masked)).not.toMatch(/there are [1-4]\b/);
  });

  it('has no list of single patients or episodes', () => {
    const { patients, unnoticed, floods, clock } = masked;
    expect([patients, unnoticed, floods.unit, floods.patients, clock.patients]).toEqual([[], [], [], [], []]);
    expect(JSON.stringify(masked)).not.toContain('LB-');
    expect(JSON.stringify(plain)).toContain('LB-');
  });

  it('does not give rows of the log away through alarms that are shown elsewhere', () => {
    const { log, channels } = masked;
    expect(log?.judged).toEqual(channels.map(({ channel, alarms }) => ({ channel, alarms })));
    expect(log?.merged).toBeNull();
    expect(log?.setAside[0].rows).toBeNull();
    // What was set aside is told as a sum elsewhere: with one number all of them would be told.
    const own = { rowsRead: 5000, merged: 3, withoutExport: 4000, setAside: [], unjudged: [] };
    if (plain.log === null) throw new Error('no log');
    const { log: hidden } = maskAlarms({ ...plain, log: { ...plain.log, ...own } }, BELOW);
    expect([hidden?.merged, hidden?.withoutExport, hidden?.rowsRead]).toEqual([null, null, null]);
    const alone = { ...own, withoutExport: 0 };
    const { log: none } = maskAlarms({ ...plain, log: { ...plain.log, ...alone } }, BELOW);
    expect([none?.merged, none?.rowsRead]).toEqual([null, null]);
  });

  it('is the same as before where nothing is under the number', () => {
    const { channels } = maskAlarms(plain, 1);
    expect(channels).toEqual(
      plain.channels.map((channel) =>
        expect.objectContaining({
          alarms: channel.alarms,
          classes: channel.classes,
          byHour: expect.any(Array),
        }),
      ),
    );
  });
});
