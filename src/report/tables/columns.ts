import type { RecordingResult, WindowResult } from '../results-schema.js';
import type { Cell } from './csv.js';
import type { TidyColumn } from './tidy-table.js';

export const PATIENT: TidyColumn = { name: 'patient', unit: '', says: 'Number of the patient, as text' };
export const START: TidyColumn = { name: 'start', unit: '', says: 'Local time with offset, ISO 8601' };
export const END: TidyColumn = { name: 'end', unit: '', says: 'Local time with offset, ISO 8601' };

/** Columns of a window: how long each channel is known, then ICP, then CPP. */
export const WINDOW_COLUMNS: readonly TidyColumn[] = [
  { name: 'icpMonitoredHours', unit: 'h', says: 'ICP known after cleaning' },
  { name: 'mapMonitoredHours', unit: 'h', says: 'MAP known after cleaning' },
  { name: 'cppMonitoredHours', unit: 'h', says: 'ICP and MAP both known' },
  { name: 'icpMeanMmHg', unit: 'mm[Hg]', says: 'Time-weighted mean ICP' },
  { name: 'icpMedianMmHg', unit: 'mm[Hg]', says: 'Time-weighted median ICP' },
  { name: 'icpHighest5MinMmHg', unit: 'mm[Hg]', says: 'Highest 5-min mean ICP' },
  { name: 'icpHoursBelowBand', unit: 'h', says: 'ICP under its band' },
  { name: 'icpHoursWithinBand', unit: 'h', says: 'ICP within its band, both ends included' },
  { name: 'icpHoursAboveBand', unit: 'h', says: 'ICP over its band' },
  { name: 'icpHoursAboveThreshold', unit: 'h', says: 'ICP above its threshold' },
  { name: 'icpDoseMmHgHours', unit: 'mm[Hg].h', says: 'Integral of ICP above its threshold' },
  { name: 'episodes', unit: '{episodes}', says: 'Episodes of ICP that share time with it' },
  { name: 'longestEpisodeMinutes', unit: 'min', says: 'Longest of them, as a whole' },
  { name: 'cppMeanMmHg', unit: 'mm[Hg]', says: 'Time-weighted mean CPP' },
  { name: 'cppLowest5MinMmHg', unit: 'mm[Hg]', says: 'Lowest 5-min mean CPP' },
  { name: 'cppHoursBelowFloor', unit: 'h', says: 'CPP below its floor' },
  { name: 'cppDoseBelowFloorMmHgHours', unit: 'mm[Hg].h', says: 'Integral of CPP below its floor' },
];

/** Their number; null where none can be counted. */
function episodesIn(window: WindowResult | RecordingResult): number | null {
  if (!('episodesReason' in window)) return window.episodes;
  return window.episodesReason === null ? window.episodes.length : null;
}

/** The cells of a window's columns. */
export const windowCells = (window: WindowResult | RecordingResult): Record<string, Cell> => ({
  icpMonitoredHours: window.monitoredHours.icp,
  mapMonitoredHours: window.monitoredHours.map,
  cppMonitoredHours: window.monitoredHours.cpp,
  icpMeanMmHg: window.icp.meanMmHg,
  icpMedianMmHg: window.icp.medianMmHg,
  icpHighest5MinMmHg: window.icp.highest5MinMmHg,
  icpHoursBelowBand: window.icp.hoursBelowBand,
  icpHoursWithinBand: window.icp.hoursWithinBand,
  icpHoursAboveBand: window.icp.hoursAboveBand,
  icpHoursAboveThreshold: window.icp.hoursAboveThreshold,
  icpDoseMmHgHours: window.icp.doseMmHgHours,
  episodes: episodesIn(window),
  longestEpisodeMinutes: window.longestEpisodeMinutes,
  cppMeanMmHg: window.cpp.meanMmHg,
  cppLowest5MinMmHg: window.cpp.lowest5MinMmHg,
  cppHoursBelowFloor: window.cpp.hoursBelowFloor,
  cppDoseBelowFloorMmHgHours: window.cpp.doseBelowFloorMmHgHours,
});
