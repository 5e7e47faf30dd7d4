import { z } from 'zod';
import type { CareEntry } from '../recording/care.js';
import type { Channel } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import { overlaps } from '../recording/interval.js';
import { windowOf } from './care-window.js';
import { careEvidence, entriesOf, mapRiseOver } from './evidence.js';
import { nearZeroRuns } from './near-zero.js';
import { type Mark, rule } from './rule.js';
import type { Run } from './runs.js';
import { tooCoarse } from './sampling-limit.js';
import { excursions } from './spikes.js';

const TURNED = ['turn', 'suction'] as const;
/** A logged zeroing needs less of a shape: this near to 0, entered and left by this much within this time. */
const LOGGED_ZERO = { nearZeroMmHg: 1.5, stepMmHg: 2, stepSeconds: 10, minSeconds: 5, maxSeconds: 600 };

/**
 * What the care log tells of: excursions of up to 3 min that begin between 2 min before and 10 min after a logged turn or
 * suctioning and come back, and stretches near 0 around a logged zeroing. A longer rise stays whole. Travel explains a
 * missing signal and removes nothing. Removed. Needs a care log, and samples every 60 s. Common practice, no source.
 */
export const handling = rule({
  name: 'handling',
  title: 'logged turns, suctioning and zeroing',
  parameters: z.strictObject({
    riseMmHg: z.number().positive().default(6),
    maxSeconds: z.number().positive().max(600).default(180),
    baselineSeconds: z.number().positive().default(180),
    rhythm: z.number().min(0).max(1).default(0.5),
  }),
  find(recording, { riseMmHg, maxSeconds, baselineSeconds, rhythm }) {
    const channel = recording.channels.icp;
    const turned = entriesOf(recording, ...TURNED);
    const zeroed = entriesOf(recording, 'zeroing');
    if (!channel || turned.length + zeroed.length === 0) return { marks: [], stoodAside: [] };
    const coarse = tooCoarse(channel, maxSeconds / 3);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const shape = { riseMmHg, maxSeconds, sharpSeconds: maxSeconds, baselineSeconds, rhythm };
    const rises = turned.length === 0 ? [] : excursions(channel, shape);
    const marks = [
      ...near(channel, rises, turned).map(({ span, entry }): Mark => {
        const mapRiseMmHg = mapRiseOver(recording, span);
        const evidence = { mapRiseMmHg, care: careEvidence(entry, ...TURNED) };
        return { channel: 'icp', rule: 'handling', grade: 'removed', ...span, evidence };
      }),
      ...near(channel, nearZeroRuns(channel, LOGGED_ZERO), zeroed).map(({ span, entry }): Mark => {
        const evidence = { care: careEvidence(entry, 'zeroing') };
        return { channel: 'icp', rule: 'handling', grade: 'removed', ...span, evidence };
      }),
    ];
    return { marks, stoodAside: [] };
  },
});

/** The runs of samples that begin in the window of an entry, each with the first such entry. */
function near(
  { signal: { times } }: Channel,
  runs: readonly Run[],
  entries: readonly CareEntry[],
): { span: Interval; entry: CareEntry }[] {
  return runs.flatMap(({ first, last }) => {
    const span = { start: times[first], end: times[last] };
    const start = { start: span.start, end: span.start };
    const entry = entries.find((one) => overlaps(start, windowOf(one)));
    return entry ? [{ span, entry }] : [];
  });
}
