// Written by go run ./tools/types from the program; do not edit.

/** What the user does: to the session, to how it is looked at, and what needs both. */
export type Command = SessionCommand | ViewCommand | PageCommand;

export type SessionCommand =
  | { do: "assign"; gesture?: string; filter: string; source: number }
  | { do: "bench"; gesture?: string; printer: string }
  | { do: "centre"; gesture?: string; source: number }
  | { do: "confirm"; gesture?: string; n: number }
  | { do: "copyOffset"; gesture?: string; printer: string; from: string }
  | { do: "decide"; gesture?: string; choice?: string; reason?: string; by?: string; date?: string; questions?: string }
  | { do: "dim"; gesture?: string; on: boolean }
  | { do: "dismissScale"; gesture?: string }
  | { do: "dropHeld"; gesture?: string; n: number }
  | { do: "dropNote"; gesture?: string; n: number }
  | { do: "dropPalette"; gesture?: string; id: string }
  | { do: "dropPaper"; gesture?: string; id: string }
  | { do: "dropPoint"; gesture?: string; n?: number }
  | { do: "dropSheet"; gesture?: string; code: string }
  | { do: "editNote"; gesture?: string; n: number; title?: string; text?: string; by?: string; state?: string }
  | { do: "exhibition"; gesture?: string; exhibition?: Exhibition }
  | { do: "expose"; gesture?: string; printer: string; stops: number }
  | { do: "exposeAll"; gesture?: string; stops: number }
  | { do: "exposures"; gesture?: string; order: string }
  | { do: "fading"; gesture?: string; printer: string; dose?: number; before?: number; after?: number; read?: string }
  | { do: "film"; gesture?: string; source: number; white?: number; black?: number; gamma?: number }
  | { do: "films"; gesture?: string; films: [Film, Film, Film]; neutral: Neutral }
  | { do: "finish"; gesture?: string; id: string }
  | { do: "gamma"; gesture?: string; source: number; value: number }
  | { do: "grain"; gesture?: string; id: string }
  | { do: "hide"; gesture?: string; printer: string; hidden: boolean }
  | { do: "hold"; gesture?: string; text?: string }
  | { do: "holdPoint"; gesture?: string; x: number; y: number }
  | { do: "identify"; gesture?: string; number?: string; creator?: string; created?: string; place?: string; collection?: string; description?: string; rights?: string }
  | { do: "identifyPlate"; gesture?: string; source: number; letter?: string; condition?: string }
  | { do: "keepSheet"; gesture?: string; plan?: string; at?: string }
  | { do: "key"; gesture?: string; filter: string }
  | { do: "light"; gesture?: string; id: string }
  | { do: "limit"; gesture?: string; value: number }
  | { do: "local"; gesture?: string; filter?: string; on: boolean }
  | { do: "lock"; gesture?: string; printer: string; on: boolean }
  | { do: "masked"; gesture?: string; on: boolean }
  | { do: "moveNote"; gesture?: string; n: number; x: number; y: number }
  | { do: "nameFiles"; gesture?: string; pattern: string }
  | { do: "nameHeld"; gesture?: string; n: number; text: string }
  | { do: "namePalette"; gesture?: string; id: string; text: string }
  | { do: "negatives"; gesture?: string; ppi?: number; side?: string; trim?: string; allowanceMm?: number; marks?: boolean; safeEdgeMm?: number; punchMm?: number; sheet?: string; offsets?: boolean; screenUm?: number; dotGain?: number; dotTable?: string; dotLeast?: number; dotMost?: number; dotHoldsUm?: number }
  | { do: "note"; gesture?: string; x: number; y: number; title?: string; text?: string; by?: string; at: string }
  | { do: "nudge"; gesture?: string; printer: string; dxUm?: number; dyUm?: number; turnDeg?: number; stretchPct?: number; acrossPct?: number }
  | { do: "nudgeBy"; gesture?: string; printer: string; dxUm?: number; dyUm?: number; turnDeg?: number; stretchPct?: number; acrossPct?: number }
  | { do: "order"; gesture?: string; order: string }
  | { do: "palette"; gesture?: string; id: string }
  | { do: "paper"; gesture?: string; id: string }
  | { do: "pin"; gesture?: string; n?: number; source: number; x: number; y: number }
  | { do: "place"; gesture?: string; source: number; pose: Pose }
  | { do: "polarity"; gesture?: string; source: number; polarity: string }
  | { do: "print"; gesture?: string; widthMm: number }
  | { do: "printingFilm"; gesture?: string; kind: string; max?: number; measured?: string; table?: string; tablet?: string }
  | { do: "propose"; gesture?: string; n: number; at: [Proposal, Proposal, Proposal] }
  | { do: "readSheet"; gesture?: string; code: string }
  | { do: "registerBy"; gesture?: string; id: string; value?: number }
  | { do: "registered"; gesture?: string; found: [Found, Found, Found]; found_key: number; local: [Local, Local, Local]; outvoted: [number, number, number]; tones: [number, number, number]; survey?: [Map, Map, Map]; levels?: Films; by_found?: boolean }
  | { do: "resetOffset"; gesture?: string; printer: string }
  | { do: "route"; gesture?: string; id: string; supports?: string[] }
  | { do: "section"; gesture?: string; x0: number; y0: number; x1: number; y1: number }
  | { do: "shape"; gesture?: string; contrast?: number; highlight?: number; shadow?: number; balance?: [number, number, number] }
  | { do: "showDecided"; gesture?: string }
  | { do: "showNoted"; gesture?: string; n: number }
  | { do: "sight"; gesture?: string; table: string }
  | { do: "takeHeld"; gesture?: string; n: number }
  | { do: "takePalette"; gesture?: string; palette: Palette }
  | { do: "takePaper"; gesture?: string; paper: Paper }
  | { do: "tissue"; gesture?: string; printer: string; tissue: Tissue; from?: string }
  | { do: "title"; gesture?: string; text: string }
  | { do: "tolerance"; gesture?: string; um: number }
  | { do: "unknowns"; gesture?: string; unknowns?: Unknowns }
  | { do: "unpin"; gesture?: string; n: number }
  | { do: "viewing"; gesture?: string; mm: number }
  | { do: "way"; gesture?: string; straight: boolean; range: number; atDepth: boolean }
  | { do: "wedge"; gesture?: string; printer: string; table?: string; read?: string; exposure?: number; load?: boolean }
  | { do: "weigh"; gesture?: string; n: number; value: number }
  | { do: "workshop"; gesture?: string; workshop?: Workshop };

