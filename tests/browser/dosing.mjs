// A litter is wormed: a wrong strength is caught, two pups are left out with a reason, a tick is taken back.
// With and without scripts, on a phone. Prints "ok NAME" or "not ok NAME: why".
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { anyFailed, browser, check, expect, pdfText, serve, text, usable } from './ground.mjs';

const program = process.argv[2];
const kDay = 86400000;
const kNow = Date.parse('2026-10-26T11:00:00Z');
const iso = (/** @type {number} */ t) => new Date(t).toISOString().replace('.000Z', 'Z');

/** Four pups, three weeks old, weighed daily for a week and this morning. */
function journal() {
  const lines = [];
  let n = 0;
  const put = (at, kind, fields) => lines.push(JSON.stringify({ id: `5b0c3a52-1f0e-4c1d-9a77-${String(++n).padStart(12, '0')}`, litter: 'bramble-2026', at: iso(at), kind, ...fields }));
  put(kNow - 80 * kDay, 'litter', { dam: { name: 'Bramble', kg: 30 }, zone: 'Europe/London' });
  ['red', 'blue', 'green', 'yellow'].forEach((collar, i) => {
    const about = String(i + 1);
    put(kNow - 21 * kDay, 'birth', { about, grams: 400, collar });
    for (let d = 7; d >= 0; d--) put(kNow - d * kDay - 3 * 3600000, 'weight', { about, grams: Math.round((1100 + 90 * i) * 1.04 ** -d) });
  });
  return lines.join('\n') + '\n';
}

