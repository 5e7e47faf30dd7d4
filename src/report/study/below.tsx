import type { JSX } from 'preact';

/** A figure and, in small letters below it, what goes with it; what is empty takes no line. */
export function Below({ value, lines }: { value: string; lines: readonly string[] }): JSX.Element {
  return (
    <>
      {value}
      {lines
        .filter((line) => line !== '')
        .map((line) => (
          <>
            <br />
            <span class="small">{line}</span>
          </>
        ))}
    </>
  );
}
