import type { ChannelKind } from '../../recording/channel.js';
import { channelNamed } from '../columns/channel-names.js';
import { headerWords } from '../columns/header-words.js';

/** Which limit an alarm is about. */
export type LimitSide = 'upper' | 'lower';

/** What an alarm names as its parameter. */
export interface AlarmParameter {
  /** As written. */
  readonly text: string;
  /** Null where it is none of the channels. */
  readonly channel: ChannelKind | null;
  /** Where its words say so. */
  readonly side: LimitSide | null;
}

/** Words of the trade beside the parameter. Common practice, no source. */
const UPPER = /(?:^|\s)(?:high|hi|upper|above|over|too high|elevated|>=?|≥|↑)(?=\s|$)/;
const LOWER = /(?:^|\s)(?:low|lo|lower|below|under|too low|<=?|≤|↓)(?=\s|$)/;
const FILLERS = /(?:^|\s)(?:too|alarm|alert|limit|threshold|violation|exceeded|value|is)(?=\s|$)/g;

/** The side that words name; null where they name none, or both. */
export function sideIn(text: string): LimitSide | null {
  if (text === '') return null;
  const plain = ` ${text.toLowerCase()} `.replace(/([<>≥≤↑↓]=?)/g, ' $1 ').replace(/\s+/g, ' ');
  const [upper, lower] = [UPPER.test(plain), LOWER.test(plain)];
  return upper === lower ? null : upper ? 'upper' : 'lower';
}

/** The parameter that a text such as `ICP`, `ICP high`, `CPP < 60 mmHg` or `High ICP alarm` means. */
export function alarmParameter(text: string): AlarmParameter {
  const side = sideIn(text);
  const [beforeSign] = text.split(/[<>≥≤↑↓]/, 1);
  const { name } = headerWords(beforeSign.trim() || text);
  const plain = channelNamed(name);
  if (plain) return { text, channel: plain, side };
  const rest = ` ${name} `
    .replace(FILLERS, ' ')
    .replace(UPPER, ' ')
    .replace(LOWER, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  return { text, channel: channelNamed(rest), side };
}
