// Which way a grey or a black leans, in words.

// The hue angle of CIELAB up to which each word holds (our own division).
/** @type {[number, string][]} */
const hues = [[12, "rosy"], [50, "reddish"], [80, "orange"], [105, "yellowish"], [130, "yellow-green"], [180, "greenish"], [245, "blue-green"], [300, "bluish"], [335, "violet"], [360, "rosy"]];

/**
 * leaning says which way a colour near grey leans: neutral where nobody would see it.
 * @param {number[]} lab
 */
export function leaning([, a, b]) {
  const chroma = Math.hypot(a, b);
  if (chroma < 1) return "neutral";
  const degrees = (Math.atan2(b, a) * 180 / Math.PI + 360) % 360;
  const hue = hues.find(([to]) => degrees <= to)?.[1] ?? "";
  return `${chroma < 3 ? "faintly " : ""}${hue}`;
}
