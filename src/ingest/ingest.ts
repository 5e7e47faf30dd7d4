import type { ChannelKind } from '../recording/channel.js';
import { Problem, type Where } from '../recording/problem.js';
import type { Recording } from '../recording/recording.js';
import type { Watch } from '../recording/waveform.js';
import { ZoneClock } from '../recording/zone.js';
import type { LeftAlone } from './columns/columns.js';
import type { ExportFile } from './find-exports.js';
import type { FileGroup } from './group-files.js';
import { type ExportTable, readExport, type Seen } from './read-export.js';
import { readUnchanged } from './read-unchanged.js';
import { withDrainAsIcp, withMap } from './rows/derive-map.js';
import { joinRows } from './rows/join-rows.js';
import type { FirstNamed } from './rows/one-patient.js';
import type { PatientRows } from './rows/patient-rows.js';
import { badRowsIn, badRowsWarning, mostlySparseOf, type RowSetAside, tooManyBad } from './rows/set-aside.js';
import { shiftWarnings, withShifts } from './rows/shift-times.js';
import { unlikely } from './rows/unlikely.js';
import type { ColumnChoices, IngestSettings } from './settings.js';
import { fetchRows } from './text/fetch-rows.js';
import type { Delimiter } from './text/parse-records.js';
import { fileBytes } from './text/read-bytes.js';
import { formWords } from './time/time-plan.js';
import { waveformWords } from './waveform/waveform-words.js';
import { withWaveforms } from './waveform/with-waveforms.js';

/** How a file was read, for the page and for run.json. */
export interface FileAccount {
  readonly file: string;
  readonly bytes: number;
  readonly sha256: string;
  /** How the file is written, and how its times were read. */
  readonly reading: {
    readonly encoding: string;
    readonly delimiter: string;
    readonly decimal: string | null;
    readonly times: string;
  };
  readonly leftAlone: readonly LeftAlone[];
  readonly columns: readonly { readonly header: string; readonly kind: string; readonly unit: string }[];
}

/** What came of one patient's files. */
export interface Ingested {
  readonly id: string;
  /** Null where a file of the patient could not be used. */
  readonly recording: Recording | null;
  readonly problem: string | null;
  readonly rowsRead: number;
  readonly setAside: readonly RowSetAside[];
  readonly files: readonly FileAccount[];
  /** What somebody should know of the reading, in plain words. */
  readonly warnings: readonly string[];
  /** True for lines of a file that belong to no patient, such as a footer. */
  readonly isStray: boolean;
  /** True where the files could be read and none holds an ICP column, which is the problem. */
  readonly lacksIcp?: boolean;
}

/** Columns by file; parameters of an export with a row a value by patient. */
const accountOf = (table: ExportTable, rows: PatientRows): FileAccount => {
  const { file, bytes, sha256, columns, encoding, layout, decimal, plan, waveform } = table;
  const channels = columns.long ? rows.series.flatMap((series) => series.columns) : columns.channels;
  return {
    file,
    bytes,
    sha256,
    reading: {
      encoding,
      delimiter: layout.delimiter,
      decimal,
      times: `${formWords(plan.form)}, ${plan.why}${waveform ? '; a waveform, read as means over whole seconds' : ''}`,
    },
    leftAlone: columns.leftAlone,
    columns: channels.map(({ header, kind, unit }) => ({ header, kind, unit })),
  };
};

/**
 * Reads a group of files into recordings; a file that cannot be used fails its patient, not the others.
 *
 * @param onFile told after each file what was understood of it; null where it cannot be used
 * @param watch looks at each sample of a waveform
 */
