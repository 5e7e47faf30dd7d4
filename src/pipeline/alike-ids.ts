/** Another id that may mean the same patient. */
export interface AlikeId {
  readonly id: string;
  /** `zeros`: the same number; `looks`: the same to the eye; `spelling`: but for capitals, spaces and hyphens. */
  readonly by: 'zeros' | 'looks' | 'spelling';
}

const bare = (text: string): string => text.replace(/^0+(?=\d)/, '');
const composed = (text: string): string => text.normalize('NFC');
const plain = (text: string): string =>
  text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s_\p{Pd}]+/gu, ' ')
    .trim();

/**
 * The one of other ids that is written almost like this one. Ids are text and are matched as they stand; a spreadsheet drops
 * zeros in front, a file system takes letters and accents apart, and people type capitals as they come.
 */
export function alikeId(id: string, others: readonly string[]): AlikeId | undefined {
  const find = (by: AlikeId['by'], form: (text: string) => string): AlikeId[] => {
    const other = others.find((one) => one !== id && form(one) === form(id));
    return other === undefined ? [] : [{ id: other, by }];
  };
  return [
    ...(/^\d+$/.test(id) ? find('zeros', bare) : []),
    ...find('looks', composed),
    ...find('spelling', plain),
  ][0];
}

/** The one whose id is the same number: ids are text, and a spreadsheet drops zeros in front. */
export const withZeros = (id: string, others: readonly string[]): string | undefined => {
  const other = alikeId(id, others);
  return other?.by === 'zeros' ? other.id : undefined;
};
