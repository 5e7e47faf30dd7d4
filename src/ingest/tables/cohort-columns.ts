import { saysPatient } from '../columns/channel-names.js';
import { type Choices, named } from './describe.js';
import { scaleNamed } from './outcome.js';
import { NO, YES } from './yes-or-no.js';

/** A column named for one of the two answers with yes and no. */
function scanChoices(headerName: string): { readonly normal: RegExp; readonly abnormal: RegExp } {
  const isAbnormal = /\babnormal/.test(headerName);
  if (!isAbnormal && !/\bnormal/.test(headerName))
    return { normal: /^normal$/, abnormal: /^(?:abnormal|pathological)$/ };
  const or = (words: string, answer: RegExp): RegExp => new RegExp(`${answer.source}|^(?:${words})$`);
  return { normal: or('normal', isAbnormal ? NO : YES), abnormal: or('abnormal', isAbnormal ? YES : NO) };
}

/** How many pupils react to light. Common practice, no source. */
const PUPILS = {
  '2': /^(?:2|both|two|both react(?:ive|ing)?|bilateral(?:ly)?(?: react(?:ive|ing))?)$/,
  '1': /^(?:1|one|one react(?:ive|ing)?|unilateral(?:ly)?(?: react(?:ive|ing))?|one (?:fixed|unreactive|non-?reactive))$/,
  '0': /^(?:0|none|neither|zero|no|none react(?:ive|ing)?|both (?:fixed|unreactive|non-?reactive)|bilateral(?:ly)? (?:fixed|unreactive))$/,
} as const satisfies Choices;

const afterInjury = { after: 'injury' } as const;

