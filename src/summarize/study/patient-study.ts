import type { FeatureRow } from './feature-rows.js';

/** The episodes of one channel in the primary window, on the grid of the intensity-duration map. */
export interface ChannelGrid {
  /** As `episodeCounts` gives them. */
  readonly counts: Uint32Array;
  /** Of the channel in the window, above 0. */
  readonly monitoredHours: number;
  /** Index of the shortest duration that the sampling can show. */
  readonly firstDuration: number;
}

/** What the exports of one patient bring to a study; plain data, so that it can come from another thread. */
export interface PatientStudy {
  readonly id: string;
  /** Features by window: the primary one, the stay, then days since injury. */
  readonly rows: readonly FeatureRow[];
  /** Null where the channel is not known in the primary window, or there is none. */
  readonly grids: { readonly icp: ChannelGrid | null; readonly cpp: ChannelGrid | null };
  /** Start of monitoring, from which hours count, milliseconds UTC; null where there is no window. */
  readonly startMs: number | null;
  /** Monitored hours of ICP in the primary window; 0 where there is none. */
  readonly primaryIcpHours: number;
  /** What cut the windows, and where the table and the exports disagree. */
  readonly remarks: readonly string[];
}
