// Homes on a phone: three families choose from five pups, with a pass and a withdrawal; then one family is erased.
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, goTo, serve, text } from './ground.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lampside-homes-'));
let server = await serve(folder, '2026-11-20T18:00:00Z');
const shots = process.env.SHOTS;
const context = await browser.newContext({ viewport: { width: 390, height: 844 }, timezoneId: 'Europe/London', acceptDownloads: true });
const page = await context.newPage();
page.setDefaultTimeout(8000);
let litter = '';
let shot = 0;

async function press(locator) {
  await Promise.all([page.waitForNavigation(), locator.click()]);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide <= 0, `the page is ${wide} px too wide`);
  if (shots) await page.screenshot({ path: `${shots}/homes-${String(++shot).padStart(2, '0')}.png`, fullPage: true });
}
async function home() {
  await page.goto(`${litter}/homes`);
  return text(page);
}
/** What every file of the data folder holds. */
const bytes = () => readdirSync(folder, { recursive: true, withFileTypes: true }).filter((f) => f.isFile())
  .map((f) => readFileSync(join(f.path, f.name)).toString('latin1')).join('');

await check('a litter of five', async () => {
  await page.goto(server.url + '/');
  await page.fill('[name=dam_name]', 'Bramble');
  await page.fill('[name=breed]', 'Golden Retriever');
  await press(page.locator('#start button[type=submit]'));
  litter = page.url().replace(/\/due.*/, '');
  const token = await page.locator('input[name=token]').first().inputValue();
  for (let n = 1; n <= 5; n++) {
    const answer = await page.request.post(`${litter}/record`, {
      form: { token, kind: 'birth', about: String(n), sex: n % 2 ? 'female' : 'male', at: `2026-10-02T0${n}:00`, back: 'now', id: `00000000-0000-4000-8000-00000000000${n}` },
      headers: { origin: server.url }, maxRedirects: 0,
    });
    expect(answer.status() === 303, `birth ${n}: ${answer.status()}`);
  }
});

const people = [['Ines Hartwell', '01632 960701', 'female'], ['Tess Quill', '01632 960702', 'male'], ['Ravi Ashdown', '01632 960703', 'female']];
await check('three families on the list, two of them with a deposit', async () => {
  await page.goto(`${litter}/now`);
  await goTo(page, 'homes');
  for (const [name, phone, sex] of people) {
    await page.goto(`${litter}/homes`);
    await press(page.locator('a:has-text("Add a family")'));
    await page.fill('[name=name]', name);
    await page.fill('[name=phone]', phone);
    await page.check(`input[name=sex][value=${sex}]`);
    await press(page.locator('button:has-text("Put them on the list")'));
  }
  for (const [name, day] of [['Tess Quill', '2026-11-01'], ['Ines Hartwell', '2026-11-03']]) {
    await home();
    await press(page.locator(`.families a:has-text("${name}")`));
    await page.locator('#deposits summary').first().click();
    await page.fill('#deposit [name=amount]', '200,50');
    await page.fill('#deposit [name=currency]', 'GBP');
    await page.locator('#deposit summary').click();
    await page.fill('#deposit [name=at]', `${day}T12:00`);
    await press(page.locator('#deposit button[type=submit]'));
  }
  const said = await home();
  expect(/Next to choose: Tess Quill/.test(said), 'the first deposit does not choose first');
  expect(/their deposit came on Sun 1 Nov/.test(said), 'it does not say why');
  expect(said.indexOf('Tess') < said.indexOf('Ines Hartwell') && said.indexOf('Ines Hartwell') < said.indexOf('Ravi'), 'the list is out of order');
});

await check('a pick, a pass that keeps the place, and the next in turn', async () => {
  await home();
  await press(page.locator('.picks button:has-text("Pup 2")'));
  expect(/Next to choose: Ines Hartwell/.test(await home()), 'the turn did not go on');
  await press(page.locator('button:has-text("They pass")'));
  const said = await home();
  expect(/Next to choose: Ravi Ashdown/.test(said), 'a pass does not hand on');
  expect(/Passed once, keeps the place/.test(said), 'the pass is not shown');
  expect((await page.locator('.picks button').first().innerText()).includes('bitch'), 'a bitch they wish for does not come first');
});

await check('out of turn only with a reason', async () => {
  await press(page.locator('.families a:has-text("Ines Hartwell")'));
  await page.check('#pick input[name=about][value="1"]');
  await press(page.locator('#pick button[type=submit]'));
  expect(/it is the turn of family 3/i.test(await text(page)), 'nobody minds');
  await home();
  await press(page.locator('.picks button:has-text("Pup 1")'));
});

await check('a withdrawal frees the pup; who passed is asked', async () => {
  await home();
  await press(page.locator('.families a:has-text("Tess Quill")'));
  await page.locator('#status-panel summary').click();
  await page.fill('#status [name=why]', 'moves abroad');
  await press(page.locator('#status button[type=submit]'));
  const said = await home();
  expect(/Next to choose: Ines Hartwell/.test(said), 'who passed is forgotten');
  expect(await page.locator('.picks button:has-text("Pup 2")').count() === 1, 'pup 2 is not free again');
  await press(page.locator('.picks button:has-text("Pup 3")'));
  const after = await home();
  expect(/Nobody chooses now/.test(after) && /no family is waiting/.test(after), 'it does not end');
  expect(/3 pups have no family yet/.test(after), 'the pups left over are not told');
});

