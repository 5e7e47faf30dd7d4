import type { UnitAuditInput } from './audit-settings.js';
import type { AuditChannel, AuditedEpisode, Notice } from './patient-audit.js';

const MINUTE_MS = 60_000;
export const NOTICES = ['inTime', 'late', 'none', 'notCovered'] as const satisfies readonly Notice[];

/** A sustained episode of which no alarm told, or told late. */
export interface UnnoticedEpisode {
  readonly patient: string;
  readonly channel: AuditChannel;
  readonly notice: 'late' | 'none';
  readonly start: number;
  readonly end: number;
  readonly minutes: number;
  readonly doseMmHgHours: number;
  readonly extremeMmHg: number;
  /** From the crossing to the alarm; null where none came. */
  readonly alarmAfterMinutes: number | null;
  readonly treated: TreatedAfter;
}

/** Whether a treatment is known of, and how long after the crossing it came. */
export type TreatedAfter =
  | { readonly is: 'given'; readonly afterMinutes: number }
  /** None before the episode was over or cut off. */
  | { readonly is: 'none' }
  | { readonly is: 'unknown' };

/** The first treatment that counts for an episode, as minutes from its crossing; one shortly before it is at 0. */
export function treatedAfter({ episode, treated, treatedAt }: AuditedEpisode): TreatedAfter {
  if (treated === null) return { is: 'unknown' };
  if (treatedAt === null) return { is: 'none' };
  return { is: 'given', afterMinutes: Math.max(0, (treatedAt - episode.start) / MINUTE_MS) };
}

/** How many sustained episodes of a channel were told of, and how. */
export const noticeCounts = ({ patients }: UnitAuditInput, channel: AuditChannel): Record<Notice, number> => {
  const counts: Record<Notice, number> = { inTime: 0, late: 0, none: 0, notCovered: 0 };
  for (const { episodes } of patients)
    for (const one of episodes) if (one.channel === channel) counts[one.notice]++;
  return counts;
};

/** Sustained episodes that no alarm told of, or a late one, by patient and start. */
export const unnoticed = ({ patients }: UnitAuditInput): UnnoticedEpisode[] =>
  patients.flatMap(({ id, episodes }) =>
    episodes.flatMap((one): UnnoticedEpisode[] => {
      const { notice, episode } = one;
      if (notice !== 'late' && notice !== 'none') return [];
      return [
        {
          patient: id,
          channel: one.channel,
          notice,
          start: episode.start,
          end: episode.end,
          minutes: (episode.end - episode.start) / MINUTE_MS,
          doseMmHgHours: one.doseMmHgHours,
          extremeMmHg: one.extremeMmHg,
          alarmAfterMinutes: one.alarmAfterMinutes,
          treated: treatedAfter(one),
        },
      ];
    }),
  );
