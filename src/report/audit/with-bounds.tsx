import type { JSX } from 'preact';

/** A figure with its interval below it, where it has one. */
export function WithBounds({ value, bounds }: { value: string; bounds: string }): JSX.Element {
  return (
    <>
      {value}
      {bounds !== '' && (
        <>
          <br />
          <span class="small">{bounds}</span>
        </>
      )}
    </>
  );
}
