import { type Browser, chromium } from 'playwright-core';

/** A browser of this machine, without a window and without asking anything outside. */
export const openChromium = (): Promise<Browser> =>
  chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update'],
  });
