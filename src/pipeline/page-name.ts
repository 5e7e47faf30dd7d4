import { createHash } from 'node:crypto';

/**
 * The file name of a patient's page: readable, safe on every file system, and different for different patients also
 * where upper and lower case are the same.
 */
export function pageName(id: string): string {
  if (/^[a-z0-9-]{1,40}$/.test(id)) return `patient-${id}.html`;
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
  return `patient-${readable}_${digest}.html`;
}
