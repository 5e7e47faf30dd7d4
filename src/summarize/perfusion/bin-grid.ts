/** Bins of one length on UTC multiples of it, one behind the other. */
export interface BinGrid {
  readonly binMs: number;
  /** Start of bin k is (firstBin + k) x binMs, milliseconds UTC. */
  readonly firstBin: number;
  readonly count: number;
}

/** The bins that lie in the window as wholes. */
export const gridIn = ({ start, end }: { start: number; end: number }, binMs: number): BinGrid => {
  const firstBin = Math.ceil(start / binMs);
  return { binMs, firstBin, count: Math.max(0, Math.floor(end / binMs) - firstBin) };
};
