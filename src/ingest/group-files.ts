import { basename } from 'node:path';
import { Problem, shorten } from '../recording/problem.js';
import type { ExportFile } from './find-exports.js';
import type { IngestSettings } from './settings.js';

/** Files that have to be read together, since they hold the same patient or share a patient column. */
export interface FileGroup {
  /** The patient of all files; null where a column names the patients. */
  readonly id: string | null;
  readonly files: readonly ExportFile[];
}

const stem = (name: string): string => basename(name).replace(/(\.(csv|tsv|txt|gz))+$/i, '');

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
