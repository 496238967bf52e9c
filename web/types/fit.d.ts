// Written by go run ./tools/types from the program; do not edit.

export interface Shown {
  sentence: string;
  sheet: string;
  heldOut: Errors;
  fitted: Errors;
  rows: number;
  cols: number;
  cells: Cell[];
  curves: Curve[];
  left: string[];
  leftOut: string[];
  notes: string[];
  drifted: string[];
  ratio: string;
  palette: Palette;
}

export interface Errors {
  mean: number;
  p95: number;
  max: number;
  n: number;
}

export interface Cell {
  id: string;
  use: string;
  row: number;
  col: number;
  measured: string;
  predicted: string;
  de00: number;
}

export interface Curve {
  printer: string;
  steps: Step[];
}

export interface Palette {
  id: string;
  name: string;
  era: string;
  yellow: Tissue;
  magenta: Tissue;
  cyan: Tissue;
  measured?: Measurement;
}

export interface Step {
  logE: number;
  amount: number;
  sigma: number;
}

export interface Tissue {
  pigments: Share[];
  load: number;
  haze: number;
  coatMicron: number;
  hardening?: Hardening;
  measured?: Spectra;
  faded?: Faded;
}

export interface Measurement {
  date: string;
  paper: string;
  way: string;
  mean: number;
  p95: number;
  max: number;
  patches: number;
  sheets: number;
  coat: number;
  finish: string;
  k0: number;
  angular: boolean;
  seen?: Seen;
  doubt?: [number, number, number];
  told?: [number, number, number];
  expected?: number;
}

export interface Share {
  ci: string;
  share: number;
}

export interface Hardening {
  depthMicron?: number;
  threshold?: number;
  holdOnMicron?: number;
  wedge?: Printed[];
}

export interface Spectra {
  k: number[];
  s: number[];
  kSigma: number;
  sSigma: number;
}

export interface Faded {
  dose: number;
  left: number;
}

export interface Seen {
  yellow: SeenLayer;
  magenta: SeenLayer;
  cyan: SeenLayer;
  neutral: string;
  light?: string;
  deep?: string;
}

export interface Printed {
  logExposure: number;
  micron: number;
}

export interface SeenLayer {
  held: string;
  last: string;
  match: string;
  density: number;
}
