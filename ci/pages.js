#!/usr/bin/env node
// Says what is wrong with pages: `pages.js FOLDER [--print COUNT --boxes boxes|none] FILE...`, where FOLDER holds the npm
// packages playwright-core, axe-core and html-validate. For each page: valid HTML, no request but for itself, no error on
// the console, nothing against the accessibility rules. Without options a page is looked at as a screen shows it: in light
// and dark, wide and narrow; one with a filter is filtered and printed. With options as paper shows it: it prints on COUNT
// pages of A4 and of US Letter (0: any number), and nothing in it is clipped, overlaps or is too small to read.
// The exit code is 1 if anything is wrong.
const fs = require('fs');
const os = require('os');
const {execFileSync} = require('child_process');
const path = require('path');
const {createRequire} = require('module');

const wide = {width: 1100, height: 900};
const narrow = {width: 400, height: 800};
const paper = {width: 688, height: 1000}; // 182 mm, what A4 leaves between margins of 14 mm

// The rules of WCAG 2.0 to 2.2, levels A and AA, and what is good practice besides.
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

async function start(folder) {
  const need = createRequire(path.resolve(folder, 'package.json'));
  const {chromium} = need('playwright-core');
  const axe = fs.readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
  const {HtmlValidate} = need('html-validate');
  const reader = new HtmlValidate({extends: ['html-validate:standard', 'html-validate:a11y', 'html-validate:document']});
  const browser = await chromium.launch({executablePath: process.env.BROWSER || '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--disable-background-networking']});
  return {browser, axe, reader};
}

