import { isAscii, isUtf8 } from 'node:buffer';
import iconv from 'iconv-lite';

/** An encoding that exports come in, by its IANA name. */
export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** Bytes at the end of a chunk that begin a UTF-8 character and do not complete it: 0 to 3. */
function unfinished(bytes: Uint8Array): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const byte = bytes[bytes.length - back];
    if (byte < 0x80) return 0;
    if (byte >= 0xc0) return back < (byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2) ? back : 0;
  }
  return 0;
}

/** How many bytes from the start are whole UTF-8 characters. */
function validUtf8(bytes: Uint8Array): number {
  const whole = (end: number): Uint8Array => bytes.subarray(0, end - unfinished(bytes.subarray(0, end)));
  if (isUtf8(whole(bytes.length))) return whole(bytes.length).length;
  let valid = 0;
  let broken = bytes.length;
  while (broken - valid > 1) {
    const middle = (valid + broken) >>> 1;
    if (isUtf8(whole(middle))) valid = middle;
    else broken = middle;
  }
  return whole(valid).length;
}

/** UTF-16 without a mark shows in text of the trade: every other byte is zero. */
function utf16Of(bytes: Uint8Array): Encoding | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  const sample = bytes.subarray(0, 512 & ~1);
  if (sample.length < 4) return null;
  const zeros = [0, 0];
  for (let i = 0; i < sample.length; i++) if (sample[i] === 0) zeros[i % 2]++;
  const pairs = sample.length / 2;
  if (zeros[1] > pairs * 0.7 && zeros[0] < pairs * 0.1) return 'utf-16le';
  if (zeros[0] > pairs * 0.7 && zeros[1] < pairs * 0.1) return 'utf-16be';
  return null;
}

/**
 * Turns the bytes of an export into text. UTF-16 is told by its mark or its zeros. Anything else is UTF-8 for as long
 * as it is valid; a file whose first bytes beyond ASCII are no UTF-8 is Windows-1252, of which Latin-1 is a part. Only
 * text is at stake then: digits and delimiters are the same in both.
 */
export class TextDecoding {
  encoding: Encoding = 'utf-8';
  private rest: Uint8Array = new Uint8Array(0);
  private started = false;
  private decoder: ReturnType<typeof iconv.getDecoder> | null = null;
  /** True once a UTF-8 character beyond ASCII was seen, after which the file cannot be Windows-1252. */
  private isSettled = false;

  /** True where the next bytes are ASCII and stand for themselves, so that they need not become text. */
  isPlain(chunk: Uint8Array): boolean {
    return this.started && this.decoder === null && this.rest.length === 0 && isAscii(chunk);
  }

  push(chunk: Uint8Array): string {
    let bytes = chunk;
    if (!this.started) {
      this.started = true;
      const wide = utf16Of(bytes);
      if (wide) this.use(wide);
      else if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) bytes = bytes.subarray(3);
    }
    if (this.decoder) return this.decoder.write(Buffer.from(bytes));
    if (this.rest.length > 0) bytes = Buffer.concat([this.rest, bytes]);
    this.rest = new Uint8Array(0);
    if (isAscii(bytes)) return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1');
    const end = validUtf8(bytes);
    const whole = bytes.subarray(0, end);
    if (!isAscii(whole)) this.isSettled = true;
    const isBroken = end < bytes.length - unfinished(bytes);
    const text = Buffer.from(whole.buffer, whole.byteOffset, whole.length).toString('utf8');
    if (isBroken) return text + this.asOther(bytes.subarray(end));
    this.rest = bytes.slice(end);
    return text;
  }

  end(): string {
    const rest = this.rest.length > 0 ? this.asOther(this.rest) : '';
    this.rest = new Uint8Array(0);
    return rest + (this.decoder?.end() ?? '');
  }

  private use(encoding: Encoding): void {
    this.encoding = encoding;
    // Not TextDecoder: in some Node versions it reads windows-1252 as Latin-1.
    this.decoder = iconv.getDecoder(encoding);
  }

  /** Bytes that are no UTF-8: another encoding where nothing spoke for UTF-8 yet, otherwise damage that shows as U+FFFD. */
  private asOther(bytes: Uint8Array): string {
    this.use(this.isSettled ? 'utf-8' : 'windows-1252');
    return this.decoder?.write(Buffer.from(bytes)) ?? '';
  }
}
