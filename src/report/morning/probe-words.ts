import { REVIEWED } from '../../clean/decisions.js';
import type { AgreementResult, RecordingResult } from '../results-schema.js';
import { ruleTitle } from '../rule-title.js';
import { counted, duration, fromTo, listed, signed } from '../words.js';

type Suspect = RecordingResult['suspect'][number];

/** What each rule saw, in words for the bedside; by rule, or by rule and direction. */
const SEEN: Readonly<Record<string, string>> = {
  negative: 'ICP under 0 mmHg',
  'step down': 'a sudden step down',
  'step up': 'a sudden step up',
  'zeroShift down': 'a lower level since a zeroing',
  'zeroShift up': 'a higher level since a zeroing',
  damped: 'a damped trace, its usual scatter lost',
  'clipped down': 'ICP held at the bottom of its scale',
  'clipped up': 'ICP held at the top of its scale, so it may have been higher',
  'drift down': 'the probe drifting down against the drain',
  'drift up': 'the probe drifting up against the drain',
  openDrain: 'the drain logged as opened and never as closed',
};

const POSITION = "the probe's position mark and connections";
const ZERO = 'the zero and the level';

/** What is usually checked first where a rule saw something. Common practice, no source. */
const CHECKED_FIRST: Readonly<Record<string, readonly string[]>> = {
  negative: [POSITION, ZERO],
  step: [POSITION],
  zeroShift: [ZERO],
  damped: ['the connections; in a fluid line also kinks, air and clots'],
  clipped: ["the monitor's scale and range"],
  drift: ['the reading of the drain beside it; the zero, where the device allows one'],
  openDrain: ['the stopcock and the care log'],
};

/** `a sudden step down and ICP under 0 mmHg`. */
export function seenWords({
  rules,
  direction,
  decidedBy,
}: Pick<Suspect, 'rules' | 'direction' | 'decidedBy'>): string {
  const words = rules.map((rule) =>
    rule === REVIEWED
      ? `called suspect by ${listed(decidedBy)}`
      : (SEEN[rule] ?? SEEN[`${rule} ${direction}`] ?? ruleTitle(rule)),
  );
  return listed(words);
}

/** `the probe's position mark and connections; the zero and the level`. */
export const checkWords = ({ rules }: Pick<Suspect, 'rules'>): string =>
  [...new Set(rules.flatMap((rule) => CHECKED_FIRST[rule] ?? [POSITION, ZERO]))].join('; ');

/** How the times of a period are written. */
type At = (iso: string) => string;

/** `02:10 to 07:00 (4 h 50 min)`. */
export const stretchTime = (stretch: { start: string; end: string }, at: At): string =>
  `${fromTo(stretch, at)} (${duration(lengthMs(stretch) / 3_600_000)})`;

const lengthMs = ({ start, end }: { start: string; end: string }): number =>
  Date.parse(end) - Date.parse(start);

/** The longest ones, by time; of equal length the earlier. */
export const longestStretches = (suspect: readonly Suspect[], most: number): Suspect[] =>
  [...suspect]
    .sort((a, b) => lengthMs(b) - lengthMs(a))
    .slice(0, most)
    .sort((a, b) => Date.parse(a.start) - Date.parse(b.start));

/** `a sudden step down, 02:10 to 07:00 (4 h 50 min), left out of the figures; and 2 shorter stretches.` */
function suspectNote(suspect: readonly Suspect[], at: At): string {
  const [longest] = longestStretches(suspect, 1);
  const way = longest.direction === 'down' ? 'left out of the figures' : 'still in the figures';
  const more =
    suspect.length === 1
      ? ''
      : `; and ${counted(suspect.length - 1, 'shorter stretch', 'shorter stretches')}`;
  return `Check the probe, as local protocol says: ${seenWords(longest)}, ${stretchTime(longest, at)}, ${way}${more}.`;
}

type ZeroMove = AgreementResult['zeroMoves'][number];

/** `from +0.8 to +9.3 mmHg at 01:30`. */
function moveWords({ start, end, beforeMmHg, afterMmHg }: ZeroMove, decimals: number, at: At): string {
  const when = at(start) === at(end) ? `at ${at(start)}` : `between ${at(start)} and ${at(end)}`;
  return `from ${signed(beforeMmHg, decimals)} to ${signed(afterMmHg, decimals)} mmHg ${when}`;
}

const changeOf = ({ beforeMmHg, afterMmHg }: ZeroMove): number => Math.abs(afterMmHg - beforeMmHg);

/** So many changes of a zero are told one by one, the largest. */
const MOST_MOVES = 3;

/** `the difference between probe and drain went from +0.8 to +9.3 mmHg at 01:30 and stayed there for an hour or more`. */
export function zeroMovesWords(
  { zeroMoves, decimals }: Pick<AgreementResult, 'zeroMoves' | 'decimals'>,
  at: At,
  most = MOST_MOVES,
): string {
  const told = [...zeroMoves]
    .sort((a, b) => changeOf(b) - changeOf(a))
    .slice(0, most)
    .sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
  const rest = zeroMoves.length - told.length;
  const stayed =
    told.length === 1
      ? ' and stayed there for an hour or more'
      : ', and stayed there for an hour or more each time';
  const more = rest > 0 ? `; and ${counted(rest, 'smaller change')}` : '';
  return `the difference between probe and drain went ${listed(told.map((move) => moveWords(move, decimals, at)))}${stayed}${more}`;
}

/** `A zero may have moved: ...`, as a line of its own; none where none has. */
export const zeroLine = ({ agreement }: Pick<RecordingResult, 'agreement'>, at: At): string[] =>
  agreement === null || agreement.zeroMoves.length === 0
    ? []
    : [`A zero may have moved: ${zeroMovesWords(agreement, at)}.`];

/** The short form for the page of the unit: the longest suspect stretch, and zeros that may have moved; null where there is neither. */
export function probeNote(
  { suspect, agreement }: Pick<RecordingResult, 'suspect' | 'agreement'>,
  at: At,
): string | null {
  const notes = [...(suspect.length === 0 ? [] : [suspectNote(suspect, at)]), ...zeroLine({ agreement }, at)];
  return notes.length === 0 ? null : notes.join(' ');
}