// Opens a file; what it asks for and what it complains of is gathered in `wrong`.
async function open({browser}, file, wrong, options = {}) {
  const context = await browser.newContext({viewport: wide, ...options});
  const page = await context.newPage();
  const address = 'file://' + encodeURI(path.resolve(file)).replace(/#/g, '%23').replace(/\?/g, '%3F');
  page.on('request', (request) => {
    if (request.url() !== address) wrong.push('asks for ' + request.url());
  });
  page.on('console', (message) => {
    if (message.type() === 'error') wrong.push('console: ' + message.text());
  });
  page.on('pageerror', (error) => wrong.push('script: ' + error.message));
  page.on('dialog', (dialog) => {
    wrong.push('opens a dialog: ' + dialog.message());
    dialog.dismiss();
  });
  await page.goto(address);
  return page;
}

// The policy of a page forbids a script of ours too, but not one that the browser itself is told to run.
async function accessibility(page, axe, wrong) {
  await page.evaluate(axe);
  const result = await page.evaluate((values) =>
    axe.run(document, {runOnly: {type: 'tag', values}, resultTypes: ['violations', 'incomplete']}), tags);
  for (const {id, nodes} of result.violations)
    wrong.push(`accessibility ${id}: ${nodes.length} places, first ${nodes[0].html.slice(0, 200)}`);
  // A sign alone has no contrast that a program could judge, nor has a text of a drawing; all else it must be able to.
  for (const {id, nodes} of result.incomplete)
    for (const node of nodes)
      if (!(id === 'color-contrast' && (/^<text/.test(node.html) ||
                                        /^[^\p{L}\p{N}]*.?$/u.test(node.html.replace(/<[^>]*>/g, '')))))
        wrong.push(`accessibility ${id} cannot be judged: ${node.html.slice(0, 200)}`);
}

// As printed: in the page.
function measure() {
  const found = [];
  const say = (what, node) => found.push(`${what}: "${(node.textContent || '').trim().slice(0, 60)}"`);
  const width = document.body.getBoundingClientRect().width;
  for (const svg of document.querySelectorAll('svg')) {
    const frame = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')].filter((text) => text.textContent.trim());
    const rects = texts.map((text) => text.getBoundingClientRect());
    texts.forEach((text, i) => {
      const r = rects[i];
      if (r.left < frame.left - 1 || r.right > frame.right + 1 || r.top < frame.top - 1 || r.bottom > frame.bottom + 1)
        say('text outside of its drawing', text);
      const points = parseFloat(getComputedStyle(text).fontSize) * svg.getScreenCTM().a * 0.75;
      if (points < 7.95) say(`text of ${points.toFixed(2)} pt`, text);
      for (let k = i + 1; k < texts.length; ++k) {
        const s = rects[k];
        // The box of a line is higher than its letters.
        const across = Math.min(r.right, s.right) - Math.max(r.left, s.left);
        const down = Math.min(r.bottom, s.bottom) - Math.max(r.top, s.top);
        if (across > 1 && down > 0.3 * Math.min(r.height, s.height)) say(`text over "${texts[k].textContent}"`, text);
      }
    });
  }
  for (const node of document.querySelectorAll('body *')) {
    if (node.closest('svg') && node.tagName !== 'svg') continue;
    const r = node.getBoundingClientRect();
    if (r.width === 0 || r.height === 0) continue;
    if (r.left < -1 || r.right > width + document.body.getBoundingClientRect().left + 1) say('outside of the page', node);
    if (['TD', 'TH', 'P', 'LI'].includes(node.tagName) && node.scrollWidth > node.clientWidth + 1 &&
        getComputedStyle(node).display !== 'inline') say('clipped', node);
    if ([...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim())) {
      const points = parseFloat(getComputedStyle(node).fontSize) * 0.75;
      if (points < 7.95) say(`text of ${points.toFixed(2)} pt`, node);
    }
  }
  return found;
}

async function markup({reader}, file, wrong) {
  const report = await reader.validateFile(file);
  for (const one of report.results.flatMap((result) => result.messages))
    wrong.push(`html ${one.line}:${one.column} ${one.ruleId}: ${one.message}`);
}

async function overflow(page, wrong, where) {
  const far = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  if (far > 1) wrong.push(`${where}: ${far} px wider than the window`);
}

// Controls of a filter: at least 24 px each way (WCAG 2.2, 2.5.8).
async function targets(page, wrong) {
  const small = await page.evaluate(() => [...document.querySelectorAll('#filter input, #filter button')]
    .map((one) => ({name: one.id || one.value, box: one.getBoundingClientRect()}))
    .filter(({box}) => box.width < 24 || box.height < 24).map(({name}) => name));
  for (const name of small) wrong.push(`target smaller than 24 px: ${name}`);
}

const shown = (page) => page.evaluate(() =>
  [...document.querySelectorAll('[data-verdict]')].filter((one) => one.checkVisibility()).length);
const told = (page) => page.evaluate(() => document.getElementById('filter-count').textContent);

// Every control does what it says, from the keyboard too, and the count is what is seen.
async function filter(page, wrong) {
  const all = await shown(page);
  const expect = async (count, what) => {
    const seen = await shown(page);
    if (seen !== count) wrong.push(`${what}: ${seen} findings shown, not ${count}`);
    const words = `${count} of ${all} findings shown`;
    if (await told(page) !== words) wrong.push(`${what}: the count says "${await told(page)}", not "${words}"`);
  };
  if (all !== await page.locator('[data-verdict]').count()) wrong.push('not all is shown at the beginning');
  await expect(all, 'at the beginning');
  for (const name of ['verdict', 'class'])
    for (const box of await page.locator(`#filter input[name=${name}]`).all()) {
      const value = await box.getAttribute('value');
      const of_it = await page.locator(`[data-${name}="${value}"]`).count();
      await box.focus();
      await page.keyboard.press('Space');
      await expect(all - of_it, `without ${value}`);
      await page.keyboard.press('Space');
    }
  await expect(all, 'all boxes again');
  const id = await page.evaluate(() => document.querySelector('[data-verdict]')?.id);
  if (!id) return;
  const rule = await page.evaluate((one) =>
    document.getElementById(one).querySelector('.rule bdi').textContent, id);
  await page.fill('#filter-words', rule.toUpperCase());
  const found = await shown(page);
  if (found < 1 || (all > 20 && found === all)) wrong.push(`words "${rule}": ${found} of ${all} shown`);
  await page.fill('#filter-words', 'no finding says this');
  await expect(0, 'words that nothing holds');
  await page.emulateMedia({media: 'print'});
  const note = await page.evaluate(() => {
    const one = document.getElementById('filter-paper');
    return one.checkVisibility() ? one.textContent : '';
  });
  if (note !== `Filtered: only 0 of ${all} findings are printed.`) wrong.push(`on paper, filtered: "${note}"`);
  await page.emulateMedia({media: 'screen'});
  const link = page.locator(`.glance a[href="#${id}"]`).first();
  if (await link.count()) {
    await link.click();
    await expect(all, 'a link to what was hidden');
    await page.fill('#filter-words', 'no finding says this');
  }
  await page.click('#filter-reset');
  await expect(all, 'show all');
  const ring = await page.evaluate(() => {
    document.getElementById('filter-words').focus();
    return getComputedStyle(document.getElementById('filter-words')).outlineStyle;
  });
  if (ring === 'none') wrong.push('the focus is not seen');
}

// All words of the page are on paper, those of closed workings too.
async function on_paper(page, wrong) {
  await page.setViewportSize(paper);
  await page.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  await page.emulateMedia({media: 'print'});
  const lost = await page.evaluate(() => [...document.querySelectorAll('main bdi, main dd, main h3')]
    .filter((one) => !one.closest('#filter') && !one.checkVisibility({contentVisibilityAuto: true}))
    .map((one) => one.textContent.slice(0, 80)));
  if (lost.length > 0) wrong.push(`not on paper: ${lost.length} places, first "${lost[0]}"`);
  await overflow(page, wrong, 'on paper');
  if (await page.evaluate(() => document.getElementById('filter')?.checkVisibility()))
    wrong.push('the filter is printed');
  await page.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  await page.emulateMedia({media: 'screen'});
}

// What is wrong with one page on paper.
async function faults_on_paper(tools, file, print, boxes) {
  const wrong = [];
  await markup(tools, file, wrong);
  const page = await open(tools, file, wrong, {viewport: {width: 718, height: 1000}}); // 190 mm
  await accessibility(page, tools.axe, wrong);
  if (boxes) {
    await page.emulateMedia({media: 'print'});
    wrong.push(...await page.evaluate(measure));
  }
  for (const format of print > 0 ? ['A4', 'Letter'] : []) {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'pages-'));
    const pdf = path.join(folder, 'page.pdf');
    fs.writeFileSync(pdf, await page.pdf({format}));
    const count = Number(/Pages:\s+(\d+)/.exec(execFileSync('pdfinfo', [pdf], {encoding: 'utf8'}))[1]);
    if (count !== print) wrong.push(`${format}: ${count} pages instead of ${print}`);
    fs.rmSync(folder, {recursive: true});
  }
  await page.context().close();
  return wrong;
}

