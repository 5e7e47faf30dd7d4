import { basename } from 'node:path';
import { Problem, shorten, type Where } from '../recording/problem.js';
import type { Recording } from '../recording/recording.js';
import { ZoneClock } from '../recording/zone.js';
import type { ExportFile } from './find-exports.js';
import { joinRows } from './join-rows.js';
import type { PatientRows, RowSetAside } from './patient-rows.js';
import { type ExportTable, readExport } from './read-export.js';
import type { IngestSettings } from './settings.js';

/** Files that have to be read together, since they hold the same patient or share a patient column. */
export interface FileGroup {
  /** The patient of all files; null where a column names the patients. */
  readonly id: string | null;
  readonly files: readonly ExportFile[];
}

/** How a file was read, for the page and for run.json. */
export interface FileAccount {
  readonly file: string;
  readonly bytes: number;
  readonly sha256: string;
  readonly leftAlone: readonly { readonly header: string; readonly why: string }[];
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
}

const stem = (name: string): string => basename(name).replace(/(\.(csv|txt|gz))+$/i, '');

/**
 * Sorts files into groups by patient.
 *
 * @returns the groups by patient in the order of the files; files that the pattern does not fit are in `unfit`
 */
export function groupByPatient(
  files: readonly ExportFile[],
  { patient }: IngestSettings,
): { groups: FileGroup[]; unfit: ExportFile[] } {
  if (patient?.id !== undefined) return { groups: [{ id: patient.id, files }], unfit: [] };
  if (patient?.column !== undefined) return { groups: [{ id: null, files }], unfit: [] };
  const pattern = patient?.fileName !== undefined ? patternOf(patient.fileName) : null;
  const groups = new Map<string, ExportFile[]>();
  const unfit: ExportFile[] = [];
  for (const file of files) {
    const match = pattern?.exec(basename(file.name));
    const id = pattern ? (match?.[1] ?? match?.[0]) : stem(file.name);
    if (!id) {
      unfit.push(file);
      continue;
    }
    const members = groups.get(id) ?? [];
    if (!pattern && members.length > 0) throw sameName(id, members[0], file);
    groups.set(id, [...members, file]);
  }
  return { groups: [...groups].map(([id, members]) => ({ id, files: members })), unfit };
}

function patternOf(text: string): RegExp {
  try {
    return new RegExp(text);
  } catch {
    throw new Problem(
      `patient: {fileName: "${shorten(text)}"} is no regular expression`,
      'Brackets that are meant as they stand need a backslash, as in \\(1\\).',
    );
  }
}

const sameName = (id: string, a: ExportFile, b: ExportFile): Problem =>
  new Problem(
    `${a.name} and ${b.name} would both be patient "${shorten(id)}"`,
    'Say in the pipeline file whose they are, as patient: {fileName: ...} or {column: ...}, or rename one.',
  );

const accountOf = ({ file, bytes, sha256, columns }: ExportTable): FileAccount => ({
  file,
  bytes,
  sha256,
  leftAlone: columns.leftAlone,
  columns: columns.channels.map(({ header, kind, unit }) => ({ header, kind, unit })),
});

/** Reads a group of files into recordings; a file that cannot be used fails its patient, not the others. */
export async function ingestGroup(group: FileGroup, settings: IngestSettings): Promise<Ingested[]> {
  const clock = new ZoneClock(settings.zone);
  const tables: ExportTable[] = [];
  const broken: { file: string; problem: Problem; patients: Map<string, PatientRows> }[] = [];
  for (const file of group.files) {
    const patients = new Map<string, PatientRows>();
    try {
      tables.push(await readExport(file, settings, clock, group.id, patients));
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      broken.push({ file: file.name, problem: error, patients });
    }
  }
  const ids =
    group.id !== null
      ? [group.id]
      : [...new Set([...tables, ...broken].flatMap(({ patients }) => [...patients.keys()]))];
  const outcomes = ids.map((id) => {
    const mine = tables.filter((table) => table.patients.has(id));
    const rows = [...mine, ...broken].flatMap(({ patients }) => patients.get(id) ?? []);
    const whole = broken.filter(({ patients }) => group.id !== null || patients.has(id));
    return outcomeOf(
      id,
      rows,
      mine.map(accountOf),
      whole.map(({ problem }) => problem.message),
    );
  });
  // Nobody can say whose rows stand behind the place at which a file breaks.
  const orphans = group.id === null ? broken : [];
  return [...outcomes, ...orphans.map(({ file, problem }) => failed(file, problem.message, [], []))];
}

function outcomeOf(id: string, rows: PatientRows[], files: FileAccount[], brokenFiles: string[]): Ingested {
  const problem =
    brokenFiles[0] ??
    (id === ''
      ? new Problem('rows name no patient', 'Fill the patient column.', placeOf(rows)).message
      : null) ??
    rows.find((r) => r.problem)?.problem?.message;
  if (problem) return failed(id, problem, rows, files);
  const { recording, setAside } = joinRows(id, rows);
  if (!recording.channels.icp) {
    const { message } = new Problem(
      'there is no ICP column',
      'A header such as "ICP (mmHg)" is expected; name the column in the pipeline file as columns: {icp: {header: ..., unit: ...}}.',
      { file: rows[0]?.file },
    );
    return failed(id, message, rows, files);
  }
  if (recording.extent.start > recording.extent.end) {
    const { message } = new Problem(
      `no row can be used (${setAside[0].reason})`,
      'Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.',
      placeOf(rows),
    );
    return failed(id, message, rows, files);
  }
  return { id, recording, problem: null, rowsRead: sumRows(rows), setAside, files };
}

const placeOf = (rows: readonly PatientRows[]): Where => ({ file: rows[0]?.file, line: rows[0]?.firstLine });

const sumRows = (rows: readonly PatientRows[]): number => rows.reduce((sum, r) => sum + r.rowsRead, 0);

/** A patient who cannot be reported: each row that was read is set aside with the reason. */
function failed(
  id: string,
  problem: string,
  rows: readonly PatientRows[],
  files: readonly FileAccount[],
): Ingested {
  const setAside = rows.map((r) => ({
    file: r.file,
    line: r.firstLine,
    reason: `all ${r.rowsRead} rows: the patient failed`,
  }));
  return { id: id || '(no patient)', recording: null, problem, rowsRead: sumRows(rows), setAside, files };
}
