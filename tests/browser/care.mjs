// The plan of care: a task moved by the real whelping date, ten pups wormed with two exceptions, a vaccine too early,
// docking absent where the law forbids it, the calendar that follows.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { execFileSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, goTo, serve, text } from './ground.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lampside-care-'));
const program = process.argv[2];
let server = null;
async function standAt(at) {
  if (server) await server.stop();
  server = await serve(folder, at, server ? Number(new URL(server.url).port) : 0);
}
const context = await browser.newContext({ viewport: { width: 390, height: 844 }, timezoneId: 'Europe/London' });
const page = await context.newPage();
page.setDefaultTimeout(8000);
const errors = [];
page.on('console', (m) => { if (m.type() === 'error' && !/422/.test(m.text())) errors.push(m.text()); });
page.on('pageerror', (e) => errors.push(String(e)));

const press = async (locator) => Promise.all([page.waitForNavigation(), locator.click()]);
const card = (words) => page.locator('article.task', { hasText: words });
const unfold = async (words) => {
  const summary = page.locator('summary', { hasText: words }).first();
  if (!(await summary.evaluate((s) => s.parentElement.open))) await summary.click();
};
const feed = async () => (await page.request.get(server.url + '/l/bramble-2026/calendar.ics')).text();
/** The day of the event with that identity, "20261101". */
const eventDay = async (uid) => {
  const lines = (await feed()).replace(/\r\n /g, '').split('\r\n');
  const at = lines.findIndex((l) => l.startsWith(`UID:${uid}`));
  return at < 0 ? '' : lines.slice(at).find((l) => l.startsWith('DTSTART')).split(':')[1];
};

await standAt('2026-09-20T18:00:00Z');
await check('before whelping the plan hangs on the forecast', async () => {
  await page.goto(server.url + '/');
  await page.fill('[name=dam_name]', 'Bramble');
  await page.fill('[name=breed]', 'Golden Retriever');
  await page.fill('[name=mating_date]', '2026-08-02');
  await press(page.locator('#start button[type=submit]'));
  await goTo(page, 'care');
  await unfold('X-ray to count');
  expect(/moves with the due date/.test(await text(page)), 'no word that it moves');
});
const forecast = await eventDay('worm.');

await check('the real whelping date moves what hangs on it', async () => {
  // Ten pups on 8 October, some days after the forecast.
  const lines = [];
  for (let n = 1; n <= 10; n++)
    lines.push(JSON.stringify({ id: `00000000-0000-4000-8000-0000000000${String(n).padStart(2, '0')}`, litter: 'bramble-2026',
      at: `2026-10-08T0${n % 10}:10:00+01:00`, kind: 'birth', about: String(n), grams: 400, sex: 'female' }));
  writeFileSync(join(folder, 'births.jsonl'), lines.join('\n') + '\n');
  await server.stop();
  server = null;
  execFileSync(program, ['take-in', join(folder, 'births.jsonl'), '--data', folder, '--at', '2026-10-08T20:00:00Z']);
  await standAt('2026-10-22T10:00:00Z');
  expect(forecast !== '', 'the task was not in the calendar before');
  expect((await eventDay('worm.')) === '20261022', `worming on ${await eventDay('worm.')}, not on day 14`);
  expect(forecast !== '20261022', 'the forecast was that day already: nothing has moved');
});

await check('ten pups wormed by one tick, two excepted', async () => {
  await page.goto(server.url + '/l/bramble-2026/care');
  const worm = card('Worm the pups');
  expect((await worm.locator('input[type=checkbox]:checked').count()) === 10, 'not all ten are offered');
  for (const n of [3, 7]) await worm.getByLabel(`Pup ${n}`, { exact: true }).uncheck();
  await press(worm.locator('button:has-text("Done for those ticked")'));
  const left = await card('Worm the pups').locator('h3').innerText();
  expect(/pups 3, 7/.test(left), `left to do: ${left}`);
  await page.goto(server.url + '/l/bramble-2026/log');
  expect((await page.locator('.entry .said:has-text("done: worm")').count()) === 8, 'not eight entries in the log');
});

await check('one of the two is put off with a reason', async () => {
  await page.goto(server.url + '/l/bramble-2026/care');
  await card('Worm the pups').getByLabel('Pup 3', { exact: true }).uncheck();
  await press(card('Worm the pups').locator('button:has-text("Done for those ticked")'));
  await card('Worm the pups').locator('summary:has-text("Put off")').click();
  const form = card('Worm the pups').locator('form[id^=later-]');
  await form.locator('[name=until]').fill('2026-10-24');
  await form.locator('[name=why]').fill('loose stool');
  await press(form.locator('button'));
  expect((await card('Worm the pups, each').count()) === 0, 'it still asks today');
  expect(/put off to Sat 24 Oct/.test(await text(page)), 'no word of the day it is put off to');
  expect((await eventDay('worm.of-3.')) === '20261024', 'the calendar does not follow');
});

