// A photograph with a place in it uploaded and shown without it; what is refused; the sheet and the folder read back by
// a PDF reader; the day a pup leaves; looking back.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, serve, text } from './ground.mjs';

const folder = mkdtempSync(join(tmpdir(), 'lampside-folder-'));
const server = await serve(folder, '2026-09-30T12:00:00Z');
const context = await browser.newContext({ viewport: { width: 390, height: 844 }, timezoneId: 'Europe/London', acceptDownloads: true });
const page = await context.newPage();
page.setDefaultTimeout(10000);
let litter = '';
const press = async (locator) => { await Promise.all([page.waitForNavigation(), locator.click()]); };

/** A picture drawn by the browser, with an EXIF block put in: on its side (6), and a place. */
async function photograph() {
  const jpeg = Buffer.from(await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    canvas.width = 800, canvas.height = 500;
    const pen = canvas.getContext('2d');
    pen.fillStyle = '#b98a4e', pen.fillRect(0, 0, 800, 500);
    pen.fillStyle = '#402a10';
    for (const x of [300, 500]) pen.beginPath(), pen.arc(x, 200, 40, 0, 7), pen.fill();
    return canvas.toDataURL('image/jpeg', 0.9).split(',')[1];
  }), 'base64');
  const tiff = Buffer.concat([
    Buffer.from('4d4d002a00000008' + '0002' + '0112000300000001' + '00060000' + '8825000400000001' + '00000026' + '00000000' +
      '0001' + '0001000200000002' + '4e000000' + '00000000', 'hex'), Buffer.from('51.5N at Mill Lane')]);
  const body = Buffer.concat([Buffer.from('Exif\0\0'), tiff]);
  const head = Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255]);
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
}

await check('a litter with a pup of eight weeks', async () => {
  await page.goto(server.url + '/');
  await page.fill('[name=dam_name]', 'Bramble');
  await page.fill('[name=breed]', 'Golden Retriever');
  await page.fill('[name=mating_date]', '2026-05-26');
  await page.locator('#start button[type=submit]').click();
  litter = page.url().replace(/\/due.*/, '');
  const token = await page.locator('[name=token]').first().inputValue();
  const record = async (fields) => {
    const answer = await page.request.post(`${litter}/record`, { form: { token, id: crypto.randomUUID(), back: 'now', ...fields }, headers: { origin: server.url }, maxRedirects: 0 });
    expect(answer.status() === 303, `${fields.kind}: ${answer.status()}`);
  };
  await record({ kind: 'birth', about: '1', sex: 'female', reading: '410', at: '2026-07-29T03:00' });
  await record({ kind: 'weight', about: '1', reading: '6200', at: '2026-09-30T08:00' });
});

let photo = Buffer.alloc(0);
await check('a photograph with a place in it is shown upright and without it', async () => {
  photo = await photograph();
  expect(photo.includes('Mill Lane'), 'the picture made here holds no place');
  await page.goto(`${litter}/pup?label=1`);
  await page.setInputFiles('#picture-file', { name: 'IMG_1.jpg', mimeType: 'image/jpeg', buffer: photo });
  await press(page.locator('button:has-text("Save the picture")'));
  const image = page.locator('.weeks img');
  await image.scrollIntoViewIfNeeded();
  await page.waitForFunction(() => /** @type {HTMLImageElement} */ (document.querySelector('.weeks img')).naturalWidth > 0);
  const [wide, high] = await image.evaluate((i) => [i.naturalWidth, i.naturalHeight]);
  expect(high > wide, `it lies on its side: ${wide} x ${high}`);
  const address = await page.locator('.weeks a').first().getAttribute('href');
  for (const size of ['', '?size=small']) {
    const bytes = await (await page.request.get(server.url + address + size)).body();
    expect(bytes.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff])), 'it is no JPEG');
    expect(!bytes.includes('Exif') && !bytes.includes('Mill Lane'), 'the place is still in it');
  }
  for (const name of readdirSync(join(folder, 'attachments')))
    expect(!readFileSync(join(folder, 'attachments', name)).includes('Mill Lane'), 'the place is on the disk');
  const across = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(across <= 0, `the page is ${across} px too wide`);
});

await check('a kind that Lampside cannot read is made a JPEG by the telephone', async () => {
  const webp = Buffer.from(await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    canvas.width = 300, canvas.height = 200;
    canvas.getContext('2d').fillRect(20, 20, 100, 100);
    return canvas.toDataURL('image/webp').split(',')[1];
  }), 'base64');
  expect(webp.subarray(0, 4).toString() === 'RIFF', 'the browser made no WebP: this proves nothing');
  await page.goto(`${litter}/pup?label=1`);
  const before = readdirSync(join(folder, 'attachments')).length;
  await page.setInputFiles('#picture-file', { name: 'a.webp', mimeType: 'image/webp', buffer: webp });
  await page.waitForFunction(() => /** @type {HTMLInputElement} */ (document.querySelector('#picture-file')).files[0].type === 'image/jpeg');
  await press(page.locator('button:has-text("Save the picture")'));
  expect(readdirSync(join(folder, 'attachments')).length === before + 1, 'it was not taken');
  // One that the browser cannot draw either is refused with what to do.
  await page.setInputFiles('#picture-file', { name: 'IMG_2.HEIC', mimeType: 'image/heic', buffer: Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1') });
  await page.waitForFunction(() => !document.querySelector('form:has(#picture-file) button[type=submit]:disabled'));
  await press(page.locator('button:has-text("Save the picture")'));
  expect(/set the camera to JPEG/.test(await page.innerText('body')), 'it does not say what to set');
  await page.goto(`${litter}/pup?label=1`);
});

