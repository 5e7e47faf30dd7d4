import type { FeatureAnalysis } from './feature-analysis.js';
import type { OutcomeGroups } from './outcome-groups.js';
import { rateOf } from './rate-of.js';
import { spreadOf } from './spread.js';
import { LEAST_EVENTS_PER_VARIABLE } from './step-odds.js';
import type { StudyPatient } from './study-patient.js';

/** A sentence that stands beside the figures, and what it is about. */
export interface GuardWord {
  readonly about: (typeof ORDER)[number];
  readonly sentence: string;
}

const ORDER = [
  'association',
  'treatment',
  'oneGroup',
  'withoutOutcome',
  'length',
  'totals',
  'deaths',
  'fewEvents',
  'separation',
  'incomplete',
  'questions',
] as const;

/** Monitored hours that differ by less are the same. */
const SAME_HOURS = 0.05;
const HOURS_KEY = 'icpMonitoredHours';
const THERAPY_KEY = 'therapyIntensity';

const many = (count: number, one: string, more = `${one}s`): string =>
  count === 1 ? `1 ${one}` : `${count} ${more}`;
const hours = (figure: unknown): string => `${(figure as number).toFixed(1)} h`;
const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;

const hoursOf = (patients: readonly StudyPatient[]): number[] =>
  patients.map(({ features }) => features[HOURS_KEY]).filter((figure) => typeof figure === 'number');

function withoutOutcome({ coded, withoutOutcome, onAnotherScale }: OutcomeGroups): string | null {
  const n = withoutOutcome.length;
  if (n === 0) return null;
  const died = withoutOutcome.filter(({ hasDied }) => hasDied === true).length;
  const scale = onAnotherScale === 0 ? '' : `; ${onAnotherScale} of them have one on another scale`;
  const deaths = died === 0 ? '' : `; ${died} of them died`;
  const lost =
    died === 0
      ? ''
      : ' To leave out who died makes outcomes look better: a death by the time that is asked about is the worst outcome, and counts once the table has it as one.';
  return `${n} of ${many(coded.length + n, 'patient')} have no known outcome and are in neither group${scale}${deaths}. Those who were not followed may differ from those who were.${lost}`;
}

function lengths({ coded }: OutcomeGroups): string | null {
  const side = (wanted: boolean): number[] =>
    hoursOf(coded.filter(({ isFavourable }) => isFavourable === wanted).map(({ patient }) => patient));
  const [favourable, unfavourable] = [side(true), side(false)];
  const all = [...favourable, ...unfavourable];
  if (all.length < 2) return null;
  const [least, most] = [Math.min(...all), Math.max(...all)];
  if (most - least < SAME_HOURS) return null;
  const parts = [
    { name: 'unfavourable', own: unfavourable },
    { name: 'favourable', own: favourable },
  ]
    .filter(({ own }) => own.length > 0)
    .map(({ name, own }) => `${hours(spreadOf(own).median)} where the outcome is ${name}`);
  return `ICP is known for ${hours(least)} to ${hours(most)} of a patient's time: a median of ${listed(parts)}. Hours, doses, counts and extremes grow with the time that is known, so read them beside the figures per monitored hour or day.`;
}

function totals(analyses: readonly FeatureAnalysis[], titleOf: (key: string) => string): string | null {
  const chosen = new Set(analyses.map(({ key }) => key));
  const alone = [...chosen].filter((key) => {
    const rate = rateOf(key);
    return rate !== null && !chosen.has(rate);
  });
  if (alone.length === 0) return null;
  return `Without the figure per monitored hour or day beside it: ${listed(alone.map(titleOf))}.`;
}

function deaths({ coded }: OutcomeGroups): string | null {
  const by = (kind: StudyPatient['windowEndsBy']): StudyPatient[] =>
    coded.filter(({ patient }) => patient.windowEndsBy === kind).map(({ patient }) => patient);
  const kinds = [
    { found: by('death'), words: 'by death' },
    { found: by('brainDeath'), words: 'by brain death' },
    { found: by('withdrawn'), words: 'by a withdrawal of treatment' },
  ].filter(({ found }) => found.length > 0);
  if (kinds.length === 0) return null;
  const cut = kinds.flatMap(({ found }) => found);
  const parts = listed(kinds.map(({ found, words }) => `${found.length} ${words}`));
  const known = hoursOf(cut);
  const length =
    known.length === 0 ? '' : ` Their ICP is known for a median of ${hours(spreadOf(known).median)}.`;
  return `The time of ${cut.length} of ${many(coded.length, 'patient')} is cut short within the window: ${parts}.${length} Burden had less time to add up in them, so a total can look small where the outcome is worst.`;
}

