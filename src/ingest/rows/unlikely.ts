import { CHANNEL_NAMES } from '../../recording/channel.js';
import type { Recording } from '../../recording/recording.js';
import { median } from '../../recording/rolling-median.js';

/** Medians outside of these are hardly a patient's, mm[Hg]. Common practice, no source. */
const LIKELY = { map: [25, 200], icp: [-30, 60] } as const;

/** A cuff measures every few minutes; an arterial line comes as often as ICP. Common practice, no source. */
const CUFF_INTERVAL_MS = 120_000;
const FINER = 5;

/** What somebody should look at: values of another unit than is said, and pressures that come like a cuff's. */
export function unlikely({ channels }: Recording): string[] {
  const warnings: string[] = [];
  for (const kind of ['icp', 'map'] as const) {
    const channel = channels[kind];
    if (!channel || channel.signal.values.length === 0) continue;
    const [low, high] = LIKELY[kind];
    const { values } = channel.signal;
    let inside = 0;
    for (let i = 0; i < values.length; i++) if (values[i] >= low && values[i] <= high) inside++;
    // Where most samples lie inside, so does their median.
    if (2 * inside > values.length) continue;
    const middle = median(values);
    if (middle >= low && middle <= high) continue;
    warnings.push(
      `the median of ${CHANNEL_NAMES[kind]} is ${Number(middle.toFixed(1))} mmHg, which is unlikely: look at its unit ("${channel.header}").`,
    );
  }
  const icp = channels.icp?.nominalIntervalMs ?? Number.NaN;
  const map = channels.map?.nominalIntervalMs ?? Number.NaN;
  if (map >= CUFF_INTERVAL_MS && map >= FINER * icp) {
    warnings.push(
      `MAP ("${channels.map?.header}") comes every ${Number((map / 60_000).toFixed(1))} min, as a cuff's does: a cuff is never to be used as MAP.`,
    );
  }
  return warnings;
}
