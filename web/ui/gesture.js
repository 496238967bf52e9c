// gesture names one continued gesture of a hand: a drag, a slider being moved, a held
// key. Commands that carry the same name one after another are one step of undo.
let begun = 0;
export const gesture = () => `g${++begun}`;
