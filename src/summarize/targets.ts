/** What the measures are held against; pressures in mmHg. */
export interface Targets {
  /** ICP above this counts as raised. */
  readonly icpThresholdMmHg: number;
  /** ICP from the first to the second, both included, is within its band. */
  readonly icpBandMmHg: readonly [number, number];
  readonly cppFloorMmHg: number;
  /** Edges of the CPP bands, rising: under the first, between neighbours, over the last. */
  readonly cppEdgesMmHg: readonly number[];
}
