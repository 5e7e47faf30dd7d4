import type { RecordingResult } from '../results-schema.js';

/** Rules that say what may be the probe and not the patient, in a signal of ICP alone. */
const LOOKS_AT_PROBE: ReadonlySet<string> = new Set(['step', 'negative', 'damped', 'zeroShift', 'clipped']);

/** What it means that nothing of ICP is suspect: nobody looked, not all could be looked for, or nothing was found. */
export function nothingSuspectWords({ cleaning }: RecordingResult): string {
  const stretches = 'Suspect stretches of ICP:';
  if (cleaning.isOff) return `${stretches} not looked for, since nothing was cleaned.`;
  return cleaning.stoodAside.some(({ rule }) => LOOKS_AT_PROBE.has(rule))
    ? `${stretches} could not be looked for in full on these data.`
    : `${stretches} none found, which does not prove the probe right.`;
}
