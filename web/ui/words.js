// Words and figures as the page writes them.

/**
 * figure writes a number with a true minus and no minus zero.
 * @param {number} value
 * @param {number} [digits]
 */
export function figure(value, digits = 0) {
  if (!Number.isFinite(value)) return "–";
  const written = value.toFixed(digits);
  return Number(written) === 0 ? written.replace("-", "") : written.replace("-", "−");
}

/**
 * signed writes a plus before what is above zero.
 * @param {number} value
 * @param {number} [digits]
 */
export function signed(value, digits = 0) {
  const written = figure(value, digits);
  return Number(value.toFixed(digits)) > 0 ? `+${written}` : written;
}

/**
 * length writes micrometres, from a millimetre on in millimetres.
 * @param {number} um
 */
export function length(um) {
  return Math.abs(um) < 1000 ? `${figure(um)} µm` : `${figure(um / 1000, 2)} mm`;
}

/**
 * capital gives a sentence its capital letter.
 * @param {string} words
 */
export function capital(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/**
 * reason says why something failed.
 * @param {unknown} error
 */
export function reason(error) {
  return error instanceof Error ? error.message : String(error);
}
