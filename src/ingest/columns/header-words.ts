import { millisecondsOf, saysElapsed } from './layout-words.js';
import { unitNamed } from './units.js';

/** A header taken apart. */
export interface HeaderWords {
  /** Lower case, single spaces, without the unit. */
  readonly name: string;
  /** As written; null where the header holds none. */
  readonly unit: string | null;
}

/** Words in brackets that belong to the name of a column and are no unit. */
const NAME_WORDS =
  /\b(mean|systolic|diastolic|sys|dia|nibp|nbp|cuff|probe|bolt|parenchymal|intraparenchymal|drain|evd|ventricular|core|left|right|frontal|limits?|alarms?)\b|^(?:[msd]|max|min|peak|high|low|upper|lower)$/i;

/** A longer header is no name of a channel, and would keep the patterns below busy. */
const LONGEST_HEADER = 200;

const isTimeUnit = (name: string, unit: string): boolean =>
  millisecondsOf(unit) !== null && saysElapsed(plain(name));

/** `ABP (s)` is a systolic pressure, `Time (s)` a time in seconds. */
const isNameWord = (name: string, inBrackets: string): boolean =>
  NAME_WORDS.test(inBrackets) && !isTimeUnit(name, inBrackets);

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[\s_.,:()[\]-]+/g, ' ')
    .trim();

/** The unit behind the last space or separator, as in `icp_mmhg`, `ICP, mmHg`, `Temp °C`, `ICP cm H2O`. */
function separatedUnit(text: string): [name: string, unit: string] | null {
  for (const pattern of [/^(.+?)[\s_.,:;|-]+((?:mm|cm) ?\S+)$/i, /^(.+)[\s_.,:;|-]+(\S+)$/, /^(.+?)(%)$/]) {
    const match = pattern.exec(text);
    if (match && (unitNamed(match[2]) || isTimeUnit(match[1], match[2]))) return [match[1], match[2]];
  }
  // A slash parts name and unit, and may also begin the unit: `ICP/mmHg`, `HR /min`.
  const slashed = /^(.+?)\s*\/\s*(\S.*)$/.exec(text);
  if (slashed && unitNamed(slashed[2])) return [slashed[1], slashed[2]];
  if (slashed && unitNamed(`/${slashed[2]}`)) return [slashed[1], `/${slashed[2]}`];
  return null;
}

/** The name and the unit of a header such as `ICP (mmHg)`, `ICP [mm[Hg]]`, `icp_mmhg`, `HR/min`. */
export function headerWords(header: string): HeaderWords {
  const text = header.trim();
  if (text.length > LONGEST_HEADER) return { name: '', unit: null };
  const separated = separatedUnit(text);
  if (separated) return { name: plain(separated[0]), unit: separated[1] };
  // The last pair of brackets, which may hold the brackets of a UCUM unit.
  const bracketed = /^(.*?)\s*[([{<]((?:[^()[\]]|\[[^()[\]]*\])+)[)\]}>]$/.exec(text);
  if (bracketed && !isNameWord(bracketed[1], bracketed[2]))
    return { name: plain(bracketed[1]), unit: bracketed[2] };
  return { name: plain(text), unit: null };
}
