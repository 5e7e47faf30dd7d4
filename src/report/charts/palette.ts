/**
 * One colour a channel, the same in every chart, from the Okabe-Ito set that colour-blind readers can tell apart.
 * Source: Okabe & Ito, Color Universal Design, 2008.
 */
export const COLOURS = {
  icp: '#d55e00',
  map: '#0072b2',
  cpp: '#009e73',
  /** Of two sources of ICP: no channel of its own. */
  difference: '#56b4e9',
  oxygen: '#56b4e9',
  temperature: '#cc79a7',
  endTidalCo2: '#1a1a1a',
  /** Of how one pressure follows another. */
  index: '#1a1a1a',
  /** Past a limit, or in a band below its target. */
  past: '#e69f00',
  episode: '#f0e442',
  suspect: '#cc79a7',
  removed: '#8c8c8c',
  ink: '#1a1a1a',
  note: '#4a4a4a',
  grid: '#e4e4e4',
  paper: '#ffffff',
} as const;
