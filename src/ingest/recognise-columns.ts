import type { ChannelKind } from '../recording/channel.js';
import { Problem, shorten } from '../recording/problem.js';
import type { IngestSettings } from './settings.js';
import { type PressureUnit, pressureUnit } from './units.js';

/** What a column was taken for. */
export interface ChannelColumn {
  readonly index: number;
  readonly kind: ChannelKind;
  readonly header: string;
  readonly unit: PressureUnit;
}

/** A file's columns by meaning; indices count from 0. */
export interface Columns {
  readonly time: number;
  /** Local time minus UTC in milliseconds where the header of the time column says it; null where it does not. */
  readonly timeOffsetMs: number | null;
  readonly patient: number | null;
  readonly channels: readonly ChannelColumn[];
  /** Columns that may name more than one patient in a file that is read as one. */
  readonly identities: readonly number[];
  /** Columns that are not read, and why. */
  readonly leftAlone: readonly { readonly header: string; readonly why: string }[];
}

const TIME = /^(date ?\/? ?time|time ?stamp|time|recorded at|recording time)( (utc|gmt))?$/;

/** Words in brackets that belong to the name of a column and are no unit. */
const NAME_WORDS = /\b(mean|systolic|diastolic|sys|dia|nibp|nbp|cuff)\b|^[msd]$/i;

/** A longer header is no name of a channel, and would keep the patterns below busy. */
const LONGEST_HEADER = 200;

/** Names of the trade, in lower case, single spaces, without the unit. Common practice, no source. */
const NAMES: Readonly<Record<ChannelKind, RegExp>> = {
  icp: /^(icp|icp ?m|icp mean|mean icp|intracranial pressure( mean)?)$/,
  map: /^(map|(abp|art|ibp) ?m|(abp|art|ibp) mean|mean (abp|art|ibp)|mean arterial pressure|arterial pressure mean)$/,
  sbp: /^(sbp|(abp|art|ibp) ?s|(abp|art|ibp) sys(tolic)?|systolic (abp|art|ibp|arterial pressure))$/,
  dbp: /^(dbp|(abp|art|ibp) ?d|(abp|art|ibp) dia(stolic)?|diastolic (abp|art|ibp|arterial pressure))$/,
};

/** Headers that name a patient, or the bed that one lies in. Common practice, no source. */
const PATIENT_NAMES = /^(patient|patient (id|number|no)|pat id|case|case id|subject|subject id|mrn)$/;
const BED_NAMES = /^(bed|bed (id|number|no)|room)$/;

/** A patient may change beds, so a bed counts only where nothing says whose the file is. */
const isIdentity = (name: string, patient: IngestSettings['patient']): boolean =>
  patient?.column === undefined && (PATIENT_NAMES.test(name) || (!patient && BED_NAMES.test(name)));

const whyLeft = (name: string): string => {
  if (/\b(nibp|nbp|cuff)\b/.test(name)) return 'cuff pressure is never used as MAP';
  if (/^cpp\b/.test(name)) return 'CPP is computed from MAP and ICP';
  if (/^(abp|art|ibp)$/.test(name)) return 'it does not say mean, systolic or diastolic';
  return 'not used by this report';
};

/** The name and the unit of a header such as `ICP (mmHg)`, `ICP [mm[Hg]]`, `icp_mmhg`. */
function splitHeader(header: string): { name: string; unit: string | null } {
  const text = header.trim();
  if (text.length > LONGEST_HEADER) return { name: '', unit: null };
  const separated = /^(.+?)[\s_.,/:-]+(mm ?hg|mm\[hg\]|cm ?h2o|cm\[h2o\]|kpa)$/i.exec(text);
  // The last pair of brackets, which may hold the brackets of a UCUM unit.
  const bracketed = /^(.*?)\s*[([]((?:[^()[\]]|\[[^()[\]]*\])+)[)\]]$/.exec(text);
  const [, name, unit] =
    separated ?? (bracketed && !NAME_WORDS.test(bracketed[2]) ? bracketed : [text, text, null]);
  return {
    name: (name ?? '')
      .toLowerCase()
      .replace(/[\s_.()[\]-]+/g, ' ')
      .trim(),
    unit: unit ?? null,
  };
}

/** What a header such as `Time (UTC)` or `Time (UTC+01:00)` says of the clock; null where it says nothing. */
function offsetIn(header: string): number | null {
  const match = /(?<![a-z])(?:utc|gmt)(?:\s*([+-])(\d{1,2})(?::?(\d{2}))?)?(?![a-z\d])/i.exec(header);
  if (!match) return null;
  const minutes = Number(match[2] ?? 0) * 60 + Number(match[3] ?? 0);
  return (match[1] === '-' ? -minutes : minutes) * 60_000;
}