// What is wrong with one page on a screen: a list of sentences.
async function faults(tools, file) {
  const wrong = [];
  await markup(tools, file, wrong);
  const page = await open(tools, file, wrong);
  const filtered = await page.locator('#filter').count() > 0;
  if (filtered) {
    if (await page.locator('details[open]').count()) wrong.push('a working is open at the beginning');
    await filter(page, wrong);
    await targets(page, wrong);
    await page.click('#open-proofs'); // what is closed is not judged
  }
  await accessibility(page, tools.axe, wrong);
  await page.emulateMedia({colorScheme: 'dark'});
  await accessibility(page, tools.axe, wrong);
  await page.emulateMedia({colorScheme: 'light'});
  await overflow(page, wrong, 'wide');
  await page.setViewportSize(narrow);
  await overflow(page, wrong, 'narrow');
  if (filtered) await page.click('#close-proofs');
  await on_paper(page, wrong);
  await page.context().close();
  if (filtered) {
    const still = await open(tools, file, wrong, {javaScriptEnabled: false});
    const hidden = await still.locator('[data-verdict]:not(:visible), details:not([open])').count();
    if (hidden > 0) wrong.push(`without script ${hidden} places are hidden`);
    if (await still.locator('#filter').isVisible()) wrong.push('without script there is a filter that does nothing');
    await still.context().close();
  }
  return wrong;
}

async function main(folder, words) {
  const option = (name) => words[0] === name ? words.splice(0, 2)[1] : undefined;
  const print = option('--print');
  const boxes = option('--boxes');
  const tools = await start(folder);
  let bad = 0;
  for (const file of words) {
    const wrong = print === undefined ? await faults(tools, file)
                                      : await faults_on_paper(tools, file, Number(print), boxes === 'boxes');
    for (const fault of [...new Set(wrong)].slice(0, 20)) console.log(`${file}: ${fault}`);
    if (wrong.length > 0) bad = 1;
  }
  await tools.browser.close();
  process.exit(bad);
}

main(process.argv[2], process.argv.slice(3)).catch((error) => {
  console.log('pages: ' + error.stack);
  process.exit(2);
});