/** Names of the trade, several spellings. Common practice, no source. */
export const COHORT_COLUMNS = {
  id: {
    type: 'text',
    required: true,
    title: 'the patient',
    example: 'Patient',
    names: [saysPatient, named('id|study number|record( id)?|participant( id)?|patient ?nummer')],
  },
  age: {
    type: 'number',
    low: 0,
    high: 120,
    units: [
      [named('years?|yrs?|y|a|jahre|[åa]r'), 1],
      [named('months?|mo|mths?'), 1 / 12],
    ],
    // As tables write it that were made for sharing: 45 CFR 164.514(b)(2)(i)(C) has all ages over 89 as one group.
    openGroup: { words: /^(?:90 ?\+|(?:>=|≥) ?90|(?:>|over) ?89|90 (?:or|and) (?:over|older))$/i, value: 90 },
    title: 'the age',
    example: 'Age (years)',
    names: [named('age|age (years?|yrs?|y)|age at (injury|admission)|alter|alder')],
  },
  injury: {
    type: 'date',
    title: 'the injury',
    example: 'Injury',
    names: [
      named(
        'injury|injured( at)?|(time|date|date ?\\/? ?time) of injury|injury (time|date|at|date ?\\/? ?time)|trauma (time|date)|ictus',
      ),
    ],
  },
  admission: {
    type: 'date',
    ...afterInjury,
    title: 'the admission',
    example: 'Admission',
    names: [
      named(
        'admission|admitted( at)?|(time|date) of admission|admission (time|date|date ?\\/? ?time)|icu admission|aufnahme|innleggelse',
      ),
    ],
  },
  gcsTotal: {
    type: 'number',
    low: 3,
    high: 15,
    whole: true,
    fix: 'Write the total as a number from 3 to 15; in an intubated patient count the verbal part as 1.',
    title: 'the GCS total',
    example: 'GCS total',
    names: [
      named(
        'gcs|gcs (total|sum|score|post ?resus(citation)?|after resuscitation)|(total|resuscitation|post ?resuscitation) gcs|glasgow coma (scale|score|scale total)',
      ),
    ],
  },
  gcsMotor: {
    type: 'number',
    low: 1,
    high: 6,
    whole: true,
    title: 'the GCS motor part',
    example: 'GCS motor',
    names: [named('gcs ?-?(motor|m)( score)?|motor (gcs|score|response)|gcs motor (score|response)|motor')],
  },
  ct: {
    type: 'choice',
    choices: scanChoices,
    title: 'the CT',
    example: 'CT',
    names: [
      named(
        'ct|ct (result|finding|findings|scan|abnormal|normal|abnormality)|(abnormal|normal|admission|first|head) ct|ct head',
      ),
    ],
  },
  pupils: {
    type: 'choice',
    choices: PUPILS,
    title: 'the pupils',
    example: 'Pupils reacting',
    names: [
      named(
        'pupils?|pupils? (react(ing|ive)|reactivity|reaction|reactions)|(reactive|reacting) pupils|number of (reactive|reacting) pupils|pupil(lary)? (light )?(reactivity|response|reaction)',
      ),
    ],
  },
  posturing: {
    type: 'yesNo',
    title: 'motor posturing',
    example: 'Motor posturing',
    names: [
      named(
        'posturing|motor posturing|(unilateral or bilateral|decorticate or decerebrate|decerebrate or decorticate|extensor|abnormal) posturing',
      ),
    ],
  },
  sbp: {
    type: 'number',
    quantity: 'sbp',
    low: 0,
    high: 300,
    title: 'the systolic pressure',
    example: 'SBP (mmHg)',
    names: [
      named(
        'sbp|(admission|lowest|first|lowest admission) sbp|sbp (admission|on admission|at admission|lowest)|systolic|systolic (blood pressure|a?bp|pressure)',
      ),
    ],
  },
  monitoringFrom: {
    type: 'date',
    ...afterInjury,
    title: 'the beginning of monitoring',
    example: 'Monitoring from',
    names: [
      named(
        '(icp )?monitor(ing|ed)? (from|start|started|begin|began|since)|monitoring start (time|date)|start of (icp )?monitoring|icp (from|start)|monitoring',
      ),
    ],
  },
  monitoringTo: {
    type: 'date',
    after: 'monitoringFrom',
    title: 'the end of monitoring',
    example: 'Monitoring to',
    names: [
      named(
        '(icp )?monitor(ing|ed)? (to|until|end|ended|stop|stopped)|monitoring end (time|date)|end of (icp )?monitoring|icp (to|end)',
      ),
    ],
  },
  therapyIntensity: {
    type: 'number',
    low: 0,
    high: 100,
    title: 'the therapy intensity',
    example: 'Therapy intensity',
    names: [
      named(
        '((highest|maximum|max|mean|median|total|summed) )?(therapy intensity( (level|score|sum))?|til( (score|sum))?)',
      ),
    ],
  },
  craniectomy: {
    type: 'yesNoOrDate',
    ...afterInjury,
    title: 'the craniectomy',
    example: 'Craniectomy',
    names: [
      named(
        '(decompressive )?(hemi)?craniectomy( (time|date|at))?|(time|date) of (decompressive )?craniectomy|dc|decompression',
      ),
    ],
  },
  withdrawn: {
    type: 'yesNoOrDate',
    ...afterInjury,
    title: 'the withdrawal of treatment',
    example: 'Treatment withdrawn',
    names: [
      named(
        '(treatment|therapy|care|life support|life sustaining (treatment|therapy)) withdrawn( at)?|withdrawal( of (treatment|therapy|care|life support|life sustaining (treatment|therapy)))?|(treatment|care) withdrawal|wlst|withdrawn',
      ),
    ],
  },
  brainDeath: {
    type: 'yesNoOrDate',
    ...afterInjury,
    title: 'brain death',
    example: 'Brain death',
    names: [
      named(
        'brain ?death( (time|date|at))?|brain dead|(time|date) of brain death|death by neurologic(al)? criteria',
      ),
    ],
  },
  death: {
    type: 'yesNoOrDate',
    ...afterInjury,
    title: 'death',
    example: 'Death',
    names: [
      named(
        'death|died( at)?|dead|deceased|death (time|date|at)|(time|date) of death|in hospital death|hospital death',
      ),
    ],
  },
  outcome: {
    type: 'text',
    hasScale: true,
    title: 'the outcome',
    example: 'GOSE',
    names: [
      (name: string) =>
        /^outcome( score| scale)?$/.test(name) ||
        (scaleNamed(name) !== null && !/\b(date|time|assessed|assessment)\b/.test(name)),
    ],
  },
  assessed: {
    type: 'dateOrMonths',
    ...afterInjury,
    title: 'the assessment of the outcome',
    example: 'Outcome assessed',
    names: [
      named(
        '(outcome|gose?|follow ?-?up) (assessed|assessment|date|time|at|months|month|assessed at)|(outcome )?assessed( at)?( months)?|assessment( (date|time|months?))?|follow ?-?up( months)?|months (after|since|from) injury|months|(date|time) of (outcome|assessment|follow ?-?up)|outcome months after injury',
      ),
    ],
  },
} as const;
