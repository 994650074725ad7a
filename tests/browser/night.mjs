// A whole night of nine pups on two phones: a stall, a flag, the call sheet, a dead pup, a wrong tap undone, and one
// phone without a connection for ten minutes. Every entry is kept once.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, serve, text } from './ground.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lampside-night-'));
let server = null;
/** The same port each time: to a phone it is one server whose clock moves on. */
async function standAt(at) {
  if (server) await server.stop();
  server = await serve(folder, at, server ? Number(new URL(server.url).port) : 0);
}

async function phone() {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, colorScheme: 'dark', timezoneId: 'Europe/London' });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  return { context, page };
}
/** Asked from outside: the page's own clock is put forward below. */
async function until(what, holds) {
  for (let n = 0; n < 100; n++) {
    if (await holds()) return;
    await new Promise((done) => setTimeout(done, 100));
  }
  throw new Error(what);
}
const waitingSays = async (page) => (await page.locator('.waiting-state').textContent()) ?? '';
/** Every entry names itself in the address it leads to, so a new address means that it was written. */
const press = async (page, selector) => {
  const before = page.url();
  await page.locator(selector).first().click();
  await page.waitForURL((url) => url.href !== before);
  await page.waitForLoadState();
};
const tap = (page, words) => press(page, `button:has-text("${words}")`);
const born = (page) => press(page, '#born button.born');

await standAt('2026-10-03T22:00:00Z');
const a = await phone(), b = await phone();
let whelping = '';

await check('the litter, its vet and the count', async () => {
  await a.page.goto(server.url + '/');
  await a.page.fill('[name=dam_name]', 'Bramble');
  await a.page.fill('[name=breed]', 'Golden Retriever');
  await a.page.fill('[name=mating_date]', '2026-08-02');
  await a.page.locator('details:has([name=pups]) > summary').click();
  await a.page.fill('[name=pups]', '9');
  await a.page.fill('[name=vet_phone]', '01632 960118');
  await a.page.locator('#start button[type=submit]').click();
  whelping = a.page.url().replace(/\/due.*/, '/whelping');
  await a.page.goto(whelping.replace('/whelping', '/settings'));
  await a.page.fill('[name=vet_night_phone]', '01632 960199');
  await a.page.fill('[name=vet_minutes]', '25');
  await a.page.locator('button.save').click();
  await a.page.goto(whelping);
  expect(/expected/.test(await text(a.page)), 'no count on the screen');
});

await check('the main controls need no scrolling', async () => {
  for (const words of ['Pup born', 'Strong pushing', 'Weak pushing']) {
    const box = await a.page.locator(`button:has-text("${words}")`).first().boundingBox();
    expect(box && box.y + box.height <= 844 - 56, `${words} ends at ${box && box.y + box.height}`);
  }
});

await check('sound can be turned on and tested', async () => {
  await a.page.locator('[data-alarm]').click();
  expect((await a.page.locator('body').getAttribute('data-rang')) === '1', 'the test did not ring');
});

const times = ['22:40', '23:10', '23:55', '00:20', '00:50'];
await check('five pups, the third dead, a wrong tap undone', async () => {
  for (const [n, t] of times.entries()) {
    await standAt(`2026-10-0${t > '20' ? 3 : 4}T${t}:00Z`);
    await a.page.goto(whelping);
    if (n === 1) {
      await tap(a.page, 'Bleeding');
      await tap(a.page, 'Undo');
      expect(!/Bright red bleeding/.test(await text(a.page)), 'the undone tap still warns');
    }
    await born(a.page);
    if (n === 2) {
      await a.page.locator('#birth-3 input[name=alive][value=false]').check();
      await press(a.page, '#birth-3 button:has-text("Save pup 3")');
    }
  }
  const tally = (await a.page.locator('.tally').innerText()).replace(/\s+/g, ' ');
  expect(/^5 born 4 alive/.test(tally), `the tally says ${tally}`);
});

await check('a tap elsewhere asks about what was typed, and saves it first', async () => {
  let asked = '';
  a.page.once('dialog', (dialog) => { asked = dialog.message(); void dialog.accept(); });
  await a.page.locator('#birth-5 input[name=reading]').fill('417');
  await tap(a.page, 'Placenta passed');
  expect(/417/.test(asked), `nothing was asked: ${asked}`);
  await a.page.goto(whelping.replace('/whelping', '/log'));
  const log = await text(a.page);
  expect(/417 g/.test(log), 'the weight is lost');
  expect(/placenta/i.test(log), 'the placenta is lost');
  expect((await a.page.evaluate(() => localStorage.getItem('lampside-waiting'))) === '[]', 'something is left waiting');
  await a.page.goto(whelping);
});

