import { CHANNEL_NAMES, CHANNEL_UNITS, type ChannelKind } from '../../recording/channel.js';
import { Problem, shorten } from '../../recording/problem.js';
import { type Conversion, conversion, type ExportUnit, unitNamed } from './units.js';

/** Places that may give a channel's unit. */
export interface UnitSources {
  readonly declared: string | undefined;
  readonly inHeader: string | null;
  /** In the row of units, or in the column of units. */
  readonly inCell: string | null;
  readonly cellIs: 'row of units' | 'column of units';
}

/** A channel's unit and where it was found. */
export interface FoundUnit {
  readonly unit: ExportUnit;
  readonly conversion: Conversion;
  readonly from: string;
  readonly warning: string | null;
}

/** Channels that everybody writes in one unit. Common practice, no source. */
const ONE_UNIT: ReadonlySet<ChannelKind> = new Set(['hr', 'rr', 'spo2']);

const shownUnits = (kind: ChannelKind): string =>
  ({ 'mm[Hg]': 'mmHg, cmH2O or kPa', '/min': '/min', '%': '%', Cel: '°C or °F' })[CHANNEL_UNITS[kind]];

function known(
  kind: ChannelKind,
  text: string,
  header: string,
): { unit: ExportUnit; conversion: Conversion } {
  const unit = unitNamed(text);
  const found = unit && conversion(unit, CHANNEL_UNITS[kind]);
  if (unit && found) return { unit, conversion: found };
  if (/[x\u00d7*]\s*\d|\d\s*[x\u00d7*]|\/\s*10/.test(text)) {
    throw new Problem(`"${shorten(text)}" holds a factor`, 'Export plain values.', { column: header });
  }
  throw new Problem(
    unit
      ? `"${shorten(text)}" is no unit of ${CHANNEL_NAMES[kind]}`
      : `the unit "${shorten(text)}" is not known`,
    `Use ${shownUnits(kind)}, or declare the unit in the pipeline file under columns.`,
    { column: header },
  );
}

/**
 * The unit of a channel: declared in the pipeline file, else in the header, else beside the value.
 *
 * @returns null where none is given
 * @throws Problem where it is not known, or header and cell give two
 */
export function channelUnit(kind: ChannelKind, header: string, sources: UnitSources): FoundUnit | null {
  const { declared, inHeader, inCell, cellIs } = sources;
  const written = [inHeader, inCell].filter((text): text is string => text !== null && text.trim() !== '');
  if (declared !== undefined) {
    const chosen = known(kind, declared, header);
    const other = written.map(unitNamed).find((unit) => unit !== null && unit !== chosen.unit);
    const odd = written.find((text) => unitNamed(text) === null);
    // A factor is no unit that a declaration could replace.
    if (odd !== undefined && /\d/.test(odd)) known(kind, odd, header);
    const warning = other
      ? `"${shorten(header)}" is read in ${declared}, as the pipeline file says, though the export says ${other}.`
      : null;
    return { ...chosen, from: 'unit from the pipeline file', warning };
  }
  if (written.length === 0) {
    if (!ONE_UNIT.has(kind)) return null;
    return { ...known(kind, CHANNEL_UNITS[kind], header), from: 'its usual unit', warning: null };
  }
  const units = written.map((text) => known(kind, text, header));
  if (units.length === 2 && units[0].unit !== units[1].unit) {
    throw new Problem(
      `its name says ${shorten(written[0])}, and the ${cellIs} ${shorten(written[1])}`,
      'Declare the unit in the pipeline file under columns.',
      { column: header },
    );
  }
  return {
    ...units[0],
    from: inHeader !== null ? 'unit from its name' : `unit from the ${cellIs}`,
    warning: null,
  };
}

/** What a channel without a unit is answered. */
export const unitNotGiven = (kind: ChannelKind, header: string): Problem =>
  new Problem(
    'its unit is not given',
    `Write it into the header, as in "${CHANNEL_NAMES[kind]} (${CHANNEL_UNITS[kind] === 'Cel' ? '°C' : 'mmHg'})", or into the pipeline file under columns, as in ${kind}: {unit: ${CHANNEL_UNITS[kind] === 'Cel' ? 'Cel' : 'mmHg'}}.`,
    { column: header },
  );
