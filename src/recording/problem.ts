/** The place in a file that a message is about. */
export interface Where {
  readonly file?: string | undefined;
  readonly line?: number | undefined;
  readonly column?: string | undefined;
}

/** `a.csv, line 12, column "ICP"`, as far as known. */
export function placeText({ file, line, column }: Where): string {
  return [file, line && `line ${line}`, column !== undefined && `column "${shorten(column)}"`]
    .filter(Boolean)
    .join(', ');
}

/** Text from a file, fit to stand in a one-line message. */
export function shorten(text: string, longest = 40): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what has to go
  const line = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ').trim();
  if (line.length <= longest) return line;
  // A character of two halves is not cut in two.
  return `${line.slice(0, longest).replace(/[\ud800-\udbff]$/, '')}...`;
}

/**
 * Something that the person at the keyboard can mend. The message is one line: where, what, what to do.
 */
export class Problem extends Error {
  override readonly name = 'Problem';

  constructor(
    readonly what: string,
    readonly fix: string,
    readonly where: Where = {},
  ) {
    const place = placeText(where);
    super(`${place ? `${place}: ` : ''}${what}. ${fix}`);
  }

  /** The same problem at a more exact place. */
  at(where: Where): Problem {
    return new Problem(this.what, this.fix, { ...this.where, ...where });
  }
}