for (const scripts of [true, false]) {
  const how = scripts ? 'with scripts' : 'without scripts';
  const folder = mkdtempSync(join(tmpdir(), 'lampside-dosing-'));
  writeFileSync(join(folder, 'in.jsonl'), journal());
  const taken = spawnSync(program, ['take-in', join(folder, 'in.jsonl'), '--data', folder], { encoding: 'utf8' });
  const server = await serve(folder, iso(kNow));
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, javaScriptEnabled: scripts, colorScheme: 'dark', timezoneId: 'Europe/London' });
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  const press = (locator) => Promise.all([page.waitForNavigation(), locator.click()]);
  const row = (n) => page.locator(`.dog-dose:has-text("Pup ${n}")`);
  const typed = async (strength, again) => {
    await page.fill('#label-strength', strength);
    await page.fill('#label-strength_again', again);
    await press(page.locator('#label button[type=submit]'));
    return text(page);
  };

  await check(`no label, no dose, ${how}`, async () => {
    expect(taken.status === 0, taken.stderr);
    await page.goto(server.url + '/');
    await page.locator('a[href$="/dosing"]').first().click();
    expect(/No label yet/.test(await text(page)), 'the page does not ask for a label');
    expect((await page.locator('.dose-amount').count()) === 0, 'a dose is shown without a label');
    expect((await page.locator('#label-strength').inputValue()) === '', 'a strength is filled in');
  });

  await check(`a wrong strength is caught, ${how}`, async () => {
    await page.fill('#label-name', 'worm suspension');
    await page.fill('#label-active', 'pyrantel');
    await page.fill('#label-dose', '5 mg/kg');
    await page.fill('#label-min_age_d', '14');
    await page.fill('#label-repeat_d', '14');
    await page.fill('#label-mark_ml', '0,1');
    await page.fill('#label-lot', 'LH-2217');
    await page.fill('#label-keeps_open_d', '70');
    expect(/does not say per cent of what/i.test(await typed('10 %', '10 %')), '10 % is taken');
    expect(/how something was diluted/i.test(await typed('1:10', '1:10')), '1:10 is taken');
    expect(/not the same/.test(await typed('4.54 mg/ml', '45.4 mg/ml')), 'two strengths are taken for one');
    const said = await typed('45,4 mg/ml', '45,4 mg/ml');
    expect(/point in another place/.test(said), 'the slipped point is not told');
    expect((await page.locator('#label input[name=confirmed]').count()) === 1, 'nobody is asked whether it stands');
    expect((await page.locator('#label-name').inputValue()) === 'worm suspension', 'what was typed is gone');
    const right = await typed('4,54 mg/ml', '4.54 mg/ml');
    expect(/0 of 4 given today/.test(right), 'the round does not begin');
    expect(/22 times apart|11 times apart/.test(right), 'the other strengths are not told');
  });

  await check(`a pack that keeps only so long is asked when it was opened, ${how}`, async () => {
    expect((await page.locator('.dose-amount').count()) === 0, 'doses are told of a pack nobody knows the age of');
    await page.fill('#opened [name=opened]', '2026-08-01');  // 86 days ago
    await press(page.locator('#opened button'));
    expect(/not to be used after/i.test(await text(page)), 'a pack open too long is used');
    await page.locator('summary:has-text("The label of")').click();
    await page.fill('#label-change-opened', '2026-10-20');
    await press(page.locator('#label-change button[type=submit]'));
    expect((await page.locator('.dose-amount').count()) === 4, 'a fresh pack gives no doses');
    expect((await page.locator('#opened').count()) === 0, 'it is asked again');
  });

  await check(`the bottle falls with each dose, ${how}`, async () => {
    await page.fill('#bottle [name=have]', '30');
    await press(page.locator('#bottle button'));
    expect(/In the house: 30 ml/.test(await text(page)), 'the bottle is not told');
  });

  await check(`a round with two exceptions, ${how}`, async () => {
    // 1100 g x 5 mg/kg / 4.54 mg/ml is 1.21 ml: down to 1.2.
    expect(/1\.2 ml/.test(await row(1).innerText()), `pup 1 says ${(await row(1).innerText()).replace(/\n/g, ' ')}`);
    for (const n of [1, 2]) await press(row(n).locator('form[id^="give-"] button').first());
    for (const [n, why] of [[3, 'loose stools'], [4, 'ill or cold']]) {
      await row(n).locator('summary').click();
      await row(n).locator(`input[value="${why}"]`).check();
      await press(row(n).locator('button:has-text("Leave out")'));
    }
    const said = await text(page);
    expect(/2 of 4 given today/.test(said), 'the tally is wrong');
    expect(/left out: loose stools/.test(said) && /left out: ill or cold/.test(said), 'the exceptions are not told');
    expect((await page.locator('form[id^="give-"]').count()) === 0, 'a pup can be dosed twice');
    // 1100 and 1190 g: 1.2 and 1.3 ml of 30.
    expect(/In the house: 27\.5 ml/.test(said), `the bottle did not fall: ${said.match(/In the house: [^.]*/)?.[0]}`);
    await page.goto(page.url().replace(/\/dosing.*/, '/log'));
    expect(/lot LH-2217/.test(await text(page)), 'the lot is not in the log');
    await page.goBack();
  });

  await check(`a tick is taken back, and the paper prints, ${how}`, async () => {
    await press(row(2).locator('button:has-text("Undo")'));
    expect(/1 of 4 given today/.test(await text(page)), 'the tick stays');
    expect((await row(2).locator('form[id^="give-"]').count()) === 1, 'pup 2 cannot be dosed again');
    expect(/In the house: 28\.8 ml/.test(await text(page)), 'the bottle did not get it back');
    const pdf = await page.request.get(server.url + (await page.locator('a[href*="dosing-round.pdf"]').first().getAttribute('href')));
    const words = pdfText(await pdf.body());
    for (const said of ['LH-2217', 'loose stools', 'ill or cold', '1.3 ml', "Your vet's word and your law come first"])
      expect(words.includes(said), `the sheet does not say ${said}`);
  });

  if (scripts)
    for (const [viewport, look] of [[{ width: 390, height: 844 }, 'dark'], [{ width: 1280, height: 800 }, 'light']])
      await check(`axe: dosing, ${viewport.width} px, ${look}`, async () => {
        await page.setViewportSize(viewport);
        await page.emulateMedia({ colorScheme: look });
        await page.waitForTimeout(300);  // buttons fade from one look to the other
        await page.evaluate(() => { for (const d of document.querySelectorAll('details')) d.open = true; });
        await usable(page);
      });
  await context.close();
  await server.stop();
  rmSync(folder, { recursive: true });
}
await browser.close();
process.exit(anyFailed() ? 1 : 0);
