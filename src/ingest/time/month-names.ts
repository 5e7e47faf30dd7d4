/** Languages whose month names exports are seen to use. Common practice, no source. */
const LANGUAGES = ['en', 'de', 'fr', 'es', 'it', 'nl', 'nb', 'sv', 'da', 'pt'];

const bare = (name: string): string => name.toLowerCase().replace(/\.$/, '');

/** Months by name, whole, short and by their first three letters, as ICU's locale data write them; a name that two languages use for two months is left out. */
function collect(): ReadonlyMap<string, number> {
  // The usual German short form of März, which ICU does not have. Common practice, no source.
  const months = new Map<string, number>([['mrz', 3]]);
  const doubtful = new Set<string>();
  for (const language of LANGUAGES) {
    for (const form of ['long', 'short'] as const) {
      const format = new Intl.DateTimeFormat(language, { month: form, timeZone: 'UTC' });
      for (let month = 1; month <= 12; month++) {
        const name = bare(format.format(Date.UTC(2031, month - 1, 15)));
        for (const spelling of [name, name.slice(0, 3)]) {
          const other = months.get(spelling);
          if (other !== undefined && other !== month) doubtful.add(spelling);
          months.set(spelling, month);
        }
      }
    }
  }
  for (const name of doubtful) months.delete(name);
  return months;
}

let months: ReadonlyMap<string, number> | null = null;

/** The month (1 to 12) that a name or its usual short form means; null where it is none. */
export function monthNamed(name: string): number | null {
  months ??= collect();
  return months.get(bare(name)) ?? null;
}
