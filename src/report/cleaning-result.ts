import type { Recording } from '../recording/recording.js';
import type { ZoneClock } from '../recording/zone.js';
import type { Agreement } from '../summarize/agreement.js';
import type { Removal } from '../summarize/removals.js';
import type { SuspectStretch } from '../summarize/trust.js';
import { ends } from './ends.js';
import { evidenceWords } from './evidence-words.js';
import { checkWords, seenWords } from './morning/probe-words.js';
import type { RecordingResult, RemovalResult } from './results-schema.js';

/** Rules to which an entry of the care log is the criterion itself, and so no further evidence. */
const RESTS_ON_LOG: readonly string[] = ['handling', 'openDrain'];

/** What speaks for a removal, each thing once, of rises of MAP the largest; the log apart where the removal rests on it. */
function evidenceOf(
  { evidence, rules }: Removal,
  clock: ZoneClock,
): Pick<RemovalResult, 'evidence' | 'logged'> {
  const rises = evidence.flatMap(({ mapRiseMmHg }) => mapRiseMmHg ?? []);
  const risen = rises.length === 0 ? [] : [evidenceWords({ mapRiseMmHg: Math.max(...rises) }, clock)];
  const log = evidence.map(({ care }) => evidenceWords({ care }, clock));
  const said = (words: readonly string[]): string =>
    [...new Set(words)].filter((word) => word !== '').join(', ');
  return rules.every((rule) => RESTS_ON_LOG.includes(rule))
    ? { evidence: said(risen), logged: said(log) }
    : { evidence: said([...risen, ...log]), logged: '' };
}

export const removalResult = (removal: Removal, clock: ZoneClock): RemovalResult => ({
  ...removal,
  ...ends(removal, clock),
  rules: [...removal.rules],
  decidedBy: [...removal.decidedBy],
  ...evidenceOf(removal, clock),
});

/** A suspect stretch with what was seen and what is checked first, in words. */
export const suspectResult = (
  { rules, decidedBy, direction, ...stretch }: SuspectStretch,
  clock: ZoneClock,
): RecordingResult['suspect'][number] => {
  const seen = { rules: [...rules], decidedBy: [...decidedBy], direction };
  return { ...ends(stretch, clock), ...seen, seen: seenWords(seen), checkFirst: checkWords(seen) };
};

/** Agreement of two sources of ICP, or null with the reason. */
export function agreementResult(
  agreement: Agreement | string,
  { channels: { icp, icpDrain } }: Recording,
  clock: ZoneClock,
): Pick<RecordingResult, 'agreement' | 'agreementReason'> {
  if (typeof agreement === 'string') return { agreement: null, agreementReason: agreement };
  const { means, hours, zeroMoves, ...figures } = agreement;
  return {
    agreement: {
      firstHeader: icp?.header ?? '',
      secondHeader: icpDrain?.header ?? '',
      decimals: Math.min(1, icp?.decimals ?? 0, icpDrain?.decimals ?? 0),
      ...figures,
      minutes: means.length,
      hours: hours.map((hour) => ({
        ...hour,
        ...ends(hour, clock),
        ...(hour.meanDifferenceMmHg === null
          ? { meanDifferenceMmHgReason: 'the two were not known together' }
          : {}),
      })),
      zeroMoves: zeroMoves.map((move) => ({ ...move, ...ends(move, clock) })),
    },
  };
}
