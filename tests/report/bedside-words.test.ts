import { describe, expect, it } from 'vitest';
import { bedsideWords } from '../../src/report/morning/bedside-words.js';
import type { RecordingResult } from '../../src/report/results-schema.js';

type Bedside = RecordingResult['bedside'];

const at = (time: string): string => `2031-02-12T${time}:00+01:00`;
const alarm = (
  start: string,
  acknowledged: string | null = null,
  end: string | null = start,
): NonNullable<Bedside['alarms']>[number] => ({
  start: at(start),
  end: end && at(end),
  acknowledged: acknowledged && at(acknowledged),
  text: 'ICP above 22 mmHg',
});
const entry = (start: string, text: string, isTreatment = true): NonNullable<Bedside['entries']>[number] => ({
  start: at(start),
  end: null,
  isTreatment,
  text,
});

const words = (bedside: Partial<Bedside>): string =>
  bedsideWords({
    period: { start: at('00:00'), end: at('07:00') },
    bedside: { alarms: null, entries: null, drainOpen: [], ...bedside },
  } as RecordingResult);

describe('what the logs tell of a period, in words', () => {
  it('is nothing where no log was given, and that there is nothing where one was', () => {
    expect(words({})).toBe('');
    expect(words({ alarms: [], entries: [entry('02:00', 'turned', false)] })).toBe(
      'No alarms in the alarm log. No treatments in the care log.',
    );
  });

  it('counts alarms, those that were acknowledged, and those without an end', () => {
    expect(words({ alarms: [alarm('01:00', '01:01')] })).toBe(
      '1 alarm in the alarm log (ICP above 22 mmHg 1), 1 acknowledged.',
    );
    expect(words({ alarms: [alarm('01:00', '01:01'), alarm('02:00', null, null)] })).toBe(
      '2 alarms in the alarm log (ICP above 22 mmHg 2), 1 acknowledged; 1 without an end in the log.',
    );
  });

  it('names the three most frequent kinds, and counts the others', () => {
    const of = (text: string, n: number) =>
      Array.from({ length: n }, (_, i) => ({ ...alarm(`0${i + 1}:00`), text }));
    expect(
      words({ alarms: [...of('a', 1), ...of('b', 3), ...of('c', 2), ...of('d', 1), ...of('e', 1)] }),
    ).toBe('8 alarms in the alarm log (b 3, c 2, a 1, others 2), 0 acknowledged.');
  });

  it('counts an alarm at the border of two periods in the later one', () => {
    expect(words({ alarms: [alarm('00:00'), alarm('07:00')] })).toBe(
      '1 alarm in the alarm log (ICP above 22 mmHg 1), 0 acknowledged.',
    );
  });

  it('names the last four treatments, and how many came before', () => {
    const entries = ['01', '02', '03', '04', '05', '06'].map((hour) => entry(`${hour}:00`, `bolus ${hour}`));
    expect(words({ entries })).toBe(
      'Treatments in the care log: 2 earlier; 03:00 bolus 03; 04:00 bolus 04; 05:00 bolus 05; 06:00 bolus 06.',
    );
  });
});
