import { z } from 'zod';
import { rule } from './rule.js';

/**
 * Stretches in which the export went on but held only blanks or missing marks for a channel, longer than the
 * channel's maxGap. Nothing is known there anyway; the rule gives the stretch its name. Works at any sampling.
 */
export const disconnected = rule({
  name: 'disconnected',
  title: 'disconnected (blank or missing marks)',
  parameters: z.strictObject({}),
  find(recording) {
    const marks = (['icp', 'map'] as const).flatMap((kind) =>
      (recording.channels[kind]?.blanks ?? []).map(({ start, end }) => ({
        channel: kind,
        rule: 'disconnected',
        grade: 'removed' as const,
        // The samples at both ends were measured, so they stay out of the mark.
        start: start + 1,
        end: end - 1,
      })),
    );
    return { marks, stoodAside: [] };
  },
});
