import { randomInt } from 'node:crypto';

/** Letters and digits that are not taken for one another on paper. */
const SIGNS = '23456789ABCDEFGHJKMNPQRSTUVWXYZ';
const LENGTH = 8;

/** A code as it stands in file names: a P, so that no spreadsheet takes one for a number, and eight signs. */
export const CODE = new RegExp(`^P[${SIGNS}]{${LENGTH}}$`);

/** Draws a whole number from `low` to `high` - 1. */
export type Draw = (low: number, high: number) => number;

/** Chance that nobody can repeat: codes must not be told from anything about the patient (45 CFR 164.514(c)). */
export const systemDraw: Draw = (low, high) => randomInt(low, high);

const newCode = (draw: Draw): string =>
  `P${Array.from({ length: LENGTH }, () => SIGNS[draw(0, SIGNS.length)]).join('')}`;

/** Gives each patient a code, the same whenever it is asked for, and no two the same one. */
export class Codes {
  private readonly byId = new Map<string, string>();
  private readonly taken = new Set<string>();

  constructor(private readonly draw: Draw = systemDraw) {}

  of(id: string): string {
    const known = this.byId.get(id);
    if (known !== undefined) return known;
    let code = newCode(this.draw);
    while (this.taken.has(code)) code = newCode(this.draw);
    this.taken.add(code);
    this.byId.set(id, code);
    return code;
  }
}

/** Days to move a patient's dates by: each of -`most` to `most` but 0 is as likely. */
export function drawShift(most: number, draw: Draw = systemDraw): number {
  const n = draw(0, 2 * most);
  return n < most ? n - most : n - most + 1;
}
