import { describe, expect, it } from 'vitest';
import { pulseLost } from '../../../src/clean/pulse-lost.js';
import type { Recording } from '../../../src/recording/recording.js';
import { recordingOf } from '../../support/recordings.js';
import { findWith, levels, spansOf } from '../../support/rules.js';
import { everySeconds, T0 } from '../../support/signals.js';

/** A recording of means once a second and of pulses in windows of 10 s. */
function recordingWith(
  pulses: Partial<Record<'icpPulse' | 'abpPulse', readonly number[]>>,
  icp: readonly number[],
): Recording {
  const channels = Object.fromEntries(
    Object.entries(pulses).map(([kind, values]) => [kind, everySeconds(10, values, T0 + 5000)]),
  );
  return {
    ...recordingOf({
      icp: everySeconds(1, icp),
      map: everySeconds(
        1,
        icp.map(() => 85),
      ),
      ...channels,
    }),
    waveform: { samplesPerSecond: 125, marks: [] },
  };
}

const pulses = (lostWindows: number, lost = 0.1): number[] =>
  levels([60, (k) => 1.5 + 0.1 * (k % 3)], [lostWindows, lost], [60, 1.5]);
const level = (windows: number, lost = 12): number[] => levels([600, 12], [10 * windows, lost], [600, 12]);

describe('a pressure that stands without its pulse', () => {
  it('is suspect from 1 min on, and stays in where its level is about that before', () => {
    const { marks } = findWith(pulseLost, recordingWith({ icpPulse: pulses(12) }, level(12)));
    expect(spansOf(marks)).toEqual([[600, 719]]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'pulseLost', grade: 'suspect', direction: 'up' });
    expect(findWith(pulseLost, recordingWith({ icpPulse: pulses(6) }, level(6))).marks).toHaveLength(1);
    expect(findWith(pulseLost, recordingWith({ icpPulse: pulses(5) }, level(5))).marks).toEqual([]);
  });

  it('is left out where its level is lower', () => {
    const { marks } = findWith(pulseLost, recordingWith({ icpPulse: pulses(12) }, level(12, 3)));
    expect(marks).toMatchObject([{ direction: 'down' }]);
  });

  it('is none with a third of its pulse, unless the share says so', () => {
    const recording = recordingWith({ icpPulse: pulses(12, 0.5) }, level(12));
    expect(findWith(pulseLost, recording).marks).toEqual([]);
    expect(findWith(pulseLost, recording, { share: 0.4 }).marks).toHaveLength(1);
  });

  it('is told of arterial pressure too', () => {
    const abpPulse = pulses(30, 0.9).map((value) => 12 * value - 10);
    const { marks } = findWith(pulseLost, recordingWith({ icpPulse: pulses(0), abpPulse }, level(30)));
    expect(marks).toMatchObject([{ channel: 'map' }]);
  });

  it('is found though the pulse is lost for most of the stay', () => {
    const icpPulse = levels([60, 1.5], [100, 0.1]);
    const { marks } = findWith(pulseLost, recordingWith({ icpPulse }, new Array(1600).fill(12)));
    expect(spansOf(marks)).toEqual([[600, 1599]]);
  });

  it('cannot be told where there is hardly a pulse at all', () => {
    const { marks, stoodAside } = findWith(
      pulseLost,
      recordingWith({ icpPulse: pulses(30).map((value) => value / 10) }, level(30)),
    );
    expect(marks).toEqual([]);
    expect(stoodAside).toEqual(['ICP pulse is usually under 0.2 mmHg; its loss would not show']);
  });

  it('is nothing that is asked without a waveform', () => {
    const { waveform: _, ...recording } = recordingWith({ icpPulse: pulses(12) }, level(12));
    expect(findWith(pulseLost, recording)).toEqual({ marks: [], stoodAside: [] });
  });
});