export async function ingestGroup(
  group: FileGroup,
  settings: IngestSettings,
  onFile: (seen: Seen, table: ExportTable | null) => void = () => {},
  watch: Watch = () => [],
): Promise<Ingested[]> {
  const clock = new ZoneClock(settings.zone);
  const tables: ExportTable[] = [];
  const delimiters = new Map<string, Delimiter>();
  const first: FirstNamed = new Map();
  const broken: { file: string; problem: Problem; patients: Map<string, PatientRows> }[] = [];
  for (const file of group.files) {
    const patients = new Map<string, PatientRows>();
    const seen: Seen = {};
    const known = (table: ExportTable | null): void => {
      if (seen.layout) delimiters.set(file.name, seen.layout.delimiter);
      onFile(seen, table);
    };
    try {
      const table = await readUnchanged(file, () =>
        readExport(file, settings, clock, group.id, patients, seen, first, watch),
      );
      tables.push(table);
      known(table);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      known(null);
      broken.push({ file: file.name, problem: error, patients });
    }
  }
  const ids =
    group.id !== null
      ? [group.id]
      : [...new Set([...tables, ...broken].flatMap(({ patients }) => [...patients.keys()]))];
  const outcomes = ids.map((id): Ingested => {
    const mine = tables.filter((table) => table.patients.has(id));
    const rows = [...mine, ...broken].flatMap(({ patients }) => patients.get(id) ?? []);
    const whole = broken.filter(({ patients }) => group.id !== null || patients.has(id));
    const files = mine.flatMap((table) => {
      const own = table.patients.get(id);
      return own ? [accountOf(table, own)] : [];
    });
    const said = mine.flatMap(({ file, warnings }) => warnings.map((warning) => `${file}: ${warning}`));
    return outcomeOf({
      id,
      rows,
      files,
      warnings: said,
      broken: whole.map(({ problem }) => problem.message),
      clock,
      settings,
    });
  });
  refuseStray(outcomes);
  // Nobody can say whose rows stand behind the place at which a file breaks.
  const orphans = group.id === null ? broken : [];
  const all = [...outcomes, ...orphans.map(({ file, problem }) => failed(file, problem.message, [], []))];
  return withRows(all, group.files, delimiters);
}

/** Lines that belong to nobody are a footer or the like, unless most of a file is such. */
function refuseStray(outcomes: Ingested[]): void {
  const at = outcomes.findIndex(({ isStray }) => isStray);
  if (at < 0) return;
  const { setAside } = outcomes[at];
  const rowsRead = outcomes.reduce((sum, one) => sum + one.rowsRead, 0);
  if (2 * badRowsIn(setAside) <= rowsRead) return;
  const problem = tooManyBad(setAside, rowsRead).message;
  outcomes[at] = { ...outcomes[at], id: '(no patient)', problem, isStray: false };
}

interface PatientFiles {
  readonly id: string;
  readonly rows: PatientRows[];
  readonly files: FileAccount[];
  readonly warnings: readonly string[];
  readonly broken: readonly string[];
  readonly clock: ZoneClock;
  readonly settings: IngestSettings;
}

function outcomeOf({ id, rows, files, warnings, broken, clock, settings }: PatientFiles): Ingested {
  const isStray = id === '' && broken.length === 0 && rows.every(({ lastUsedLine }) => lastUsedLine === 0);
  if (isStray) return strayLines(rows);
  const problem =
    broken[0] ??
    (id === ''
      ? new Problem('rows name no patient', 'Fill the patient column.', placeOf(rows)).message
      : null) ??
    rows.find((r) => r.problem)?.problem?.message;
  if (problem) return failed(id, problem, rows, files);
  try {
    const joined = joinRows(id, rows, clock);
    const waves = rows.flatMap(({ wave }) => wave ?? []);
    const isWanted = (kind: ChannelKind): boolean => settings.channels?.includes(kind) ?? true;
    const recording = completed(withWaveforms(joined.recording, waves, isWanted), settings.columns);
    const { setAside } = joined;
    const rowsRead = sumRows(rows);
    refuseUnusable(recording, setAside, rows, rowsRead);
    if (!recording.channels.icp) return { ...failed(id, noIcp(rows).message, rows, files), lacksIcp: true };
    const ofWaves = waves.flatMap((wave) => waveformWords(wave).map((words) => `${wave.file}: ${words}`));
    const said = [
      ...warnings,
      ...ofWaves,
      ...rows.flatMap(({ cellWarnings }) => cellWarnings),
      ...joined.warnings,
      ...shiftWarnings(recording),
      ...badRowsWarning(setAside),
      ...unlikely(recording),
    ];
    return { id, recording, problem: null, rowsRead, setAside, files, warnings: said, isStray: false };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return failed(id, error.message, rows, files);
  }
}

