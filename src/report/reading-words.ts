/** What stands between cells. */
export const DELIMITER_WORDS: Readonly<Record<string, string>> = {
  ',': 'commas',
  ';': 'semicolons',
  '\t': 'tabs',
  '|': 'upright bars',
};

/** Encodings as a person says them. */
export const ENCODING_WORDS: Readonly<Record<string, string>> = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16',
  'utf-16be': 'UTF-16',
  'windows-1252': 'Windows-1252 (it is not UTF-8)',
};

/** How a file was read, in a few words: `UTF-8, semicolons, decimal comma; calendar times, year first`. */
export function readingWords({
  encoding,
  delimiter,
  decimal,
  times,
}: {
  readonly encoding: string;
  readonly delimiter: string;
  readonly decimal: string | null;
  readonly times: string;
}): string {
  const mark = decimal === null ? '' : `, decimal ${decimal === ',' ? 'comma' : 'point'}`;
  return `${ENCODING_WORDS[encoding] ?? encoding}, ${DELIMITER_WORDS[delimiter]}${mark}; ${times}`;
}