function fewEvents({ counts }: OutcomeGroups, analyses: readonly FeatureAnalysis[]): string | null {
  const smaller = Math.min(counts.favourable, counts.unfavourable);
  const ratios = analyses.flatMap(({ logistic, adjusted }) =>
    [logistic, adjusted.logistic].flatMap((odds) =>
      'reason' in odds || !odds.hasFewEvents ? [] : [odds.eventsPerVariable],
    ),
  );
  if (smaller === 0 || (smaller >= LEAST_EVENTS_PER_VARIABLE && ratios.length === 0)) return null;
  const least =
    ratios.length === 0
      ? ''
      : ` ${many(ratios.length, 'model')} here ${ratios.length === 1 ? 'has' : 'have'} fewer, ${Math.min(...ratios).toFixed(1)} at the least: such odds ratios tend to be too far from 1, and their intervals too short.`;
  return `Few events: the smaller group has ${many(smaller, 'patient')}, and a model carries one predictor for each ${LEAST_EVENTS_PER_VARIABLE} of them.${least}`;
}

function treatment(analyses: readonly FeatureAnalysis[]): string {
  const isAsked = analyses.some(({ key }) => key === THERAPY_KEY);
  const therapy = isAsked
    ? ' Therapy intensity is asked about here as if it were burden: it is treatment, and tells who was thought to need it.'
    : '';
  return `Treatment reacts to ICP: what is measured is burden after treatment, and those who were treated hardest are those who were most ill.${therapy}`;
}

function separation(analyses: readonly FeatureAnalysis[], titleOf: (key: string) => string): string | null {
  const parted = analyses.filter(({ logistic, adjusted }) =>
    [logistic, adjusted.logistic].some((odds) => !('reason' in odds) && odds.separation !== null),
  );
  if (parted.length === 0) return null;
  return `The predictors part the outcomes of all or some patients, so that odds ratios are by penalised likelihood (Firth's), in models of: ${listed(parted.map(({ key }) => titleOf(key)))}. That is what few patients look like as often as what a strong association looks like.`;
}

function incomplete(analyses: readonly FeatureAnalysis[]): string | null {
  const most = Math.max(0, ...analyses.map(({ adjusted }) => adjusted.incomplete));
  return most === 0
    ? null
    : `Adjusted figures are of patients of whom all that is adjusted by is known: up to ${most} with a value and an outcome are not among them.`;
}

function questions(analyses: readonly FeatureAnalysis[]): string | null {
  const asked = analyses.filter(({ tests }) => typeof tests.rankSum.p === 'number').length;
  return asked < 2
    ? null
    : `${asked} features are asked the same question. If none went with outcome, ${(asked * 0.05).toFixed(1)} of them would still have a p under 0.05 on average: read the p adjusted by Holm beside it.`;
}

/**
 * What has to be known before figures of burden and outcome are read; which sentences there are, and their numbers, hang on
 * the data.
 *
 * @param titles of features, by key; the key itself where there is none
 */
export function guardWords(
  groups: OutcomeGroups,
  analyses: readonly FeatureAnalysis[],
  titles: Readonly<Record<string, string>> = {},
): GuardWord[] {
  const titleOf = (key: string): string => titles[key] ?? key;
  const { favourable, unfavourable } = groups.counts;
  const all: Readonly<Record<GuardWord['about'], string | null>> = {
    association:
      'That burden goes with outcome does not say that it makes the outcome: association is not effect, and how severe the injury was can lead to both.',
    treatment: treatment(analyses),
    oneGroup:
      favourable > 0 && unfavourable > 0
        ? null
        : `${favourable + unfavourable === 0 ? 'No patient has a known outcome' : `All outcomes are ${favourable > 0 ? 'favourable' : 'unfavourable'}`}: nothing can be compared.`,
    withoutOutcome: withoutOutcome(groups),
    length: lengths(groups),
    totals: totals(analyses, titleOf),
    deaths: deaths(groups),
    fewEvents: fewEvents(groups, analyses),
    separation: separation(analyses, titleOf),
    incomplete: incomplete(analyses),
    questions: questions(analyses),
  };
  return ORDER.flatMap((about) => {
    const sentence = all[about];
    return sentence === null ? [] : [{ about, sentence }];
  });
}
