/** What Chromium is started with to print one page: no window, no network, a profile of its own. */
export const chromiumOptions = (url: string, pdf: string, profile: string): string[] => [
  '--headless',
  `--print-to-pdf=${pdf}`,
  '--no-pdf-header-footer',
  `--user-data-dir=${profile}`,
  '--no-first-run',
  '--no-default-browser-check',
  '--disable-gpu',
  // In a container it may be small.
  '--disable-dev-shm-usage',
  '--host-resolver-rules=MAP * ~NOTFOUND',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-default-apps',
  '--disable-domain-reliability',
  '--disable-extensions',
  '--disable-sync',
  '--disable-breakpad',
  '--no-pings',
  // Chromium refuses to run its sandbox as root.
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  url,
];
