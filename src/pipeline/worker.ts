import { renderSvg } from '../report/charts/render.js';
import { type GroupTask, type PatientPart, reportGroup } from './report-group.js';

/** What a worker thread does with a task. */
export default (task: GroupTask): Promise<PatientPart[]> => reportGroup(task, renderSvg);
