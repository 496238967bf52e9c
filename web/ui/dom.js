// Small helpers to make elements once and to change only what differs. Here, and nowhere
// else, texts come into the document and are said in its language (language.js): all else
// deals with English. What the user wrote stands in elements marked translate="no".

import { say } from "./language.js";

const SVG = "http://www.w3.org/2000/svg";

/**
 * What an attribute is set to: false, null and undefined remove it, true sets it empty.
 * @typedef {string | number | boolean | null | undefined} Value
 *
 * @typedef {"accept" | "alt" | "autocomplete" | "class" | "colspan" | "dir" | "for" | "hidden" | "id" | "inputmode" | "label" | "max" | "maxlength"
 *   | "min" | "multiple" | "name" | "open" | "placeholder" | "role" | "rows" | "scope" | "spellcheck" | "step" | "tabindex"
 *   | "title" | "translate" | "type" | "value" | "width" | "height" | `aria-${string}` | `data-${string}`} Attribute
 *
 * Listeners by the name of their event, attributes, and the text of an element.
 * @typedef {{ [Name in keyof HTMLElementEventMap]?: (event: HTMLElementEventMap[Name]) => void }
 *   & { [Name in Attribute]?: Value } & { text?: string }} Props
 *
 * @typedef {(Node | string | null)[]} Children null is left out
 */

/**
 * h makes an HTML element.
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Props} [props]
 * @param {Children} children
 * @returns {HTMLElementTagNameMap[Tag]}
 */
export function h(tag, props = {}, ...children) {
  return fill(document.createElement(tag), props, children);
}

/**
 * svg makes an SVG element in the same way.
 * @template {keyof SVGElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Record<string, Value>} [props]
 * @param {Children} children
 * @returns {SVGElementTagNameMap[Tag]}
 */
export function svg(tag, props = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), props, children);
}

/**
 * @template {Element} Made
 * @param {Made} node
 * @param {object} props
 * @param {Children} children
 */
function fill(node, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (name === "text") text(node, value);
    else if (typeof value === "function") node.addEventListener(name, value);
    else attr(node, name, value);
  }
  const own = isOwn(node);
  node.append(...children.filter((child) => child !== null).map((child) => (typeof child === "string" && !own ? spoken(child) : child)));
  return node;
}

function spoken(/** @type {string} */ english) {
  const node = document.createTextNode("");
  text(node, english);
  return node;
}

/**
 * byID is the element of the page that has an id.
 * @param {string} id
 */
export function byID(id) {
  const node = document.getElementById(id);
  if (!node) throw new Error(`the page has no #${id}`);
  return node;
}

/**
 * text sets the text of a node where it differs.
 * @param {Node} node
 * @param {string} value in English
 */
export function text(node, value) {
  const words = isOwn(node) ? value : wholeFigures(say(value));
  if (node.textContent !== words) node.textContent = words;
  const told = node instanceof Text ? node : node.firstChild;
  if (told) remember(told, "", value, words);
}

// wholeFigures has no line end between a figure and its unit.
const wholeFigures = (/** @type {string} */ words) => words.replace(/(?<=\d) (?=(?:%|px|mm|µm|°C|h|min|s|g|K|lx|MP)(?![\p{L}\d]))/gu, "\u00a0");

/**
 * named sets the text of an element to a name: one that the user gave is said as it is.
 * @param {Element} node
 * @param {string} name
 * @param {boolean} [own] the user gave it
 */
export function named(node, name, own = true) {
  attr(node, "translate", own ? "no" : null);
  text(node, name);
}

/**
 * attr sets an attribute where it differs.
 * @param {Element} node
 * @param {string} name
 * @param {Value} value
 */
export function attr(node, name, value) {
  if (value === false || value == null) {
    if (node.hasAttribute(name)) node.removeAttribute(name);
    return;
  }
  const wanted = value === true ? "" : String(value);
  const words = READ.has(name) && !ownAttributes.get(node)?.has(name) && !isOwn(node) ? say(wanted) : wanted;
  if (node.getAttribute(name) !== words) node.setAttribute(name, words);
  if (READ.has(name)) remember(node, name, wanted, words);
}

// ---- the language

const READ = new Set(["alt", "aria-label", "aria-valuetext", "label", "placeholder", "title"]); // attributes that people read or hear

const OWN = '[translate="no"]';

const isOwn = (/** @type {Node} */ node) => Boolean((node instanceof Element ? node : node.parentElement)?.closest(OWN));

/** @type {WeakMap<Element, Set<string>>} */
const ownAttributes = new WeakMap();

/**
 * ownAttr sets an attribute to what the user wrote, in an element that is not marked.
 * @param {Element} node
 * @param {string} name
 * @param {string} value "" removes it
 */
