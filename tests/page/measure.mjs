// How long the page takes, and how much memory, in a Chromium slowed down like a slow phone.
//
//     node measure.mjs PAGE CASES MODULES [TIMES SLOWER]
//
// CASES and MODULES as for browser.mjs. Prints, in seconds, until the page is ready and until
// it has answered about a small report and about those of 1 and 5 MB (cases.py makes them),
// each twice; and in MB, the memory of the compiled part and of the page's whole process.
import { readFileSync, readdirSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [page_file, cases, modules, slower = "6"] = process.argv.slice(2);
const require = createRequire(resolve(modules, "x.js"));
const { default: puppeteer } = await import(
  pathToFileURL(require.resolve("puppeteer-core")).href);

const browser = await puppeteer.launch({ executablePath: "/usr/bin/chromium", pipe: true,
  protocolTimeout: 600000, args: ["--no-sandbox", "--disable-gpu", "--no-first-run"] });
const page = await browser.newPage();
await page.setViewport({ width: 360, height: 640 });
await page.emulateCPUThrottling(Number(slower));
// Keeps hold of the memory of each copy of the compiled part.
await page.evaluateOnNewDocument(() => {
  const instantiate = WebAssembly.instantiate;
  WebAssembly.instantiate = async (...all) => {
    const made = await instantiate.apply(WebAssembly, all);
    window.memory = made.exports.memory;
    return made;
  };
});

// The most that a page's process holds now, in MB.
function held() {
  let most = 0;
  for (const id of readdirSync("/proc")) {
    try {
      const told = name => readFileSync(`/proc/${id}/${name}`, "utf8");
      if (!told("cmdline").includes("--type=renderer")) continue;
      most = Math.max(most, Number(/VmRSS:\s+(\d+)/.exec(told("status"))[1]) / 1024);
    } catch { /* Not a process, or gone. */ }
  }
  return most.toFixed(0);
}

const since = start => ((Date.now() - start) / 1000).toFixed(1);
let start = Date.now();
await page.goto(pathToFileURL(resolve(page_file)).href);
await page.waitForFunction(() => document.documentElement.dataset.ready === "yes",
  { timeout: 600000 });
console.log(`${slower} times slower: ready after ${since(start)} s, process ${held()} MB`);
for (const name of ["sample-frost-fan-alone", "large-1", "large-5"]) {
  const document = resolve(cases, name, "document.pdf");
  for (let turn = 0; turn < 2; turn++) {
    await page.evaluate(() => {
      window.document.getElementById("given").reset();
      window.document.getElementById("json").textContent = "";
    });
    start = Date.now();
    await (await page.$("#document")).uploadFile(document);
    await page.waitForFunction(() => window.document.getElementById("json").textContent !== "",
      { timeout: 600000 });
    const seconds = since(start);
    const compiled = await page.evaluate(() => window.memory.buffer.byteLength / 1048576);
    const megabytes = (statSync(document).size / 1e6).toFixed(2);
    console.log(`${name}, ${megabytes} MB: ${seconds} s, compiled part ${compiled.toFixed(0)} MB, `
      + `process ${held()} MB`);
  }
}
await browser.close();
