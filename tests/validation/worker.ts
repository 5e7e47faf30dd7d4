import { type Look, look, type Sight } from './look.js';
import { measurePatient } from './measure/measure-patient.js';
import type { Rows } from './measure/rows.js';

/** What a worker thread does: all rows of a patient, or what went wrong with one kind. */
export type Task = { readonly seed: number } | Look;

export default (task: Task): Rows | Sight[] => ('kind' in task ? look(task) : measurePatient(task.seed));
