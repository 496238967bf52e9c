// Written by go run ./tools/types from the program; do not edit.

export interface Figures {
  volume: number;
  outline: number[];
  slices: number[][];
  drift: Drift[];
  balance: Balance;
  density: number;
  deeper: Deeper;
}

export interface Sureness {
  name: string;
  lab: [number, number, number];
  dE: number;
  L: [number, number];
  words: string;
  causes: Cause[];
}

export interface MaskTrial {
  unmasked: Measured;
  masked: Measured | null;
  masks: number[] | null;
  note: string;
}

export interface WayTrial {
  tuned: Measured;
  straight: Measured;
  anchored: Measured;
  says: string;
}

export interface Drift {
  light: string;
  name: string;
  lab: [number, number, number];
  dE: number;
}

export interface Balance {
  L: number[];
  t: { [name: string]: number[] };
  worst: number;
  lost: [number, number] | null;
  even: boolean;
  greyest: number;
}

export interface Deeper {
  noVeil: number;
  through: number;
  finer: number;
  more: number;
}

export interface Cause {
  what: string;
  layer: string;
  dE: number;
}

export interface Measured {
  mean: number;
  light: number;
  colour: number;
  p95: number;
  beyond: number;
  below: number;
}
