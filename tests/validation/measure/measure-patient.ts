import { SAMPLINGS } from '../../../fixtures/labelled/evaluation-set.js';
import { labelledPatient } from '../../../fixtures/labelled/labelled-patient.js';
import { measureSampling, rowsOf } from './measure-sampling.js';
import { joinRows, type Rows } from './rows.js';
import { truthOf } from './truth-of.js';

/** Makes one labelled patient and measures the cleaning of each of its renderings. Pure. */
export function measurePatient(seed: number): Rows {
  const patient = labelledPatient(seed);
  const truth = truthOf(patient);
  return joinRows(
    SAMPLINGS.map((sampling) => rowsOf(measureSampling(patient, truth, sampling), patient, truth)),
  );
}
