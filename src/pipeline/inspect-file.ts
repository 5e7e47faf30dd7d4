import { RULES } from '../clean/rules.js';
import { watchOf } from '../clean/watch.js';
import { saysBed, saysPatient } from '../ingest/columns/channel-names.js';
import type { ChannelColumn } from '../ingest/columns/columns.js';
import { headerWords } from '../ingest/columns/header-words.js';
import type { ExportFile } from '../ingest/find-exports.js';
import { groupByPatient } from '../ingest/group-files.js';
import { type Ingested, ingestGroup } from '../ingest/ingest.js';
import { type ExportTable, peekExport, type Seen } from '../ingest/read-export.js';
import type { PatientRows } from '../ingest/rows/patient-rows.js';
import { rowsIn } from '../ingest/rows/set-aside.js';
import type { IngestSettings } from '../ingest/settings.js';
import { calendarReader } from '../ingest/time/calendar.js';
import { timeText } from '../ingest/time/time-cell.js';
import { ZoneClock } from '../recording/zone.js';
import { inspectChannel } from '../report/inspect/inspect-channel.js';
import { inspectColumns } from '../report/inspect/inspect-columns.js';
import type {
  DialectInspection,
  Inspection,
  PatientInspection,
  TimesInspection,
} from '../report/inspect/inspection.js';
import { firstSetAside } from './first-set-aside.js';
import type { InspectSettings } from './inspect-settings.js';
import { inspectTable, tableKindOf } from './inspect-table.js';

/** The column that names a patient or a bed, where nothing else is said. */
function identityHeader({ layout }: Seen): string | null {
  const headers = layout?.headers ?? [];
  const find = (says: (name: string) => boolean): string | undefined =>
    headers.find((header) => says(headerWords(header).name));
  return find(saysPatient) ?? find(saysBed) ?? null;
}

function timesOf(seen: Seen, { zone, zoneIsGiven }: InspectSettings): TimesInspection | null {
  const { layout, columns, plan } = seen;
  if (!layout || !columns || !plan) return null;
  const { time } = columns;
  const example =
    layout.samples.map(({ cells }) => timeText(cells, time)).find((text) => /\d/.test(text)) ?? '';
  const read = calendarReader(plan.order)(example);
  const hasOffset = plan.form === 'calendar' && typeof read !== 'string' && read.offsetMs !== null;
  const isEpoch = plan.form === 'epochSeconds' || plan.form === 'epochMilliseconds';
  const fromZone = zoneIsGiven ? 'the pipeline file' : 'nothing';
  return {
    columns: [time.date, time.index].flatMap((i) => (i === null ? [] : [layout.headers[i]])),
    form: plan.form,
    order: plan.order,
    why: plan.why,
    example,
    zone,
    zoneFrom: isEpoch
      ? 'the form'
      : plan.form === 'elapsed' && zoneIsGiven
        ? 'the start'
        : hasOffset
          ? 'the cells'
          : time.offsetMs !== null
            ? 'the header'
            : fromZone,
  };
}

function patientOf(outcome: Ingested, clock: ZoneClock): PatientInspection {
  const { id, rowsRead, setAside, problem, recording } = outcome;
  const extent = recording?.extent;
  return {
    id,
    rows: rowsRead,
    setAside: rowsIn(setAside),
    start: extent ? clock.format(extent.start) : null,
    end: extent ? clock.format(extent.end) : null,
    problem,
    channels: extent
      ? Object.values(recording.channels).flatMap((channel) => inspectChannel(channel, extent, clock) ?? [])
      : [],
  };
}

/** How a run would know whose the rows are. */
function patientWords(
  settings: IngestSettings,
  column: string | null,
  ids: readonly string[],
  fileId: string,
): string {
  const { patient } = settings;
  if (patient?.id !== undefined) return `"${patient.id}", as the pipeline file says`;
  if (patient?.fileName !== undefined)
    return `"${fileId}", from the file name by the pattern of the pipeline file`;
  if (patient?.column !== undefined) return `the column "${patient.column}", as the pipeline file says`;
  if (column === null) return `nothing in the file names one; the file name would: "${fileId}"`;
  if (ids.length === 0) return `the column "${column}" names the patients`;
  if (ids.length === 1) {
    return `the column "${column}" holds "${ids[0]}" in all rows; a run takes the file name, "${fileId}", unless the pipeline file says patient: {column: ${column}}`;
  }
  return `the column "${column}" names ${ids.length}; the pipeline file has to say patient: {column: ${column}}`;
}

