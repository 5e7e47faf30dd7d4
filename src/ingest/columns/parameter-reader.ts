import { CHANNEL_NAMES, type ChannelKind, EXPORTED_KINDS } from '../../recording/channel.js';
import { Problem, shorten } from '../../recording/problem.js';
import type { IngestSettings } from '../settings.js';
import { channelColumn } from './channel-column.js';
import { channelNamed } from './channel-names.js';
import type { ChannelColumn } from './columns.js';
import { listed } from './find-column.js';
import { headerWords } from './header-words.js';
import { channelTitle, ESSENTIAL, whyLeft } from './recognise-columns.js';

/** Says what the parameters of an export with a row a value are; each is looked at once. */
export function parameterReader(
  { value }: { readonly value: number },
  settings: IngestSettings,
  warnings: string[],
): (parameter: string, unit: string | null) => ChannelColumn | { readonly why: string } {
  const seen = new Map<string, ChannelColumn | { readonly why: string }>();
  const holders = new Map<ChannelKind, string>();
  const recognise = (parameter: string, unit: string | null): ChannelColumn | { readonly why: string } => {
    const words = headerWords(parameter);
    const chosen = EXPORTED_KINDS.find((kind) => settings.columns[kind]?.header?.trim() === parameter);
    const byName = channelNamed(words.name);
    const kind = chosen ?? (byName && settings.columns[byName]?.header === undefined ? byName : null);
    if (!kind) return { why: whyLeft(words.name) };
    if (settings.channels && !settings.channels.includes(kind) && kind !== 'icpDrain') {
      return { why: `${CHANNEL_NAMES[kind]} is not used by this report` };
    }
    const found = channelColumn({
      kind,
      index: value,
      header: parameter,
      words,
      unitCell: unit,
      unitCellIs: 'column of units',
      choice: settings.columns[kind],
    });
    if (typeof found === 'string') return { why: found };
    const holder = holders.get(kind);
    if (holder !== undefined && holder !== parameter && !ESSENTIAL.has(kind)) {
      return { why: `"${shorten(holder)}" is taken for ${CHANNEL_NAMES[kind]} already` };
    }
    if (holder !== undefined && holder !== parameter) {
      throw new Problem(
        `${listed([holder, parameter])} could each be ${channelTitle(kind)}`,
        'Name the right one in the pipeline file under columns.',
      );
    }
    holders.set(kind, parameter);
    warnings.push(...found.warnings);
    return found.channel;
  };
  return (parameter, unit) => {
    const key = `${parameter}\n${unit ?? ''}`;
    const known = seen.get(key) ?? recognise(parameter, unit);
    seen.set(key, known);
    return known;
  };
}
