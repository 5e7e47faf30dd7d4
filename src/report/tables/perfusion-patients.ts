import { belowLowest } from '../perfusion/below-lowest.js';
import type { PerfusionResult } from '../results-perfusion.js';
import type { RecordingResult } from '../results-schema.js';
import { END, PATIENT, START } from './columns.js';
import type { Cell } from './csv.js';
import type { Reported } from './reported.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

/** A column with what stands in it. */
interface Figure extends TidyColumn {
  readonly of: (perfusion: PerfusionResult, recording: RecordingResult) => Cell;
}

const mmHg = (name: string, says: string, of: Figure['of']): Figure => ({ name, unit: 'mm[Hg]', says, of });
const hours = (name: string, says: string, of: Figure['of']): Figure => ({ name, unit: 'h', says, of });
const share = (name: string, says: string, of: Figure['of']): Figure => ({ name, unit: '1', says, of });
const dose = (name: string, says: string, of: Figure['of']): Figure => ({ name, unit: 'mm[Hg].h', says, of });

const CPP: readonly Figure[] = [
  hours('cppMonitoredHours', 'ICP and MAP both known', (_, { monitoredHours }) => monitoredHours.cpp),
  mmHg('cppMeanMmHg', 'Time-weighted mean CPP', (_, { cpp }) => cpp.meanMmHg),
  hours('hoursBelowFloor', 'CPP below its floor', (_, { cpp }) => cpp.hoursBelowFloor),
  dose(
    'doseBelowFloorMmHgHours',
    'Integral of CPP below its floor',
    (_, { cpp }) => cpp.doseBelowFloorMmHgHours,
  ),
  hours('hoursBelowLowest', 'CPP below its lowest band', (_, one) => belowLowest(one)?.hours),
  dose(
    'doseBelowLowestMmHgHours',
    'Integral of CPP below its lowest band',
    (_, one) => belowLowest(one)?.doseMmHgHours,
  ),
  hours(
    'bothHours',
    'ICP above its threshold and CPP below its floor, at once',
    ({ joint }) => joint.bothHours,
  ),
  hours('icpAloneHours', 'ICP above, CPP not below', ({ joint }) => joint.icpAloneHours),
  hours('cppAloneHours', 'CPP below, ICP not above', ({ joint }) => joint.cppAloneHours),
  hours('neitherHours', 'Neither, of the time over which both are known', ({ joint }) => joint.neitherHours),
];

const INDICES: readonly Figure[] = [
  share('prxMean', 'Mean PRx where it could be computed', ({ prx }) => prx.mean),
  share(
    'prxShareAboveLimit',
    'PRx above 0.25, of the time it could be computed',
    ({ prx }) => prx.shareAboveLimit,
  ),
  hours('prxHoursAboveLimit', 'The same as hours', ({ prx }) => prx.hoursAboveLimit),
  share('prxComputableShare', 'Of the period, PRx could be computed', ({ prx }) => prx.computableShare),
  {
    name: 'prxDoubt',
    unit: '',
    says: 'Why neither index can be judged; blank where nothing speaks against it',
    of: ({ prxDoubt }) => prxDoubt,
  },
  { name: 'prxWhyNone', unit: '', says: 'Why it could not be computed at all', of: ({ prx }) => prx.whyNone },
  share(
    'minuteIndexMean',
    'Mean low-frequency index from minute data',
    ({ minuteIndex }) => minuteIndex.mean,
  ),
  share(
    'minuteIndexComputableShare',
    'Of the period, it could be computed',
    ({ minuteIndex }) => minuteIndex.computableShare,
  ),
  {
    name: 'minuteIndexWhyNone',
    unit: '',
    says: 'Why it could not be computed at all',
    of: ({ minuteIndex }) => minuteIndex.whyNone,
  },
];

