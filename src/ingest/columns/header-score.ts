import { EXPORTED_KINDS } from '../../recording/channel.js';
import { type IngestSettings, timeChoice } from '../settings.js';
import { channelNamed, saysPatient } from './channel-names.js';
import { headerWords } from './header-words.js';
import { saysDate, saysElapsed, saysParameter, saysTime, saysUnit, saysValue } from './layout-words.js';

/** A number, a date or a time of day. */
const VALUE = /^[+-]?\d+(?:[.,]\d+)?$|^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}|^\d{1,2}:\d{2}/;

/** Headers that the pipeline file names. */
function declaredHeaders({ columns, patient }: IngestSettings): ReadonlySet<string> {
  const time = timeChoice(columns);
  const given = [time.header, time.date, patient?.column, columns.parameter, columns.value, columns.unit];
  const channels = EXPORTED_KINDS.map((kind) => columns[kind]?.header);
  return new Set([...given, ...channels].flatMap((header) => (header === undefined ? [] : [header.trim()])));
}

/**
 * Makes the test of how much a row of cells reads like the header: 100 and more where it must be one, since it names a
 * time and something measured, and holds no value.
 */
export function headerScorer(settings: IngestSettings): (cells: readonly string[]) => number {
  const time = timeChoice(settings.columns);
  const declared = declaredHeaders(settings);
  return (cells) => {
    if (cells.length < 2) return 0;
    let known = 0;
    let hasTime = false;
    let hasData = false;
    let holdsValue = false;
    for (const written of cells) {
      const cell = written.trim();
      const isDeclared = declared.has(cell);
      // A row of values, or of names and values by turns, may use the same words and is no header.
      if (!isDeclared && VALUE.test(cell)) {
        holdsValue = true;
        continue;
      }
      const { name } = headerWords(cell);
      const isTime =
        saysTime(name) || saysDate(name) || saysElapsed(name) || cell === time.header || cell === time.date;
      const isData =
        channelNamed(name) !== null || saysParameter(name) || saysValue(name) || (isDeclared && !isTime);
      hasTime ||= isTime;
      hasData ||= isData;
      if (isTime || isData || saysPatient(name) || saysUnit(name)) known++;
    }
    return hasTime && hasData && !holdsValue ? 100 + known : known;
  };
}