await check('own tasks: for the dam, the box, one pup and each pup', async () => {
  for (const [whom, what] of [['You', 'call the insurer'], ['The box', 'oil the door'], ['Bramble', 'look at the stitch'], ['Pup 3', 'wipe the eye'], ['Each pup', 'photograph']]) {
    await page.goto(server.url + '/l/bramble-2026/care');
    await unfold('A task of your own');
    await page.fill('#own [name=what]', what);
    await page.locator('#own').getByLabel(whom, { exact: true }).check();
    await press(page.locator('#own button[type=submit]'));
  }
  for (const said of ['call the insurer', 'oil the door: the box', 'look at the stitch: Bramble', 'wipe the eye: pup 3', 'photograph: all 10 pups'])
    expect((await page.locator('article.task h3', { hasText: new RegExp(`^${said}$`) }).count()) === 1, `not in the plan: ${said}`);
  const each = card('photograph');
  for (const n of [2, 9]) await each.getByLabel(`Pup ${n}`, { exact: true }).uncheck();
  await press(each.locator('button:has-text("Done for those ticked")'));
  expect(/photograph: pups 2, 9/.test(await card('photograph').locator('h3').innerText()), 'the exceptions are not left');
});

await check('a reminder on Now is ticked with an exception, and the rest put off with a reason', async () => {
  await page.goto(server.url + '/l/bramble-2026/now');
  const reminder = page.locator('article.finding', { hasText: 'photograph: pups 2, 9' });
  await reminder.locator('summary:has-text("Tick it, or put it off")').click();
  const form = reminder.locator('form', { has: page.locator('input[value^="own."]') }).filter({ has: page.getByLabel('Pup 2', { exact: true }) });
  await form.getByLabel('Pup 9', { exact: true }).uncheck();
  await press(form.locator('button:has-text("Done for those ticked")'));
  expect(/\/now/.test(page.url()), 'it left the screen');
  const rest = page.locator('article.finding', { hasText: 'photograph: pup 9' });
  await rest.locator('summary:has-text("Tick it, or put it off")').click();
  const later = rest.locator('details', { has: page.locator('summary:has-text("photograph")') }).last();
  await later.locator('summary').click();
  await later.locator('form[id^=later-] [name=until]').fill('2026-10-25');
  await later.locator('form[id^=later-] [name=why]').fill('asleep');
  await press(later.locator('form[id^=later-] button'));
  expect(!/photograph/.test(await text(page)), 'it still asks today');
});

await check('a vaccine before its minimum age is refused', async () => {
  await page.goto(server.url + '/l/bramble-2026/care');
  await page.request.get(server.url + '/l/bramble-2026/care');
  const token = await page.locator('input[name=token]').first().getAttribute('value');
  const answer = await page.request.post(server.url + '/l/bramble-2026/tick', {
    form: { token, id: '00000000-0000-4000-8000-000000000900', back: 'care', 'task-0': 'vaccine', 'about-0': '1', 'on-0': 'true' },
  });
  expect(answer.status() === 422 && /CARE_TOO_EARLY/.test(await answer.text()), `status ${answer.status()}`);
});

for (const [place, offered] of [['NZ', false], ['GB-ENG', true]]) {
  await check(`docking is ${offered ? 'offered only with a vet' : 'absent'} in ${place}`, async () => {
    await page.goto(server.url + '/l/bramble-2026/settings');
    await page.fill('[name=place]', place);
    await press(page.locator('button.save'));
    await page.goto(server.url + '/l/bramble-2026/care');
    const html = await page.content();
    expect(/docks the tails/.test(html) === false, 'docking is in the plan');
    expect((await page.locator('#choose-tail_vet').count()) === (offered ? 1 : 0), 'the choice is there and should not be, or the other way round');
    await unfold('Choose between schedules');
    await unfold('Tails');
    if (offered) {
      expect(await page.locator('#choose-tail_vet [name=vet]').isVisible(), 'no vet is asked for');
      expect(/Animal Welfare Act 2006/.test(await page.locator('#choices').innerText()), 'the law is not shown');
      expect(/read on 2026-/.test(await page.locator('#choices').innerText()), 'the day it was read is not shown');
    }
    await unfold('The law of your place');
    expect((await page.locator('#law .source').count()) > 0, 'no law with its source');
  });
}

await check('the feed opens the calendar and nothing else', async () => {
  await page.goto(server.url + '/l/bramble-2026/care');
  await unfold('In your calendar');
  const address = await page.locator('.address').innerText();
  expect(/^http:\/\/127\.0\.0\.1:\d+\/feed\/[0-9a-f]{32}\/bramble-2026\.ics$/.test(address), address);
  const calendar = await (await page.request.get(address)).text();
  expect(calendar.startsWith('BEGIN:VCALENDAR\r\n') && calendar.endsWith('END:VCALENDAR\r\n'), 'no calendar');
  const wrong = await page.request.get(address.replace(/feed\/./, 'feed/x'));
  expect(wrong.status() === 404, `a wrong secret answers ${wrong.status()}`);
});

await check('the record: what is missing, and its paper', async () => {
  await page.goto(server.url + '/l/bramble-2026/records');
  expect(/missing for all 10/.test(await text(page)), `no missing fields named: ${(await text(page)).slice(0, 400)}`);
  const pdf = await page.request.get(server.url + (await page.locator('a[href*="litter-record.pdf"]').first().getAttribute('href')));
  expect((await pdf.body()).subarray(0, 5).toString() === '%PDF-', 'the record is no PDF');
});

await check('no page complained', async () => expect(errors.length === 0, errors.join('; ')));

await browser.close();
await server.stop();
rmSync(folder, { recursive: true, force: true });
process.exit(anyFailed() ? 1 : 0);