await check('two phones see the same within a second', async () => {
  await b.page.clock.install({ time: new Date('2026-10-04T00:50:00Z') });
  await b.page.goto(whelping);
  await b.page.waitForTimeout(700);
  const begun = Date.now();
  await tap(a.page, 'Strong pushing');
  await b.page.waitForFunction(() => /Strong pushing for/.test(document.querySelector('main')?.innerText ?? ''), null, { timeout: 4000, polling: 50 });
  const took = Date.now() - begun;
  expect(took < 1500, `it took ${took} ms`);
});

await check('a stall raises a flag, and the call sheet is one tap from it', async () => {
  await standAt('2026-10-04T01:25:00Z');
  await a.page.goto(whelping);
  expect(/Strong straining for 30 minutes/.test(await text(a.page)), 'no flag after 35 minutes');
  expect(!/Next pup, at her pace/.test(await text(a.page)), 'a forecast stands beside the flag');
  await a.page.locator('a.say-link').first().click();
  const said = await text(a.page);
  for (const part of ['Bramble', 'strong straining', '5 born', '25 minutes away', 'The night so far'])
    expect(said.toLowerCase().includes(part.toLowerCase()), `the call sheet does not say ${part}`);
  expect((await a.page.locator('a[href="tel:01632960199"]').count()) > 0, 'no night number to dial');
  const pdf = await a.page.request.get(server.url + (await a.page.locator('a[href*="call-sheet.pdf"]').first().getAttribute('href')));
  expect((await pdf.body()).subarray(0, 5).toString() === '%PDF-', 'the sheet is no PDF');
});

await check('a phone without a connection keeps its taps, and sends each once', async () => {
  await b.page.goto(whelping);
  await b.context.setOffline(true);
  await b.page.locator('#born button.born').click();
  await until('the birth is not kept', async () => /Kept on this phone/.test(await waitingSays(b.page)));
  await b.page.clock.fastForward('05:00');
  await b.page.locator('button:has-text("Weak pushing")').first().click();
  await until('the sign is not kept', async () => /Weak pushing/.test(await waitingSays(b.page)));
  await b.page.clock.fastForward('05:00');
  await standAt('2026-10-04T01:35:00Z');
  await b.context.setOffline(false);
  await b.page.clock.fastForward('00:11');
  await until('what was kept is not sent', async () => (await waitingSays(b.page)) === '');
  await b.page.clock.fastForward('00:30');
  await a.page.goto(whelping);
  const tally = (await a.page.locator('.tally').innerText()).replace(/\s+/g, ' ');
  expect(/^6 born 5 alive/.test(tally), `after the connection came back the tally says ${tally}`);
  await a.page.goto(whelping.replace('/whelping', '/log'));
  const log = await text(a.page);
  const weak = await a.page.locator('.entry .said:has-text("weak pushing")').count();
  expect(weak === 1, `the weak pushing is there ${weak} times`);
  expect(/01:30/.test(log) || /02:30/.test(log), 'the kept tap lost its own time');
});

await check('nine pups, she settles, nothing is left to ring about', async () => {
  for (const t of ['02:00', '02:25', '02:50']) {
    await standAt(`2026-10-04T${t}:00Z`);
    await a.page.goto(whelping);
    await born(a.page);
  }
  await standAt('2026-10-04T03:30:00Z');
  await a.page.goto(whelping);
  await tap(a.page, 'Settled, resting');
  const said = await text(a.page);
  const tally = (await a.page.locator('.tally').innerText()).replace(/\s+/g, ' ');
  expect(/^9 born 8 alive 9 expected/.test(tally), `the tally says ${tally}`);
  expect(/Is one left\? A chance of about \d+ in 100/.test(said), 'the chance that one is left is not told');
  expect((await a.page.locator('.urgent').count()) === 0, 'something is still urgent');
});

await browser.close();
await server.stop();
rmSync(folder, { recursive: true, force: true });
process.exit(anyFailed() ? 1 : 0);
