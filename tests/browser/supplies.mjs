// Supplies on a phone: half a kit check, gone on with after another page load and another phone; an own item; a wrong
// amount; the shopping list for a shop day, printed; what was left taken over by the next litter.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, pdfText, serve, text } from './ground.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lampside-supplies-'));
let server = await serve(folder, '2026-09-20T18:00:00Z');

async function phone(scripts) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, javaScriptEnabled: scripts, timezoneId: 'Europe/London' });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  return page;
}
async function press(page, locator) {
  await Promise.all([page.waitForNavigation(), locator.click()]);
}
const a = await phone(true), b = await phone(false);
let litter = '';

await check('a litter, and Supplies in the bar at the bottom', async () => {
  await a.goto(server.url + '/');
  await a.fill('[name=dam_name]', 'Bramble');
  await a.fill('[name=breed]', 'Golden Retriever');
  await a.fill('[name=mating_date]', '2026-08-02');
  await a.locator('#start button[type=submit]').click();
  litter = a.url().replace(/\/due.*/, '');
  await a.locator('nav a[href$="/supplies"]:visible').click();
  expect(/things she will need are not in the house/.test(await text(a)), 'it does not say that nothing is there');
  for (const page of [a, b]) {
    await page.goto(`${litter}/supplies`);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(wide <= 0, `the page is ${wide} px too wide`);
    await page.locator('nav summary').click();
    expect(await page.locator('nav a[href$="/paper"]:visible').count() === 1, 'Paper is not behind More');
  }
});

await check('half a kit check, an item a tap', async () => {
  await a.goto(`${litter}/supplies`);
  await a.locator('a:has-text("Kit check")').click();
  for (let n = 0; n < 12; n++) await press(a, a.locator('.kit-tap').first());
  await press(a, a.locator('button:has-text("Not there")'));
  expect(/13 of \d+ looked at/.test(await text(a)), 'thirteen taps are not thirteen items');
  await press(a, a.locator('button:has-text("Undo")'));
  expect(/12 of \d+ looked at/.test(await text(a)), 'a tap cannot be taken back');
});

await check('gone on with on another phone, without scripts', async () => {
  await b.goto(`${litter}/supplies`);
  await b.locator('a:has-text("Go on with the kit check: 12 of")').click();
  const first = await b.locator('.kit-step h2').innerText();
  await b.locator('a:has-text("Skip")').click();
  expect((await b.locator('.kit-step h2').innerText()) !== first, 'Skip stays where it was');
  for (let n = 0; n < 40 && await b.locator('.kit-tap').count() > 0; n++) await b.locator('.kit-tap').first().click();
  expect(/1 skipped/.test(await text(b)), 'the skipped one is forgotten');
  await b.locator('a:has-text("Go to the skipped ones")').click();
  expect((await b.locator('.kit-step h2').innerText()) === first, 'another one was skipped');
  await b.locator('button:has-text("Not there")').click();
  expect(/All looked at/.test(await text(b)), 'the round does not end');
});

await check('a lamp that was there and works is tried; the list of all is small enough to walk', async () => {
  await a.goto(`${litter}/supplies?item=heat%20lamp%20or%20pad`);
  expect((await a.locator('[name=tested]').inputValue()) === '2026-09-20', 'the day it was tried is not there');
});

await check('packs: refused without their size, understood with it', async () => {
  await a.goto(`${litter}/supplies?item=milk%20replacer%2C%20powder`);
  await a.fill('#item [name=have]', '2 packs');
  await press(a, a.locator('#item button.save'));
  expect(/how much is in one pack is not known/.test(await text(a)), 'two packs of nothing were taken');
  expect((await a.locator('#item [name=have]').inputValue()) === '2 packs', 'what was typed is gone');
  await a.fill('#item [name=pack]', '0,4 kg');
  await press(a, a.locator('#item button.save'));
  expect(/Now: 800 of \d+ g/.test(await text(a)), `two packs of 400 g are not 800 g: ${(await text(a)).slice(0, 300)}`);
});

await check('an own item, and what a vet alone gives is refused', async () => {
  await b.goto(`${litter}/supplies`);
  await b.locator('#own > summary').click();
  await b.fill('#own [name=item]', 'Oxytocin');
  await b.locator('#own button[type=submit]').click();
  expect(/for a vet to give/.test(await text(b)), 'oxytocin was taken');
  await b.fill('#own [name=item]', 'Fleece blankets');
  await b.fill('#own [name=need_per_pup]', '0,5');
  await b.locator('#own [name=car][value=true]').check();
  await b.locator('#own button[type=submit]').click();
  expect(/Fleece blankets/.test(await b.locator('#shop').innerText()), 'it is not on the shopping list');
});

