/** A feature's title inside a sentence: `mean ICP`; names in capitals stay as they are. */
export const inSentence = (title: string): string =>
  /^[A-Z][a-z]*(?: |-|$)/.test(title) ? title[0].toLowerCase() + title.slice(1) : title;
