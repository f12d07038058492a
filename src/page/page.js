"use strict";
// The script of the page: it hands files to the compiled part below and puts its texts into
// their places. Everything is put in as text (`textContent`, `append`), so that nothing a
// file says can become part of the page. It asks for nothing and keeps nothing.

const at = id => document.getElementById(id);
const words = JSON.parse(at("words").textContent);
const MARKS = { "yes": "✓", "no": "✕", "cannot-tell": "?", "not-asked": "–", "unsettled": "–" };
const MOST_TEXT = 200000;

let chosen = "";
let language = (navigator.language || "").startsWith("es") ? "es" : "en";
let turn = 0;

const say = id => words[language][id];

// Says the fixed words in the language of now.
function speak() {
  document.documentElement.lang = language;
  document.title = say("page-title");
  at("language").value = language;
  for (const place of document.querySelectorAll("[data-say]")) {
    place.textContent = say(place.dataset.say);
  }
}

// The compiled part: base64 of gzip, so that the page is one file.
async function unpack() {
  const text = atob(at("compiled").textContent);
  at("compiled").remove();
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  const whole = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(whole).arrayBuffer());
}

// A fresh copy of it, which has nothing to do with the last document. It is given nothing
// that it could reach the world with: no imports.
async function start() {
  const { exports } = await WebAssembly.instantiate(await compiled, {});
  const bytes = start => new Uint8Array(exports.memory.buffer, start, exports.length()).slice();
  return {
    setsPages: () => exports.sets_pages() === 1,
    give(what, given) {
      const place = exports.place(what, given.length);
      new Uint8Array(exports.memory.buffer, place, given.length).set(given);
    },
    check: () => JSON.parse(new TextDecoder().decode(bytes(exports.check()))),
    file: number => bytes(exports.file(number)),
  };
}

const DOCUMENT = 0, RECEIPT = 1, CERTIFICATE = 2, AUTHORITY = 3, FINGERPRINT = 4, LANGUAGE = 5;

async function check() {
  const mine = ++turn;
  const [file] = at("document").files;
  if (!file) return;
  at("shown").hidden = true;
  // Lets go of the copy that checked the last document: its files hold it.
  at("files").replaceChildren();
  at("status").textContent = say("page-checking");
  // Lets the browser paint that before the work begins.
  await new Promise(done => setTimeout(done, 50));
  let program, shown;
  try {
    const read = async file => new Uint8Array(await file.arrayBuffer());
    program = await start();
    program.give(DOCUMENT, await read(file));
    for (const receipt of at("receipt").files) program.give(RECEIPT, await read(receipt));
    for (const file of at("certificates").files) program.give(CERTIFICATE, await read(file));
    for (const file of at("authorities").files) program.give(AUTHORITY, await read(file));
    program.give(FINGERPRINT, new TextEncoder().encode(at("fingerprint").value));
    program.give(LANGUAGE, new TextEncoder().encode(chosen));
    if (mine !== turn) return;
    shown = program.check();
  } catch {
    if (mine === turn) at("status").textContent = say("page-failed");
    return;
  }
  if (mine !== turn) return;
  language = shown.language;
  speak();
  kind(program);
  at("status").textContent = shown.refused || [...shown.notes, shown.done].join(" ");
  if (!shown.refused) show(shown, program);
}

// An element with these texts and elements in it.
function make(tag, kind, ...parts) {
  const made = document.createElement(tag);
  made.className = kind;
  made.append(...parts);
  return made;
}

function fill(id, items) {
  at(id).replaceChildren(...items);
  const part = at(id + "-part");
  if (part) part.hidden = items.length === 0;
}

function show(shown, program) {
  fill("wrong", shown.wrong.map(line => make("li", "", make("p", "name", line.text), ...reasons(line))));
  at("differs-rest").textContent = shown.differs_rest;
  fill("differs", shown.differs.map(differs));
  at("differs-part").hidden = !shown.differs_rest;
  at("despite").hidden = shown.wrong.length === 0;
  at("about").textContent = shown.about;
  at("heading").textContent = shown.heading;
  at("says").textContent = shown.says;
  at("state").textContent = shown.state;
  at("result-part").hidden = !shown.says;
  at("required").replaceChildren(...shown.required.map(required));
  fill("told", shown.told.map(told));
  fill("codes", shown.codes.rows.flatMap(code));
  at("codes-say").textContent = shown.codes.says;
  at("next").textContent = shown.next;
  fill("questions", shown.questions.map(asked));
  at("cannot-show").textContent = shown.cannot_show;
  fill("files", shown.files.map((file, number) => attached(file, number, program)));
  at("json").textContent = shown.json;
  at("shown").hidden = false;
  at("shown").focus({ preventScroll: true });
  at("status").scrollIntoView();
}

