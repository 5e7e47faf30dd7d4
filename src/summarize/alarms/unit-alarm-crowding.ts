import type { UnitAuditInput } from './audit-settings.js';
import { type Flood, floods } from './crowding.js';

/** Alarms of ICP and CPP that came in crowds. */
export interface UnitCrowding {
  /** Over all patients. */
  readonly unitFloods: readonly Flood[];
  /** At one bed, in the order of patients. */
  readonly patientFloods: readonly (Flood & { readonly patient: string })[];
}

/** Floods of the unit as a whole and of each patient; alarms of both channels count, and no others. */
export function unitCrowding({ patients }: UnitAuditInput): UnitCrowding {
  const onsets = patients.flatMap(({ alarms }) => alarms.map(({ onset }) => onset)).sort((a, b) => a - b);
  return {
    unitFloods: floods(onsets),
    patientFloods: patients.flatMap(({ id, alarms }) =>
      floods(alarms.map(({ onset }) => onset)).map((flood) => ({ ...flood, patient: id })),
    ),
  };
}
