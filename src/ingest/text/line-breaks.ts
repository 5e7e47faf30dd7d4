const RETURN = 13;

/** Every line break as \n: papaparse takes one kind a block, and a file may mix them. */
export class LineBreaks {
  private isOldMac: boolean | null = null;
  private held = '';

  /** True where the next bytes hold no line break but those that stay as they are. */
  isPlain(bytes: Uint8Array): boolean {
    return this.isOldMac === false && this.held === '' && bytes.indexOf(RETURN) < 0;
  }

  /** A return at the end is held back, since it may be half of a line break. */
  unify(text: string, isLast: boolean): string {
    let all = this.held + text;
    this.held = '';
    if (!isLast && all.endsWith('\r')) {
      this.held = '\r';
      all = all.slice(0, -1);
    }
    if (!all.includes('\r')) {
      if (this.isOldMac === null && all.includes('\n')) this.isOldMac = false;
      return all;
    }
    // A return alone ends a line only where the file has no other line breaks.
    this.isOldMac ??= !all.includes('\n');
    return this.isOldMac ? all.replaceAll('\r', '\n') : all.replace(/\r+\n/g, '\n');
  }
}
