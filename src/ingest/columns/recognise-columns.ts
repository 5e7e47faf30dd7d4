import {
  CHANNEL_NAMES,
  type ChannelKind,
  EXPORTED_KINDS,
  type ExportedKind,
} from '../../recording/channel.js';
import type { IngestSettings } from '../settings.js';
import { channelColumn } from './channel-column.js';
import {
  channelNamed,
  mayNamePatient,
  saysAlarm,
  saysArtery,
  saysBed,
  saysCuff,
  saysPatient,
} from './channel-names.js';
import type { ChannelColumn, Columns, LeftAlone } from './columns.js';
import { columnNamed, findColumn, refuseSharedColumns } from './find-column.js';
import { headerWords } from './header-words.js';
import { longColumns, timeColumns } from './layout-columns.js';

/** Channels without which, or with a doubt in which, a file is not read. */
export const ESSENTIAL: ReadonlySet<ChannelKind> = new Set(['icp', 'icpDrain', 'map', 'sbp', 'dbp']);

/** A channel as a message names it. */
export const channelTitle = (kind: ChannelKind): string =>
  kind.length === 3 ? kind.toUpperCase() : CHANNEL_NAMES[kind];

/** A patient may change beds, so a bed counts only where nothing says whose the file is. */
const isIdentity = (name: string, patient: IngestSettings['patient']): boolean =>
  patient?.column === undefined && (mayNamePatient(name) || (!patient && saysBed(name)));

/** Why a column is not read. */
export function whyLeft(name: string): string {
  if (saysCuff(name)) return 'cuff pressure is never used as MAP';
  if (saysArtery(name)) return 'it does not say mean, systolic or diastolic';
  if (saysAlarm(name)) return 'an alarm, a limit or a state, no measured value';
  return 'none of the names known here';
}

/**
 * Says what each column is, from the pipeline's `columns` first and the header second.
 *
 * @param unitsRow the cells of a row of units under the header, or null
 * @param isWaveform true where the rows are a waveform, so that a bare ABP is the one whose mean is MAP
 * @throws Problem where there is no time, a name stands twice, or a unit is unknown or not given
 */
export function recogniseColumns(
  headers: readonly string[],
  settings: IngestSettings,
  unitsRow: readonly string[] | null = null,
  isWaveform = false,
): Columns {
  const { columns, patient } = settings;
  const words = headers.map(headerWords);
  const time = timeColumns(headers, words, unitsRow, settings);
  const patientColumn =
    patient?.column !== undefined ? findColumn(headers, 'the patient', () => false, patient.column) : null;
  const named =
    (says: (name: string) => boolean) =>
    (i: number): boolean =>
      says(words[i].name);
  const uses: [string, number][] = [['the time', time.index]];
  if (time.date !== null) uses.push(['the date', time.date]);
  if (patientColumn !== null) uses.push(['the patient', patientColumn]);
  const long = longColumns(headers, named, settings);
  const channels: ChannelColumn[] = [];
  const leftAlone: LeftAlone[] = [];
  const warnings: string[] = [];
  const passedOver = new Map<number, string>();
  // A column that the pipeline file names for one channel is no candidate for another.
  const namedFor = new Map(
    EXPORTED_KINDS.flatMap((kind): [number, ExportedKind][] => {
      const header = columns[kind]?.header;
      return header === undefined ? [] : [[columnNamed(headers, header), kind]];
    }),
  );
  const isArtery = ({ name }: { readonly name: string }, i: number): boolean =>
    saysArtery(name) && (namedFor.get(i) ?? 'map') === 'map';
  const hasArtery = isWaveform && columns.map?.header === undefined && words.some(isArtery);
  for (const kind of long ? [] : EXPORTED_KINDS) {
    const choice = columns[kind];
    const ofArtery = hasArtery && kind === 'map';
    const fits = (i: number): boolean =>
      ofArtery
        ? isArtery(words[i], i)
        : channelNamed(words[i].name) === kind && (namedFor.get(i) ?? kind) === kind;
    const fitting = headers.filter((_, i) => fits(i)).length;
    if (fitting > 1 && !ESSENTIAL.has(kind) && choice?.header === undefined) {
      for (const i of headers.keys())
        if (fits(i)) passedOver.set(i, `one of ${fitting} that could be ${CHANNEL_NAMES[kind]}`);
      continue;
    }
    const index = findColumn(headers, channelTitle(kind), fits, choice?.header);
    if (index < 0) continue;
    for (const i of headers.keys()) {
      if (fits(i) && i !== index)
        passedOver.set(i, `the pipeline file names another column as ${CHANNEL_NAMES[kind]}`);
    }
    if (settings.channels && !settings.channels.includes(kind) && !(kind === 'icpDrain')) {
      passedOver.set(
        index,
        kind === 'cpp'
          ? 'CPP is computed from MAP and ICP'
          : `${CHANNEL_NAMES[kind]}: not used by this report`,
      );
      continue;
    }
    const found = channelColumn({
      kind,
      index,
      header: headers[index],
      words: words[index],
      unitCell: unitsRow?.[index] ?? null,
      unitCellIs: 'row of units',
      choice,
    });
    if (typeof found === 'string') {
      passedOver.set(index, found);
      continue;
    }
    channels.push(
      ofArtery
        ? { ...found.channel, why: `a waveform, whose mean is MAP, ${found.channel.why}` }
        : found.channel,
    );
    warnings.push(...found.warnings);
    uses.push([channelTitle(kind), index]);
  }
  if (long) {
    uses.push(['the parameter', long.parameter], ['the value', long.value]);
    if (long.unit !== null) uses.push(['the unit', long.unit]);
  }
  refuseSharedColumns(uses, headers);
  const taken = new Set(uses.map(([, index]) => index));
  for (const [i, header] of headers.entries()) {
    if (taken.has(i) || header.trim() === '') continue;
    const why =
      passedOver.get(i) ??
      (hasArtery && channelNamed(words[i].name) === 'map'
        ? 'MAP is the mean of the arterial waveform'
        : null) ??
      (saysPatient(words[i].name) || saysBed(words[i].name)
        ? 'names the patient or the bed'
        : whyLeft(words[i].name));
    leftAlone.push({ header, why });
  }
  const identities = words.flatMap(({ name }, i) => (isIdentity(name, patient) ? [i] : []));
  return { time, patient: patientColumn, channels, long, identities, leftAlone, warnings };
}
