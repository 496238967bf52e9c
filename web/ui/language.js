// The language of the page. The English texts of the sources are the keys of a catalogue
// (web/words): a text that stands there, or is like one of its patterns, is said in the
// other language; any other as it is. {0}, {1} … of a key stand for what varies: numbers,
// names, or words that are looked up in their turn.

/**
 * @typedef {Record<string, string>} Catalogue
 * @typedef {{ lead: string, tail: string, between: string[], open: boolean, fixed: number, form: RegExp, places: string[], said: string }} Pattern
 */

const MOST = 4000; // texts that are kept as they were said

/** @type {Catalogue | null} */
let catalogue = null; // null while English is spoken
/** @type {Pattern[][]} */
let patterns = []; // those of as many letters together, of the most first
/** @type {Map<string, string>} */
const kept = new Map();
/** @type {Map<string, string | null>} */
const finds = new Map(); // of texts and their parts
let own = { key: "", texts: new Set([""]) };

/**
 * speak has all that is said from now on said by a catalogue, or in English.
 * @param {Catalogue | null} words
 */
export function speak(words) {
  catalogue = words;
  forget();
  const all = Object.entries(words ?? {}).filter(([english]) => PLACE.test(english)).map(compiled);
  /** @type {Pattern[][]} */
  const by = [];
  for (const pattern of all) (by[pattern.fixed] ??= []).push(pattern);
  patterns = by.filter(Boolean).reverse();
}

// isSpoken tells whether another language than English is spoken.
export const isSpoken = () => catalogue !== null;

/**
 * leave names the texts that the user gave: within a sentence they are never translated. An
 * element that shows such a text alone is marked (dom.js).
 * @param {string[]} texts
 */
export function leave(texts) {
  const key = texts.join("\n");
  if (key === own.key) return;
  own = { key, texts: new Set(texts) };
  forget();
}

function forget() {
  kept.clear();
  finds.clear();
}

/**
 * say is a text of the page in its language.
 * @param {string} english
 * @returns {string}
 */
export function say(english) {
  if (!catalogue || english.includes("\t")) return english; // a table of data, as a program reads it
  let said = kept.get(english);
  if (said === undefined) {
    said = whole(english) ?? found(english) ?? commas(english);
    if (kept.size >= MOST) forget();
    kept.set(english, said);
  }
  return said;
}

// ---- patterns

const PLACE = /\{\d\}/;
const PLACES = /\{\d\}/g;
const SHORT = 12; // letters of a pattern that many texts are like

