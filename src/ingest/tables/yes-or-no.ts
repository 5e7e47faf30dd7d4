/** Yes and no in the languages whose month names exports use. Common practice, no source. */
export const YES = /^(?:yes|y|true|1|x|ja|j|oui|o|s[ií]|sim)$/i;
export const NO = /^(?:no|n|false|0|nein|nei|non|nej|nee|n[ãa]o)$/i;

/** True or false; null where the text is neither. */
export const yesOrNo = (text: string): boolean | null =>
  YES.test(text) ? true : NO.test(text) ? false : null;
