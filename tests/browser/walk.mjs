// Walks through Lampside as its keeper would, in Debian's Chromium: with and without scripts, on a phone and a desk.
// Prints one line a check: "ok NAME" or "not ok NAME: why". Exit 1 when one failed.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, goTo, serve, text, usable } from './ground.mjs';

const program = process.argv[2];
const phone = { width: 390, height: 844 };
const desk = { width: 1280, height: 800 };

async function open(scripts, viewport = phone, colorScheme = 'dark') {
  const context = await browser.newContext({ viewport, javaScriptEnabled: scripts, colorScheme, timezoneId: 'Europe/London' });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  const errors = [];
  page.on('console', (m) => { if (m.type() === 'error') errors.push(m.text()); });
  page.on('pageerror', (e) => errors.push(String(e)));
  return { context, page, errors };
}

/** Presses what writes something down, and waits for the page that says so: with scripts the form is sent first, then the page opened. */
async function press(/** @type {import('playwright-core').Page} */ page, /** @type {import('playwright-core').Locator} */ locator) {
  await Promise.all([page.waitForNavigation(), locator.click()]);
}

/** Types a weight with the keypad where scripts run, into the field where they do not. */
async function typeWeight(page, scripts, grams) {
  if (!scripts) return page.fill('#weigh-reading', String(grams));
  for (const digit of String(grams)) await page.locator(`[data-key="${digit}"]`).click();
}

for (const scripts of [true, false]) {
  const how = scripts ? 'with scripts' : 'without scripts';
  const folder = mkdtempSync(join(tmpdir(), 'lampside-walk-'));
  let server = await serve(folder, '2026-09-20T18:00:00Z');
  let { context, page, errors } = await open(scripts);

  await check(`first litter in under ten taps, ${how}`, async () => {
    let taps = 0;
    const tap = async (/** @type {string} */ selector) => { await page.locator(selector).first().click(); taps++; };
    await page.goto(server.url + '/');
    await tap('[name=dam_name]');
    await page.fill('[name=dam_name]', 'Bramble');
    await tap('[name=breed]');
    await page.fill('[name=breed]', 'Golden Retriever');
    await tap('[name=mating_date]');
    await page.fill('[name=mating_date]', '2026-08-02');
    await tap('#start button[type=submit]');
    expect(/First pup about/.test(await text(page)), 'the due screen shows no window');
    await goTo(page, 'paper');
    taps += 2;
    const link = await page.locator('a[href*="weights-to-fill.pdf"]').first().getAttribute('href');
    taps++;
    const pdf = await page.request.get(server.url + link);
    expect((await pdf.body()).subarray(0, 5).toString() === '%PDF-', 'the chart is no PDF');
    expect(taps < 10, `it took ${taps} taps`);
  });

  await check(`may I go out, ${how}`, async () => {
    await page.goto(server.url + '/');
    await goTo(page, 'due');
    await page.fill('[name=away]', '2026-10-03T12:00');
    await page.fill('[name=back_at]', '2026-10-03T20:00');
    await page.locator('button:has-text("What is the chance?")').click();
    expect(/First pup while you are away, Sat 3 Oct 12:00 to Sat 3 Oct 20:00: \d+ %/.test(await text(page)), 'no chance is told');
  });

  await server.stop();
  server = await serve(folder, '2026-10-03T23:10:00Z');
  await check(`a night of six pups, ${how}`, async () => {
    await page.goto(server.url + '/');
    await goTo(page, 'whelping');
    await press(page, page.locator('button:has-text("Strong pushing")'));
    expect(/Strong pushing/.test(await text(page)), 'the clock of strong pushing does not run');
    for (let n = 1; n <= 7; n++) await press(page, page.locator('#born button'));
    await press(page, page.locator('button:has-text("Undo")').first());
    const tally = (await page.locator('.tally').innerText()).replace(/\s+/g, ' ');
    expect(/^6 born 6 alive/.test(tally), `the tally says ${tally}`);
    expect(/Since the last pup/.test(await text(page)), 'no clock since the last pup');
  });

  const grams = [402, 388, 431, 365, 410, 397];
  const rounds = ['2026-10-04T08:00:00Z', '2026-10-04T20:00:00Z', '2026-10-05T08:00:00Z'];
  for (const [r, at] of rounds.entries()) {
    await server.stop();
    server = await serve(folder, at);
    await check(`weights, round ${r + 1}, ${how}`, async () => {
      await page.goto(server.url + '/');
      await goTo(page, 'weigh-in');
      for (let n = 0; n < 6; n++) {
        if (r === 2 && n === 0) {
          if (!(await page.locator('#weigh-tub').isVisible())) await page.locator('details:has(#weigh-tub) > summary').click();
          await page.fill('#weigh-tub', '240');
        }
        await typeWeight(page, scripts, grams[n] + 18 * r + (r === 2 ? 240 : 0));
        await press(page, page.locator('#weigh button[type=submit]'));
        const said = await text(page);
        expect(!/refused/i.test(said), 'a weight was refused');
        if (r > 0) expect(/gained 18 g/.test(said), `no gain is shown after pup ${n + 1}`);
        if (r === 2) expect(/240 g/.test(said), 'the tub is not remembered');
      }
      expect(/Round done/.test(await text(page)), 'the round does not end');
    });
    if (r === 1)
      await check(`an interrupted round is kept, ${how}`, async () => {
        await server.stop();
        server = await serve(folder, '2026-10-04T21:00:00Z');
        await page.goto(server.url + '/');
        await goTo(page, 'weigh-in');
        await typeWeight(page, scripts, 425);
        await press(page, page.locator('#weigh button[type=submit]'));
        await page.goto(server.url + '/');
        await goTo(page, 'weigh-in');
        expect(/1 of 6/.test(await text(page)), 'the half-done round is lost');
        // and struck out again, for the third round to compare with the second
        await goTo(page, 'log');
        await page.locator('summary:has-text("Change")').first().click();
        await press(page, page.locator('button:has-text("Strike out")').first());
        expect(/[Ss]truck out/.test(await text(page)), 'the strike is not told');
      });
  }

  await check(`a slip is refused and nothing typed is lost, ${how}`, async () => {
    await page.goto(server.url + '/');
    await goTo(page, 'due');
    await page.locator('#dam [name=reading]').first().fill('380');
    await press(page, page.locator('#dam button[type=submit]').first());
    expect(/38\.0/.test(await text(page)), 'no advice');
    expect((await page.locator('#dam [name=reading]').first().inputValue()) === '380', 'what was typed is gone');
  });

  await check(`a page per pup with its chart, ${how}`, async () => {
    await page.goto(server.url + '/');
    await goTo(page, 'weigh-in');
    await page.goto(page.url().replace(/weigh-in.*/, 'pup?label=3'));
    expect((await page.locator('svg.chart').count()) > 0, 'no chart');
    expect(/467 g/.test(await text(page)), 'the third weight is not there');
  });

  if (scripts) {
    await check('two phones see the same within a second', async () => {
      const other = await open(true);
      const litter = page.url().replace(/\/pup.*/, '');
      await page.goto(`${litter}/now`);
      await other.page.goto(`${litter}/whelping`);
      await page.waitForTimeout(700);  // the live stream is up
      const begun = Date.now();
      await other.page.locator('button.sign:has-text("Bleeding"), button.sign:has-text("bleeding")').first().click();
      await page.waitForFunction(() => /bleeding/i.test(document.querySelector('main')?.innerText ?? ''), null, { timeout: 4000 });
      const took = Date.now() - begun;
      await other.context.close();
      expect(took < 1500, `it took ${took} ms`);
    });
    await check('a half-typed figure outlives a live refresh', async () => {
      const other = await open(true);
      const litter = page.url().replace(/\/now.*/, '');
      await page.goto(`${litter}/due`);
      await page.waitForTimeout(700);
      await page.locator('#dam [name=reading]').first().fill('38.');
      await other.page.goto(`${litter}/whelping`);
      await other.page.locator('button.sign').first().click();
      await page.waitForTimeout(1500);
      await other.context.close();
      expect((await page.locator('#dam [name=reading]').first().inputValue()) === '38.', 'the refresh took it away');
    });
    await check('no script error and nothing blocked by the security policy', async () => {
      const real = errors.filter((e) => !/422|ERR_CONNECTION|ERR_INCOMPLETE|ERR_EMPTY|ERR_NETWORK/.test(e));
      expect(real.length === 0, real.join('; '));
    });
  }
  await context.close();
  await server.stop();
  rmSync(folder, { recursive: true });
}

