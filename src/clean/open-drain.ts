import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import { calmAndLively } from './calm-stretches.js';
import { chamberIn } from './drip-chamber.js';
import { type LoggedOpen, loggedOpen } from './logged-open.js';
import { type Mark, rule } from './rule.js';

/** Samples a minute apart still scatter. */
const COARSEST_SECONDS = 60;
/** Within what the log calls open, so many calm minutes are the drip chamber. */
const CALM_SECONDS = 180;

/**
 * While a drain is open its channel reads the drip chamber and not the patient: from logged open to logged closed,
 * removed; where no closing is logged, suspect to the end. Closings are often not written down. So where the channel
 * first lies calm, as in a chamber, and then scatters as it does elsewhere for 10 min or more, or stands 8 mmHg or more
 * above the chamber for so long (an open drain cannot), it is taken as closed for that time, and the patient's again.
 * Only for channels whose source is the drain. Needs a care log; works at any sampling, without the look at the scatter
 * where samples are more than 60 s apart. Common practice, no source.
 */
export const openDrain = rule({
  name: 'openDrain',
  title: 'drain open',
  parameters: z.strictObject({
    /** Under this share of the usual scatter the channel lies calm. */
    calmShare: z.number().positive().max(1).default(0.4),
    /** So far above the chamber the drain cannot be open. */
    overChamberMmHg: z.number().positive().default(8),
    /** Scatter or such a level for this long ends what the log calls open. */
    livelySeconds: z.number().positive().default(600),
  }),
  find(recording, parameters) {
    const drains = (['icp', 'icpDrain'] as const).flatMap((kind) => {
      const channel = recording.channels[kind];
      return channel && (kind === 'icpDrain' || channel.source === 'drain') ? [channel] : [];
    });
    if (drains.length === 0) return { marks: [], stoodAside: [] };
    if (!recording.care) {
      return { marks: [], stoodAside: ['no care log was given: when the drain was open is not known'] };
    }
    const logged = loggedOpen(recording);
    return { marks: drains.flatMap((channel) => marksIn(channel, logged, parameters)), stoodAside: [] };
  },
});

interface Shape {
  readonly calmShare: number;
  readonly overChamberMmHg: number;
  readonly livelySeconds: number;
}

function marksIn(channel: Channel, logged: readonly LoggedOpen[], shape: Shape): Mark[] {
  if (logged.length === 0) return [];
  const { calmShare, livelySeconds } = shape;
  const found = calmAndLively(channel, {
    share: calmShare,
    coarsestSeconds: COARSEST_SECONDS,
    calmSeconds: CALM_SECONDS,
    livelySeconds,
    unusual: logged,
  });
  const scatter = typeof found === 'string' ? { calm: [], lively: [] } : found;
  return logged.flatMap((span) =>
    chamberIn(channel.signal, span, scatter, shape).map(({ start, end }): Mark => {
      const endedBySignal = end < span.end ? true : undefined;
      const evidence = { care: { kind: 'drainOpen', at: span.start }, endedBySignal } as const;
      const grade = span.isClosed
        ? ({ grade: 'removed' } as const)
        : ({ grade: 'suspect', direction: 'down' } as const);
      return { channel: channel.kind, rule: 'openDrain', ...grade, start, end, evidence };
    }),
  );
}
