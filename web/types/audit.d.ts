// Written by go run ./tools/types from the program; do not edit.

export interface Audit {
  greys: Greys | null;
  light: Light;
  scans: Scans;
  why: string;
}

export interface Greys {
  places: Place[];
  odd: Place[];
  curves: [Curve, Curve, Curve];
  neutral: Printed;
  remedy: string;
  answer: string;
}

export interface Light {
  estimates: Estimate[];
  apart: number | null;
  unknown: boolean;
  words: string;
}

export interface Scans {
  answer: string;
  weight: string;
  findings: Finding[];
}

export interface Place {
  x: number;
  y: number;
  logH: number;
  density: [number, number, number];
  clipped: [boolean, boolean, boolean];
  uneven: boolean;
}

export interface Curve {
  filter: string;
  key: boolean;
  slope: number;
  stops: number;
  remedy: string;
  words: string;
  line: [number, number][];
}

export interface Printed {
  mean: number;
  worst: number;
  at: number;
  words: string;
}

export interface Estimate {
  id: string;
  name: string;
  says: string;
  known: boolean;
  stops: [number, number, number];
}

export interface Finding {
  of: string;
  about: string;
  weight: string;
  figure: string;
  says: string;
  do: string;
}
