import type { UnitRecording } from './results-schema.js';
import { shortRuleTitle } from './rule-title.js';
import { listed } from './words.js';

/** How a rule says that a channel is sampled too coarsely for it. */
const TOO_COARSE = / comes every (\S+) s; the rule needs \S+ s or finer$/;

/** True for a rule that `samplingNote` names. */
export const isTooCoarse = ({ why }: { readonly why: string }): boolean => TOO_COARSE.test(why);

/** Whose pages say so, for the page of the unit; null where the sampling carried every rule for all. */
export function unitSamplingNote(recordings: readonly UnitRecording[]): string | null {
  const ids = recordings.filter((one) => one.samplingNote !== null).map(({ id }) => id);
  if (ids.length === 0) return null;
  const who =
    ids.length === 1
      ? `patient ${ids[0]}`
      : ids.length === recordings.length
        ? `${ids.length === 2 ? 'both' : `all ${ids.length}`} patients`
        : `patients ${listed(ids)}`;
  return `In ${who} the sampling is too coarse for some of the cleaning rules: what these would take stays in. ${ids.length === 1 ? `The page of patient ${ids[0]} names them` : 'The page of each names them'}.`;
}

/**
 * What no rule could look for because the sampling is too coarse: `Sampled every 60 s: brief spikes and zeroing cannot be
 * told from the patient and stay in.` Null where the sampling carries every rule.
 */
export function samplingNote(
  stoodAside: readonly { readonly rule: string; readonly why: string }[],
): string | null {
  const bySeconds = new Map<string, Set<string>>();
  for (const { rule, why } of stoodAside) {
    const seconds = TOO_COARSE.exec(why)?.[1];
    if (seconds === undefined) continue;
    bySeconds.set(seconds, (bySeconds.get(seconds) ?? new Set()).add(shortRuleTitle(rule)));
  }
  if (bySeconds.size === 0) return null;
  const parts = [...bySeconds].map(
    ([seconds, titles]) => `every ${seconds} s: ${listed([...titles])} cannot be told from the patient`,
  );
  const isOne = [...bySeconds.values()].reduce((sum, { size }) => sum + size, 0) === 1;
  const staying = parts.length > 1 ? '; they stay in.' : isOne ? ' and stays in.' : ' and stay in.';
  return `Sampled ${parts.join('; ')}${staying}`;
}
