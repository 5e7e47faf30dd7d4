import { type ColumnChoices, type IngestSettings, timeChoice } from '../ingest/settings.js';
import type { Pipeline } from '../pipeline/load-pipeline.js';
import type { Settings } from '../pipeline/settings.js';
import { CHANNEL_NAMES, EXPORTED_KINDS } from '../recording/channel.js';
import { ZoneClock } from '../recording/zone.js';
import { listed, span } from '../report/words.js';
import { lines } from './told.js';

const PERIODS = { lastNight: 'the last night', all: 'all of the data' } as const;

function periodText({ period, ingest }: Settings): string {
  if (typeof period === 'string') return PERIODS[period];
  const clock = new ZoneClock(ingest.zone);
  return span(clock.format(period.start), clock.format(period.end));
}

/** How MAP is taken to ear level for CPP. */
function levellingText({ levelling }: Settings['summarize']): string {
  if (levelling === undefined) return 'CPP is as the lines were zeroed; levelling is not given.';
  const { zeroedAt, verticalCm, heartToEarCm, headOfBedDegrees, headOfBed } = levelling;
  if (zeroedAt === 'ear') return 'Levelling: the line was zeroed at the ear, so CPP needs no correction.';
  const zeroed = 'Levelling: the line was zeroed at the heart, and';
  if (verticalCm !== undefined) {
    return `${zeroed} the ear lies ${Math.abs(verticalCm)} cm ${verticalCm < 0 ? 'below' : 'above'} it.`;
  }
  const given = headOfBedDegrees === undefined ? null : `${headOfBedDegrees} degrees`;
  const angle =
    headOfBed === undefined
      ? given
      : `the angle of the care log, before its first entry ${given ?? 'not known'}`;
  return `${zeroed} it is ${heartToEarCm} cm to the ear, head of the bed at ${angle}.`;
}

/** `MAP by -60 s for patient "305" and 5 s for patient "7"`, a channel each. */
function shiftTexts(columns: ColumnChoices): string[] {
  return EXPORTED_KINDS.flatMap((kind) => {
    const shift = columns[kind]?.shiftSeconds;
    if (shift === undefined) return [];
    const each =
      typeof shift === 'number'
        ? [`${shift} s for every patient`]
        : Object.entries(shift).map(([id, by]) => `${by} s for patient "${id}"`);
    return each.length === 0 ? [] : [`${CHANNEL_NAMES[kind]} by ${listed(each)}`];
  });
}

/** What was said of times, where anything was. */
function timesText({ zone, columns }: IngestSettings): string {
  const { order } = timeChoice(columns);
  return order === undefined ? zone : `${zone}, ${order === 'dayFirst' ? 'day' : 'month'} first`;
}

/** What a study asks, settled before anybody looks at outcomes. */
function studyTexts({ study }: Settings): string[] {
  if (study === null) return [];
  const { outcome, chosen, adjusters, levels } = study;
  const { scale, favourableFrom, months, withinMonths } = outcome;
  const asked = [
    scale ?? 'on the scale of most of the table',
    ...(favourableFrom === null ? [] : [`favourable from ${favourableFrom}`]),
    ...(months === null ? [] : [`assessed ${months} months after the injury, give or take ${withinMonths}`]),
  ];
  const features = chosen.map(({ key, step }) => `${key} per ${step}`);
  const by = adjusters === null ? 'age, GCS and pupils' : listed(adjusters);
  return [
    `Study: burden in the first ${study.primaryHours} h of monitoring, ICP known for ${study.leastHours} h of them. Outcome: ${asked.join(', ')}.`,
    `Features that are asked about (${study.areChosenUsual ? 'the usual ones' : 'as the file names them, and no others'}): ${features.join(', ')}.`,
    `Odds ratios are adjusted by ${by === '' ? 'nothing' : by}. Counted as well: ICP above ${levels.icpAboveMmHg.join(', ')} and CPP below ${levels.cppBelowMmHg.join(', ')} mmHg.`,
    `Patients stand in tables under ${study.hasPseudonyms ? 'pseudonyms' : 'their own numbers'}.`,
  ];
}

/** What `check` prints when the file is right. */
export function checkedText({ settings }: Pipeline): string {
  const { name, report, exports, ingest, logs, summarize, clean } = settings;
  const { targets, icpEpisodes, cppEpisodes } = summarize;
  const named = Object.entries(logs).map(([kind, { files }]) => `${kind}: ${files.join(', ')}`);
  const rules = Object.keys(clean);
  const shifts = shiftTexts(ingest.columns);
  const low = `CPP below ${cppEpisodes.threshold} mmHg for ${cppEpisodes.minSeconds} s is an episode of low CPP`;
  return lines([
    `The pipeline file is right.`,
    `Report: ${report}, into reports/${name}. Exports: ${exports.join(', ')}. Times: ${timesText(ingest)}.`,
    ...(settings.study === null ? [`Period: ${periodText(settings)}.`] : studyTexts(settings)),
    ...(named.length > 0 ? [`Beside them ${named.join('; ')}.`] : []),
    `ICP above ${targets.icpThresholdMmHg} mmHg for ${icpEpisodes.minSeconds} s is an episode; CPP floor ${targets.cppFloorMmHg} mmHg.`,
    logs.targets === undefined
      ? `${low}.`
      : `${low}, where the table of targets gives no other target: ${logs.targets.files.join(', ')}.`,
    levellingText(summarize),
    ...(shifts.length > 0 ? [`Times are moved: ${shifts.join('; ')}.`] : []),
    `Cleaning rules: ${rules.length === 0 ? 'none' : rules.join(', ')}.`,
    '',
  ]);
}