// compiled makes the pattern of an entry. What stands at a place lies within one clause (not
// beyond "), " either, which parts things in a list); at the end, after a colon, it is all that
// follows: the pattern is open.
/** @type {(entry: [string, string]) => Pattern} */
function compiled([english, said]) {
  const parts = english.split(PLACE);
  const fixed = parts.join("").length;
  const [lead, tail] = [parts[0], parts[parts.length - 1]];
  const phrase = "((?:(?![.!?;] |(?<=\\)), ).)+?)";
  const open = tail === "" && parts.at(-2)?.endsWith(": ") === true;
  const last = open ? "(.+)" : tail === "" ? `${phrase}(?<!\\.)` : phrase; // a full stop at the end is the sentence's
  const exact = parts.map((part) => part.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&"));
  const form = new RegExp(`^${exact.slice(0, -1).join(phrase)}${last}${exact.at(-1)}$`, "su");
  return { lead, tail, between: parts.slice(1, -1), open, fixed, form, places: english.match(PLACES) ?? [], said };
}

// byPattern says a text like an entry, that of the most letters. An open one does not take in
// sentences that are known each by itself.
function byPattern(/** @type {Form[]} */ forms) {
  for (const alike of patterns) {
    for (const { text, finish } of forms) {
      for (const pattern of alike) {
        const said = like(pattern, text);
        if (said !== null) return pattern.open && bySentence(forms[0].text) || finish(said);
      }
    }
  }
  return null;
}

// bySentence says several sentences where each is known, else null.
function bySentence(/** @type {string} */ text) {
  const sentences = split(text, SENTENCES, " ");
  const said = sentences.length > 1 ? sentences.map(found) : [null];
  return said.every((one) => one !== null) ? said.join(" ") : null;
}

// like says a text by a pattern. A place that is not open holds no colon, of a short pattern no
// comma either; where more English would be left at the places than the entry says, it is
// another sentence.
/** @type {(pattern: Pattern, text: string) => string | null} */
function like({ lead, tail, between, open, fixed, form, places, said }, text) {
  if (fixed >= text.length || !text.startsWith(lead) || !text.endsWith(tail) || !between.every((part) => text.includes(part))) return null;
  const parts = form.exec(text)?.slice(1);
  if (!parts) return null;
  const clause = open ? parts.slice(0, -1) : parts;
  if (clause.some((part) => (fixed < SHORT ? /[:,]( |$)/ : /: /).test(part) && !isName(part))) return null;
  const words = parts.map(found);
  const left = clause.reduce((sum, part, i) => sum + (words[i] === null ? unsaid(part) : 0), 0);
  return left <= fixed ? said.replace(PLACES, (place) => words[places.indexOf(place)] ?? commas(parts[places.indexOf(place)])) : null;
}

// ---- texts that are put together

// unsaid is how many letters of a text without an entry would stand as English within a
// sentence: none of a name, of which at most one word begins with a small letter.
/** @type {(text: string) => number} */
function unsaid(text) {
  const named = /\.\w{2,5}$|^[“"].*[”"]$/su.test(text) || (text.match(/(?<!\S)\p{Ll}{2}/gu) ?? []).length < 2;
  return named ? 0 : text.length;
}

const SENTENCES = /(?<=[.!?”…])(?<!\b[A-Z]\.) (?=[\p{Lu}“])/u; // where one ends and the next begins

// What texts are joined by: what follows the name of a file, ends of sentences, then ever closer;
// the last ones within a clause, which stays English where the larger part of it has no entry.
const joints = /** @type {[RegExp, string, "clause"?][]} */ ([
  [/(?<=^[^:;]*\.\w{2,5}): /, ": "], [SENTENCES, " "], [/\n/, "\n"], [/ · /, " · "], [/\u00a0· /, "\u00a0· "], [/ → /, " → "], [/; /, "; "], [/: /, ": "], [/ \+ /, " + ", "clause"], [/, /, ", ", "clause"], [/\u00a0/, "\u00a0", "clause"],
]);

// These may also stand inside of a phrase: all parts must be known. Words are looked up.
const links = /** @type {[RegExp, string][]} */ ([...["and", "or", "to", "of"].map((word) => [new RegExp(` ${word} `), word]), [/ × /, "×"], [/ (?=[-+−±]?\d)/, ""], [/(?<=\d) /, ""]]);

/**
 * found is a text in the other language, null where the catalogue has nothing of it.
 * @param {string} text
 * @returns {string | null}
 */
function found(text) {
  const [, before, core, after] = /** @type {string[]} */ (/^(\s*)(.*?)(\s*)$/s.exec(text));
  let said = finds.get(core);
  if (said === undefined) {
    const forms = formsOf(core);
    said = own.texts.has(core) ? core : !/\p{L}/u.test(core) ? commas(core) : asEntry(forms) ?? byPattern(forms) ?? joined(core);
    finds.set(core, said);
  }
  return said === null ? null : before + said + after;
}

// whole is the other side of an entry.
const whole = (/** @type {string} */ text) => (catalogue && Object.hasOwn(catalogue, text) ? catalogue[text] : null);

/** @typedef {{ text: string, finish: (said: string) => string }} Form a text to look for, and what makes of its other side that of the text as it stands */

// formsOf are a text and what it would be with its first letter otherwise, for words may begin a
// sentence here and stand in one there, and without the full stop or the colon at its end.
/** @type {(text: string) => Form[]} */
function formsOf(text) {
  const [first, rest] = [text.charAt(0), text.slice(1)];
  const asIs = { text, finish: (/** @type {string} */ said) => said };
  const other = first === first.toUpperCase() ? { text: first.toLowerCase() + rest, finish: (/** @type {string} */ said) => said.charAt(0).toUpperCase() + said.slice(1) }
    : { ...asIs, text: first.toUpperCase() + rest };
  const forms = other.text === text ? [asIs] : [asIs, other];
  if (!/[.:]$/.test(text)) return forms;
  return [...forms, ...forms.map((form) => ({ text: form.text.slice(0, -1), finish: (/** @type {string} */ said) => form.finish(said) + text.slice(-1) }))];
}

// asEntry says a text that is an entry, in any of its forms.
/** @type {(forms: Form[]) => string | null} */
function asEntry(forms) {
  for (const { text, finish } of forms) {
    const said = whole(text);
    if (said !== null) return finish(said);
  }
  return null;
}

// isName tells whether a text is known as a whole.
const isName = (/** @type {string} */ text) => own.texts.has(text) || whole(text) !== null;

// split takes a text apart; names that have the joint in them stay whole.
/** @type {(text: string, joint: RegExp, by: string) => string[]} */
function split(text, joint, by) {
  const parts = text.split(joint);
  for (let i = 0; i + 1 < parts.length; i++) {
    const both = parts[i] + by + parts[i + 1];
    if (isName(both.replace(/ [\d.]+[ \u00a0]?%?$/, ""))) parts.splice(i, 2, both);
  }
  return parts;
}

function joined(/** @type {string} */ text) {
  for (const [joint, by, within] of joints) {
    const parts = split(text, joint, by);
    if (parts.length < 2) continue;
    if (by === ": ") parts.push(parts.splice(1).join(by)); // what follows may be one entry with a colon of its own
    const said = parts.map(found);
    const left = within ? parts.reduce((sum, part, i) => sum + (said[i] === null ? unsaid(part) : -part.length), 0) : 0;
    if (left <= 0 && said.some((one) => one !== null)) return said.map((one, i) => one ?? commas(parts[i])).join(by);
  }
  for (const [link, word] of links) {
    const parts = text.split(link);
    const said = parts.length > 1 ? parts.map(found) : [null];
    if (said.every((one) => one !== null)) return said.join(word && ` ${catalogue?.[word] ?? word} ` || " ");
  }
  return null;
}

// commas writes numbers with a decimal comma; names of files and versions are none.
function commas(/** @type {string} */ text) {
  return text.replace(/(?<![\p{L}\d.:/])(\d+)\.(\d+)(?!\d*\.?[\p{L}\d])/gu, "$1,$2");
}
