import type { ChannelKind } from '../../recording/channel.js';

/** True where a header's name, in lower case without its unit, means the column. */
export type NameTest = (name: string) => boolean;

/** Tests for one of the spellings that a regular expression lists. */
export function named(spellings: string): NameTest {
  const pattern = new RegExp(`^(?:${spellings})$`);
  return (name) => pattern.test(name);
}

/** By meaning, the texts in lower case that a cell may hold. */
export type Choices = Readonly<Record<string, RegExp>>;

interface Common {
  /** As in "there is no column for the onset". */
  readonly title: string;
  /** An example of a header, for messages. */
  readonly example: string;
  /** Names of the trade; a later test counts only where no header passes an earlier one. */
  readonly names: readonly NameTest[];
  /** A row in which it is blank is set aside. */
  readonly required?: true;
}

interface When {
  /** Headers of a column that holds the date where it stands apart. */
  readonly dateNames?: NameTest;
  /** The key of a time before which this one cannot lie. */
  readonly after?: string;
}

/** What a column of a table holds, and how it is known. */
export type ColumnSpec = Common &
  (
    | { readonly type: 'yesNo' }
    | {
        readonly type: 'text';
        /** It holds numbers with a unit, which the pipeline file may give. */
        readonly hasUnit?: true;
        /** It holds outcomes on a scale, which the pipeline file may name. */
        readonly hasScale?: true;
      }
    | {
        readonly type: 'number';
        readonly low: number;
        readonly high: number;
        readonly whole?: true;
        /** Its unit has to be given, and the value comes in the unit of this channel. */
        readonly quantity?: ChannelKind;
        /** Factors by the unit's names; without a unit in header or pipeline file the first counts. */
        readonly units?: readonly (readonly [names: NameTest, factor: number])[];
        /** Words for a group without an upper end, and what is read of them. */
        readonly openGroup?: { readonly words: RegExp; readonly value: number };
        /** What to do about a cell that is no number. */
        readonly fix?: string;
      }
    | { readonly type: 'choice'; readonly choices: Choices | ((headerName: string) => Choices) }
    | ({ readonly type: 'time' | 'date' | 'yesNoOrDate' | 'dateOrMonths' } & When)
  );

/** The columns of a table by key. */
export type Description = Readonly<Record<string, ColumnSpec>>;

/** A time, or a day where only the date is given. */
export interface Moment {
  /** The instant, or the start of the local day, milliseconds since 1970-01-01 UTC. */
  readonly utcMs: number;
  /** The end of the local day; the instant itself where the time of day is given. */
  readonly endUtcMs: number;
  readonly isDay: boolean;
}

/** Something that happened or did not, and when as far as that is given. */
export interface Happened {
  readonly happened: boolean;
  readonly at: Moment | null;
}

/** A time, or months counted from another. */
export type MomentOrMonths = Moment | { readonly months: number };

type ChoicesOf<C> = C extends (name: string) => infer R ? keyof R : keyof C;

type Value<S> = S extends { type: 'text' }
  ? string
  : S extends { type: 'yesNo' }
    ? boolean
    : S extends { type: 'number' | 'time' }
      ? number
      : S extends { type: 'choice'; choices: infer C }
        ? ChoicesOf<C>
        : S extends { type: 'date' }
          ? Moment
          : S extends { type: 'yesNoOrDate' }
            ? Happened
            : S extends { type: 'dateOrMonths' }
              ? MomentOrMonths
              : never;

/** Where a row stands. */
export interface RowPlace {
  readonly file: string;
  readonly line: number;
}

/** A row as its cells read; null where a cell is blank or the column is not there. Times are milliseconds UTC. */
export type RowOf<D extends Description> = RowPlace & {
  readonly [K in keyof D]: D[K] extends { required: true } ? Value<D[K]> : Value<D[K]> | null;
};

/** True where `a` is certainly earlier than `b`. */
export const isBefore = (a: Moment, b: Moment): boolean =>
  a.isDay ? a.endUtcMs <= b.utcMs : a.utcMs < b.utcMs;
