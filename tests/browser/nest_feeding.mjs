// Milk by hand on a phone: a tin in kJ, a pup that is fed, one tap for a feed, a cold pup and a taut belly, the tube.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, serve, text } from './ground.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lampside-feeding-'));
const server = await serve(folder, '2026-10-06T03:00:00Z');

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
const card = page => page.locator('#milk-of-1');

await check('a pup of 400 g, and the Nest screen behind More', async () => {
  await a.goto(server.url + '/');
  await a.fill('[name=dam_name]', 'Bramble');
  await a.fill('[name=breed]', 'Golden Retriever');
  await a.fill('[name=mating_date]', '2026-08-04');
  await a.locator('#start button[type=submit]').click();
  litter = a.url().replace(/\/due.*/, '');
  await a.goto(`${litter}/whelping`);
  await press(a, a.locator('#born button.born'));
  await b.goto(`${litter}/weigh-in`);
  await b.fill('#weigh [name=reading]', '400');
  await press(b, b.locator('#weigh button[type=submit]'));
  await a.goto(`${litter}/now`);
  await a.locator('nav summary').click();
  await press(a, a.locator('nav a[href$="/nest"]:visible').first());
  expect(/No pup is fed by hand/.test(await text(a)), 'it does not say that none is fed');
});

await check('decided on the pup\'s page; without a milk no amount', async () => {
  await press(a, a.locator('a[href*="pup?label=1#by-hand"]'));
  await a.locator('#by-hand').evaluate(d => { d.open = true; });
  await a.locator('#by-hand [name=share][value=full]').check();
  await a.locator('#by-hand [name=way][value=bottle]').check();
  await press(a, a.locator('#by-hand button[type=submit]'));
  await a.goto(`${litter}/nest`);
  expect(/cannot tell/.test(await card(a).innerText()), 'an amount stands without a milk');
});

await check('14 kcal and a thin one are refused, nothing typed is lost', async () => {
  for (const [typed, says] of [['14', /0\.1 to 5/], ['0,3', /Read the tin again/]]) {
    await a.fill('#tin [name=name]', 'puppy milk');
    await a.fill('#tin [name=kcal_ml]', typed);
    await press(a, a.locator('#tin button[type=submit]'));
    expect(says.test(await text(a)), `${typed} was taken`);
    expect((await a.locator('#tin [name=kcal_ml]').inputValue()) === typed, 'what was typed is gone');
  }
  await a.fill('#tin [name=kcal_ml]', '1,0');
  await press(a, a.locator('#tin button[type=submit]'));
  const said = await card(a).innerText();
  // 400 g x 13.23 kcal/100 g = 52.9 ml; eight feeds of 6.6 ml, down to 6.5
  expect(/6\.5 ml/.test(said) && /8 × 6\.5 ml/.test(said), 'the feed is not 6.5 ml: ' + said);
  expect(/High line/.test(said) && /Feed now/.test(said), 'the lines or the time are missing');
});

await check('one tap, seen on the other phone without scripts, and taken back there', async () => {
  await card(a).locator('button:has-text("Given 6.5 ml by bottle")').click();
  await card(a).locator('b:has-text("Next at")').waitFor();
  await b.goto(`${litter}/nest`);
  const said = await card(b).innerText();
  expect(/Next at/.test(said) && /1 feed, 6\.5 ml/.test(said), 'the feed is not there: ' + said);
  await b.goto(`${litter}/log`);
  await b.locator('summary:has-text("Change")').first().click();
  await press(b, b.locator('button:has-text("Strike out")').first());
  await b.goto(`${litter}/nest`);
  expect(/Feed now/.test(await card(b).innerText()), 'it cannot be taken back');
});

await check('a taut belly stops the milk until it is soft', async () => {
  await press(b, card(b).locator('button:has-text("Belly taut")'));
  expect(/no milk now/.test(await card(b).innerText()), 'a taut belly is fed');
  expect(await card(b).locator('button:has-text("Given")').count() === 0, 'a feed is offered all the same');
  await press(b, card(b).locator('button:has-text("Belly soft")'));
  expect(/6\.5 ml/.test(await card(b).innerText()), 'a soft belly is not fed');
});

await check('a cold pup is warmed first', async () => {
  await b.goto(`${litter}/pup?label=1`);
  await b.locator('#pup-temperature [name=reading], [name=reading]').first().fill('34.2');
  await press(b, b.locator('form:has([name=reading]) button[type=submit]').first());
  await b.goto(`${litter}/nest`);
  expect(/warm it first/.test(await card(b).innerText()), 'a cold pup is fed');
});

await check('a tube needs the name of a vet', async () => {
  await b.locator('#tube > summary').click();
  const said = await b.locator('#tube').innerText();
  for (const words of ['three quarters', 'whole way', 'contradict']) expect(said.includes(words), `no word of: ${words}`);
  expect(await b.locator('#tube [name=vet]').getAttribute('required') !== null, 'a tube without a name');
});

await check('nothing is wider than the phone', async () => {
  for (const where of ['nest', 'pup?label=1']) {
    await a.goto(`${litter}/${where}`);
    for (const d of await a.locator('details').all()) await d.evaluate(e => { e.open = true; });
    const wide = await a.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(wide <= 0, `${where} is ${wide} px too wide`);
  }
});

await server.stop();
await browser.close();
rmSync(folder, { recursive: true, force: true });
process.exit(anyFailed() ? 1 : 0);