function marked(line, ...parts) {
  const mark = make("span", "mark", MARKS[line.answer]);
  mark.setAttribute("aria-hidden", "true");
  const item = make("li", "line", mark, make("div", "", make("span", "answer", line.word), ...parts));
  item.dataset.answer = line.answer;
  return item;
}

// Figures side by side, each behind what it is.
function figures(...pairs) {
  const made = make("p", "figures");
  for (const [label, text] of pairs) made.append(make("b", "", make("span", "", label + " "), text));
  return made;
}

function differs(one) {
  return make("li", "", make("p", "name", one.name),
    figures([say("page-on-receipt"), one.receipt], [say("page-in-document"), one.document]));
}

function told(line) {
  const item = marked(line, make("p", "", line.text), ...reasons(line));
  item.lastChild.prepend(make("p", "name", line.topic));
  return item;
}

function required(figure) {
  const after = figure.after === null ? [] : [[say("page-after"), figure.after]];
  return make("li", "", make("p", "name", figure.name),
    figures([say("page-before"), figure.before], ...after),
    make("p", "because", say("page-limit") + ": " + figure.limit), make("p", "", figure.result));
}

function reasons(line) {
  return line.because.map(reason => {
    const text = make("p", "because", reason.text);
    text.lang = reason.language;
    return text;
  });
}

// A fingerprint, its groups one below the other with those of the next one.
function code(row) {
  const groups = row.groups.map((group, place) => make("span", "", make(group.differs ? "u" : "span",
    "", group.text), place + 1 < row.groups.length ? "-" : ""));
  return [make("dt", "", row.label), make("dd", "", ...groups)];
}

function asked(line) {
  const item = marked(line, ...reasons(line));
  item.lastChild.prepend(make("p", "name", line.question));
  return item;
}

function attached(file, number, program) {
  const look = make("button", "", say("page-look"));
  look.type = "button";
  look.setAttribute("aria-expanded", "false");
  look.setAttribute("aria-label", say("page-look") + ": " + file.name);
  const save = make("a", "button", say("page-save"));
  save.href = "#";
  save.setAttribute("aria-label", say("page-save") + ": " + file.name);
  const item = make("li", "file",
    make("div", "", make("p", "name", make("bdi", "", file.name)),
      make("p", "because", [file.what, file.size].filter(Boolean).join(" · "))),
    make("div", "buttons", look, save));
  let text;
  look.onclick = () => {
    if (text) text.remove();
    text = text ? undefined : make("pre", "", readable(program.file(number)));
    if (text) { text.tabIndex = 0; item.append(text); }
    look.setAttribute("aria-expanded", String(Boolean(text)));
    look.setAttribute("aria-label", say(text ? "page-hide" : "page-look") + ": " + file.name);
    look.textContent = say(text ? "page-hide" : "page-look");
  };
  save.onclick = () => {
    const address = URL.createObjectURL(new Blob([program.file(number)]));
    save.href = address;
    save.download = file.name.replaceAll("/", "-");
    setTimeout(() => { URL.revokeObjectURL(address); save.href = "#"; }, 60000);
  };
  return item;
}

function readable(bytes) {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return text.length <= MOST_TEXT ? text
      : text.slice(0, MOST_TEXT) + "\n…\n" + say("page-cut-short");
  } catch {
    return say("page-not-text");
  }
}

function kind(program) {
  at("kind").textContent = say("page-kind") + ": "
    + say(program.setsPages() ? "page-kind-whole" : "page-kind-light");
}

// A file that is dropped anywhere but on a field is the document.
addEventListener("dragover", event => event.preventDefault());
addEventListener("drop", event => {
  if (event.target.type === "file") return;
  event.preventDefault();
  if (event.dataTransfer.files.length === 0) return;
  at("document").files = event.dataTransfer.files;
  check();
});
at("given").addEventListener("submit", event => event.preventDefault());
at("given").addEventListener("change", check);
at("language").addEventListener("change", () => {
  chosen = language = at("language").value;
  speak();
  check();
});

speak();
let compiled;
if (typeof DecompressionStream === "undefined" || typeof WebAssembly === "undefined") {
  at("status").textContent = say("page-too-old");
} else {
  at("status").textContent = say("page-unpacking");
  compiled = unpack();
  start().then(program => {
    kind(program);
    if (at("status").textContent === say("page-unpacking")) at("status").textContent = "";
    document.documentElement.dataset.ready = "yes";
  }).catch(() => { at("status").textContent = say("page-too-old"); });
}