/** Parameters of a long export that are read, by patient rows. */
const parametersOf = (patients: Iterable<PatientRows>): ChannelColumn[] =>
  [...patients].flatMap(({ series }) => series.flatMap(({ columns }) => columns));

/** The patient that a run would take from the file's name, or the one that all files are. */
function idOfFile(file: ExportFile, settings: IngestSettings): string {
  const patient = settings.patient?.column === undefined ? settings.patient : undefined;
  return groupByPatient([file], { ...settings, patient }).groups[0]?.id ?? '';
}

function dialectOf({ layout, columns }: Seen, table: ExportTable | null): DialectInspection | null {
  if (!layout) return null;
  return {
    encoding: table?.encoding ?? null,
    delimiter: layout.delimiter,
    decimal: table?.decimal ?? null,
    packed: table?.packed ?? null,
    headerLine: layout.headerLine,
    unitsLine: layout.unitsRow !== null,
    linesAbove: layout.preamble.map(({ cells }) => cells.filter((cell) => cell.trim() !== '').join(' ')),
    shape: columns?.long ? 'long' : 'wide',
  };
}

/** Reads an export, a log or a table as a run would and says what was understood, also where it cannot be used. */
export async function inspectFile(file: ExportFile, settings: InspectSettings): Promise<Inspection> {
  const kind = await tableKindOf(file);
  return kind ? inspectTable(kind, file, settings) : inspectExport(file, settings);
}

async function inspectExport(file: ExportFile, settings: InspectSettings): Promise<Inspection> {
  const clock = new ZoneClock(settings.zone);
  const column = settings.patient ? null : identityHeader(await peekExport(file, settings));
  const used: IngestSettings = column === null ? settings : { ...settings, patient: { column } };
  const { groups, unfit } = groupByPatient([file], used);
  const found: { seen: Seen; table: ExportTable | null } = { seen: {}, table: null };
  const onFile = (seen: Seen, table: ExportTable | null): void => {
    found.seen = seen;
    found.table = table;
  };
  const withoutName = (warning: string): string =>
    warning.startsWith(`${file.name}: `) ? warning.slice(file.name.length + 2) : warning;
  const outcomes = (
    await Promise.all(groups.map((group) => ingestGroup(group, used, onFile, USUAL_WATCH)))
  ).flat();
  const { seen, table } = found;
  const named = outcomes.filter(
    ({ isStray, rowsRead, problem }) => !isStray && (rowsRead > 0 || problem !== null),
  );
  const read = outcomes.reduce((sum, { rowsRead }) => sum + rowsRead, 0);
  const aside = outcomes.flatMap(({ setAside }) => setAside);
  const ids = named.filter(({ rowsRead }) => rowsRead > 0).map(({ id }) => id);
  const parameters = seen.columns?.long ? parametersOf(table?.patients.values() ?? []) : [];
  const times = timesOf(table ?? seen, settings);
  return {
    file: file.name,
    kind: 'export',
    problem: unfit.length > 0 ? NO_PATIENT : (named.find(({ problem }) => problem !== null)?.problem ?? null),
    bytes: table?.bytes ?? null,
    sha256: table?.sha256 ?? null,
    dialect: dialectOf(seen, table),
    times,
    patientFrom: seen.layout ? patientWords(settings, column, ids, idOfFile(file, settings)) : null,
    patientColumn: ids.length > 1 ? (used.patient?.column ?? null) : null,
    columns: seen.layout && seen.columns ? inspectColumns(seen.layout.headers, seen.columns, parameters) : [],
    patients: named.map((outcome) => patientOf(outcome, clock)),
    table: null,
    rows: { read, used: read - rowsIn(aside), setAside: rowsIn(aside) },
    setAside: firstSetAside(aside),
    warnings: [
      ...new Set([...zoneWarning(times), ...outcomes.flatMap(({ warnings }) => warnings.map(withoutName))]),
    ],
  };
}

/** As a run would look at waveforms where the pipeline file says nothing of cleaning. */
const USUAL_WATCH = watchOf(
  Object.fromEntries(RULES.map(({ name, parameters }) => [name, parameters.parse({}) as object])),
);

const zoneWarning = (times: TimesInspection | null): string[] =>
  times?.zoneFrom === 'nothing'
    ? ['The time zone is not known, so times were taken for UTC: say it, as --set timezone=Europe/Oslo.']
    : [];

const NO_PATIENT =
  'its name does not fit patient: {fileName: ...}. Mend the pattern, or leave the file out of exports.';
