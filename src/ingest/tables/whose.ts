import { saysBed, saysPatient } from '../columns/channel-names.js';
import { CellFault } from './cell-fault.js';
import { named } from './describe.js';

/** The columns that say whose a row of a log is. Common practice, no source. */
export const WHOSE = {
  patient: {
    type: 'text',
    title: 'the patient',
    example: 'Patient',
    names: [
      saysPatient,
      named('id|patient ?nummer|patienten ?(nr|nummer|id)|patientnr|pasient|numero paziente'),
    ],
  },
  bed: {
    type: 'text',
    title: 'the bed',
    example: 'Bed',
    names: [saysBed, named('bett|bett ?(nr|nummer)|bettplatz|seng|lit|cama|letto|bed ?space')],
  },
  ward: {
    type: 'text',
    title: 'the ward',
    example: 'Ward',
    names: [named('ward|department|dept|care ?unit|care area|icu|station')],
  },
} as const;

/** A row of a log that names its patient, its bed, or both. */
export interface Whose {
  readonly patient: string | null;
  readonly bed: string | null;
  readonly ward: string | null;
}

/** Why a row that names nobody cannot be used; null where it names somebody. */
export const nobodysRow = ({ patient, bed }: Whose): CellFault | null =>
  patient === null && bed === null
    ? new CellFault('neither patient nor bed is given', 'A row without both cannot be used: fill one in.')
    : null;
