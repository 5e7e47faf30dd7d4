/** Gathers what somebody should know of single rows: each sentence once, with the rows that it is about. */
export class Notes {
  private readonly byText = new Map<string, { line: number; rows: number }>();

  readonly add = (line: number, text: string): void => {
    const known = this.byText.get(text);
    if (known) known.rows++;
    else this.byText.set(text, { line, rows: 1 });
  };

  sentences(): string[] {
    return [...this.byText].map(([text, { line, rows }]) => {
      const more = rows === 1 ? '' : ` and ${rows - 1} more ${rows === 2 ? 'row' : 'rows'}`;
      return `${text} (line ${line}${more}).`;
    });
  }
}
