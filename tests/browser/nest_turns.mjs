// Turns at the teats and the dam's plate on a phone: eleven pups, eight teats, a list of a day; what cannot be says why;
// her food from its label, a meal against the need; the list printed and in the calendar.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, serve, text } from './ground.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lampside-turns-'));
const lines = [{ at: '2026-09-01T10:00:00+01:00', kind: 'litter', dam: { name: 'Bramble', breed: 'Leonberger', kg: 48 }, zone: 'Europe/London' }];
const collars = ['red', 'blue', 'green', 'yellow', 'white', 'black', 'orange', 'pink', 'purple', 'brown', 'grey'];
collars.forEach((collar, i) => lines.push({ at: `2026-10-01T${String(i + 8).padStart(2, '0')}:00:00+01:00`, kind: 'birth', about: String(i + 1), grams: 430 + 11 * ((i * 7) % 11), collar }));
const journal = join(folder, 'litter.jsonl');
writeFileSync(journal, lines.map((l, i) => JSON.stringify({ id: `00000000-0000-4000-8000-0000000000${String(i + 10)}`, litter: 'bramble-2026', written: l.at, by: 'test', ...l })).join('\n') + '\n');
execFileSync(process.argv[2], ['take-in', journal, '--data', folder]);
const server = await serve(folder, '2026-10-04T21:10:00Z');
const nest = `${server.url}/l/bramble-2026/nest`;

async function phone(scripts) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, javaScriptEnabled: scripts, timezoneId: 'Europe/London' });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  return page;
}
const open = async (page, id) => { if (!await page.locator(`#${id}`).evaluate((e) => e.open)) await page.locator(`#${id} > summary`).click(); };
const press = (page, locator) => Promise.all([page.waitForNavigation(), locator.click()]);
const a = await phone(true), b = await phone(false);

await check('more pups than teats is told before anybody asks', async () => {
  await a.goto(`${server.url}/l/bramble-2026/now`);
  expect(/More pups than teats/.test(await text(a)), 'Now does not say it');
  await a.goto(nest);
  expect(/11 pups: more than can drink at once/.test(await text(a)), 'the Nest screen does not ask for the teats');
});
await check('eight teats make two groups and a list, the smallest stay', async () => {
  await open(a, 'turns-form');
  await a.fill('#turns-form [name=teats]', '8');
  await press(a, a.locator('#turns-form button[type=submit]'));
  const said = await text(a);
  expect(/With her now: group \d, until \d\d:\d\d/.test(said), 'it does not say who is with her');
  expect(/Always with her, the smallest: 1 red/.test(said), 'the smallest do not stay');
  expect(/Waiting, 3 pups/.test(said), 'three wait');
  expect(/2 changes of groups in your night/.test(said), 'the night is not told');
  expect(await a.locator('#turns table tbody tr').count() >= 6, 'no list of the day');
  const wide = await a.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide <= 0, `the page is ${wide} px too wide`);
});
await check('the list on paper and in the calendar', async () => {
  const pdf = await a.request.get(`${server.url}/l/bramble-2026/paper/turns.pdf?size=a4`);
  expect(pdf.ok() && (await pdf.body()).subarray(0, 5).toString() === '%PDF-', 'no PDF');
  const calendar = execFileSync(process.argv[2], ['calendar', '--data', folder, '--at', '2026-10-04T21:30:00Z', '--out', '-']).toString();
  expect((calendar.match(/UID:turn-\d{8}T\d{6}Z/g) ?? []).length >= 6, 'the calendar has no turns');
});
await check('what cannot be says which limit binds, and what would do', async () => {
  await b.goto(nest);
  await b.locator('#turns-form > summary').click();
  await b.fill('#turns-form [name=teats]', '3');
  await b.fill('#turns-form [name=session_min]', '60');
  await press(b, b.locator('#turns-form button[type=submit]'));
  const said = await text(b);
  expect(/She cannot feed them all in turns: the sessions of 4 groups of 1 h each would fill \d/.test(said), 'it does not say why not');
  expect(/It would do with/.test(said), 'it does not say what would do');
  await b.locator('#turns-form > summary').click();
  await b.fill('#turns-form [name=teats]', '0');
  await press(b, b.locator('#turns-form button[type=submit]'));
  expect(/1 to 14/.test(await b.locator('body').innerText()), 'no teats are taken for an answer');
  await b.fill('#turns-form [name=teats]', '8');
  await b.fill('#turns-form [name=session_min]', '45');
  await press(b, b.locator('#turns-form button[type=submit]'));
});
await check('the plate: energy first, grams only from a label', async () => {
  await b.goto(nest);
  expect(/About [\d,]+ kcal today/.test(await b.locator('#plate').innerText()), 'no energy');
  expect(/cannot tell: no food of hers/.test(await b.locator('#plate').innerText()), 'grams without a label');
  expect(/Over 45 kg this sum is known to be too high/.test(await b.locator('#plate').innerText()), 'no caution for a giant');
  await b.fill('#food [name=name]', 'Dry food for pups');
  await b.fill('#food [name=kcal_100g]', '400');
  await press(b, b.locator('#food button[type=submit]'));
  expect(/\d+ g of Dry food for pups today/.test(await b.locator('#plate').innerText()), 'no grams');
  await b.locator('#meal > summary').click();
  await b.fill('#meal [name=grams]', '500');
  await press(b, b.locator('#meal button[type=submit]'));
  expect(/Written down today: 1 meal, 2000 kcal/.test(await b.locator('#plate').innerText()), 'the meal is not counted');
  expect(/No calcium on your own/.test(await b.locator('#plate').innerText()), 'no word on eclampsia');
});
await check('her milk, week by week', async () => {
  expect(/Her milk is likely to be enough|Short from week \d/.test(await b.locator('#her-milk').innerText()), 'no forecast');
  expect(await b.locator('#her-milk tbody tr').count() === 4, 'not four weeks');
});

await browser.close();
await server.stop();
rmSync(folder, { recursive: true, force: true });
process.exit(anyFailed() ? 1 : 0);
