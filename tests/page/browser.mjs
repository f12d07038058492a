// Opens the page in a browser, checks every case there (see cases.py), and compares what it
// says with what the command said: the answers for programs, byte for byte.
//
//     node browser.mjs PAGE CASES MODULES chromium|firefox whole|small [PICTURES]
//
// MODULES is the folder in which `npm install puppeteer-core axe-core` was run. To be run
// where there is no network (`unshare -n`). With PICTURES it leaves pictures of the screens.
import assert from "node:assert/strict";
import { mkdirSync, readFileSync, readdirSync, existsSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [page_file, cases, modules, name, kind, pictures] = process.argv.slice(2);
const require = createRequire(resolve(modules, "x.js"));
const { default: puppeteer } = await import(
  pathToFileURL(require.resolve("puppeteer-core")).href);
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const PHONE = { width: 360, height: 640 };
const DESK = { width: 1200, height: 900 };
const browser = await puppeteer.launch(name === "firefox"
  ? { browser: "firefox", executablePath: "/usr/bin/firefox-esr" }
  : { executablePath: "/usr/bin/chromium", pipe: true, args: ["--no-sandbox", "--disable-gpu",
      "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync"] });
const page = await browser.newPage();
const trouble = [];
page.on("pageerror", error => trouble.push(`error: ${error.message}`));
page.on("dialog", dialog => { trouble.push("a dialog"); dialog.dismiss(); });
page.on("request", request => {
  const address = request.url();
  // axe brings a font of its own, inside its text.
  if (!/^(file|data|blob):/.test(address)) trouble.push(`a request: ${address.slice(0, 80)}`);
});
page.on("console", message => {
  if (message.type() === "error") trouble.push(`console: ${message.text()}`);
});

async function open(viewport) {
  await page.setViewport(viewport);
  await page.goto(pathToFileURL(resolve(page_file)).href);
  await page.waitForFunction(() => document.documentElement.dataset.ready === "yes",
    { timeout: 120000 });
}

// Gives the page what stands in a folder, the document last, and waits for its answers.
async function check(folder) {
  const file = name => resolve(cases, folder, name);
  const all = start => readdirSync(resolve(cases, folder)).filter(file => file.startsWith(start));
  await page.evaluate(() => {
    document.getElementById("given").reset();
    document.getElementById("json").textContent = "";
    document.getElementById("status").textContent = "";
  });
  const give = async (id, ...files) => (await page.$(id)).uploadFile(...files);
  if (existsSync(file("receipt.pdf"))) await give("#receipt", file("receipt.pdf"));
  for (const [start, id] of [["certificate-", "#certificates"], ["authority-", "#authorities"]]) {
    if (all(start).length > 0) await give(id, ...all(start).map(file));
  }
  if (existsSync(file("fingerprint"))) {
    const text = readFileSync(file("fingerprint"), "utf8");
    await page.evaluate(text => { document.getElementById("fingerprint").value = text; }, text);
  }
  await give("#document", file("document.pdf"));
  await page.waitForFunction(() => document.getElementById("json").textContent !== "",
    { timeout: 120000 });
  return page.$eval("#json", place => place.textContent);
}

// The small page compares no pages; all else must be the same.
function comparable(json) {
  if (kind === "whole") return json;
  const found = JSON.parse(json);
  for (const finding of found.findings) {
    if (finding.question === "pages") { finding.answer = ""; finding.because = []; }
  }
  return JSON.stringify(found);
}

async function fits(what) {
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(width <= PHONE.width, `${what}: ${width} pixels wide`);
}

async function accessible(what) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => axe.run());
  const told = found.violations.map(one => `${one.id}: ${one.nodes.map(node => node.html).join(" ")}`);
  assert.deepEqual(told, [], what);
}

async function picture(name) {
  if (!pictures) return;
  mkdirSync(pictures, { recursive: true });
  await page.screenshot({ path: `${pictures}/${name}.png`, fullPage: true });
}

