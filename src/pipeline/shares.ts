/** A share of the patients: the `number`th, from 1 on, of so many. */
export interface Share {
  readonly number: number;
  readonly of: number;
}

/** What is shared out. */
export interface Shared {
  /** Names of its files. */
  readonly files: readonly { readonly name: string }[];
}

const nameOf = ({ files }: Shared): string => files.map(({ name }) => name).join('\n');

/**
 * Shares groups of files out so that shares are about as large: the largest first, each to the share that is smallest so far.
 * It hangs on names and sizes alone, so that each machine that looks at the same files comes to the same shares.
 * Source: Graham, SIAM J Appl Math 1969;17:416-29: no share is larger than 4/3 of what the best sharing would give.
 *
 * @param bytes of each group
 * @param of how many shares
 * @returns by group the number of its share, from 1 on
 */
export function sharesOf(groups: readonly Shared[], bytes: readonly number[], of: number): number[] {
  const names = groups.map(nameOf);
  const order = [...groups.keys()].sort((a, b) => bytes[b] - bytes[a] || (names[a] < names[b] ? -1 : 1));
  const load = new Float64Array(of);
  const shares = new Array<number>(groups.length).fill(0);
  for (const i of order) {
    let least = 0;
    for (let k = 1; k < of; k++) if (load[k] < load[least]) least = k;
    // A file without a byte takes time too.
    load[least] += bytes[i] + 1;
    shares[i] = least + 1;
  }
  return shares;
}
