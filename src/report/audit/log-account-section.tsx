import type { JSX } from 'preact';
import { shorten } from '../../recording/problem.js';
import { Table } from '../page/table.js';
import type { AuditAlarms } from '../results-audit-alarms.js';
import { days } from '../words.js';
import { CHANNEL_SHORT } from './class-words.js';
import { countedWord, countWord } from './count-words.js';

type Log = NonNullable<AuditAlarms['log']>;

/** So many parameters are listed for a reason; the rest in one row. */
const MOST_PARAMETERS = 8;

const WHY = {
  otherChannel: 'Of a channel that is not audited',
  unknownParameter: 'Of no channel that is known',
  outside: 'At no time that a recording of the patient reaches',
  notInPeriod: 'Not in the period of this report',
} as const;

interface Line {
  readonly key: string;
  readonly what: string;
  readonly about: string;
  readonly rows: number | null;
}

const sumOf = (counts: readonly (number | null)[]): number | null =>
  counts.reduce<number | null>((sum, n) => (sum === null || n === null ? null : sum + n), 0);

function unjudgedLines({ unjudged }: Log): Line[] {
  return (Object.keys(WHY) as (keyof typeof WHY)[]).flatMap((why) => {
    const own = unjudged.filter((one) => one.why === why);
    const rest = own.slice(MOST_PARAMETERS);
    return [
      ...own.slice(0, MOST_PARAMETERS).map(({ parameter, alarms }) => ({
        key: `${why} ${parameter}`,
        what: WHY[why],
        about: shorten(parameter),
        rows: alarms,
      })),
      ...(rest.length === 0
        ? []
        : [
            {
              key: `${why} rest`,
              what: WHY[why],
              about: `${rest.length} other parameters`,
              rows: sumOf(rest.map(({ alarms }) => alarms)),
            },
          ]),
    ];
  });
}

const isAny = ({ rows }: Line): boolean => rows !== 0;

/** Where each row of the log went, line by line; the lines add up to the rows that were read. */
export function logLines(log: Log): Line[] {
  return [
    ...log.judged.map(({ channel, alarms }) => ({
      key: channel,
      what: 'Judged',
      about: CHANNEL_SHORT[channel],
      rows: alarms,
    })),
    ...unjudgedLines(log),
    { key: 'without', what: 'Of patients of whom there is no export', about: '', rows: log.withoutExport },
    { key: 'merged', what: 'Told in another file too, and counted once', about: '', rows: log.merged },
    ...log.setAside.map(({ kind, reason, rows }) => ({
      key: `${kind} ${reason}`,
      what: 'Set aside',
      about: reason,
      rows,
    })),
  ].filter(isAny);
}

/** Where each row of the alarm log went. */
export function LogAccountSection({ log }: { readonly log: AuditAlarms['log'] }): JSX.Element {
  if (log === null) {
    return (
      <section>
        <h2>The alarm log</h2>
        <p>No alarm log was given.</p>
      </section>
    );
  }
  const { from, to, rowsRead, unaccounted } = log;
  const reach =
    from === null || to === null ? 'It holds no alarm' : `It reaches over ${days(from, lastMoment(to))}`;
  return (
    <section>
      <h2>The alarm log</h2>
      <p>
        {reach}; {countedWord(rowsRead, 'row')} {rowsRead === 1 ? 'was' : 'were'} read. Days are taken as a
        whole, since a log cannot say where it begins and ends.
      </p>
      <Table
        columns={[{ head: 'Where its rows went' }, { head: 'What' }, { head: 'Rows', number: true }]}
        rows={[
          ...logLines(log).map(({ key, what, about, rows }) => ({
            key,
            cells: [what, about, countWord(rows)],
          })),
          { key: 'all', kind: 'past' as const, cells: ['Rows read', '', countWord(rowsRead)] },
        ]}
      />
      {unaccounted !== 0 && unaccounted !== null && (
        <p class="note">
          These lines do not add up to the rows that were read: they differ by {Math.abs(unaccounted)}.
        </p>
      )}
    </section>
  );
}

/** A moment of the last day of what ends at this local time. */
const lastMoment = (iso: string): string => new Date(Date.parse(`${iso.slice(0, 19)}Z`) - 1).toISOString();
