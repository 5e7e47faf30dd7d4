import { CHANNEL_NAMES, type ChannelKind } from '../../recording/channel.js';
import { Problem } from '../../recording/problem.js';
import type { ColumnChoice } from '../settings.js';
import { saysCuff, saysProbe } from './channel-names.js';
import { channelUnit, type FoundUnit, unitNotGiven } from './channel-unit.js';
import type { ChannelColumn } from './columns.js';
import type { HeaderWords } from './header-words.js';

/** Those that are asked for where their unit is missing; others are left alone then. */
const UNIT_IS_ASKED_FOR: ReadonlySet<ChannelKind> = new Set(['icp', 'icpDrain', 'map']);

/** A column, or a parameter, that holds a channel. */
export interface ChannelPlace {
  readonly kind: ChannelKind;
  /** Of the column of its values, from 0. */
  readonly index: number;
  readonly header: string;
  readonly words: HeaderWords;
  /** What the row or the column of units says. */
  readonly unitCell: string | null;
  readonly unitCellIs: 'row of units' | 'column of units';
  readonly choice: ColumnChoice | undefined;
}

/** The unit, or why the channel is left alone for want of one. */
function unitOf({ kind, header, words, unitCell, unitCellIs, choice }: ChannelPlace): FoundUnit | string {
  const isAskedFor = UNIT_IS_ASKED_FOR.has(kind) || choice !== undefined;
  const sources = { declared: choice?.unit, inHeader: words.unit, inCell: unitCell, cellIs: unitCellIs };
  try {
    const found = channelUnit(kind, header, sources);
    if (found) return found;
    if (isAskedFor) throw unitNotGiven(kind, header);
    return `${CHANNEL_NAMES[kind]}, but its unit is not given`;
  } catch (error) {
    if (isAskedFor || !(error instanceof Problem)) throw error;
    return `${CHANNEL_NAMES[kind]}, but ${error.what}`;
  }
}

/**
 * A channel with its unit and source, or why it is left alone.
 *
 * @throws Problem where its unit is not known, or not given, and the channel matters
 */
export function channelColumn(place: ChannelPlace): { channel: ChannelColumn; warnings: string[] } | string {
  const { kind, index, header, words, choice } = place;
  const isChosen = choice?.header !== undefined;
  const found = unitOf(place);
  if (typeof found === 'string') return found;
  const { unit, conversion, from, warning } = found;
  const warnings = warning ? [warning] : [];
  if (isChosen && saysCuff(words.name)) {
    warnings.push(
      `"${header}" reads like a cuff, but is used as ${CHANNEL_NAMES[kind]}, since the pipeline file says so.`,
    );
  }
  const said = kind === 'icpDrain' ? 'drain' : kind === 'icp' && saysProbe(words.name) ? 'probe' : null;
  const why = `${isChosen ? 'named in the pipeline file' : 'by its name'}, ${from}`;
  const source = choice?.source ?? said;
  return { channel: { index, kind, header, unit, conversion, source, why }, warnings };
}
