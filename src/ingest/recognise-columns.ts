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
  readonly patient: number | null;
  readonly channels: readonly ChannelColumn[];
  /** Columns that are not read, and why. */
  readonly leftAlone: readonly { readonly header: string; readonly why: string }[];
}

const TIME = /^(date ?\/? ?time|time ?stamp|time|recorded at|recording time)$/;

/** Names of the trade, in lower case, single spaces, without the unit. Common practice, no source. */
const NAMES: Readonly<Record<ChannelKind, RegExp>> = {
  icp: /^(icp|icp ?m|icp mean|mean icp|intracranial pressure( mean)?)$/,
  map: /^(map|(abp|art|ibp) ?m|(abp|art|ibp) mean|mean (abp|art|ibp)|mean arterial pressure|arterial pressure mean)$/,
  sbp: /^(sbp|(abp|art|ibp) ?s|(abp|art|ibp) sys(tolic)?|systolic (abp|art|ibp|arterial pressure))$/,
  dbp: /^(dbp|(abp|art|ibp) ?d|(abp|art|ibp) dia(stolic)?|diastolic (abp|art|ibp|arterial pressure))$/,
};

const whyLeft = (name: string): string => {
  if (/\b(nibp|nbp|cuff)\b/.test(name)) return 'cuff pressure is never used as MAP';
  if (/^cpp\b/.test(name)) return 'CPP is computed from MAP and ICP';
  if (/^(abp|art|ibp)$/.test(name)) return 'it does not say mean, systolic or diastolic';
  return 'not used by this report';
};

/** The name and the unit of a header such as `ICP (mmHg)`, `ICP [mm[Hg]]`, `icp_mmhg`. */
function splitHeader(header: string): { name: string; unit: string | null } {
  const text = header.trim();
  const bracketed = /^(.*?)\s*[([](.+)[)\]]$/.exec(text);
  const separated = /^(.+?)[\s_.,/:-]+(mm ?hg|mm\[hg\]|cm ?h2o|kpa)$/i.exec(text);
  const [, name, unit] = bracketed ?? separated ?? [text, text, null];
  return {
    name: (name ?? '')
      .toLowerCase()
      .replace(/[\s_.-]+/g, ' ')
      .trim(),
    unit: unit ?? null,
  };
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

const listed = (headers: readonly string[]): string =>
  headers.length === 0 ? 'none' : headers.map((h) => `"${shorten(h)}"`).join(', ');

/**
 * Says what each column is, from the pipeline's `columns` first and the header second.
 *
 * @throws Problem where there is no time or no ICP, a name stands twice, or a unit is unknown or not given
 */
export function recogniseColumns(headers: readonly string[], settings: IngestSettings): Columns {
  const { columns, patient } = settings;
  const split = headers.map(splitHeader);
  const asNamed = (header: string): number => headers.findIndex((h) => h.trim() === header.trim());
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
  const patientColumn = patient && 'column' in patient ? find('the patient', /^$/, patient.column) : null;
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
  const taken = new Set([time, patientColumn, ...channels.map((c) => c.index)]);
  const leftAlone = headers.flatMap((header, i) =>
    taken.has(i) || header.trim() === '' ? [] : [{ header, why: whyLeft(split[i].name) }],
  );
  return { time, patient: patientColumn, channels, leftAlone };
}
