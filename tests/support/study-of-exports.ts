import { findExports } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import { loadPipeline, type PipelineOptions } from '../../src/pipeline/load-pipeline.js';
import { logsOfGroup, readLogs } from '../../src/pipeline/read-logs.js';
import { patientSettings, reportGroup } from '../../src/pipeline/report-group.js';
import { type StudyCohort, type StudyMember, studyCohort } from '../../src/summarize/study/study-cohort.js';

const drawsNothing = (): never => {
  throw new Error('a study draws nothing of a patient');
};

/** The cohort of a pipeline file as a run makes it, from the files on the disk, without any report; ids as they are. */
export async function studyOfExports(
  pipelineFile: string,
  options: PipelineOptions = {},
): Promise<StudyCohort> {
  const pipeline = await loadPipeline(pipelineFile, options);
  const { settings } = pipeline;
  if (settings.study === null) throw new Error(`${pipelineFile} asks for no study`);
  const logs = await readLogs(pipeline);
  const files = await findExports(settings.exports, pipeline.baseOf('exports'));
  const { groups } = groupByPatient(files, settings.ingest);
  const members: StudyMember[] = [];
  for (const group of groups) {
    const task = {
      group,
      settings: patientSettings(settings),
      logs: logsOfGroup(logs, group.id, settings.report),
      logResults: [],
      period: null,
      hasPages: false,
    };
    for (const { id, problem, study } of await reportGroup(task, drawsNothing)) {
      members.push({
        id,
        row: logs.cohort.get(id) ?? null,
        exports: problem === null ? 'read' : 'failed',
        study,
      });
    }
  }
  const known = new Set(members.map(({ id }) => id));
  for (const row of logs.cohort.values()) {
    if (!known.has(row.id)) members.push({ id: row.id, row, exports: 'none', study: null });
  }
  return studyCohort({
    members: members.sort((a, b) => (a.id < b.id ? -1 : 1)),
    settings: settings.study,
    icpEpisodes: settings.summarize.icpEpisodes,
    rowsSetAside: logs.accounts.reduce((sum, { setAside }) => sum + setAside.length, 0),
  });
}
