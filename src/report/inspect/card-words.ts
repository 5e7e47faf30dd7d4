import { formWords } from '../../ingest/time/time-plan.js';
import { shorten } from '../../recording/problem.js';
import { DELIMITER_WORDS, ENCODING_WORDS } from '../reading-words.js';
import { clockSeconds, clockTime, counted, day, dayAndTime, duration, seconds } from '../words.js';
import type {
  ChannelInspection,
  DialectInspection,
  PatientInspection,
  TimesInspection,
} from './inspection.js';

/** A size in bytes as a person says it. */
export function size(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`;
  const [value, unit] =
    bytes < 1e6 ? [bytes / 1e3, 'kB'] : bytes < 1e9 ? [bytes / 1e6, 'MB'] : [bytes / 1e9, 'GB'];
  return `${value < 10 ? value.toFixed(1) : value.toFixed(0)} ${unit}`;
}

/** How the file is written, in sentences. */
export function dialectWords(dialect: DialectInspection): string[] {
  const { encoding, delimiter, decimal, packed, headerLine, unitsLine, linesAbove, shape } = dialect;
  const text = encoding === null ? 'text' : `${ENCODING_WORDS[encoding] ?? encoding} text`;
  const mark = decimal === null ? '' : `, decimal ${decimal === ',' ? 'comma' : 'point'}`;
  const words = [
    `${packed ? 'Packed with gzip: ' : ''}${text}, cells parted by ${DELIMITER_WORDS[delimiter]}${mark}${shape === null ? '' : `; a ${shape === 'long' ? 'row a value' : 'column a channel'}`}.`,
    ...(headerLine === null
      ? []
      : [`Header in line ${headerLine}${unitsLine ? ', units in the line under it' : ''}.`]),
  ];
  if (linesAbove.length > 0) {
    const shown = linesAbove.slice(0, 2).map((line) => `"${shorten(line)}"`);
    const more = linesAbove.length - shown.length;
    words.push(
      `Above it ${counted(linesAbove.length, 'line')} left alone: ${shown.join(', ')}${more > 0 ? ` and ${more} more` : ''}.`,
    );
  }
  return words;
}

/** How the times were read, in sentences. */
export function timesWords({ columns, form, why, example, zone, zoneFrom }: TimesInspection): string[] {
  const zones = {
    'the cells': 'The cells give their offset.',
    'the header': 'The header gives the offset.',
    'the pipeline file': `They give no offset: local time in ${zone}.`,
    nothing: `They give no offset, and nobody said the time zone: taken for ${zone}.`,
    'the form': 'They are UTC by definition.',
    'the start': `The start is taken as local time in ${zone}.`,
  }[zoneFrom];
  const names = columns.map((column) => `"${shorten(column)}"`).join(' with ');
  return [`${names}: ${formWords(form)} such as ${shorten(example)}, ${why}.`, zones];
}

/** `11 Feb 02:10:05`. */
const dayAndSeconds = (iso: string): string => `${dayAndTime(iso)}:${iso.slice(17, 19)}`;

/** `every 1 s`, or the stretches where the rate changes. */
export function ratesWords({ rates, gaps, unevenShare }: ChannelInspection): string {
  const every = (intervalSeconds: number): string =>
    intervalSeconds < 1
      ? `${Number((1 / intervalSeconds).toFixed(1))} times a second`
      : `every ${seconds(intervalSeconds * 1000)}`;
  const words = rates.map(({ start, intervalSeconds }, i) =>
    i === 0 ? every(intervalSeconds) : `from ${dayAndSeconds(start)} ${every(intervalSeconds)}`,
  );
  const parts = [words.length === 0 ? 'one sample' : words.join(', ')];
  if (gaps.longest) {
    const longest = `${seconds(gaps.longest.seconds * 1000)} from ${dayAndSeconds(gaps.longest.start)}`;
    parts.push(gaps.count === 1 ? `a gap of ${longest}` : `${gaps.count} gaps, the longest ${longest}`);
  }
  if (unevenShare > 0.01) parts.push(`${Math.round(unevenShare * 100)} % of the spacings uneven`);
  return parts.join('; ');
}

/** `11 February 2031 19:00 to 12 February 2031 07:00 (12 h)`. */
export function spanWords({ start, end }: Pick<PatientInspection, 'start' | 'end'>): string {
  if (start === null || end === null) return 'no time';
  const hours = (Date.parse(end) - Date.parse(start)) / 3_600_000;
  const long = hours < 1 / 60 ? seconds(hours * 3_600_000) : duration(hours);
  const clock = hours < 1 ? clockSeconds : clockTime;
  const last = day(start) === day(end) ? clock(end) : `${day(end)} ${clock(end)}`;
  return `${day(start)} ${clock(start)} to ${last} (${long})`;
}
