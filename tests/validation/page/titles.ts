/** Kinds in words, and why some cannot be found. */

const TITLES: Readonly<Record<string, string>> = {
  cough: 'single coughs',
  strain: 'straining',
  coughTrain: 'cough trains',
  turn: 'turns',
  suction: 'suction',
  zeroing: 'zeroing',
  outsideRange: 'codes outside the range',
  disconnection: 'blanks',
  flatline: 'frozen values',
  flush: 'flushes of the line',
  draw: 'blood drawn from the line',
  openDrain: 'open drain',
  pulledProbe: 'pulled probe',
  bumpedProbe: 'pushed probe',
  uprightZero: 'zero taken upright',
  negative: 'lost zero, negative',
  damped: 'damped',
  clipped: 'clipped',
  drift: 'drift',
  plateauWave: 'plateau waves',
  rhythmicWaves: 'rhythmic waves',
  lastingRise: 'lasting rises',
  riseAfterCough: 'a rise that follows a cough and stays',
  ebbAfterCoughs: 'the ebb behind a fit of coughing',
  riseAfterDrain: 'a rise behind a closed drain',
  shortRuns: 'short runs on a raised baseline',
  highWithTrains: 'high ICP with cough trains on it',
  baseline: 'none: the baseline itself is high',
  all: 'all but blanks',
  allBrief: 'without those that last for hours',
};

export const titleOf = (kind: string): string => TITLES[kind] ?? kind;

/** Of kinds that a rule may not find: what is missing in the export that would tell. Common practice, no source. */
const WHY_NOT: Readonly<Record<string, string>> = {
  cough:
    'A cough that hardly rises over the scatter of ICP, or stands on a flank of a true rise, has no shape of its own.',
  strain:
    'A strain may last as long as a short true rise; what tells them apart is that it falls back at once.',
  coughTrain:
    'A train of small spikes that hardly falls back between them looks like a short true rise to 25 or 30 mmHg.',
  turn: 'A slow turn has the shape of a short true rise; without an entry in the care log nothing else tells them apart.',
  suction:
    'Two minutes of bursts on a plateau look like a true rise with scatter; an entry in the care log tells them apart.',
  zeroing:
    'Where the true pressure is only a few mmHg, a zeroing is hardly a step; in a channel that is wrong anyway there is no level to step from.',
  openDrain:
    'Without entries of opening and closing, a chamber at 10 mmHg reads like a good pressure; only the missing scatter could tell.',
  draw: 'Without systolic and diastolic pressure, a true fall of MAP and blood drawn from the line look alike.',
  pulledProbe:
    'From a low true pressure a pulled probe falls by little, and where it keeps its scatter only the step tells.',
  bumpedProbe:
    'A step up that stays is also what a true rise behind a cough does; a small one is lost in the wandering of ICP.',
  uprightZero:
    'A wrong zero shifts ICP by a few mmHg at a moment at which it is unknown anyway; only the levels before and after can be compared, and true pressure changes as well.',
  negative: 'Values that cross zero again and again are not under it for 5 min.',
  damped: 'At whole numbers a quiet patient has no more scatter than a damped channel.',
  clipped:
    'A pressure that touches the ceiling for seconds leaves no run of equal values, and whole numbers repeat anyway.',
  drift:
    'Without a second channel a drift is a slow true change: nothing in the export tells them apart, only a check of the probe does.',
  flatline: 'A quiet patient at whole numbers also shows one value for minutes.',
  flush: 'A flush that lifts MAP by little more than a true rise does, or drifts, has no plateau of its own.',
};

/** The same at 15 s: what so coarse a sampling does not show. Common practice, no source. */
const WHY_NOT_AT_15: Readonly<Record<string, string>> = {
  cough:
    'One sample of a cough has a height and no shape: a spot sample of a wave, or of noise, looks the same.',
  strain: 'Two or three samples have no shape: a strain looks like a true rise that was short.',
  coughTrain:
    'Spikes a few seconds apart are seen here and there, at random heights, and no longer as spikes.',
  suction:
    'Bursts a few seconds apart are seen at random heights; only an entry in the care log tells of them.',
  zeroing: 'That it begins and ends in a step within seconds cannot be seen.',
  flush: 'That MAP rises within seconds to a plateau cannot be seen in one to eight samples.',
  draw: 'That MAP falls within seconds cannot be seen in one to ten samples.',
  pulledProbe: 'Whether a fall took 5 s or most of a minute cannot be seen.',
  bumpedProbe: 'Whether a rise took 5 s or most of a minute cannot be seen.',
  damped: 'Samples 15 s apart do not follow pulse and respiration: their scatter says little of the channel.',
};

/** Why a kind is not found at a sampling. */
export const whyNot = (kind: string, samplingSeconds: number | null): string =>
  (samplingSeconds === 15 ? WHY_NOT_AT_15[kind] : undefined) ?? WHY_NOT[kind] ?? '';

/** What remains true of any kind at a coarse sampling. */
export const COARSE =
  'At 15 s and coarser most coughs fall between two samples, and of the others a single sample is left, which has no shape; at 60 s rules that need one stand aside and say so.';
