import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { expectAccount, ICP_HEADER, icpRows, ingestOne, START, samplesOf, whyFailed } from './support.js';

const damaged = 'a.csv: the gzip data are damaged or cut off. Export the file again or copy it again.';
const text = ICP_HEADER + icpRows(50_000);
const packed = gzipSync(text);

describe('a gzip file', () => {
  test('is told by its first bytes, whatever its ending, and read as the plain one', async () => {
    const outcome = await ingestOne(packed);
    expectAccount(outcome, { read: 50_000, used: 50_000 });
    expect(samplesOf(outcome, 'icp')).toEqual(samplesOf(await ingestOne(text), 'icp'));
  });

  test.each([0.999, 0.5, 0.01])('is refused where only %d of it is there', async (share) => {
    expect(await whyFailed(packed.subarray(0, Math.floor(packed.length * share)))).toBe(damaged);
  });

  test('is refused where it is cut in its first bytes', async () => {
    expect(await whyFailed(packed.subarray(0, 5))).toBe(damaged);
  });

  test('is refused where a byte was changed', async () => {
    const changed = Buffer.from(packed);
    changed[changed.length - 6] ^= 0xff;
    expect(await whyFailed(changed)).toBe(damaged);
  });

  test('is refused where other data stand behind it', async () => {
    expect(await whyFailed(Buffer.concat([packed, Buffer.from(icpRows(3, START + 1e9))]))).toBe(damaged);
  });

  test('is read whole where it was packed in parts', async () => {
    const later = gzipSync(icpRows(7, START + 1e9));
    expectAccount(await ingestOne(Buffer.concat([packed, later])), { read: 50_007, used: 50_007 });
  });

  test('is refused where little of it unpacks to very much', async () => {
    const bomb = gzipSync(`${ICP_HEADER}${`${' '.repeat(900_000)}\n`.repeat(90)}`);
    expect(bomb.length).toBeLessThan(81_000_000 / 200);
    expect(await whyFailed(bomb)).toBe(
      'a.csv: the gzip data unpack to more than 200 times their size. No export does that; look at where the file comes from.',
    );
  });

  test('may be as repetitive as it likes below 64 MiB', async () => {
    const repetitive = gzipSync(`${ICP_HEADER}${icpRows(1)}${`${' '.repeat(900_000)}\n`.repeat(70)}`);
    expect(repetitive.length).toBeLessThan(63_000_000 / 200);
    expectAccount(await ingestOne(repetitive), { read: 1, used: 1 });
  });

  test('counts the rows that came before the cut as set aside', async () => {
    const outcome = await ingestOne(packed.subarray(0, packed.length >> 1));
    expect(outcome.problem).toBe(damaged);
    expect(outcome.rowsRead).toBeGreaterThan(5_000);
    expectAccount(outcome, { read: outcome.rowsRead, used: 0 });
  });
});

describe('the account of a file', () => {
  const identityOf = async (content: string | Uint8Array) => {
    const [{ bytes, sha256 }] = (await ingestOne(content)).files;
    return { bytes, sha256 };
  };
  const expected = (content: string | Uint8Array) => ({
    bytes: Buffer.from(content as string).length,
    sha256: createHash('sha256').update(content).digest('hex'),
  });

  // SHA-256 by the runtime's own OpenSSL.
  test.each([
    ['a plain file', text],
    [
      'a file with a byte order mark and characters of several bytes',
      `\ufeffTime,ICP (mmHg),T (\u00b0C)\n2031-02-11 02:10:00,12,37\n`,
    ],
    ['a packed file', packed],
    ['a packed file with zeros behind it', Buffer.concat([packed, Buffer.alloc(3_000_000)])],
  ])('holds the bytes and the SHA-256 of %s as it lies on disk', async (_, content) => {
    expect(await identityOf(content)).toEqual(expected(content));
  });

  test('says what each column was taken for', async () => {
    const [account] = (await ingestOne('Time,ICP (kPa),NIBP mean (mmHg)\n2031-02-11 02:10:00,1.6,80\n'))
      .files;
    expect(account).toMatchObject({
      file: 'a.csv',
      columns: [{ header: 'ICP (kPa)', kind: 'icp', unit: 'kPa' }],
      leftAlone: [{ header: 'NIBP mean (mmHg)', why: 'cuff pressure is never used as MAP' }],
    });
  });
});
