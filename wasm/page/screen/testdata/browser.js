// As much of a browser as the graphics library asks for before a program begins, so that
// tests of the screen's packages run under node. Nothing is drawn.

const anything = () => new Proxy(function () {}, {
  get: (target, key) => (key === Symbol.toPrimitive ? () => 0 : key === "then" ? undefined : (target[key] ??= anything())),
  apply: () => anything(),
  construct: () => anything(),
});

globalThis.Document = class {
  get hidden() { return false; }
  hasFocus() { return true; }
  createElement() { return anything(); }
  addEventListener() {}
};
globalThis.document = new Document();
for (const part of ["head", "body", "documentElement"]) document[part] = anything();
globalThis.window = globalThis;
globalThis.screen = anything();
globalThis.navigator ??= anything();
globalThis.addEventListener = () => {};
globalThis.requestAnimationFrame = () => 0;
