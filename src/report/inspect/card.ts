import { CHANNEL_NAMES } from '../../recording/channel.js';
import { shorten } from '../../recording/problem.js';
import { plainUnit } from '../plain-unit.js';
import { oneLine } from '../visible-text.js';
import { counted, pressure } from '../words.js';
import { dialectWords, ratesWords, size, spanWords, timesWords } from './card-words.js';
import type { ChannelInspection, ColumnInspection, Inspection, PatientInspection } from './inspection.js';
import { inColumns, stripText } from './strip.js';

const MOST_PATIENTS = 12;
const MOST_COLUMNS = 40;

/** A part of the card under its word. */
const part = (word: string, lines: readonly string[]): string[] =>
  lines.map((line, i) => `  ${(i === 0 ? word : '').padEnd(10)}${line}`);

function columnRow({ header, takenFor, unit, why }: ColumnInspection): string[] {
  const name = shorten(header, 32) || '(no name)';
  if (takenFor === null) return [`    ${name}`, 'left alone', '', why];
  const taken = takenFor in CHANNEL_NAMES ? CHANNEL_NAMES[takenFor as keyof typeof CHANNEL_NAMES] : takenFor;
  return [`    ${name}`, taken, unit === null ? '' : plainUnit(unit), why];
}

function columnLines(columns: readonly ColumnInspection[]): string[] {
  const shown = columns.slice(0, MOST_COLUMNS);
  const more = columns.length - shown.length;
  return [
    ...inColumns([['    Column', 'taken for', 'unit', 'why'], ...shown.map(columnRow)]),
    ...(more > 0 ? [`    and ${more} more columns`] : []),
  ];
}

function channelRow(channel: ChannelInspection): string[] {
  const { decimals, lowest, median, highest, unit, strip, derivedFrom, source } = channel;
  const shown = (value: number): string => pressure(value, Math.min(1, decimals));
  const name = CHANNEL_NAMES[channel.channel];
  return [
    `    ${name}${source && channel.channel === 'icp' ? ` (${source})` : ''}${derivedFrom ? ' (derived)' : ''}`,
    shown(lowest),
    shown(median),
    shown(highest),
    plainUnit(unit),
    stripText(strip),
    ratesWords(channel),
  ];
}

function channelLines({ channels }: PatientInspection): string[] {
  if (channels.length === 0) return ['    nothing that can be drawn'];
  const head = ['    Channel', 'lowest', 'median', 'highest', '', 'first to last', ''];
  return [
    ...inColumns([head, ...channels.map(channelRow)], [1, 2, 3]),
    ...channels.flatMap(({ derivedFrom, channel }) =>
      derivedFrom ? [`    ${CHANNEL_NAMES[channel]} is derived: ${derivedFrom}`] : [],
    ),
  ];
}

function patientLines(patients: readonly PatientInspection[]): string[] {
  if (patients.length === 0) return [];
  if (patients.length === 1) {
    const [patient] = patients;
    return patient.start === null
      ? []
      : [...part('Data', [spanWords(patient)]), '', ...channelLines(patient), ''];
  }
  const shown = patients.slice(0, MOST_PATIENTS);
  const rows = shown.map((patient) => {
    const icp = patient.channels.find(({ channel }) => channel === 'icp');
    return [
      `    ${shorten(patient.id, 24)}`,
      String(patient.rows),
      icp ? stripText(icp.strip) : '',
      patient.problem === null ? spanWords(patient) : 'cannot be used',
    ];
  });
  const more = patients.length - shown.length;
  return [
    ...inColumns([['    Patient', 'rows', 'ICP, first to last', ''], ...rows], [1]),
    ...(more > 0 ? [`    and ${more} more patients`] : []),
    '',
  ];
}

/** Where rows of one reason stand: one line, lines in a row, or some between two. */
function placeWords(line: number, lastLine: number, rows: number, reason: string): string {
  if (lastLine > line) {
    return lastLine - line + 1 === rows
      ? `lines ${line} to ${lastLine}`
      : `${rows} rows from line ${line} to ${lastLine}`;
  }
  return rows > 1 && !reason.startsWith('all ') ? `line ${line} and ${rows - 1} more` : `line ${line}`;
}

function setAsideLines({ rows, setAside }: Inspection): string[] {
  if (rows.read === 0) return [];
  const counts = `${counted(rows.read, 'row')} read, ${rows.used} would be used, ${rows.setAside} set aside.`;
  const shown = setAside.flatMap(({ line, lastLine, rows: many, reason, row }) => [
    `  ${placeWords(line, lastLine, many, reason)}: ${reason}`,
    ...(row === '' ? [] : [`    ${shorten(row, 100)}`]),
  ]);
  const hidden = rows.setAside - setAside.reduce((sum, one) => sum + one.rows, 0);
  return part('Rows', [counts, ...shown, ...(hidden > 0 ? [`  and ${hidden} more`] : [])]);
}

const KINDS: Readonly<Record<Inspection['kind'], string | null>> = {
  export: null,
  alarms: 'an alarm log',
  care: 'a care log',
  occupancy: 'a table of beds',
  cohort: 'a cohort table',
  targets: 'a table of CPP targets',
};

const MOST_COUNTS = 12;

/** `drainClosed` as `drain closed`. */
const inWords = (what: string): string =>
  /^[a-z]+[A-Z]/.test(what) ? what.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`) : what;

/** What a log or table holds: its time and how many rows of what. */
function tableLines({ table }: Inspection): string[] {
  if (!table) return [];
  const counts = table.counts.slice(0, MOST_COUNTS).map(({ what, rows }) => `${inWords(what)} (${rows})`);
  const more = table.counts.length - counts.length;
  return [
    ...(table.start === null ? [] : part('Data', [spanWords(table)])),
    ...(counts.length > 0
      ? part('Holds', [`${counts.join(', ')}${more > 0 ? ` and ${more} more` : ''}`])
      : []),
    ...(table.angles === null ? [] : part('Angles', [table.angles])),
    '',
  ];
}

/** The problem's sentence; the card names the file already. */
const withoutFile = (problem: string, file: string): string =>
  problem.startsWith(`${file}, `) || problem.startsWith(`${file}: `)
    ? problem.slice(file.length + 2).replace(/^./, (first) => first.toUpperCase())
    : problem;

/** What a colleague would say of the file, for a terminal. */
export function inspectionCard(inspection: Inspection): string {
  const { file, bytes, dialect, times, patientFrom, columns, patients, problem, warnings } = inspection;
  const lines = [`${file}${bytes === null ? '' : `  ${size(bytes)}`}`, ''];
  if (problem !== null) lines.push(`  It cannot be used. ${withoutFile(problem, file)}`, '');
  const kind = KINDS[inspection.kind];
  if (kind !== null) lines.push(...part('This is', [`${kind}.`]));
  if (dialect) lines.push(...part('Written', dialectWords(dialect)));
  if (times) lines.push(...part('Times', timesWords(times)));
  if (patientFrom !== null) lines.push(...part('Patient', [`${patientFrom}.`]));
  if (columns.length > 0) lines.push('', ...columnLines(columns), '');
  lines.push(...patientLines(patients), ...tableLines(inspection), ...setAsideLines(inspection));
  if (warnings.length > 0) lines.push(...part('Look at', warnings));
  return `${lines.map(oneLine).join('\n').trimEnd()}\n`;
}
