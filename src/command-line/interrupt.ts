const SIGNALS = ['SIGINT', 'SIGTERM'] as const;

/** A signal that is aborted by the first Ctrl-C or request to end; the second ends the process at once. */
export function onInterrupt(): { readonly signal: AbortSignal; release(): void } {
  const controller = new AbortController();
  const abort = (): void => controller.abort();
  for (const signal of SIGNALS) process.once(signal, abort);
  return {
    signal: controller.signal,
    release: () => {
      for (const signal of SIGNALS) process.removeListener(signal, abort);
    },
  };
}
