import type { SharingAccount } from './sharing-account.js';

/** One of the 18 kinds of identifiers: what the program did about it, and what is left to a person. */
export interface IdentifierKind {
  /** Its letter in 45 CFR 164.514(b)(2)(i). */
  readonly letter: string;
  readonly name: string;
  readonly done: string;
  readonly left: string;
}

const NOT_COPIED = 'Not copied: free text and columns that are no channel stay behind.';
const NOTHING_KNOWN = 'Nothing that the program knows of.';

/** How dates were treated. */
const dates = ({ times, mostDays }: SharingAccount): Pick<IdentifierKind, 'done' | 'left'> =>
  times === 'elapsed'
    ? {
        done: 'Dates are removed: all times count from the whole minute in which monitoring of the patient began. Ages over 89 are one group, written as 90.',
        left: 'Say whether the years of the cohort, told elsewhere, make somebody known. Long stays and late follow-up may stand out.',
      }
    : {
        done: `Not Safe Harbor: each patient's dates are moved by a random number of whole days, up to ${mostDays} to either side, and the time of day stays. Ages over 89 are one group, written as 90.`,
        left: 'Dates, even moved ones, are outside Safe Harbor: an expert has to determine that the risk is very small (45 CFR 164.514(b)(1)), or a data use agreement has to cover them.',
      };

/**
 * The identifiers that Safe Harbor asks to be removed, in the order of the rule. Source of the list: 45 CFR
 * 164.514(b)(2)(i)(A) to (R), shortened; values from memory. A privacy officer reads the rule itself.
 */
export function identifierKinds(account: SharingAccount): readonly IdentifierKind[] {
  const kind = (
    letter: string,
    name: string,
    done: string = NOT_COPIED,
    left: string = NOTHING_KNOWN,
  ): IdentifierKind => ({ letter, name, done, left });
  const ofDates = dates(account);
  return [
    kind(
      'A',
      'Names',
      `${NOT_COPIED} So do lines above and below the data and names of staff in logs; file names are codes.`,
      'Look at the channels and tables once: a name in a column of numbers cannot be read, and is counted as set aside.',
    ),
    kind(
      'B',
      'Geographic subdivisions smaller than a State',
      'Beds, wards, units, the title of the pipeline file and the time zone stay behind; times are written in no zone of a place.',
      'Whom you give the set to may know which unit it is from. Say no more in letters and file shares than is needed.',
    ),
    kind('C', 'Dates but for the year, and ages over 89', ofDates.done, ofDates.left),
    kind('D', 'Telephone numbers'),
    kind('E', 'Fax numbers'),
    kind('F', 'Electronic mail addresses'),
    kind('G', 'Social security numbers'),
    kind(
      'H',
      'Medical record numbers',
      'Ids of patients, also inside file names, are replaced by codes.',
      NOTHING_KNOWN,
    ),
    kind('I', 'Health plan beneficiary numbers'),
    kind('J', 'Account numbers', `${NOT_COPIED} Numbers of stays and admissions are such columns.`),
    kind('K', 'Certificate and license numbers'),
    kind('L', 'Vehicle identifiers, with license plates'),
    kind(
      'M',
      'Device identifiers and serial numbers',
      'Headers are written anew in plain names of channels and units; lines above the header, where devices write theirs, stay behind.',
      'How a device samples and rounds may tell its make, and no single device.',
    ),
    kind('N', 'Web addresses (URLs)'),
    kind('O', 'Internet (IP) addresses'),
    kind(
      'P',
      'Biometric identifiers, with finger and voice prints',
      account.patients.waveforms > 0
        ? 'Waveforms are shared as means over whole seconds, in which no pulse can be seen.'
        : 'None are read. Curves of pressures are shared as they were measured.',
      'Somebody who holds the same curves, as from the monitor, can find a patient by them. No removal of names changes that.',
    ),
    kind('Q', 'Full-face photographs and the like', 'No picture is read or written.'),
    kind(
      'R',
      'Any other unique number, characteristic or code',
      'Codes are random (from the random numbers of the system, not from anything about the patient), and the table that resolves them lies apart.',
      'Rare events, rare outcomes and very long stays are characteristics too: look for patients who stand alone in the tables. The key table must not travel with the set (45 CFR 164.514(c)).',
    ),
  ];
}

/** What stands first and last wherever a shared set is described. */
export const SHARING_CAUTIONS: readonly string[] = [
  'A privacy officer decides whether this set may be passed on. The list says what a program did; it is no legal opinion.',
  'Safe Harbor also asks that nobody who passes the set on knows how somebody in it could be identified (45 CFR 164.514(b)(2)(ii)).',
  'Patterns of numbers and rare events may still identify a patient to somebody who knows about them.',
  'Elsewhere other law holds, and data under codes may count as personal data for as long as the key exists.',
];