// Accessibility, on the demo: every screen, both looks, both sizes.
const child = spawn(process.argv[2], ['demo', '--port', '0'], { stdio: ['ignore', 'pipe', 'pipe'] });
const demo = await new Promise((done) => {
  let said = '';
  const look = (/** @type {Buffer} */ d) => { said += d; const m = said.match(/http:\/\/127\.0\.0\.1:\d+/); if (m) done(m[0]); };
  child.stdout.on('data', look);
  child.stderr.on('data', look);
});
const screens = ['now', 'due', 'whelping', 'weigh-in', 'pup?label=9', 'dosing', 'nest', 'care', 'records', 'supplies', 'supplies?check=1',
  'supplies?check=1&after=99', 'supplies?item=milk%20replacer%2C%20powder', 'supplies?item=torch', 'paper', 'log', 'settings'];
/** Screens whose forms lie folded away: looked at unfolded too. */
const unfolded = ['now', 'care', 'records', 'supplies', 'supplies?item=milk%20replacer%2C%20powder', 'dosing'];
for (const [size, viewport] of [['phone', phone], ['desk', desk]]) {
  for (const look of ['dark', 'light']) {
    const { context, page } = await open(true, viewport, look);
    await page.goto(demo + '/');
    const litter = page.url().replace(/\/now.*/, '');
    for (const [screen, all] of [...screens.map((s) => [s, false]), ...unfolded.map((s) => [s, true])]) {
      await check(`axe: ${screen}${all ? ', unfolded' : ''}, ${size}, ${look}`, async () => {
        await page.goto(`${litter}/${screen}`);
        if (all) {
          const folds = await page.evaluate(() => {
            const folded = [...document.querySelectorAll('main details')];
            for (const d of folded) /** @type {HTMLDetailsElement} */ (d).open = true;
            return folded.length;
          });
          expect(folds > 0, 'nothing is folded away here');
        }
        await usable(page);
        const small = await page.evaluate(() => [...document.querySelectorAll('button, nav a, summary')]
          .filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 43).map((e) => e.textContent?.trim().slice(0, 30)));
        expect(small.length === 0, `too small to tap: ${small.slice(0, 4).join(', ')}`);
      });
    }
    await context.close();
  }
}
child.kill('SIGTERM');
await browser.close();
process.exit(anyFailed() ? 1 : 0);
