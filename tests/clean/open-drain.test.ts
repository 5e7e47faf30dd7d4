import { describe, expect, it } from 'vitest';
import { openDrain } from '../../src/clean/open-drain.js';
import type { CareEntry, CareKind } from '../../src/recording/care.js';
import { recordingOf } from '../support/recordings.js';
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
