import { CHANNEL_NAMES, CHANNEL_UNITS, type ChannelKind } from '../../recording/channel.js';
import { Problem, shorten } from '../../recording/problem.js';
import { channelUnit, unitNotGiven } from '../columns/channel-unit.js';
import { conversion, unitNamed } from '../columns/units.js';
import { CORRECT_CELL } from '../rows/correct-cell.js';
import { type AlarmParameter, type LimitSide, sideIn } from './alarm-words.js';
import { CellFault } from './cell-fault.js';
import type { TableContext } from './table-definition.js';

/** The limit that an alarm was about. */
export interface AlarmLimit {
  /** In the channel's unit; as written where the parameter is no channel. */
  readonly value: number | null;
  /** UCUM for a channel; as written, or null, for other parameters. */
  readonly unit: string | null;
  readonly side: LimitSide | null;
}

const LIMIT = /^([<>≤≥]=?|[↑↓])?\s*([-+\u2212]?[\d.,]+(?:[eE][+-]?\d+)?)\s*([a-z%/°{[].*)?$/i;

/** Pressures are asked for their unit; other limits without a unit are left out. */
const isPressure = (channel: ChannelKind): boolean => CHANNEL_UNITS[channel] === 'mm[Hg]';

type Unit = { readonly unit: string; readonly convert: (value: number) => number };

/** Makes the reader of limits; each is in the unit of its cell, its unit column, its header or the pipeline file. */
export function limitReader(
  context: TableContext,
): (
  text: string,
  unitCell: string | null,
  parameter: AlarmParameter,
  line: number,
) => AlarmLimit | CellFault {
  const column = context.column('limit');
  const header = column?.header ?? '';
  const headerUnit = column?.unit ?? column?.unitBelow ?? null;
  const declared = context.choice('limit').unit;
  const units = new Map<string, Unit | string>();
  const lookUp = (channel: ChannelKind, inCell: string | null): Unit | string => {
    // A unit in the row itself is nearer than that of the header, which counts for most parameters.
    const inHeader = inCell === null ? headerUnit : null;
    const written = declared ?? inCell ?? inHeader;
    if (written !== null && unitNamed(written) !== null && !isUnitOf(channel, written)) {
      return `${written} is no unit of ${CHANNEL_NAMES[channel]}`;
    }
    const found = channelUnit(channel, header, { declared, inHeader, inCell, cellIs: 'column of units' });
    if (!found && isPressure(channel)) {
      const { what } = unitNotGiven(channel, header);
      throw new Problem(
        what,
        'Write it into the header, as in "Limit (mmHg)", or into the pipeline file, as columns: {limit: {unit: mmHg}}.',
        { column: header },
      );
    }
    if (!found) return 'its unit is not given';
    const { factor, offset } = found.conversion;
    const convert = (value: number): number =>
      factor === 1 && offset === 0 ? value : value * factor + offset;
    return { unit: CHANNEL_UNITS[channel], convert };
  };
  return (text, unitCell, { channel, text: name }, line) => {
    const match = LIMIT.exec(text);
    const value = match ? context.numbers.read(match[2], line) : Number.NaN;
    if (!match || !Number.isFinite(value)) {
      const why = match ? context.numbers.why(match[2]) : 'is not a number';
      return new CellFault(`"${shorten(text)}" ${why}`, CORRECT_CELL).in(header);
    }
    const side = sideIn(match[1] ?? '');
    const inCell = match[3]?.trim() || unitCell;
    if (!channel) return { value, unit: inCell ?? headerUnit ?? declared ?? null, side };
    const key = `${channel}\n${inCell ?? ''}`;
    const unit = units.get(key) ?? lookUp(channel, inCell);
    units.set(key, unit);
    if (typeof unit !== 'string') return { value: unit.convert(value), unit: unit.unit, side };
    context.note(line, `the limit of "${shorten(name)}" is left out: ${unit}`);
    return { value: null, unit: null, side };
  };
}

const isUnitOf = (channel: ChannelKind, written: string): boolean => {
  const unit = unitNamed(written);
  return unit !== null && conversion(unit, CHANNEL_UNITS[channel]) !== null;
};