/** The recording with its clocks set right, and with what is computed where the export holds no such channel. */
function completed(joined: Recording, columns: ColumnChoices): Recording {
  const shifted = withShifts(joined, columns);
  const whole = withMap(withDrainAsIcp(shifted));
  return withShifts(whole, columns, (kind) => whole.channels[kind] !== shifted.channels[kind]);
}

/** @throws Problem where there is no row of ICP that can be used, or most rows are bad */
function refuseUnusable(
  recording: Recording,
  setAside: readonly RowSetAside[],
  rows: readonly PatientRows[],
  rowsRead: number,
): void {
  const mostlySparse = mostlySparseOf(setAside, rows);
  if (2 * badRowsIn(setAside, mostlySparse) > rowsRead) throw tooManyBad(setAside, rowsRead, mostlySparse);
  const isEmpty = recording.extent.start > recording.extent.end;
  if (!recording.channels.icp || !isEmpty) return;
  const first = setAside.find(({ kind }) => kind !== 'unused') ?? setAside[0];
  throw new Problem(`no row can be used (${first.reason})`, first.fix ?? 'Look at the file.', placeOf(rows));
}

const noIcp = (rows: readonly PatientRows[]): Problem =>
  new Problem(
    'there is no ICP column',
    'A header such as "ICP (mmHg)" is expected; name the column in the pipeline file as columns: {icp: {header: ..., unit: ...}}.',
    { file: rows[0]?.file },
  );

const placeOf = (rows: readonly PatientRows[]): Where => ({ file: rows[0]?.file, line: rows[0]?.firstLine });

const sumRows = (rows: readonly PatientRows[]): number => rows.reduce((sum, r) => sum + r.rowsRead, 0);

/** Lines that name no patient and hold no data, as at the end of a file that names patients in a column. */
const strayLines = (rows: readonly PatientRows[]): Ingested => ({
  id: '',
  recording: null,
  problem: null,
  rowsRead: sumRows(rows),
  setAside: rows.flatMap(({ setAside }) => setAside),
  files: [],
  warnings: [],
  isStray: true,
});

/** A patient who cannot be reported: each row that was read is set aside with the reason. */
function failed(
  id: string,
  problem: string,
  rows: readonly PatientRows[],
  files: readonly FileAccount[],
): Ingested {
  const setAside = rows
    .filter(({ rowsRead }) => rowsRead > 0)
    .map((r): RowSetAside => {
      const reason = `all ${r.rowsRead} rows: the patient failed`;
      return { file: r.file, line: r.firstLine, rows: r.rowsRead, kind: 'failed', reason };
    });
  return {
    id: id || '(no patient)',
    recording: null,
    problem,
    rowsRead: sumRows(rows),
    setAside,
    files,
    warnings: [],
    isStray: false,
  };
}

/** Adds to each row that was set aside what stands in the file. */
async function withRows(
  all: readonly Ingested[],
  files: readonly ExportFile[],
  delimiters: ReadonlyMap<string, Delimiter>,
): Promise<Ingested[]> {
  const lines = new Map<string, Set<number>>();
  for (const { file, line } of all.flatMap(({ setAside }) => setAside)) {
    lines.set(file, (lines.get(file) ?? new Set()).add(line));
  }
  const texts = new Map<string, Map<number, string>>();
  for (const { name, path, open } of files) {
    const wanted = lines.get(name);
    const delimiter = delimiters.get(name) ?? ',';
    if (wanted) texts.set(name, await fetchRows(open ?? fileBytes(path), wanted, delimiter));
  }
  return all.map((outcome) => ({
    ...outcome,
    setAside: outcome.setAside.map((entry) => ({ ...entry, row: texts.get(entry.file)?.get(entry.line) })),
  }));
}
