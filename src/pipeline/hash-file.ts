import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';

const CHUNK_BYTES = 1 << 20;

/** SHA-256 of a file as it lies there, in hex; errors of the system pass through. */
export async function hashFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  const file = await open(path, 'r');
  try {
    const chunk = Buffer.allocUnsafe(CHUNK_BYTES);
    for (;;) {
      const { bytesRead } = await file.read(chunk, 0, CHUNK_BYTES);
      if (bytesRead === 0) return hash.digest('hex');
      hash.update(chunk.subarray(0, bytesRead));
    }
  } finally {
    await file.close();
  }
}
