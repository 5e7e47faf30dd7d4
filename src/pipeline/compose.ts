import { rowsIn } from '../ingest/rows/set-aside.js';
import type { ZoneClock } from '../recording/zone.js';
import { cleaningNote } from '../report/cleaning-note.js';
import { unitLevellingNote } from '../report/levelling-result.js';
import { isOfUnit } from '../report/report-name.js';
import type { Results, UnitResults } from '../report/results-schema.js';
import { unitSamplingNote } from '../report/sampling-note.js';
import { UNIT_WORDS } from '../report/unit-words.js';
import { byPatientId, clockTime, day } from '../report/words.js';
import type { ReportPeriod } from '../summarize/period.js';
import type { ComposedUnit } from './compose-unit.js';
import type { LogAccount } from './log-file.js';
import { type KeptPart, periodResult } from './report-group.js';
import type { Settings } from './settings.js';

const setAsideCount = (part: KeptPart): number =>
  part.problem === null ? rowsIn(part.setAside) : part.rowsRead;

/** `12 February 2031 07:00`. */
const dayOf = (iso: string): string => `${day(iso)} ${clockTime(iso)}`;

function noDataOf(
  parts: readonly KeptPart[],
  expected: readonly string[],
  clock: ZoneClock,
): Results['noData'] {
  const silent = parts
    .filter(
      ({ problem, report, audit, study, isStray }) =>
        problem === null && (report ?? audit ?? study) === null && !isStray,
    )
    .map(({ id, extent }) => ({
      id,
      why: extent
        ? `no ICP in this time; the exports end at ${dayOf(clock.format(extent.end))}`
        : 'the exports hold no rows that can be used',
    }));
  const present = new Set(parts.map(({ id }) => id));
  const missing = expected
    .filter((id) => !present.has(id))
    .map((id) => ({ id, why: 'expected, but nothing was exported' }));
  return [...silent, ...missing].sort((a, b) => byPatientId(a.id, b.id));
}

/** The form of the logs' accounts in results.json. */
export const logResults = (accounts: readonly LogAccount[]): Results['logs'] =>
  accounts.map(({ file, kind, rowsRead, rowsUndecided, setAside, warnings }) => {
    const rowsSetAside = rowsIn(setAside);
    const rowsUsed = rowsRead - rowsUndecided - rowsSetAside;
    return { file, kind, rowsRead, rowsUsed, rowsUndecided, rowsSetAside, warnings: [...warnings] };
  });

/** Puts the parts of all patients together: results.json but for the lists of each recording. */
export function composeResults(
  parts: readonly KeptPart[],
  logs: readonly LogAccount[],
  period: ReportPeriod,
  settings: Settings,
  clock: ZoneClock,
  composed: ComposedUnit | null = null,
): UnitResults {
  const recordings = parts
    .flatMap(({ report }) => (report ? [report.result.unit] : []))
    .sort((a, b) => byPatientId(a.id, b.id));
  const failed = parts
    .flatMap(({ id, problem, rowsRead }) => (problem === null ? [] : [{ id, why: problem, rowsRead }]))
    .sort((a, b) => byPatientId(a.id, b.id));
  const noData = noDataOf(parts, settings.expected, clock);
  const absent = [...failed, ...noData];
  const { report, summarize } = settings;
  const { sentence, order } = isOfUnit(report)
    ? { sentence: composed?.result.sentence ?? '', order: [...(composed?.order ?? [])] }
    : {
        sentence: UNIT_WORDS[report].sentence(recordings, absent, summarize.targets),
        order: UNIT_WORDS[report].order(recordings, absent),
      };
  const rowsRead = parts.reduce((sum, part) => sum + part.rowsRead, 0);
  const rowsSetAside = parts.reduce((sum, part) => sum + setAsideCount(part), 0);
  return {
    schemaVersion: 1,
    pipeline: { name: settings.name, title: settings.title, report: settings.report },
    settings: settings.effective,
    cleaningNote: cleaningNote(settings.clean),
    period: periodResult(period, clock),
    unit: {
      sentence,
      samplingNote: unitSamplingNote(recordings),
      levellingNote: unitLevellingNote(settings.summarize.levelling),
      order,
    },
    recordings,
    ...(composed?.report === 'audit' ? { audit: composed.result } : {}),
    ...(composed?.report === 'study' ? { study: composed.result } : {}),
    // Rows that were set aside would tell what is hidden in the audit's own account.
    logs: composed?.report === 'audit' && composed.result.maskBelow !== null ? [] : logResults(logs),
    noData,
    failed,
    counts: { rowsRead, rowsUsed: rowsRead - rowsSetAside, rowsSetAside },
  };
}
