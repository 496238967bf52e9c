// A mix of pigments by share: a list of {ci, share} whose shares sum to 1.

/** @import { Share, Tissue } from "../../types/command.js" */

/**
 * rescale gives one pigment another share; the rest keep their ratios.
 * @param {Share[]} mix
 * @param {string} ci
 * @param {number} share
 */
export function rescale(mix, ci, share) {
  const rest = mix.reduce((sum, p) => sum + (p.ci === ci ? 0 : p.share), 0);
  return mix.map((p) => ({ ci: p.ci, share: p.ci === ci ? share : p.share * (1 - share) / rest }));
}

/**
 * add puts a pigment in; the others make room for it.
 * @param {Share[]} mix
 * @param {string} ci
 * @param {number} share
 */
export function add(mix, ci, share) {
  return [...mix.map((p) => ({ ci: p.ci, share: p.share * (1 - share) })), { ci, share }];
}

/**
 * takeAway leaves a pigment out; the rest fill its place.
 * @param {Share[]} mix
 * @param {string} ci
 */
export function takeAway(mix, ci) {
  const rest = mix.filter((p) => p.ci !== ci);
  const sum = rest.reduce((all, p) => all + p.share, 0);
  return rest.map((p) => ({ ci: p.ci, share: p.share / sum }));
}

/**
 * same tells whether two tissues hold the same.
 * @param {Tissue} a
 * @param {Tissue} b
 */
export function same(a, b) {
  const written = (/** @type {Tissue} */ t) => JSON.stringify([t.load, t.haze, t.coatMicron, t.hardening ?? {}, t.pigments.map((p) => [p.ci, p.share])]);
  return written(a) === written(b);
}
