import { createHash } from 'node:crypto';

/**
 * What the file names of a patient's pages begin with: readable, safe on every file system, and different for
 * different patients also where upper and lower case are the same.
 */
const stemOf = (id: string): string => {
  if (/^[a-z0-9-]{1,40}$/.test(id)) return `patient-${id}`;
  const readable = id
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 40)
    .replace(/^-|-$/g, '');
  // As UTF-8, all halves of characters would be the same.
  const digest = createHash('sha256')
    .update(/\p{Cs}/u.test(id) ? Buffer.from(id, 'utf16le') : id)
    .digest('hex')
    .slice(0, 10);
  return `patient-${readable}_${digest}`;
};

/** The file names of a patient's pages. */
export const pageNames = (id: string): { readonly morning: string; readonly detail: string } => ({
  morning: `${stemOf(id)}.html`,
  // No stem of another patient ends so.
  detail: `${stemOf(id)}_detail.html`,
});
