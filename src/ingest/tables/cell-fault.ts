import { Problem } from '../../recording/problem.js';
import { placed } from '../rows/correct-cell.js';
import type { SetAsideKind } from '../rows/set-aside.js';

/** Why a row of a table cannot be used; `what` is a sentence without its full stop. */
export class CellFault {
  constructor(
    readonly what: string,
    readonly fix: string,
    readonly kind: SetAsideKind = 'unreadable',
  ) {}

  /** The same with the column in front. */
  in(header: string): CellFault {
    return new CellFault(placed(header, this.what), this.fix, this.kind);
  }
}

/** Messages about times name the key `time` of an export; in a table it is the column's own. */
export const forKey = (fix: string, key: string): string =>
  fix.replaceAll('columns: {time:', `columns: {${key}:`);

/** The same problem, with the column's own key in what to do. */
export const problemForKey = ({ what, fix, where }: Problem, key: string): Problem =>
  new Problem(what, forKey(fix, key), where);
