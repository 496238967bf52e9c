// Words and figures as the page writes them.

const printerOf = { y: "yellow", m: "magenta", c: "cyan" };

// fromPaper lists the printers of an order such as "ymc", from the paper up.
export function fromPaper(order) {
  return [...order].map((letter) => printerOf[letter]);
}

// orderOf is the reverse: printers from the paper up to an order.
export function orderOf(printers) {
  return printers.map((printer) => printer[0]).join("");
}

// figure writes a number with a true minus and no minus zero.
export function figure(value, digits = 0) {
  if (!Number.isFinite(value)) return "–";
  const written = value.toFixed(digits);
  return Number(written) === 0 ? written.replace("-", "") : written.replace("-", "−");
}

// signed writes a plus before what is above zero.
export function signed(value, digits = 0) {
  const written = figure(value, digits);
  return Number(value.toFixed(digits)) > 0 ? `+${written}` : written;
}

// length writes micrometres, from a millimetre on in millimetres.
export function length(um) {
  return Math.abs(um) < 1000 ? `${figure(um)} µm` : `${figure(um / 1000, 2)} mm`;
}

// capital gives a sentence its capital letter.
export function capital(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

// pigmentWords names the pigments of a layer: "Gamboge and yellow ochre".
export function pigmentWords(layer) {
  return layer ? layer.pigments.map((p) => p.name).join(" + ") : "";
}

// chosenPalette is the palette in use.
export function chosenPalette(view) {
  return view.palettes.find((palette) => palette.chosen);
}

// depthWords says how deep a palette's greys go, or that it has next to none.
export function depthWords(depth) {
  if (!depth) return "deepest grey: being computed";
  if (depth.even) return `no greys below L* ${figure(depth.greyest)}; full coats give L* ${figure(depth.L, 1)}`;
  return `deepest grey L* ${figure(depth.L, 1)}, density ${figure(depth.density, 2)}`;
}
