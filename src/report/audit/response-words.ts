import type { ClockResult, PeriodResult } from '../results-audit-response.js';
import type { EstimateResult } from '../results-estimate.js';
import { day, NONE, share } from '../words.js';
import { countedWord } from './count-words.js';

/** What the words of one clock are. */
interface ClockWords {
  readonly title: string;
  /** `12 were ...`. */
  readonly came: string;
  readonly head: string;
  /** From when it runs. */
  readonly from: string;
  /** What it is when the episode resolved first; empty where that is what is waited for. */
  readonly overFirst: string;
}

const FROM_ALARM = 'the first alarm (without one, the crossing)';

export const CLOCK_WORDS: Readonly<Record<ClockResult['clock'], ClockWords>> = {
  treated: {
    title: 'First treatment',
    came: 'treated',
    head: 'Treated',
    from: FROM_ALARM,
    overFirst: 'resolved before any treatment',
  },
  acknowledged: {
    title: 'Acknowledged',
    came: 'acknowledged',
    head: 'Acknowledged',
    from: FROM_ALARM,
    overFirst: 'resolved before anybody acknowledged an alarm',
  },
  resolved: {
    title: 'Resolved',
    came: 'resolved',
    head: 'Resolved',
    from: 'the time at which the episode had lasted long enough to count',
    overFirst: '',
  },
};

export const channelName = (channel: ClockResult['channel']): string => channel.toUpperCase();

/** Minutes without false digits: `4.2`, `18`. */
export const minutesWord = (minutes: number | null): string =>
  minutes === null ? NONE : minutes < 9.95 ? minutes.toFixed(1) : minutes.toFixed(0);

/** `10 to 15`; empty where there are no bounds. */
export const boundsWords = ({ lower, upper }: EstimateResult, words: (value: number) => string): string =>
  lower === null || upper === null ? '' : `${words(lower)} to ${words(upper)}`;

/** `38 to 57`, `79 to > 99`: bounds of a share below it, where the unit stands already. */
export const shareBoundsBelow = (estimate: EstimateResult): string =>
  boundsWords(estimate, share).replaceAll(' %', '');

/** `38 to 57 %`, with the unit once; `79 % to > 99 %` where one of them is not just a number. */
export function shareBoundsWords(estimate: EstimateResult): string {
  const words = boundsWords(estimate, share);
  return /[<>]/.test(words) ? words : words.replace(' % to ', ' to ');
}

const interval = ({ reason }: EstimateResult, bounds: string): string =>
  bounds === '' ? (reason ? ` (${reason})` : '') : ` (95 % interval ${bounds})`;

/** The name of a part of the time. */
export function periodName({ kind, start, end }: PeriodResult, nightFrom: string, nightTo: string): string {
  switch (kind) {
    case 'all':
      return 'all';
    case 'before':
      return `before ${day(end)}`;
    case 'after':
      return `from ${day(start)} on`;
    case 'night':
      return `night, ${nightFrom} to ${nightTo}`;
    case 'day':
      return `day, ${nightTo} to ${nightFrom}`;
    case 'month':
      return day(start).replace(/^\d+ /, '');
  }
}

/** The answer of one clock: the median, and the share within 15 min, with intervals over patients. */
export function clockSentence({ channel, clock, reason, periods }: ClockResult): string {
  const { came, title } = CLOCK_WORDS[clock];
  const name = channelName(channel);
  if (reason !== null) return `${name}, ${title.toLowerCase()}: cannot be told, since ${reason}.`;
  const all = periods.find(({ kind }) => kind === 'all');
  if (all === undefined || all.episodes === 0) return `${name}: there was no sustained episode.`;
  const whom = `${name}: ${countedWord(all.episodes, 'sustained episode')} of ${countedWord(all.patients, 'patient')}`;
  const { medianMinutes, shares } = all;
  const middle =
    medianMinutes.value === null
      ? `no median is told (${medianMinutes.reason ?? 'it has no value'})`
      : `half were ${came} within ${minutesWord(medianMinutes.value)} min${interval(medianMinutes, boundsWords(medianMinutes, minutesWord))}`;
  const within = shares.find(({ minutes }) => minutes === 15);
  const part =
    within === undefined || within.share.value === null
      ? ''
      : `; within 15 min ${share(within.share.value)}${interval(within.share, shareBoundsWords(within.share))}`;
  return `${whom}; ${middle}${part}.`;
}
