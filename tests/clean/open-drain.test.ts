import { describe, expect, it } from 'vitest';
import { openDrain } from '../../src/clean/open-drain.js';
import type { CareEntry, CareKind } from '../../src/recording/care.js';
import { readThroughDrain, recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds, T0 } from '../support/signals.js';

const entry = (second: number, ...kinds: CareKind[]): CareEntry => ({
  start: T0 + second * 1000,
  end: null,
  kinds,
  angleDegrees: null,
});
const BOTH = recordingOf({
  icp: everySeconds(1, levels([3600, 12])),
  icpDrain: everySeconds(1, levels([3600, 8])),
});
const openIn = (care: readonly CareEntry[]) => findWith(openDrain, { ...BOTH, care }).marks;

describe('an open drain', () => {
  it('reads the chamber: its channel is removed from logged open to logged closed', () => {
    const marks = openIn([entry(600, 'drainOpen'), entry(1800, 'drainClosed')]);
    expect(spansOf(marks)).toEqual([[600, 1800]]);
    expect(marks[0]).toMatchObject({
      channel: 'icpDrain',
      grade: 'removed',
      evidence: { care: { kind: 'drainOpen', at: T0 + 600_000 } },
    });
  });
  it('that nobody logged as closed is suspect to the end', () => {
    const marks = openIn([entry(600, 'drainOpen')]);
    expect(spansOf(marks)).toEqual([[600, 3599]]);
    expect(marks).toMatchObject([{ grade: 'suspect', direction: 'down' }]);
  });
  it('opened twice is open once; an end in the entry closes it', () => {
    expect(
      spansOf(openIn([entry(600, 'drainOpen'), entry(900, 'drainOpen'), entry(1800, 'drainClosed')])),
    ).toEqual([[600, 1800]]);
    expect(spansOf(openIn([{ ...entry(600, 'drainOpen'), end: T0 + 700_000 }]))).toEqual([[600, 700]]);
  });
  it('says nothing of a probe', () => {
    const { icp } = BOTH.channels;
    const care = [entry(600, 'drainOpen')];
    expect(
      findWith(openDrain, { ...BOTH, channels: { icp: { ...icp!, source: 'probe' } }, care }).marks,
    ).toEqual([]);
    expect(
      findWith(openDrain, { ...BOTH, channels: { icp: { ...icp!, source: 'drain' } }, care }).marks,
    ).toMatchObject([{ channel: 'icp' }]);
  });
  it('cannot be known without a care log, and says so', () => {
    expect(findWith(openDrain, BOTH)).toEqual({
      marks: [],
      stoodAside: ['no care log was given: when the drain was open is not known'],
    });
  });
});

describe('a drain whose closing nobody wrote down', () => {
  const scattered = (seconds: number, level: number, scatterMmHg: number) =>
    Array.from({ length: seconds }, (_, i) => level + (i % 2 === 0 ? scatterMmHg : -scatterMmHg));
  /** Patient for 1,000 s, chamber for 1,500, patient at 30 for 3,000, chamber for 1,500, patient for 1,000. */
  const recording = readThroughDrain(
    recordingOf({
      icp: everySeconds(1, [
        ...scattered(1000, 14, 0.5),
        ...scattered(1500, 8, 0.05),
        ...scattered(3000, 30, 0.5),
        ...scattered(1500, 9, 0.05),
        ...scattered(1000, 14, 0.5),
      ]),
    }),
  );
  const marksWith = (care: readonly CareEntry[], parameters = {}) =>
    findWith(openDrain, { ...recording, care }, parameters).marks;

  it('is the patient again where the channel scatters as it did before', () => {
    const marks = marksWith([entry(1000, 'drainOpen'), entry(5500, 'drainOpen'), entry(7000, 'drainClosed')]);
    expect(marks.map(({ grade, evidence }) => [grade, evidence?.endedBySignal])).toEqual([
      ['removed', true],
      ['removed', undefined],
    ]);
    const [first, second] = spansOf(marks);
    // The look is by whole minutes.
    expect(Math.abs(first[1] - 2500)).toBeLessThanOrEqual(60);
    expect(Math.abs(second[0] - 5500)).toBeLessThanOrEqual(60);
    expect([first[0], second[1]]).toEqual([1000, 7000]);
  });
  it('keeps the grade suspect where no closing follows at all', () => {
    const marks = marksWith([entry(1000, 'drainOpen')]);
    expect(marks[0]).toMatchObject({
      grade: 'suspect',
      direction: 'down',
      evidence: { endedBySignal: true },
    });
  });
  it('goes by the log alone where the channel never lay calm', () => {
    expect(spansOf(marksWith([entry(2600, 'drainOpen'), entry(5400, 'drainClosed')]))).toEqual([
      [2600, 5400],
    ]);
  });
  it('goes by the log alone where that is asked for', () => {
    const care = [entry(1000, 'drainOpen'), entry(7000, 'drainClosed')];
    expect(spansOf(marksWith(care, { livelySeconds: 1e6 }))).toEqual([[1000, 7000]]);
  });
  it('is closed where it reads far above the chamber, at whole mmHg too, which hide the scatter', () => {
    const drain = readThroughDrain(
      recordingOf({ icp: everySeconds(1, levels([1000, 14], [1500, 8], [3000, 30], [500, 14])) }),
    );
    const care = [entry(1000, 'drainOpen'), entry(5900, 'drainClosed')];
    const far = findWith(openDrain, { ...drain, care }).marks;
    expect(spansOf(far)).toEqual([
      [1000, 2499],
      [5500, 5900],
    ]);
    expect(spansOf(findWith(openDrain, { ...drain, care }, { overChamberMmHg: 23 }).marks)).toEqual([
      [1000, 5900],
    ]);
  });
});