// What a file says must stay text.
async function harmless(what) {
  const odd = await page.evaluate(() => ({
    title: document.title,
    made: document.querySelectorAll("#shown img, #shown script, #shown [onclick], #shown iframe").length,
  }));
  assert.equal(odd.made, 0, what);
  assert.match(odd.title, /^(Check|Comprobar)/, what);
}

// The worst answer comes first; what was altered has no tick; fingerprints that differ show it.
async function worstFirst(folder) {
  const answers = id => page.$$eval(`#${id} > li`, all => all.map(one => one.dataset.answer));
  const [told, asked] = [await answers("told"), await answers("questions")];
  if (asked.includes("no")) assert.equal(told[0], "no", folder);
  assert.notEqual(await page.$eval("#next", place => place.textContent), "", folder);
  if (folder === "document-10-byte-changed") assert.ok(![...told, ...asked].includes("yes"), folder);
  if (folder === "swapped") {
    assert.equal((await page.$$("#codes dd")).length, 2, folder);
    assert.notEqual((await page.$$("#codes u")).length, 0, folder);
    assert.match(await page.$eval("#differs", place => place.textContent), /12\.8.*14\.8/, folder);
  }
}

const all = readdirSync(cases).sort();
let differing = 0;

// On a phone: everything fits, before and after, in both languages.
await open(PHONE);
await fits("empty");
await accessible("empty");
await picture("phone-empty");
const shown = all.filter(one => /^(hostile|sample|swapped)|document-0|document-1[01]|-(53|80)-/.test(one));
for (const folder of shown) {
  await check(folder);
  await fits(folder);
  await harmless(folder);
  await picture(`phone-${folder}`);
  await worstFirst(folder);
}
await accessible("with a report");
await page.select("#language", "es");
await page.waitForFunction(() => document.documentElement.lang === "es"
  && !document.getElementById("shown").hidden, { timeout: 120000 });
await page.evaluate(() => document.querySelectorAll("details").forEach(one => { one.open = true; }));
await fits("Spanish");
await accessible("Spanish");
await picture("phone-spanish");
assert.deepEqual(await page.$$eval("#questions .because", all => all
  .filter(one => one.lang !== "es").map(one => one.textContent)), [], "not in Spanish");
await page.select("#language", "en");

// By keyboard alone: to the field, to what else there is, and to a file's text.
await open(DESK);
await check(shown[0]);
const reached = new Set();
await page.focus("#document");
await page.keyboard.down("Shift");
await page.keyboard.press("Tab");
await page.keyboard.up("Shift");
reached.add(await page.evaluate(() => document.activeElement.id));
for (let step = 0; step < 30; step++) {
  await page.keyboard.press("Tab");
  const place = await page.evaluate(() => document.activeElement.id || document.activeElement.tagName);
  if (place === "BUTTON" && !reached.has(place)) {
    await page.keyboard.press("Enter");
    await page.waitForSelector("#files pre");
  }
  reached.add(place);
}
for (const place of ["language", "SUMMARY", "BUTTON", "A", "PRE"]) {
  assert.ok(reached.has(place), `the keyboard does not reach ${place}`);
}
await accessible("on a desk, with a file's text");
await picture("desk-file");

// Every case.
const started = Date.now();
for (const folder of all) {
  const expected = readFileSync(resolve(cases, folder, "expected.json"), "utf8");
  const found = await check(folder);
  if (comparable(found) !== comparable(expected)) {
    differing += 1;
    console.log(`${folder} differs:\n${found}`);
  }
  if (/^(sample-frost-fan|document-10-|swapped|hostile-markup)/.test(folder)) {
    await picture(`desk-${folder}`);
  }
}
console.log(`${name}, ${kind}: ${all.length} cases in ${(Date.now() - started) / 1000} s, `
  + `${differing} differ; ${await browser.version()}`);
assert.deepEqual(trouble, []);
assert.equal(differing, 0);
await browser.close();
