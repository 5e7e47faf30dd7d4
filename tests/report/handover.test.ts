import { describe, expect, it } from 'vitest';
import { absentHandover, handover, MOST_LINES } from '../../src/report/handover.js';
import { handoverText } from '../../src/report/handover-text.js';
import type { EpisodeResult, RecordingResult, UnitResults } from '../../src/report/results-schema.js';
import { AS_ZEROED } from '../support/as-zeroed.js';

const AT = '2031-02-12T';
const CAUTION =
  'From exported data, looking back; no alarm and no medical device. Verify at the bedside; follow local protocol.';

const episode = (hour: number, doseMmHgHours: number): EpisodeResult =>
  ({
    start: `${AT}0${hour}:00:00+01:00`,
    end: `${AT}0${hour}:10:00+01:00`,
    minutes: 10,
    highestMmHg: 30.04,
    doseMmHgHours,
    openEnd: false,
  }) as EpisodeResult;

const suspect = (hour: number): RecordingResult['suspect'][number] => ({
  start: `${AT}0${hour}:20:00+01:00`,
  end: `${AT}0${hour}:2${hour}:00+01:00`,
  rules: ['negative'],
  decidedBy: [],
  direction: 'down',
  seen: 'ICP under 0 mmHg',
  checkFirst: 'the zero and the level',
});

/** A quiet night, but for what is given. */
const recording = (more: Partial<RecordingResult> = {}): RecordingResult =>
  ({
    id: '007',
    period: { start: '2031-02-11T19:00:00+01:00', end: `${AT}07:00:00+01:00` },
    end: `${AT}07:00:00+01:00`,
    sentence: 'ICP was never above 22 mmHg in 12 h monitored.',
    knownShare: 1,
    suspectHours: 0,
    samplingNote: null,
    levelling: AS_ZEROED,
    decisionNote: null,
    decisions: [],
    suspect: [],
    episodes: [],
    agreement: null,
    decimals: { icp: 1, map: 0, cpp: 0 },
    cleaning: { isOff: false, stoodAside: [] },
    bedside: { alarms: null, entries: null, drainOpen: [] },
    ...more,
  }) as unknown as RecordingResult;

const lines = (more: Partial<RecordingResult> = {}): string[] =>
  handover(recording(more), { cleaningNote: null, zone: 'Europe/Oslo' });

describe('the handover of a patient', () => {
  it('carries period, known share, what happened, and that it is to be verified', () => {
    expect(lines()).toEqual([
      'Patient 007, 11 February 2031 19:00 to 12 February 2031 07:00 (Europe/Oslo)',
      'ICP known for 100 % of this time.',
      'ICP was never above 22 mmHg in 12 h monitored.',
      'Suspect stretches of ICP: none found, which does not prove the probe right.',
      CAUTION,
    ]);
  });

  it('names the worst episodes by time, and how many there were', () => {
    const episodes = [1, 2, 3, 4, 5, 6, 7].map((hour) => episode(hour, hour === 3 ? 0.1 : hour));
    const [line] = lines({ episodes }).filter((one) => one.includes('episodes'));
    expect(line).toMatch(/^Worst 6 of 7 episodes: 01:00 \(10 min, single value to 30\.0 mmHg\); 02:00 /);
    expect(line).not.toContain('03:00');
  });

  it('names the longest suspect stretches with what is checked first, and counts the others', () => {
    const said = lines({ suspect: [1, 2, 3, 4].map(suspect), suspectHours: 0.2 });
    expect(said.filter((line) => line.startsWith('Suspect: '))).toEqual([
      'Suspect: 03:20 to 03:23 (3 min), ICP under 0 mmHg; left out of the figures. Usually checked first: the zero and the level.',
      'Suspect: 04:20 to 04:24 (4 min), ICP under 0 mmHg; left out of the figures. Usually checked first: the zero and the level.',
    ]);
    expect(said).toContain('And 2 shorter suspect stretches.');
  });

  it('does not say that nothing was found where nobody could look, or did', () => {
    const stoodAside = [{ rule: 'step', why: 'ICP comes every 60 s; the rule needs 10 s or finer' }];
    const cleaning = (of: object): RecordingResult['cleaning'] =>
      ({ isOff: false, stoodAside: [], ...of }) as unknown as RecordingResult['cleaning'];
    expect(lines({ cleaning: cleaning({ stoodAside }) })).toContain(
      'Suspect stretches of ICP: could not be looked for in full on these data.',
    );
    expect(lines({ cleaning: cleaning({ isOff: true }) })).toContain(
      'Suspect stretches of ICP: not looked for, since nothing was cleaned.',
    );
  });

  it('takes twelve lines at most, each on one line whatever stands in it', () => {
    const move = { start: `${AT}01:30:00+01:00`, end: `${AT}01:30:00+01:00`, beforeMmHg: 1, afterMmHg: 9 };
    const said = handover(
      recording({
        id: 'a\nb',
        samplingNote: 'Sampled.',
        decisionNote: 'A person decided.',
        suspect: [1, 2, 3, 4].map(suspect),
        episodes: [episode(1, 1)],
        agreement: { zeroMoves: [move], decimals: 1 } as unknown as RecordingResult['agreement'],
        bedside: { alarms: [], entries: [], drainOpen: [] },
      }),
      { cleaningNote: 'Nothing was cleaned.', zone: 'UTC' },
    );
    expect(said.length).toBeLessThanOrEqual(MOST_LINES);
    expect(said.filter((line) => line.includes('\n') || line === '')).toEqual([]);
    expect(said[0]).toMatch(/^Patient a b, /);
    expect(said.filter((line) => line.startsWith('A zero may have moved: '))).toHaveLength(1);
    expect(said.at(-1)).toBe(CAUTION);
  });
});

describe('handover.txt', () => {
  it('has the unit and then a paragraph for each patient in the order of the unit page, the absent too', () => {
    const results = {
      pipeline: { title: 'Lantern Bay' },
      period: { start: '2031-02-11T19:00:00+01:00', end: `${AT}07:00:00+01:00`, timezone: 'Europe/Oslo' },
      unit: { sentence: 'Of 3 patients.', order: ['9', '7', '8'] },
      recordings: [{ id: '7', handover: ['Patient 7', CAUTION] }],
      noData: [{ id: '9', why: 'expected, but nothing was exported' }],
      failed: [{ id: '8', why: 'no ICP column.', rowsRead: 1 }],
    } as unknown as UnitResults;
    expect(handoverText(results).split('\n\n')).toEqual([
      'Lantern Bay: 11 February 2031 19:00 to 12 February 2031 07:00 (Europe/Oslo)\nOf 3 patients.',
      `Patient 9: no data\nCannot say: expected, but nothing was exported.\n${CAUTION}`,
      `Patient 7\n${CAUTION}`,
      `Patient 8: exports not read\nCannot say: no ICP column.\n${CAUTION}\n`,
    ]);
    expect(absentHandover('x\u001b[2J', 'no data', 'w')[0]).toBe('Patient x⟨U+001B⟩[2J: no data');
  });
});
