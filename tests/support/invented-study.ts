import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { clean } from '../../src/clean/clean.js';
import type { CohortRow } from '../../src/ingest/tables/cohort.js';
import type { Moment } from '../../src/ingest/tables/describe.js';
import { settingsOf } from '../../src/pipeline/settings.js';
import { type StudyFileSettings, studyOf } from '../../src/pipeline/study-schema.js';
import type { Recording } from '../../src/recording/recording.js';
import { type StudyCohort, type StudyMember, studyCohort } from '../../src/summarize/study/study-cohort.js';
import { studyRecording } from '../../src/summarize/study/study-recording.js';
import { wandering } from './noise.js';
import { recordingOf } from './recordings.js';
import { everySeconds } from './signals.js';

const HOUR = 3_600_000;
const START = Date.UTC(2031, 1, 10, 8);
/** GOSE 8 to 1 of a latent outcome. */
const CUTS = [-2.4, -1.5, -0.7, 0, 0.7, 1.2, 1.6];

/** An instant as a table gives it. */
export const moment = (utcMs: number): Moment => ({ utcMs, endUtcMs: utcMs, isDay: false });

/** A row of which nothing is known that is not given. */
export const cohortRow = (given: Partial<CohortRow> & { readonly id: string }): CohortRow => ({
  file: 'cohort.csv',
  line: 2,
  ageYears: null,
  injury: null,
  admission: null,
  gcsTotal: null,
  gcsMotor: null,
  ct: null,
  pupilsReacting: null,
  posturing: null,
  sbpMmHg: null,
  monitoringFrom: null,
  monitoringTo: null,
  therapyIntensity: null,
  craniectomy: null,
  withdrawn: null,
  brainDeath: null,
  death: null,
  outcome: null,
  assessed: null,
  ...given,
});

/** ICP that wanders around a level and rises in episodes, and MAP beside it, a value a minute. */
function pressures(seed: number, hours: number, levelMmHg: number, hasMap: boolean): Recording {
  const [drift, noise] = [wandering(seed, 0.995), wandering(seed + 1, 0.7)];
  const n = Math.round(hours * 60);
  const icp = Array.from({ length: n }, () => Math.max(2, levelMmHg + 4 * drift() + noise()));
  const map = icp.map((value) => 84 + 0.2 * value + 3 * noise());
  return recordingOf({
    icp: everySeconds(60, icp, START),
    ...(hasMap ? { map: everySeconds(60, map, START) } : {}),
  });
}

/** What an invented cohort is made with. */
export interface InventedStudy {
  readonly patients?: number;
  readonly seed?: number;
  /** Log odds of a worse outcome that 5 mmHg of mean level add; 0 for no relation. */
  readonly logOdds?: number;
  /** As under `study` in a pipeline file. */
  readonly study?: StudyFileSettings;
  /** Changed rows and exports, by place. */
  readonly change?: (member: StudyMember, place: number) => StudyMember;
}

/**
 * An invented cohort as the pipeline would make it, from signals to the patients of a study: some without exports, ICP, MAP,
 * or outcome, some of whom treatment was withdrawn or who died early.
 */
export function inventedStudy({
  patients = 60,
  seed = 1,
  logOdds = 1,
  study = {},
  change = (member) => member,
}: InventedStudy = {}): StudyCohort {
  const settings = settingsOf(
    { exports: 'exports', cohort: 'cohort.csv', report: 'study', study: { resamples: 200, ...study } },
    'study',
  );
  const random = xoroshiro128plus(seed);
  const uniform = (): number => uniformFloat64(random);
  const members = Array.from({ length: patients }, (_, i): StudyMember => {
    const id = String(i + 1).padStart(3, '0');
    const levelMmHg = 11 + 12 * uniform();
    const ageYears = Math.round(18 + 62 * uniform());
    const gcsMotor = 1 + Math.floor(6 * uniform());
    const pupilsReacting = Math.floor(3 * uniform()) as 0 | 1 | 2;
    const chance = uniform();
    const latent =
      (logOdds * (levelMmHg - 17)) / 5 +
      0.02 * (ageYears - 49) -
      0.2 * (gcsMotor - 3.5) +
      Math.log(chance / (1 - chance));
    const gose = 8 - CUTS.filter((cut) => latent > cut).length;
    const hours = i % 11 === 5 ? 6 : 60 + Math.round(60 * uniform());
    const happened = (when: boolean, afterHours: number) =>
      when ? { happened: true, at: moment(START + afterHours * HOUR) } : { happened: false, at: null };
    const row = cohortRow({
      id,
      line: i + 2,
      ageYears,
      gcsMotor: i % 13 === 4 ? null : gcsMotor,
      gcsTotal: gcsMotor + 2 + Math.floor(2 * uniform()),
      ct: i % 7 === 3 ? 'normal' : 'abnormal',
      pupilsReacting: i % 17 === 6 ? null : pupilsReacting,
      posturing: i % 5 === 0 ? null : gcsMotor < 4,
      sbpMmHg: i % 3 === 0 ? null : 85 + Math.round(70 * uniform()),
      injury: i % 10 === 9 ? null : moment(START - 5 * HOUR),
      therapyIntensity: i % 4 === 0 ? null : Math.round(20 * uniform()),
      craniectomy: happened(i % 9 === 2, 30),
      withdrawn: i % 19 === 7 ? null : happened(gose === 1 && i % 2 === 0, 50),
      death: happened(gose === 1, 55),
      outcome: i % 15 === 8 ? null : { scale: 'gose', value: gose },
      assessed: i % 6 === 1 ? null : { months: i % 20 === 3 ? 3 : 6 },
    });
    const read = { ...pressures(seed * 1000 + i * 2, hours, levelMmHg, i % 12 !== 1), id };
    const withoutIcp = i % 23 === 10;
    return change(
      i % 21 === 9
        ? { id, row, exports: 'none', study: null }
        : {
            id,
            row: i % 29 === 14 ? null : row,
            exports: 'read',
            study: withoutIcp
              ? null
              : studyRecording(
                  read,
                  clean(read, settings.clean, []),
                  i % 29 === 14 ? null : row,
                  settings.summarize,
                  { ...studyOf(study, settings.summarize), hasOptimal: false },
                ),
          },
      i,
    );
  });
  return studyCohort({
    members,
    settings: settings.study ?? studyOf(study, settings.summarize),
    icpEpisodes: settings.summarize.icpEpisodes,
    rowsSetAside: 1,
  });
}