export function ownAttr(node, name, value) {
  ownAttributes.set(node, (ownAttributes.get(node) ?? new Set()).add(name));
  attr(node, name, value || null);
}

/** @type {WeakMap<Node, Record<string, string>>} */
const english = new WeakMap(); // of what is said otherwise: attributes by name, a text under ""

/**
 * @param {Node} node
 * @param {string} name
 * @param {string} value
 * @param {string} words
 */
function remember(node, name, value, words) {
  const known = english.get(node);
  if (known) known[name] = value;
  else if (words !== value) english.set(node, { [name]: value });
}

// retell says anew, in the language of now, all that the document holds.
export function retell() {
  for (const node of told(document.body)) {
    if (node instanceof Text) text(node, english.get(node)?.[""] ?? node.data);
    else for (const name of READ) if (node.hasAttribute(name)) attr(node, name, english.get(node)?.[name] ?? node.getAttribute(name));
  }
}

// told are the elements and texts below a node but for what is the user's own.
function* told(/** @type {Node} */ root) {
  const walk = document.createTreeWalker(root, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT, (node) =>
    node instanceof Element && node.matches(`script, style, noscript, ${OWN}`) ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) if (node instanceof Text || node instanceof Element) yield node;
}

/**
 * toldPage is a page of its own, made in English, in the language of now. Its styles stand aside while it is read, for this page's policy lets
 * none of them apply.
 * @param {string} html
 */
export function toldPage(html) {
  const [look] = /<style>.*<\/style>/s.exec(html) ?? [""];
  const aside = '<meta name="look">';
  const page = new DOMParser().parseFromString(html.replace(look, aside).replaceAll(' style="', ' data-style="'), "text/html");
  page.documentElement.lang = document.documentElement.lang;
  const words = (/** @type {string} */ english) => wholeFigures(say(english.replaceAll("\u00a0", " ")));
  for (const node of told(page)) {
    if (node instanceof Text) node.data = words(node.data);
    else for (const name of READ) if (node.hasAttribute(name)) node.setAttribute(name, words(node.getAttribute(name) ?? ""));
  }
  return `<!doctype html>\n${page.documentElement.outerHTML}\n`.replace(aside, () => look).replaceAll(' data-style="', ' style="');
}

/**
 * style sets one CSS property where it differs.
 * @param {HTMLElement | SVGElement} node
 * @param {string} name
 * @param {string} value
 */
export function style(node, name, value) {
  if (node.style.getPropertyValue(name) !== value) node.style.setProperty(name, value);
}

/**
 * show hides a node or brings it back.
 * @param {HTMLElement} node
 * @param {boolean} shown
 */
export function show(node, shown) {
  if (node.hidden === shown) node.hidden = !shown;
}

/**
 * A child of a list, which is told its item anew whenever the list changes.
 * @template Item
 * @typedef {{ node: Element, update: (item: Item, i: number) => void }} Child
 */

/** @type {WeakMap<Element, Map<string, Child<never>>>} */
const lists = new WeakMap(); // the children of each list, by their keys

/**
 * keyed keeps the children of parent in step with items: one child a key, made by
 * make(item). Children are moved, never made anew, and the focus stays where it was.
 * make runs once a key: what changes must reach update through its item.
 * @template Item
 * @param {Element} parent
 * @param {readonly Item[]} items
 * @param {(item: Item) => string | number} key
 * @param {(item: Item) => Child<Item>} make
 */
export function keyed(parent, items, key, make) {
  const kept = /** @type {Map<string, Child<Item>>} */ (lists.get(parent) ?? new Map());
  lists.set(parent, kept);
  const focused = document.activeElement;
  const wanted = new Set(items.map((item) => String(key(item))));
  for (const [id, child] of kept) {
    if (wanted.has(id)) continue;
    child.node.remove();
    kept.delete(id);
  }
  items.forEach((item, i) => {
    const id = String(key(item));
    let child = kept.get(id);
    if (!child) kept.set(id, (child = make(item)));
    if (parent.children[i] !== child.node) parent.insertBefore(child.node, parent.children[i] ?? null);
    child.update(item, i);
  });
  if (focused instanceof HTMLElement && focused !== document.activeElement && parent.contains(focused)) focused.focus();
}

/**
 * paint gives a canvas the size of a picture and puts it there.
 * @param {HTMLCanvasElement} canvas
 * @param {{ w: number, h: number, rgba: Uint8Array<ArrayBuffer> | Uint8ClampedArray<ArrayBuffer> }} picture
 */
export function paint(canvas, { w, h, rgba }) {
  canvas.width = w;
  canvas.height = h;
  const pixels = new Uint8ClampedArray(rgba.buffer, rgba.byteOffset, rgba.length);
  canvas.getContext("2d")?.putImageData(new ImageData(pixels, w, h), 0, 0);
}