await check('money, and a suggestion', async () => {
  await page.goto(`${litter}/homes?money=1`);
  await page.fill('#money [name=amount]', '85.50');
  await page.fill('#money [name=for]', 'x-ray');
  await press(page.locator('#money button[type=submit]'));
  const said = await text(page);
  expect(/The litter cost 85.50 GBP/.test(said), 'the cost is wrong');
  expect(/Each of 5 born alive: 17.10 GBP/.test(said), 'the share is wrong');
  await page.locator('.money-lines summary:has-text("Its receipt")').click();
  const jpeg = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    canvas.width = canvas.height = 60;
    return canvas.toDataURL('image/jpeg').split(',')[1];
  });
  await page.setInputFiles('.money-lines input[type=file]', { name: 'receipt.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(jpeg, 'base64') });
  await press(page.locator('.money-lines form:has(input[type=file]) button[type=submit]'));
  expect(/The litter cost 85.50 GBP/.test(await text(page)), 'a receipt changes the sum');
  const shown = await page.request.get(await page.locator('.money-lines a:has-text("Receipt")').evaluate((a) => a.href));
  expect(shown.headers()['content-type'] === 'image/jpeg', 'the receipt is not shown');
  await page.goto(`${litter}/homes?match=1`);
  expect(/One test does not fix an adult/.test(await text(page)), 'a match without its caution');
  if (shots) await page.screenshot({ path: `${shots}/homes-match.png`, fullPage: true });
  await page.goto(`${litter}/homes?test=1`);
  if (shots) await page.screenshot({ path: `${shots}/homes-test.png`, fullPage: true });
});

await check('the rule without names, a contact as a file, names in a table where asked', async () => {
  await home();
  const order = await (await page.request.get(`${litter}/order.txt`)).text();
  expect(/Place 1: /.test(order) && /If a pup dies/.test(order) && !/Quill|Hartwell|Ashdown/.test(order), `the order says: ${order}`);
  await press(page.locator('a:has-text("Add a family")'));
  await page.locator('summary:has-text("From a contact of the telephone")').click();
  await page.setInputFiles('#person-card', { name: 'contact.vcf', mimeType: 'text/vcard', buffer: Buffer.from('BEGIN:VCARD\r\nVERSION:3.0\r\nN:Weir;Noor;;;\r\nTEL;TYPE=CELL:01632 960704\r\nEND:VCARD\r\n') });
  await press(page.locator('button:has-text("Put them on the list")'));
  expect(/Noor Weir/.test(await page.locator('h1').innerText()), 'the contact did not come in');
  const [download] = await Promise.all([page.waitForEvent('download'), page.locator('a:has-text("As a vCard")').click()]);
  expect(/FN:Noor Weir/.test(readFileSync(await download.path(), 'utf8')), 'the contact does not go out');
  expect((await (await page.request.get(`${litter}/money.csv?names=1`)).text()).includes('Tess Quill'), 'no name where it is asked for');
});

await check('what they agreed to is written down', async () => {
  await home();
  await press(page.locator('.families a:has-text("Noor Weir")'));
  await page.locator('#consents summary').first().click();
  await page.check('#consent input[name=what][value=follow_up]');
  await page.check('#consent input[name=given][value=true]');
  await press(page.locator('#consent button[type=submit]'));
  await page.locator('#consents summary').first().click();
  expect(/yes/.test(await page.locator('#consents').innerText()), 'the answer is not shown');
});

await check('a note that names a family is asked about before it is erased', async () => {
  const token = await page.locator('input[name=token]').first().inputValue();
  for (const [n, note] of [[21, 'The Quills came to look'], [22, 'Tess Quill rang about pup 2']])
    await page.request.post(`${litter}/record`, { form: { token, kind: 'note', note, back: 'now', id: `00000000-0000-4000-8000-0000000000${n}` }, headers: { origin: server.url } });
  await home();
  await press(page.locator('.families a:has-text("Tess Quill")'));
  await page.locator('#erase-panel summary').click();
  if (shots) await page.screenshot({ path: `${shots}/homes-erase.png`, fullPage: true });
  expect(/2 entries in the journal seem to name them/.test(await text(page)), 'the notes are not shown');
});

await check('one family is erased: no trace is left, and no sum changes', async () => {
  const csv = async () => (await page.request.get(`${litter}/money.csv`)).text();
  const before = await csv();
  expect(before.includes('200.50'), 'the deposit is not in the table');
  expect(bytes().includes('Tess Quill'), 'the probe sees nothing');
  await home();
  await press(page.locator('.families a:has-text("Tess Quill")'));
  await page.locator('#erase-panel summary').click();
  for (const button of await page.locator('#erase input[name^=out-][value=yes]').all()) await button.check();
  await page.check('#erase input[name=sure]');
  await press(page.locator('#erase button[type=submit]'));
  expect(/was erased/.test(await text(page)), 'it does not say so');
  expect(!/Tess/.test(await home()), 'the name is still on the list');
  expect(/Ines Hartwell/.test(await text(page)), 'another was erased too');
  expect(await csv() === before, 'a total has changed');
  expect(!bytes().includes('Quill') && !bytes().includes('960702'), 'a trace is left in the files');
});

await browser.close();
await server.stop();
rmSync(folder, { recursive: true });
process.exit(anyFailed() ? 1 : 0);