export type ViewCommand =
  | { do: "blink" }
  | { do: "contrast"; on: boolean }
  | { do: "cut"; on: boolean }
  | { do: "divider"; share: number }
  | { do: "edges"; first: number; second: number }
  | { do: "edit"; printer: string }
  | { do: "fill"; id: string; text: string }
  | { do: "goToPoint"; n: number }
  | { do: "hover"; x: number; y: number; hidden?: boolean }
  | { do: "hue"; degrees: unknown }
  | { do: "layer"; id: string }
  | { do: "left"; hidden?: boolean }
  | { do: "look"; id: string }
  | { do: "loupe"; on: boolean; zoom?: number }
  | { do: "markChoose"; n?: number; filter?: string }
  | { do: "markGo"; n: number }
  | { do: "markNext" }
  | { do: "markPlate" }
  | { do: "noteChoose"; n?: number }
  | { do: "noteGo"; n: number }
  | { do: "notesList"; only: string; page?: number }
  | { do: "other"; id: string }
  | { do: "pan"; x?: number; y?: number; dx: number; dy: number; together?: boolean }
  | { do: "pause"; on: boolean }
  | { do: "plates"; first: number; second: number }
  | { do: "point"; x: number; y: number }
  | { do: "room"; on: boolean }
  | { do: "rule"; x0?: number; y0?: number; x1?: number; y1?: number; hidden?: boolean }
  | { do: "select"; printer: string }
  | { do: "side"; which: string; id: string }
  | { do: "sort"; id: string; on?: boolean }
  | { do: "stack"; on: boolean }
  | { do: "station"; id: string }
  | { do: "together"; on: boolean }
  | { do: "tool"; id: string }
  | { do: "whole"; hidden?: boolean }
  | { do: "worst" }
  | { do: "zoom"; x?: number; y?: number; by?: number; percent?: number; fit?: boolean };

