// What the walks share: checks told a line each, a server with its clock set, Debian's Chromium.
import axe from 'axe-core';
import { chromium } from 'playwright-core';
import { execFileSync, spawn } from 'node:child_process';

const program = process.argv[2];
let failed = 0;
/** For the exit code: did a check fail? */
export const anyFailed = () => failed > 0;

/** Prints "ok NAME" or "not ok NAME: why". */
export async function check(name, body) {
  try {
    await body();
    console.log(`ok ${name}`);
  } catch (e) {
    failed++;
    console.log(`not ok ${name}: ${String(e.message ?? e).split('\n')[0]}`);
  }
}
export function expect(holds, why) {
  if (!holds) throw new Error(why);
}

/** A running server standing at that moment; `url` without a slash at the end. Port 0: any that is free. */
export async function serve(folder, at, port = 0) {
  const child = spawn(program, ['serve', '--data', folder, '--port', String(port), '--at', at], { stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, TZ: 'Europe/London' } });
  let said = '';
  const url = await new Promise((done, fail) => {
    const look = (/** @type {Buffer} */ data) => {
      said += data;
      const found = said.match(/http:\/\/127\.0\.0\.1:\d+/);
      if (found) done(found[0]);
    };
    child.stdout.on('data', look);
    child.stderr.on('data', look);
    child.on('exit', () => fail(new Error(`the server did not start: ${said}`)));
    setTimeout(() => fail(new Error(`the server said no address: ${said}`)), 20000).unref();
  });
  return {
    url,
    stop: () => new Promise((done) => {
      child.removeAllListeners('exit');
      child.on('exit', done);
      child.kill('SIGTERM');
    }),
  };
}

export const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync'],
});

/** The words of a PDF, runs of blanks as one. poppler-utils is among the packages of the tests. */
export function pdfText(/** @type {Buffer} */ bytes) {
  return execFileSync('pdftotext', ['-', '-'], { input: bytes, encoding: 'utf8' }).replace(/\s+/g, ' ');
}

/** No serious or critical violation found by axe, and nothing to scroll sideways to. */
export async function usable(/** @type {import('playwright-core').Page} */ page) {
  await page.evaluate(axe.source);
  const found = await page.evaluate(() => /** @type {any} */ (window).axe.run());
  const bad = found.violations.filter((v) => v.impact === 'serious' || v.impact === 'critical');
  expect(bad.length === 0, bad.map((v) => `${v.id} at ${v.nodes[0].target}`).join('; '));
  expect(found.passes.length > 5, 'axe looked at nothing');
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide <= 0, `the page is ${wide} px too wide`);
}

export const text = (page) => page.locator('main').innerText();

/** To that screen by the bar at the bottom, through "More" where it stands behind it. */
export async function goTo(/** @type {import('playwright-core').Page} */ page, screen) {
  const link = page.locator(`nav a[href$="/${screen}"]:visible`);
  if (await link.count() === 0) await page.locator('nav summary').click();
  await link.first().click();
}
