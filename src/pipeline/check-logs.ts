import { CHANNEL_NAMES } from '../recording/channel.js';
import { overlaps } from '../recording/interval.js';
import { Problem, shorten } from '../recording/problem.js';
import { byPatientId, counted, listed } from '../report/words.js';
import { type AlikeId, alikeId, withZeros } from './alike-ids.js';
import type { LogAccount } from './log-file.js';
import type { Logs } from './read-logs.js';
import type { KeptPart } from './report-group.js';

const MOST_NAMED = 5;

/** An entry or an alarm; times in milliseconds UTC. */
interface Happened {
  readonly start: number;
  readonly end: number | null;
}

/** How an id that is written almost like another came about. */
const ALIKE: Readonly<Record<AlikeId['by'], string>> = {
  zeros: ' with its zeros lost',
  looks: ', which looks the same and is written with other characters',
  spelling: ' in another spelling',
};

/** Patients of a log of whom there is no export, as a sentence; none where all have one. */
function withoutExport({ kind, patients }: LogAccount, known: readonly string[]): string[] {
  const unknown = [...patients].filter(([id]) => !known.includes(id)).sort(([a], [b]) => byPatientId(a, b));
  if (unknown.length === 0) return [];
  const rows = kind === 'overrides' ? 'decision' : 'row';
  const named = unknown.slice(0, MOST_NAMED).map(([id, n]) => {
    const other = alikeId(id, known);
    const hint = other === undefined ? '' : `; is it "${shorten(other.id)}"${ALIKE[other.by]}?`;
    return `"${shorten(id)}" (${counted(n, rows)}${hint})`;
  });
  const more = unknown.length - named.length;
  const all = more > 0 ? [...named, `${more} more`] : named;
  const what = `It names ${counted(unknown.length, 'patient')} of whom there is no export: ${listed(all)}.`;
  if (kind !== 'targets') return [what];
  const [their, they] = unknown.length === 1 ? ['Its', 'the patient has'] : ['Their', 'the patients have'];
  const targets = unknown.length === 1 && unknown[0][1] === 1 ? 'target is' : 'targets are';
  return [
    `${what} ${their} ${targets} not used: correct the id (ids are text), or ignore this if ${they} left.`,
  ];
}

/** What the logs of what happened at the bed hold, as a sentence names it. */
const HAPPENED = { care: 'entries', alarms: 'alarms' } as const;

/** Patients nothing of whose log falls into their recording, as a sentence: the log may be of another year. */
function besideRecordings(
  kind: keyof typeof HAPPENED,
  { patients }: LogAccount,
  { [kind]: log }: Logs,
  parts: readonly KeptPart[],
): string[] {
  const beside = parts.filter(({ id, extent }) => {
    const entries: readonly Happened[] = patients.has(id) ? (log?.get(id) ?? []) : [];
    const isInside = ({ start, end }: Happened): boolean =>
      extent !== null && overlaps({ start, end: end ?? start }, extent);
    return extent !== null && entries.length > 0 && !entries.some(isInside);
  });
  if (beside.length === 0) return [];
  const ids = beside.map(({ id }) => id).sort(byPatientId);
  const named = ids.slice(0, MOST_NAMED).map((id) => `"${shorten(id)}"`);
  const all = ids.length > named.length ? [...named, `${ids.length - named.length} more`] : named;
  return [
    `Of ${counted(ids.length, 'patient')} none of the ${HAPPENED[kind]} falls into the time of the recording: ${listed(all)}. Look at the year and the time zone of the log.`,
  ];
}

/** @throws Problem where a decision or target is of a patient whose zeros were lost, and so would not count */
function refuseLostZeros({ decisions, targets }: Logs, known: readonly string[]): void {
  const rows = [
    ...[...decisions].map(([id, [row]]) => ({ id, ...row, does: 'decides on' })),
    ...[...targets].map(([id, [row]]) => ({ id, ...row, does: 'gives a target of' })),
  ];
  for (const { id, file, line, does } of rows) {
    const other = known.includes(id) ? undefined : withZeros(id, known);
    if (other === undefined) continue;
    throw new Problem(
      `the row ${does} patient "${shorten(id)}", which no export holds`,
      `Did the spreadsheet drop the zeros of "${shorten(other)}"? Write the patient as it stands in the report.`,
      { file, line },
    );
  }
}

/** Decisions that have nothing to act on, as sentences. */
function idleDecisions(file: string, { decisions }: Logs, parts: readonly KeptPart[]): string[] {
  const mine = parts.flatMap((part) =>
    part.extent === null
      ? []
      : (decisions.get(part.id) ?? [])
          .filter((decision) => decision.file === file)
          .map((decision) => ({ decision, part })),
  );
  const absent = mine.filter(({ decision, part }) => !part.channels.includes(decision.channel));
  const outside = mine.filter(
    (one) => !absent.includes(one) && one.part.extent !== null && !overlaps(one.decision, one.part.extent),
  );
  return [
    ...absent.map(
      ({ decision: { line, channel }, part }) =>
        `Line ${line} decides on ${CHANNEL_NAMES[channel]} of patient "${shorten(part.id)}", whose exports hold none.`,
    ),
    ...(outside.length === 0
      ? []
      : [
          `${counted(outside.length, 'decision is', 'decisions are')} on times that the exports do not reach (line ${outside[0].decision.line} first).`,
        ]),
  ];
}

/** Targets that begin when the data of their patient are over, as sentences. */
const lateTargets = (file: string, { targets }: Logs, parts: readonly KeptPart[]): string[] =>
  parts.flatMap(({ id, extent }) =>
    (targets.get(id) ?? [])
      .filter((one) => one.file === file && extent !== null && one.from !== null && one.from >= extent.end)
      .map(
        ({ line }) =>
          `Line ${line}: the target of patient "${shorten(id)}" begins when the patient's data are over, and is not used: correct its time, or ignore this if the data are still to come.`,
      ),
  );

/**
 * The accounts of all logs, once it is known of whom there are exports.
 *
 * @throws Problem where a decision or target is of a patient whose zeros were lost
 */
export function checkedLogs(logs: Logs, parts: readonly KeptPart[]): LogAccount[] {
  const known = parts.map(({ id }) => id);
  refuseLostZeros(logs, known);
  return logs.accounts.map((account) => ({
    ...account,
    warnings: [
      ...account.warnings,
      ...withoutExport(account, known),
      ...(account.kind === 'care' || account.kind === 'alarms'
        ? besideRecordings(account.kind, account, logs, parts)
        : []),
      ...(account.kind === 'targets' ? lateTargets(account.file, logs, parts) : []),
      ...(account.kind === 'overrides' ? idleDecisions(account.file, logs, parts) : []),
    ],
  }));
}
