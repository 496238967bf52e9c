// Small helpers to make elements once and to change only what differs.

const SVG = "http://www.w3.org/2000/svg";

// h makes an HTML element. Of props, "class" and "text" are what they say,
// functions are event listeners by name, false, null and undefined leave an
// attribute out, and all else are attributes.
export function h(tag, props = {}, ...children) {
  return fill(document.createElement(tag), props, children);
}

// svg makes an SVG element in the same way.
export function svg(tag, props = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), props, children);
}

function fill(node, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (name === "text") node.textContent = value;
    else if (typeof value === "function") node.addEventListener(name, value);
    else attr(node, name, value);
  }
  node.append(...children.filter((child) => child != null));
  return node;
}

// text sets the text of a node where it differs.
export function text(node, value) {
  if (node.textContent !== value) node.textContent = value;
}

// attr sets an attribute where it differs; false, null and undefined remove
// it, true sets it empty.
export function attr(node, name, value) {
  if (value === false || value == null) {
    if (node.hasAttribute(name)) node.removeAttribute(name);
    return;
  }
  const wanted = value === true ? "" : String(value);
  if (node.getAttribute(name) !== wanted) node.setAttribute(name, wanted);
}

// style sets one CSS property where it differs.
export function style(node, name, value) {
  if (node.style.getPropertyValue(name) !== value) node.style.setProperty(name, value);
}

// show hides a node or brings it back.
export function show(node, shown) {
  if (node.hidden === shown) node.hidden = !shown;
}

// keyed keeps the children of parent in step with items: one child a key, made
// by make(item), which returns {node, update(item)}. Children are moved, never
// made anew, and the focus stays where it was. make runs once a key: what
// changes must reach update through its item.
export function keyed(parent, items, key, make) {
  const kept = (parent.keyedChildren ??= new Map());
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
  if (focused !== document.activeElement && parent.contains(focused)) focused.focus();
}