function unitOf(header: string, written: string | null, declared: string | undefined): PressureUnit {
  const text = declared ?? written;
  const column = { column: header };
  if (text === null) {
    throw new Problem(
      'its unit is not given',
      'Write it into the header, as in "ICP (mmHg)", or into the pipeline file under columns, as in icp: {unit: mmHg}.',
      column,
    );
  }
  const unit = pressureUnit(text);
  if (unit) return unit;
  throw new Problem(
    `the unit "${shorten(text)}" is not known`,
    'Use mmHg, cmH2O or kPa, or declare the unit in the pipeline file under columns.',
    column,
  );
}

const MOST_LISTED = 20;

function listed(headers: readonly string[]): string {
  const shown = headers.slice(0, MOST_LISTED).map((h) => `"${shorten(h)}"`);
  const more = headers.length - shown.length;
  return `${shown.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

const standsTwice = (header: string): Problem =>
  new Problem(
    `two columns are named "${shorten(header)}"`,
    'They cannot be told apart: rename or remove one in the file.',
  );

/** @throws Problem where one column is taken for two things, which only the pipeline file can bring about */
function refuseSharedColumns(
  uses: readonly (readonly [what: string, index: number])[],
  headers: readonly string[],
): void {
  for (const [i, [what, index]] of uses.entries()) {
    const other = uses.slice(0, i).find(([, taken]) => taken === index);
    if (!other) continue;
    throw new Problem(
      `the column "${shorten(headers[index])}" would be both ${other[0]} and ${what}`,
      'Name another one in the pipeline file.',
    );
  }
}

/**
 * Says what each column is, from the pipeline's `columns` first and the header second.
 *
 * @throws Problem where there is no time or no ICP, a name stands twice, or a unit is unknown or not given
 */
export function recogniseColumns(headers: readonly string[], settings: IngestSettings): Columns {
  const { columns, patient } = settings;
  const split = headers.map(splitHeader);
  const asNamed = (header: string): number => {
    const index = headers.findIndex((h) => h.trim() === header.trim());
    if (index >= 0 && headers.includes(headers[index], index + 1)) throw standsTwice(header);
    return index;
  };
  const find = (what: string, pattern: RegExp, chosen: string | undefined): number => {
    if (chosen !== undefined) {
      const index = asNamed(chosen);
      if (index >= 0) return index;
      throw new Problem(
        `there is no column "${shorten(chosen)}", which the pipeline file names as ${what}`,
        `The columns are ${listed(headers)}.`,
      );
    }
    const fitting = split.flatMap(({ name }, i) => (pattern.test(name) ? [i] : []));
    if (fitting.length < 2) return fitting[0] ?? -1;
    if (fitting.every((i) => headers[i] === headers[fitting[0]])) throw standsTwice(headers[fitting[0]]);
    throw new Problem(
      `${listed(fitting.map((i) => headers[i]))} could each be ${what}`,
      'Name the right one in the pipeline file under columns.',
    );
  };

  const time = find('the time', TIME, columns.time);
  if (time < 0) {
    throw new Problem(
      'there is no time column',
      `A header such as "Time" is expected; the columns are ${listed(headers)}. Name it in the pipeline file as columns: {time: ...}.`,
    );
  }
  const patientColumn = patient?.column !== undefined ? find('the patient', /^$/, patient.column) : null;
  const channels: ChannelColumn[] = [];
  for (const kind of Object.keys(NAMES) as ChannelKind[]) {
    const choice = columns[kind];
    const index = find(kind.toUpperCase(), NAMES[kind], choice?.header);
    if (index < 0) continue;
    channels.push({
      index,
      kind,
      header: headers[index],
      unit: unitOf(headers[index], split[index].unit, choice?.unit),
    });
  }
  const patientUse = patientColumn === null ? [] : ([['the patient', patientColumn]] as const);
  const uses = channels.map(({ kind, index }) => [kind.toUpperCase(), index] as const);
  refuseSharedColumns([['the time', time], ...patientUse, ...uses], headers);
  const taken = new Set([time, patientColumn, ...channels.map((c) => c.index)]);
  const leftAlone = headers.flatMap((header, i) =>
    taken.has(i) || header.trim() === '' ? [] : [{ header, why: whyLeft(split[i].name) }],
  );
  const identities = split.flatMap(({ name }, i) => (isIdentity(name, patient) ? [i] : []));
  return {
    time,
    timeOffsetMs: offsetIn(headers[time]),
    patient: patientColumn,
    channels,
    identities,
    leftAlone,
  };
}
