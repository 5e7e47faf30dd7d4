import type { IngestSettings } from '../ingest/settings.js';
import type { Settings } from './settings.js';

/** What the pipeline file, or the command line, says of files that are inspected. */
export interface InspectSettings extends IngestSettings {
  /** False where nobody gave a time zone, so that UTC is only what is left. */
  readonly zoneIsGiven: boolean;
  /** What is said of the columns of logs. */
  readonly logs?: Settings['logs'] | undefined;
}
