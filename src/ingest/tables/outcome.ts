import { Problem, shorten } from '../../recording/problem.js';
import { CORRECT_CELL } from '../rows/correct-cell.js';
import { CellFault } from './cell-fault.js';
import type { TableContext } from './table-definition.js';
import { yesOrNo } from './yes-or-no.js';

/**
 * Scales of outcome: the Glasgow Outcome Scale (Jennett & Bond, Lancet 1975;1:480-4), its extended form (Wilson,
 * Pettigrew & Teasdale, J Neurotrauma 1998;15:573-85), or whether the patient lived.
 */
export const OUTCOME_SCALES = ['gos', 'gose', 'mortality'] as const;
export type OutcomeScale = (typeof OUTCOME_SCALES)[number];

/** How a patient fared. */
export type Outcome =
  | { readonly scale: 'gos' | 'gose'; readonly value: number }
  | { readonly scale: 'mortality'; readonly isDead: boolean };

/** Names of the trade. Common practice, no source. */
const DEAD = /^(?:dead|brain ?(?:dead|death)|death|died|deceased|not alive|non ?survivor|d)$/;
const ALIVE = /^(?:alive|survived|survivor|living|lives|not dead|a)$/;
const VEGETATIVE =
  /^(?:(?:persistent )?vegetative(?: state)?|pvs|vs|unresponsive wakefulness(?: syndrome)?)$/;
const LEVELS = /^(?:(lower|upper) )?(severe|moderate) disability(?: ?[,-]? ?\(?(lower|upper)\)?)?$/;
const RECOVERY = /^(?:(lower|upper) )?good recovery(?: ?[,-]? ?\(?(lower|upper)\)?)?$/;
const SHORT = /^(sd|md|gr) ?([-+])?$/;

interface Words {
  /** 1 dead to 5 good recovery. */
  readonly gos: number;
  readonly half: 'lower' | 'upper' | null;
}

function outcomeWords(text: string): Words | null {
  const plain = text
    .toLowerCase()
    .replace(/[\s_]+/g, ' ')
    .trim();
  if (DEAD.test(plain)) return { gos: 1, half: null };
  if (VEGETATIVE.test(plain)) return { gos: 2, half: null };
  const short = SHORT.exec(plain);
  if (short) {
    const half = short[2] === undefined ? null : short[2] === '+' ? 'upper' : 'lower';
    return { gos: { sd: 3, md: 4, gr: 5 }[short[1]] ?? 0, half };
  }
  const match = LEVELS.exec(plain) ?? RECOVERY.exec(plain);
  if (!match) return null;
  const half = (LEVELS.test(plain) ? (match[1] ?? match[3]) : (match[1] ?? match[2])) as
    | Words['half']
    | undefined;
  return { gos: plain.includes('severe') ? 3 : plain.includes('moderate') ? 4 : 5, half: half ?? null };
}

/** The scale that a header names; null where it names none. */
export function scaleNamed(name: string): OutcomeScale | null {
  if (/\b(?:gos ?-?e|gose|extended glasgow outcome|glasgow outcome (?:scale )?extended)\b/.test(name))
    return 'gose';
  if (/\b(?:gos|glasgow outcome)\b/.test(name)) return 'gos';
  return /\b(?:mortality|survival|survived|vital status|alive)\b/.test(name) ? 'mortality' : null;
}

/** The scale of a column: as the pipeline file says, as its header says, or as all of its words say. */
function scaleOf(context: TableContext): OutcomeScale | null {
  const column = context.column('outcome');
  if (!column) return null;
  const { scale: chosen } = context.choice('outcome');
  const scale = OUTCOME_SCALES.find((known) => known === chosen?.toLowerCase());
  if (chosen !== undefined && !scale) {
    throw new Problem(
      `"${shorten(chosen)}" is no scale of outcome`,
      'Write columns: {outcome: {scale: gos}}, gose or mortality.',
      { column: column.header },
    );
  }
  const said = scale ?? scaleNamed(column.name);
  if (said) return said;
  const cells = context.cells('outcome').map(({ text }) => text);
  const words = cells.map(outcomeWords);
  if (words.some((one) => one?.half)) return 'gose';
  if (words.some((one) => one && one.gos > 2)) return 'gos';
  if (
    cells.length === 0 ||
    cells.every((text) => DEAD.test(text.toLowerCase()) || ALIVE.test(text.toLowerCase()))
  ) {
    return 'mortality';
  }
  throw new Problem(
    'nothing says which scale the outcome is on',
    'Say it in the pipeline file, as columns: {outcome: {scale: gos}}, gose or mortality.',
    { column: column.header },
  );
}

/** GOSE of GOS words: 1 dead, 2 vegetative, and two for each of the others; null where the half is not said. */
const extended = ({ gos, half }: Words): number | null =>
  gos <= 2 ? gos : half === null ? null : 2 * gos - 3 + (half === 'upper' ? 1 : 0);

/**
 * Makes the reader of outcomes.
 *
 * @throws Problem where nothing says which scale they are on
 */
export function outcomeReader(context: TableContext): (text: string, line: number) => Outcome | CellFault {
  const scale = scaleOf(context);
  const column = context.column('outcome');
  const header = column?.header ?? '';
  // In a column of survival, yes is the other way round.
  const yesIsAlive = column !== undefined && /surviv|alive/.test(column.name);
  return (text, line) => {
    const fault = (what: string): CellFault => new CellFault(what, CORRECT_CELL).in(header);
    const shown = `"${shorten(text)}"`;
    const plain = text.toLowerCase();
    if (scale === 'mortality') {
      const yes = yesOrNo(plain);
      if (DEAD.test(plain) || ALIVE.test(plain)) return { scale, isDead: DEAD.test(plain) };
      if (yes !== null) return { scale, isDead: yes !== yesIsAlive };
      return fault(`${shown} is neither alive nor dead`);
    }
    if (scale === null) return fault(`${shown} is on no scale`);
    const words = outcomeWords(text);
    if (words) {
      const value = scale === 'gos' ? words.gos : extended(words);
      return value === null
        ? fault(`${shown} may be the lower or the upper level of the GOSE`)
        : { scale, value };
    }
    const top = scale === 'gos' ? 5 : 8;
    const value = context.numbers.read(text.replace(/^gos ?-?e? ?/i, ''), line);
    if (!Number.isFinite(value)) return fault(`${shown} is no number or word of the ${scale.toUpperCase()}`);
    const isLevel = Number.isInteger(value) && value >= 1 && value <= top;
    return isLevel ? { scale, value } : fault(`${shorten(text)} is none of the levels 1 to ${top}`);
  };
}
