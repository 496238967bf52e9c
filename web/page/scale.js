// Round figures for the scales of a drawing.

/**
 * stepFor is the smallest of 1, 2 or 5 times a power of ten that divides span into at
 * most count parts.
 * @param {number} span
 * @param {number} count
 */
export function stepFor(span, count) {
  const raw = span / count;
  const ten = 10 ** Math.floor(Math.log10(raw));
  return ten * ([1, 2, 5].find((m) => m * ten >= raw * (1 - 1e-9)) ?? 10);
}

/**
 * ticks lists the round values from 0 up to span, at most count steps.
 * @param {number} span
 * @param {number} count
 */
export function ticks(span, count) {
  if (!(span > 0)) return [0];
  const step = stepFor(span, count);
  const digits = Math.max(0, -Math.floor(Math.log10(step)));
  return Array.from({ length: Math.floor(span / step + 1e-9) + 1 }, (_, i) => Number((i * step).toFixed(digits)));
}

/**
 * topOf is the round height in µm at which a scale ends. It stays the same while the
 * relief changes a little.
 * @param {number} um
 */
export function topOf(um) {
  const step = um > 20 ? 10 : 5;
  return Math.max(step, Math.ceil(um / step) * step);
}
