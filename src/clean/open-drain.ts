import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import type { Recording } from '../recording/recording.js';
import { entriesOf } from './evidence.js';
import { type Mark, rule } from './rule.js';

/**
 * While a drain is open its channel reads the drip chamber and not the patient: from logged open to logged closed,
 * removed; where no closing is logged, suspect to the end. Only for channels whose source is the drain. Needs a care
 * log; works at any sampling. Common practice, no source.
 */
export const openDrain = rule({
  name: 'openDrain',
  title: 'drain open',
  parameters: z.strictObject({}),
  find(recording) {
    const drains = (['icp', 'icpDrain'] as const).flatMap((kind) => {
      const channel = recording.channels[kind];
      return channel && (kind === 'icpDrain' || channel.source === 'drain') ? [channel] : [];
    });
    if (drains.length === 0) return { marks: [], stoodAside: [] };
    if (!recording.care) {
      return { marks: [], stoodAside: ['no care log was given: when the drain was open is not known'] };
    }
    return { marks: drains.flatMap((channel) => openMarks(channel, recording)), stoodAside: [] };
  },
});

function openMarks({ kind }: Channel, recording: Recording): Mark[] {
  const marks: Mark[] = [];
  let openedAt: number | null = null;
  const close = (at: number): void => {
    if (openedAt === null) return;
    const care = { kind: 'drainOpen', at: openedAt } as const;
    marks.push({
      channel: kind,
      rule: 'openDrain',
      grade: 'removed',
      start: openedAt,
      end: at,
      evidence: { care },
    });
    openedAt = null;
  };
  for (const { start, end, kinds } of entriesOf(recording, 'drainOpen', 'drainClosed')) {
    if (kinds.includes('drainClosed')) close(start);
    else openedAt ??= start;
    if (kinds.includes('drainOpen') && end !== null) close(end);
  }
  if (openedAt !== null && openedAt < recording.extent.end) {
    const span = { start: openedAt, end: recording.extent.end };
    const evidence = { care: { kind: 'drainOpen', at: openedAt } } as const;
    marks.push({ channel: kind, rule: 'openDrain', grade: 'suspect', direction: 'down', ...span, evidence });
  }
  return marks.filter(({ start, end }) => start <= end);
}
