import { saysBed } from '../../ingest/columns/channel-names.js';
import type { ChannelColumn, Columns } from '../../ingest/columns/columns.js';
import { headerWords } from '../../ingest/columns/header-words.js';
import type { ColumnInspection } from './inspection.js';

/** What each column of a file was taken for and why, in the order of the file; parameters of a long export behind. */
export function inspectColumns(
  headers: readonly string[],
  { time, patient, long, channels, leftAlone }: Columns,
  parameters: readonly ChannelColumn[],
): ColumnInspection[] {
  const roles = new Map<number, ColumnInspection>();
  const put = (index: number | null, takenFor: ColumnInspection['takenFor'], why: string): void => {
    if (index !== null) roles.set(index, { header: headers[index], takenFor, unit: null, why });
  };
  put(time.index, 'time', time.date === null ? 'by its name' : 'by its name, with the date beside it');
  put(time.date, 'date', 'by its name');
  const isBed = patient !== null && saysBed(headerWords(headers[patient]).name);
  put(patient, 'patient', `names the ${isBed ? 'bed' : 'patient'} of each row`);
  if (long) {
    put(long.parameter, 'parameter', 'a row a value: says what is measured');
    put(long.value, 'value', 'a row a value: the value');
    put(long.unit, 'unit', 'a row a value: its unit');
  }
  const ofChannel = ({ header, kind, unit, why }: ChannelColumn): ColumnInspection => ({
    header,
    takenFor: kind,
    unit,
    why,
  });
  for (const channel of channels) roles.set(channel.index, ofChannel(channel));
  const whyLeft = new Map(leftAlone.map(({ header, why }) => [header, why]));
  const inOrder = headers.flatMap((header, i): ColumnInspection[] => {
    const role = roles.get(i);
    if (role) return [role];
    const why = whyLeft.get(header);
    return why === undefined ? [] : [{ header, takenFor: null, unit: null, why }];
  });
  const seen = new Set<string>();
  const fresh = parameters.filter(
    ({ header, unit }) => !seen.has(`${header}\n${unit}`) && seen.add(`${header}\n${unit}`),
  );
  return [...inOrder, ...fresh.map(ofChannel)];
}
