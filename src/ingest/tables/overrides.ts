import { CHANNEL_NAMES, type ChannelKind } from '../../recording/channel.js';
import { Problem } from '../../recording/problem.js';
import { channelNamed } from '../columns/channel-names.js';
import { headerWords } from '../columns/header-words.js';
import { named, type RowPlace } from './describe.js';
import { didYouMean, noneOf } from './nearest-word.js';
import type { TableDefinition } from './table-definition.js';
import { WHOSE } from './whose.js';

/** A stretch of a patient's channel that a person decided on; both ends as written, milliseconds UTC. */
export interface DecisionRow extends RowPlace {
  readonly patient: string;
  readonly channel: ChannelKind;
  readonly start: number;
  readonly end: number;
  readonly decision: 'keep' | 'remove' | 'suspect';
  readonly direction: 'down' | 'up' | null;
  readonly reviewer: string;
}

const DECISIONS = ['keep', 'remove', 'suspect'] as const;
const DIRECTIONS = ['down', 'up'] as const;
/** CPP is computed, and no figure rests on any other channel. */
const CHANNELS = ['icp', 'icpDrain', 'map'] as const;

/** The columns of `tables/marked.csv`; what else it holds is for the reader. */
const OVERRIDE_COLUMNS = {
  patient: WHOSE.patient,
  channel: {
    type: 'text',
    title: 'the channel',
    example: 'channel',
    names: [named('channel|signal|parameter')],
  },
  start: { type: 'time', required: true, title: 'the start', example: 'start', names: [named('start|from')] },
  end: {
    type: 'time',
    required: true,
    after: 'start',
    title: 'the end',
    example: 'end',
    names: [named('end|to|until')],
  },
  direction: { type: 'text', title: 'the direction', example: 'direction', names: [named('direction')] },
  decision: { type: 'text', title: 'the decision', example: 'decision', names: [named('decision')] },
  reviewer: { type: 'text', title: 'the reviewer', example: 'reviewer', names: [named('reviewer')] },
} as const;

type Column = keyof typeof OVERRIDE_COLUMNS;

/** What a report puts in front of text that a spreadsheet would run. */
const withoutGuard = (text: string): string => text.replace(/^'(?=[=+\-@])/, '');

/** One of the words, whatever its case; null where the cell holds none of them. */
const wordOf = <W extends string>(text: string, words: readonly W[]): W | null =>
  words.find((word) => word.toLowerCase() === text.trim().toLowerCase()) ?? null;

function channelOf(text: string): ChannelKind | null {
  const key = wordOf(text, CHANNELS) ?? channelNamed(headerWords(text).name);
  return CHANNELS.find((kind) => kind === key) ?? null;
}

const needsName =
  'A decision is somebody\'s: write the name or initials of who decided into the column "reviewer".';

/** A reviewed copy of a report's table of marks: rows whose decision is filled in count, the others are passed over. */
export const OVERRIDES: TableDefinition<typeof OVERRIDE_COLUMNS, DecisionRow> = {
  title: 'a reviewed copy of tables/marked.csv',
  columns: OVERRIDE_COLUMNS,
  requires: [['patient'], ['channel'], ['start'], ['end'], ['decision'], ['reviewer']],
  main: 'start',
  mayRepeat: true,
  passesOver: (cell) => cell('decision') === null,
  maker: (context) => {
    const wrong = (key: Column, what: string, fix: string): Problem =>
      new Problem(what, fix, { column: context.column(key)?.header ?? OVERRIDE_COLUMNS[key].example });
    const word = <W extends string>(key: Column, text: string, words: readonly W[]): W => {
      const found = wordOf(text, words);
      if (found !== null) return found;
      throw wrong(key, noneOf(text, words), `${didYouMean(text, words)}Correct the cell.`);
    };
    return ({ file, line, patient, channel: channelText, start, end, direction: way, ...row }) => {
      const decision = word('decision', row.decision ?? '', DECISIONS);
      if (row.reviewer === null) throw wrong('reviewer', 'the decision names no reviewer', needsName);
      if (patient === null) throw wrong('patient', 'it is blank', 'Fill in the patient.');
      const channel = channelOf(channelText ?? '');
      if (channel === null) throw wrongChannel(channelText ?? '', wrong);
      const direction = way === null ? null : word('direction', way, DIRECTIONS);
      if (decision === 'suspect' && direction === null) {
        const fix =
          'Write "down" (the values may be too low: left out of the figures) or "up" (too high: they stay in).';
        throw wrong('direction', 'a suspect stretch needs a direction', fix);
      }
      return {
        file,
        line,
        patient: withoutGuard(patient),
        channel,
        start,
        end,
        decision,
        direction: decision === 'suspect' ? direction : null,
        reviewer: withoutGuard(row.reviewer),
      };
    };
  },
  instants: ({ start, end }) => [start, end],
  countedAs: ({ decision }) => decision,
};

function wrongChannel(text: string, wrong: (key: Column, what: string, fix: string) => Problem): Problem {
  if (text === '') return wrong('channel', 'it is blank', `Fill in one of ${CHANNELS.join(', ')}.`);
  const isOther = text.toLowerCase() in CHANNEL_NAMES || channelNamed(headerWords(text).name) !== null;
  const what = isOther ? `"${text}" is a channel that no figure rests on by itself` : noneOf(text, CHANNELS);
  return wrong(
    'channel',
    what,
    isOther ? 'Decide on icp or map.' : `${didYouMean(text, CHANNELS)}Correct the cell.`,
  );
}