await check('the same picture once more is one file', async () => {
  await page.setInputFiles('#picture-file', { name: 'again.jpg', mimeType: 'image/jpeg', buffer: photo });
  await press(page.locator('button:has-text("Save the picture")'));
  expect(readdirSync(join(folder, 'attachments')).length === 2, 'it is kept twice');
});

await check('a program renamed to .jpg is refused by what it is', async () => {
  await page.setInputFiles('#picture-file', { name: 'cute.jpg', mimeType: 'image/jpeg', buffer: readFileSync('/bin/true') });
  await press(page.locator('button:has-text("Save the picture")'));
  expect(/This file is a program, whatever its name says/.test(await page.innerText('body')), 'it does not say what it is');
  expect(readdirSync(join(folder, 'attachments')).length === 2, 'it was kept');
});

await check('sixty megapixels are refused before they are decoded', async () => {
  const large = Buffer.from(photo);
  const frame = large.indexOf(Buffer.from([0xff, 0xc0]));
  large.writeUInt16BE(6700, frame + 5), large.writeUInt16BE(9000, frame + 7);
  await page.setInputFiles('#picture-file', { name: 'large.jpg', mimeType: 'image/jpeg', buffer: large });
  const begin = Date.now();
  await press(page.locator('button:has-text("Save the picture")'));
  expect(/60 megapixels; the most is 50/.test(await page.innerText('body')), 'it does not say how large');
  expect(Date.now() - begin < 3000, 'it took long');
});

const read = (/** @type {Buffer} */ pdf) => {
  const file = join(folder, 'read.pdf');
  writeFileSync(file, pdf);
  return [execFileSync('pdftotext', ['-layout', file, '-']).toString(), Number(execFileSync('pdfinfo', [file]).toString().match(/Pages:\s+(\d+)/)?.[1])];
};

await check('the sheet: one page, a picture, text to paste, nobody named', async () => {
  await page.goto(`${litter}/pup?label=1`);
  const get = async (words) => (await page.request.get(server.url + await page.locator(`a:has-text("${words}")`).first().getAttribute('href'))).body();
  const [words, pages] = read(await get('Sheet, PDF'));
  expect(pages === 1, `${pages} pages`);
  expect(/May leave from/.test(words) && /Golden Retriever/.test(words), 'facts are missing');
  expect((await get('as a picture')).subarray(1, 4).toString() === 'PNG', 'no PNG');
  expect(/Dam: Bramble/.test((await get('as text')).toString()), 'no plain text');
});

await check('the folder opens and is read back', async () => {
  await page.locator('a:has-text("Folder, and the day it leaves")').click();
  await page.fill('#folder [name=family]', 'The Ashdowns, 3 Mill Lane');
  const form = await page.locator('#folder').evaluate((f) => Object.fromEntries([...new FormData(/** @type {HTMLFormElement} */ (f))].map(([k, v]) => [k, String(v)])));
  const answer = await page.request.post(`${litter}/paper/folder.pdf`, { form, headers: { origin: server.url } });
  expect(answer.status() === 200, `status ${answer.status()}`);
  const pdf = await answer.body();
  const [words, pages] = read(pdf);
  expect(pages >= 4 && pages <= 9, `${pages} pages`);
  for (const what of ['Record of birth', 'Feeding in the first weeks', 'Contract', 'The Ashdowns, 3 Mill Lane', 'Week by week'])
    expect(words.includes(what), `"${what}" is not in it`);
  expect(pdf.length < 5e6, `${pdf.length} bytes`);
});

await check('a handover with something open is taken and told of', async () => {
  await page.goto(`${litter}/handover?label=1`);
  await page.locator('#handover button[type=submit]').click();
  await page.waitForURL(/did=/);
  await page.goto(`${litter}/now`);
  expect(/A pup left with something open/.test(await text(page)), 'nothing is told');
});

await check('looking back', async () => {
  await page.goto(`${litter}/look-back`);
  expect(/Born\s*1: 1 alive/.test(await text(page)), 'the birth is not counted');
  expect(/64 days from the first mating/.test(await text(page)), 'how long she carried is not told');
  await press(page.locator('a:has-text("All her litters side by side")'));
  expect(/Born alive\s*1/.test(await text(page)), 'her litters are not side by side');
});

await browser.close();
await server.stop();
rmSync(folder, { recursive: true });
process.exit(anyFailed() ? 1 : 0);