const OPTIMAL: readonly Figure[] = [
  mmHg('optimalMeanMmHg', 'Investigational: mean optimal CPP', ({ optimal }) => optimal?.meanOptimalMmHg),
  mmHg(
    'optimalMeanDifferenceMmHg',
    'Investigational: mean of CPP minus optimal CPP',
    ({ optimal }) => optimal?.meanDifferenceMmHg,
  ),
  hours(
    'optimalHoursBelow',
    'Investigational: CPP under it by more than 5 mmHg',
    ({ optimal }) => optimal?.hoursBelow,
  ),
  share(
    'optimalYieldShare',
    'Investigational: of the minutes with enough PRx before them, a curve was accepted',
    ({ optimal }) => optimal?.yieldShare,
  ),
  share(
    'optimalShuffledYieldShare',
    'Investigational: the same on phase-shuffled MAP',
    ({ optimal }) => optimal?.shuffledYieldShare,
  ),
  mmHg(
    'optimalLowerLimitMmHg',
    'Investigational: mean CPP at which PRx falls under 0.25',
    ({ optimal }) => optimal?.meanLowerLimitMmHg,
  ),
  mmHg(
    'optimalUpperLimitMmHg',
    'Investigational: mean CPP at which it rises over it',
    ({ optimal }) => optimal?.meanUpperLimitMmHg,
  ),
];

const OTHER: readonly Figure[] = [
  {
    name: 'plateauWaves',
    unit: '{waves}',
    says: 'ICP of 50 mmHg or more for 5 to 20 min; blank where none can be told',
    of: ({ plateauWaves, plateauWavesReason }) =>
      plateauWavesReason === undefined ? plateauWaves.length : null,
  },
  share('bWavesShare', 'Of the 10-min windows, with B waves', ({ bWaves }) => bWaves.share),
  mmHg(
    'meanAmplitudeMmHg',
    'Mean pulse amplitude of ICP, from a waveform',
    ({ pulse }) => pulse?.meanAmplitudeMmHg,
  ),
  share('meanRap', 'Mean RAP, from a waveform', ({ pulse }) => pulse?.meanRap),
  mmHg('oxygenMeanMmHg', 'Mean brain tissue oxygen', ({ oxygen }) => oxygen?.mean),
  hours('oxygenHoursBelow', 'Brain tissue oxygen below 20 mmHg', ({ oxygen }) => oxygen?.hoursBelow),
  {
    name: 'temperatureMean',
    unit: 'Cel',
    says: 'Mean temperature',
    of: ({ temperature }) => temperature?.mean,
  },
  mmHg('endTidalCo2MeanMmHg', 'Mean end-tidal CO2', ({ endTidalCo2 }) => endTidalCo2?.mean),
];

const BESIDE: readonly Figure[] = [
  hours('lowCppHours', 'CPP below the target of each instant', (_, { lowCpp }) => lowCpp.hours),
  dose(
    'lowCppDoseMmHgHours',
    'Integral below the target of each instant',
    (_, { lowCpp }) => lowCpp.doseMmHgHours,
  ),
  {
    name: 'lowCppEpisodes',
    unit: '{episodes}',
    says: 'Episodes of CPP below its target; blank where none can be counted',
    of: (_, { lowCpp }) => (lowCpp.episodesReason === null ? lowCpp.episodes.length : null),
  },
  {
    name: 'clockLagSeconds',
    unit: 's',
    says: 'Lag at which ICP and MAP go together best; positive: what happens in ICP happens later in MAP',
    of: (_, { clockLag }) => clockLag.lagSeconds,
  },
  mmHg(
    'ownCppMeanDifferenceMmHg',
    "The monitor's own CPP minus ours, mean of 1-min means; blank where none was exported",
    (_, { ownCpp }) => ownCpp?.meanDifferenceMmHg,
  ),
];

const FIGURES: readonly Figure[] = [...CPP, ...BESIDE, ...INDICES, ...OPTIMAL, ...OTHER];

/** All figures of perfusion, a row a patient. */
export const perfusionPatients = ({ recordings }: Reported): TidyTable => ({
  name: 'perfusion',
  says: 'A row a patient with data: perfusion and autoregulation over the period',
  columns: [PATIENT, START, END, ...FIGURES.map(({ name, unit, says }) => ({ name, unit, says }))],
  rows: recordings.map((recording) => ({
    patient: recording.id,
    ...recording.period,
    ...Object.fromEntries(FIGURES.map(({ name, of }) => [name, of(recording.perfusion, recording)])),
  })),
});
