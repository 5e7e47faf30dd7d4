import { NONE } from '../words.js';

/** Puts figures in brackets that must not look like others, where `isDoubtful`; what is none stays so. */
export const bracketed =
  (isDoubtful: boolean): ((text: string) => string) =>
  (text) =>
    isDoubtful && text !== NONE && text !== '' ? `(${text})` : text;
