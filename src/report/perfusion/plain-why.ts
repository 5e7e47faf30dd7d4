/** How a measure says that sampling is too coarse for it. */
const TOO_COARSE = /^not resolvable at this sampling: every (\S+) s, needs (\S+) s or finer$/;

/**
 * A reason as the sentence on top of a page has it: `it comes every 60 s, and 10 s or finer is needed`.
 *
 * @param what comes at that interval
 */
export const plainWhy = (why: string | null | undefined, what: string): string =>
  (why ?? 'not known').replace(
    TOO_COARSE,
    (_, interval, needed) => `${what} comes every ${interval} s, and ${needed} s or finer is needed`,
  );
