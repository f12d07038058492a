// From an empty folder to a signed report by the form alone, as a hand would do it, in a real
// browser, on a phone-sized and a desk-sized window. Counts taps and keystrokes, looks at every
// page with axe-core, and refuses a page that scrolls sideways.
//
//   node fill.mjs PROGRAM SAMPLE OUTPUT-FOLDER [--no-script]
//
// SAMPLE is the job whose figures are typed; the new job is `init --like` it.
import { execFileSync, spawn } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import puppeteer from "puppeteer-core";

const [program, sample, out, mode] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
mkdirSync(out, { recursive: true });
const sizes = {
  phone: { width: 360, height: 640, isMobile: true, hasTouch: true, deviceScaleFactor: 2 },
  desk: { width: 1180, height: 800 },
};
const problems = [];
const browser = await puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

// What is typed: by step and label, from the sample's own figures.
const typed = {
  "plan/machine": { "Job number": "E-0500", "Customer": "Brackenhill Orchards",
    "Machine, as people call it": "Frost fan 2", "What the customer says is wrong": "Cranks too long when cold" },
  "baseline/when": { "Measured by": "Tamsin Orrell", "Who else saw it": "Idris Fell" },
  "baseline/conditions": { "Ambient temperature": "-1.5", "Coolant temperature before the start": "-0.8",
    "Time standing before the start": "13.5", "Battery voltage at rest": "12.58", "Fuel": "winter diesel" },
  "baseline/m-crank-time": { figure: "12.8" },
  "baseline/m-contribution": { rows: ["7.4", "-13.1", "-2.9", "8.6"] },
  "baseline/m-first-try": { taps: ["+ failed", "+ failed", "+ failed"] },
  "baseline/m-smoke": { "Clear after": "41", "Colour": "white" },
  "baseline/m-suction": { figure: "31.5" },
  "baseline/m-crank-voltage": { figure: "9.94" },
  "work/done": { "Done by": "Tamsin Orrell", "What was done": "New fuel filter" },
  "retest/conditions": { "Ambient temperature": "-1.0", "Coolant temperature before the start": "-0.5",
    "Time standing before the start": "13.2", "Battery voltage at rest": "12.60", "Fuel": "winter diesel" },
  "retest/m-crank-time": { figure: "2.4" },
  "retest/m-contribution": { rows: ["1.9", "-2.2", "-0.7", "1.0"] },
  "retest/m-first-try": { taps: ["+ passed", "+ passed", "+ passed"] },
  "retest/m-smoke": { "Clear after": "6", "Colour": "white" },
  "retest/m-suction": { figure: "11.0" },
  "retest/m-crank-voltage": { figure: "10.32" },
};

async function story(name) {
  const place = join(out, name);
  mkdirSync(place, { recursive: true });
  const job = join(place, "job");
  writeFileSync(join(place, "shop.toml"), 'format = 1\nname = "Orrell Cold Start"\n');
  execFileSync(program, ["init", job, "--like", sample]);
  const server = spawn(program, ["fill", job], { stdio: ["pipe", "pipe", "inherit"] });
  const address = await new Promise((resolve) => {
    let said = "";
    server.stdout.on("data", (data) => {
      said += data;
      const found = /http:\/\/127\S+/.exec(said);
      if (found) resolve(found[0]);
    });
  });
  const page = await browser.newPage();
  await page.setViewport(sizes[name]);
  if (mode === "--no-script") await page.setJavaScriptEnabled(false);
  page.on("pageerror", (error) => problems.push(`${name}: script: ${error}`));
  page.on("console", (message) => {
    if (message.type() === "error" && !/409|404/.test(message.text())) problems.push(`${name}: console: ${message.text()}`);
  });
  let taps = 0, keys = 0, shot = 0;
  const tap = async (handle) => { taps++; await handle.evaluate((e) => e.scrollIntoView({ block: "center" })); await handle.click(); };
  const look = async (what) => {
    shot++;
    const label = `${String(shot).padStart(2, "0")}-${what.replaceAll("/", "-")}`;
    await page.screenshot({ path: join(place, `${label}.png`), fullPage: true });
    if (mode === "--no-script") return;
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    if (wide > 0) problems.push(`${name} ${what}: ${wide} pixels too wide`);
    await page.evaluate(axe);
    const found = await page.evaluate(() => axe.run());
    for (const one of found.violations) {
      problems.push(`${name} ${what}: ${one.id}: ${one.nodes.map((node) => node.html.slice(0, 120)).join(" | ")}`);
    }
  };
  const field = async (label) => {
    const all = await page.$$("main form#form .field, main form#form .row");
    for (const one of all) {
      const text = await one.$eval("label", (e) => e.textContent);
      if (text === label) return one.$("input:not([type=hidden]), textarea");
    }
    throw new Error(`${page.url()}: no field ${label}`);
  };
  const type = async (handle, text) => {
    const before = await handle.evaluate((e) => e.value);
    if (before === text) return;
    await tap(handle);
    keys += text.length;
    await handle.type(text);
  };
  const press = async (selector) => {
    const handle = await page.$(selector);
    await Promise.all([page.waitForNavigation(), tap(handle)]);
  };
  const steps = ["plan/machine", ...Object.keys(typed).filter((step) => !step.startsWith("plan/"))];
  await page.goto(address);
  for (const step of steps) {
    const at = new URL(page.url()).pathname.slice(1);
    // Whoever goes on from page to page comes by; what is not typed here is passed over.
    for (let more = 0; new URL(page.url()).pathname !== `/${step}`; more++) {
      if (more > 12) throw new Error(`${step} was not reached from ${at}`);
      if (step === "baseline/when" || step === "work/done") { await page.goto(new URL(`/${step}`, address).href); taps++; break; }
      if (/retest\/when/.test(page.url())) await look("retest/when");
      await press("button.go, a.go");
      if (new URL(page.url()).pathname === "/finish") { await page.goto(new URL(`/${step}`, address).href); taps++; break; }
    }
    const todo = typed[step];
    await look(`${step}-empty`);
    if (todo.figure) {
      await type(await page.$("main .figure input:not([type=hidden])"), todo.figure);
    } else if (todo.rows) {
      const boxes = await page.$$("main .row input:not([type=hidden])");
      for (const [index, figure] of todo.rows.entries()) await type(boxes[index], figure);
    } else if (todo.taps) {
      for (const label of todo.taps) {
        const buttons = await page.$$("main button");
        for (const button of buttons) {
          if ((await button.evaluate((e) => e.textContent)) === label) {
            await Promise.all([page.waitForNavigation(), tap(button)]);
            break;
          }
        }
      }
    } else {
      for (const [label, text] of Object.entries(todo)) await type(await field(label), text);
    }
    if (mode !== "--no-script") await new Promise((resolve) => setTimeout(resolve, 900));
    await look(step);
    await press("button.go");
  }
  await page.goto(new URL("/finish", address).href);
  await look("finish");
  server.kill();
  await page.close();
  return { taps, keys, seconds: Math.round(keys / 2 + taps) };
}

const figures = {};
for (const name of Object.keys(sizes)) figures[name] = await story(name);
await browser.close();
writeFileSync(join(out, "figures.json"), JSON.stringify(figures, null, 1));
console.log(JSON.stringify(figures));
for (const one of problems) console.log(one);
process.exit(problems.length ? 1 : 0);