export type PageCommand =
  | { do: "greyAt"; gesture?: string; x: number; y: number }
  | { do: "holdBefore"; gesture?: string }
  | { do: "noteAt"; gesture?: string; x: number; y: number }
  | { do: "noteHere"; gesture?: string }
  | { do: "pinAt"; gesture?: string; x: number; y: number }
  | { do: "pinBy"; gesture?: string; n?: number; filter?: string; dx?: number; dy?: number; stepX?: number; stepY?: number }
  | { do: "pinHere"; gesture?: string }
  | { do: "pointAt"; gesture?: string; x: number; y: number }
  | { do: "redo"; gesture?: string }
  | { do: "scaleAt"; gesture?: string; x0: number; y0: number; x1: number; y1: number }
  | { do: "scaleHere"; gesture?: string; x: number; y: number }
  | { do: "undo"; gesture?: string };

export interface Exhibition {
  lux: number;
  hours: number;
  years: number;
}

export interface Film {
  negative: boolean;
  white: number;
  black: number;
  gamma: number;
  bend?: Knot[];
}

export interface Neutral {
  by: string;
  light?: string;
  chosen?: boolean;
  greys?: Spot[];
  step?: number;
  key?: string;
  unsure?: number;
  densities?: number[];
}

export interface Pose {
  dxPx: number;
  dyPx: number;
  turnDeg: number;
  stretchPct: number;
  mirrored: boolean;
}

export interface Proposal {
  sought: boolean;
  found: boolean;
  x: number;
  y: number;
  certainty: number;
}

export interface Found {
  matrix: number[];
  confidence: number;
  words: string;
  median_px: number;
  p95_px: number;
  max_px: number;
  by_hand: boolean;
  twin?: boolean;
  alike?: boolean;
}

export interface Local {
  w: number;
  h: number;
  cx: number[];
  cy: number[];
  before: Residual;
  after: Residual;
}

export interface Map {
  across?: number;
  down?: number;
  area?: [number, number, number, number];
  cells?: string;
  dx?: number[];
  dy?: number[];
  within?: number[];
}

export interface Films {
  films: [Film, Film, Film];
  neutral: Neutral;
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

export interface Paper {
  id: string;
  name: string;
  source: string;
  r: number[];
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

export interface Unknowns {
  amount: number;
  exposure: number;
  levels: number;
  spectra: number;
  scatter: number;
  paper: number;
  surface: number;
  holdOn: number;
}

export interface Workshop {
  unit: string;
  layers: [Sensitised, Sensitised, Sensitised];
  register: string;
  process: Process;
  grows: Expansion;
}

export interface Knot {
  density: number;
  straight: number;
}

export interface Spot {
  x: number;
  y: number;
}

export interface Residual {
  median: number;
  p95: number;
  max: number;
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

export interface Sensitised {
  exposure: number;
  sensitiser: string;
  strength_pct: number;
  coat?: Recipe;
  drawdown?: number;
  drawdown_wet_mm?: number;
}

export interface Process {
  film: boolean;
  soak_min: number;
  mate_min: number;
  develop_c: number;
  develop_to_c: number;
  alum_pct: number;
  alum_min: number;
  condition_h: number;
  settle_h: number;
  humidity_pct: number;
}

export interface Expansion {
  film_along_pct: number;
  film_across_pct: number;
  paper_along_pct: number;
  paper_across_pct: number;
  support_along_pct: number;
  support_across_pct: number;
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

export interface Recipe {
  pigment_gl: number;
  gelatine_pct: number;
  sugar_pct: number;
  wet_mm: number;
}

export interface SeenLayer {
  held: string;
  last: string;
  match: string;
  density: number;
}