await check('a shop day, the list by day, printed', async () => {
  await a.goto(`${litter}/supplies`);
  await a.locator('#shop summary:has-text("Days you go shopping")').click();
  await a.fill('[name=day]', '2026-09-26');
  await press(a, a.locator('#shop-day button[type=submit]'));
  expect(/On Sat 26 Sep/.test(await a.locator('#shop').innerText()), 'the day is not on the list');
  for (const [form, has, not] of [['shopping-list', 'Sat 26 Sep 2026', 'Oxytocin'], ['packing-list', 'Carrier with a sheet', 'Newspaper']])
    for (const size of ['a4', 'letter']) {
      const link = await a.locator(`a[href*="${form}.pdf?size=${size}"]`).first().getAttribute('href');
      const words = pdfText(await (await a.request.get(server.url + link)).body());
      expect(words.includes('Fleece blankets'), `${form}, ${size}: the own item is not on it`);
      expect(words.includes(has) && !words.includes(not), `${form}, ${size}: ${words.slice(0, 300)}`);
    }
  const row = a.locator('#shop .supply', { hasText: 'Fleece blankets' });
  await press(a, row.locator('button'));
  expect(!/Fleece blankets/.test(await a.locator('#shop').innerText()), 'what was bought is still on the list');
});

await check('one tap takes one off, and Undo gives it back', async () => {
  await a.goto(`${litter}/supplies`);
  await a.locator('summary', { hasText: /^The birth/ }).click();
  const row = a.locator('details[open] .supply', { hasText: 'Towels, small' });
  const before = await row.locator('.amount').innerText();
  await press(a, row.locator('button:has-text("Used 1")'));
  await a.goto(`${litter}/supplies?item=towels%2C%20small`);
  expect(/^30\b/.test(before) && /Now: 29 of 30, in the kit; too few/.test(await text(a)), `it was ${before}`);
  await a.fill('#used-some [name=used]', '4');
  await press(a, a.locator('#used-some button'));
  expect(/Now: 25 of 30/.test(await text(a)), 'four more were not taken off');
  await press(a, a.locator('button:has-text("Undo")'));
  expect(/Now: 29 of 30/.test(await text(a)), 'Undo does not give them back');
});

await check('a begun tin is asked since when it is open, and is out of date after its days', async () => {
  const tin = `${litter}/supplies?item=milk%20replacer%2C%20powder`;
  await b.goto(tin);
  await b.fill('#item [name=keeps_open_d]', '30');
  await press(b, b.locator('#item button.save'));
  await b.goto(`${litter}/supplies`);
  expect((await b.locator('#opened').count()) === 0, 'a tin nobody began is asked about');
  await b.goto(tin);
  await b.fill('#used-some [name=used]', '50');
  await press(b, b.locator('#used-some button'));
  await b.goto(`${litter}/supplies`);
  expect(/When was it opened\?/.test(await text(b)), 'nobody asks');
  await press(b, b.locator('#opened button:has-text("Opened today")'));
  expect((await b.locator('#opened').count()) === 0, 'it is asked again');
  await b.goto(tin);
  expect(/Open since Sun 20 Sep/.test(await text(b)), 'the day is not told');
  await b.fill('#item [name=opened]', '2026-08-01');
  await press(b, b.locator('#item button.save'));
  // 750 g in tins of 400 g: the open one is no more, the closed one is.
  expect(/Now: 400 of/.test(await text(b)), (await text(b)).slice(0, 300));
});

await check('a date that is emptied is gone', async () => {
  const page = `${litter}/supplies?item=antiseptic%20for%20the%20cord`;
  await a.goto(page);
  await a.fill('#item [name=expires]', '2026-09-01');
  await a.locator('#item summary:has-text("Your own amount")').click();
  await a.fill('#item [name=days_before]', '50');
  await press(a, a.locator('#item button.save'));
  const said = await text(a);
  expect(/Now: out of date/.test(said), said.slice(0, 300).replaceAll('\n', ' '));
  const by = said.match(/In the house by (.*?)\./)?.[1];
  await a.fill('#item [name=expires]', '');
  await a.fill('#item [name=days_before]', '');
  await press(a, a.locator('#item button.save'));
  expect((await a.locator('#item [name=expires]').inputValue()) === '', 'the date came back');
  const now = await text(a);
  expect(!/Now: out of date/.test(now) && /in the kit; enough/.test(now), now.slice(0, 600).replaceAll('\n', ' '));
  expect(by && now.match(/In the house by (.*?)\./)?.[1] !== by, `still to be in the house by ${by}`);
});

await check('the next litter takes over what was left, once', async () => {
  await a.goto(`${litter}/whelping`);
  await press(a, a.locator('#born button.born'));
  await server.stop();
  server = await serve(folder, '2026-12-20T18:00:00Z', Number(new URL(server.url).port));
  await a.goto(server.url + '/start');
  await a.fill('[name=dam_name]', 'Sorrel');
  await a.fill('[name=breed]', 'Golden Retriever');
  await a.fill('[name=mating_date]', '2026-11-20');
  await a.locator('#start button[type=submit]').click();
  const next = a.url().replace(/\/due.*/, '');
  await a.goto(`${next}/supplies`);
  await press(a, a.locator('button:has-text("Take it over")'));
  expect(!/Take it over/.test(await text(a)), 'it is offered again');
  await a.goto(`${next}/supplies?item=Fleece%20blankets`);
  expect(/Now: \d+, elsewhere in the house; enough/.test(await text(a)), 'the own item did not come along');
});

await server.stop();
await browser.close();
rmSync(folder, { recursive: true });
process.exit(anyFailed() ? 1 : 0);
