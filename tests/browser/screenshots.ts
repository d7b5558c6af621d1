/** `npm run screenshots`: the pictures of the README, taken of the real demo in a real browser. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { createPlace } from '../helpers/running.ts';

const folder = fileURLToPath(new URL('../../dashboard/screenshots/', import.meta.url));
const zone = 'Europe/Athens';
const pictures = [
  { name: 'wall-day', path: '/', size: sizes.wall, theme: 'light' },
  { name: 'wall-night', path: '/', size: sizes.wall, theme: 'dark' },
  { name: 'drum', path: '/drums/barrel-3', size: sizes.laptop, theme: 'light' },
  { name: 'phone', path: '/drums/barrel-2', size: sizes.phone, theme: 'light' },
] as const;

mkdirSync(folder, { recursive: true });
const place = createPlace();
const browser = await launchChromium();
try {
  const demo = await place.start({ options: ['--demo', '--zone', zone], environment: { BRINEWARD_OWNER_PASSWORD: 'olives' } });
  for (const { name, path, size, theme } of pictures) {
    const context = await browser.newContext({ viewport: size, colorScheme: theme, timezoneId: zone, locale: 'en-GB', reducedMotion: 'reduce' });
    await context.request.post(`${demo.http}/api/session`, { data: { name: 'owner', password: 'olives' } });
    const page = await context.newPage();
    await page.goto(demo.http + path);
    // Fonts, chart and the first live events have settled when the network and two frames have.
    await page.waitForSelector(path === '/' ? '.ribbon' : 'canvas');
    await page.evaluate(() => document.fonts.ready.then(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)))));
    await page.screenshot({ path: join(folder, `${name}.png`) });
    process.stdout.write(`dashboard/screenshots/${name}.png\n`);
    await context.close();
  }
} finally {
  await browser.close();
  await place.clear();
}
