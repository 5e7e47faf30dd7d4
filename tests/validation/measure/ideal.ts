import { START_MS } from '../../../fixtures/labelled/start.js';
import type { LabelledPatient } from '../../../fixtures/labelled/types.js';
import type { Signal } from '../../../src/recording/signal.js';
import { isAtCeiling } from './at-ceiling.js';

/**
 * ICP with exactly the labelled samples left out, but for those at the ceiling of the channel, which the headline keeps:
 * what perfect cleaning would leave. Its figures are off as well, by
 * what ICP did under the artifacts, by rounding and by sampling; no rule can do better but by chance.
 */
export function idealSignal(
  { labels, artifacts }: LabelledPatient,
  { times, values, known }: Signal,
): Signal {
  const isLabelled = (i: number): boolean => {
    const label = labels.icp[Math.round((times[i] - START_MS) / 1000)];
    return label > 0 && !isAtCeiling(artifacts[label - 1]);
  };
  const kept = known.slice();
  for (let i = 0; i < kept.length; i++) {
    if (!isLabelled(i)) continue;
    kept[i] = 0;
    if (i > 0) kept[i - 1] = 0;
  }
  return { times, values, known: kept };
}
