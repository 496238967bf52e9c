// Names for what a hand does in one go.

let begun = 0;

/**
 * gesture names one continued gesture of a hand: a drag, a slider being moved, a held
 * key. Commands that carry the same name one after another are one step of undo.
 */
export const gesture = () => `g${++begun}`;
