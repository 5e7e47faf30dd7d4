import type { PatientLogs } from '../../src/pipeline/read-logs.js';

/** What a task has of logs where none was given. */
export const NO_LOGS: PatientLogs = {
  care: null,
  alarms: null,
  decisions: new Map(),
  targets: new Map(),
  deaths: new Map(),
  studied: new Map(),
  alarmsCover: null,
  careCover: null,
  hasAcknowledgements: false,
  alarmedChannels: [],
};
