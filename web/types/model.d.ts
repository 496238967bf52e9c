// Written by go run ./tools/types from the program; do not edit.

export interface Model {
  looks: LookChoice[];
  layouts: Named[];
  measure: string;
  cautions: string[];
  version: string;
  ranges: { [name: string]: [number, number] };
  messages: Message[];
  jobs: Job[];
  saved: Saved;
  idle: boolean;
  readAs: Options;
  kept: KeptSet[];
  gathered: LonePlate[];
  gatheredWhole: boolean;
  station: Station;
  title: string;
  ready: boolean;
  pulls: { [name: string]: string };
  undo: string;
  redo: string;
  layout: string;
  tallOrder: string;
  ask: boolean;
  split: boolean;
  plates: Plate[];
  key: string;
  restsOn: RestsOn;
  greyList: GreyPlace[];
  scaleFound: number;
  blur: [number, number, number];
  auditKey: string;
  assumptions: Assumption[];
  pointed: PaneGrey[][];
  proposedGreys: PaneGrey[][];
  greyRow: boolean;
  rule: Segment | null;
  registered: string;
  register: Register;
  look: Look;
  stack: boolean;
  cut: boolean;
  paused: boolean;
  room: boolean;
  tool: Tool;
  selected: string;
  hidden: string[];
  layer: string;
  other: string;
  atLeft: string;
  atRight: string;
  sides: Side[];
  held: Held[];
  edges: [number, number];
  platePair: [number, number];
  zoom: number;
  fitted: boolean;
  whole: boolean;
  contrast: boolean;
  editing: Editing;
  laidFor: number[];
  frames: Frame[];
  shared: string;
  brief: string;
  least: string;
  divider: Divider | null;
  line: SectionLine | null;
  marks: Mark[];
  chosenMark: number;
  pinPlate: string;
  together: boolean;
  registerBy: string;
  markShare: number;
  marksGive: string[];
  pins: PanePin[][];
  left: Left;
  loupe: LoupeBox;
  sample: Sample | null;
  points: Point[];
  pointFrames: PaneGrey[][];
  palettes: Palette[];
  rests: string;
  sight: string;
  testSheet: string;
  testSheets: Named[];
  limit: number;
  order: string;
  orders: string[];
  light: string;
  lights: Named[];
  kelvin: number;
  dim: boolean;
  screenCd: number;
  paper: string;
  paperSwatch: string;
  papers: Paper[];
  finish: string;
  finishes: Named[];
  finishNote: string;
  route: string;
  routes: Named[];
  ownRoute: string[];
  turns: Turn[];
  putDown: string[];
  negatives: string;
  surface: string;
  way: Way;
  tuned: string;
  prints: [OwnPrint, OwnPrint, OwnPrint];
  ratio: string;
  curve: Drawn[];
  plot: Plotted;
  greys: string;
  exhibition: Exhibition;
  fading: Fading[];
  masked: boolean;
  unknowns: Unknowns;
  usual: boolean;
  levelsRest: string;
  levelsSet: boolean;
  recipeKey: string;
  sureKey: string;
  pictureKey: string;
  compared: Compared[];
  hue: Hue;
  board: Board | null;
  sectionVersion: number;
  workbench: Bench;
  notes: Note[];
  notesFrom: number;
  notesAll: number;
  notesPage: number;
  notesPages: number;
  noteCounts: { [name: string]: number };
  notesOnly: string;
  notePins: PaneNote[][];
  noteDots: number[][];
  decision: Decision;
  identity: Identity;
  platesAre: PlateIs[];
  names: string;
  namesLike: string;
  filled: { [name: string]: string };
}

export interface PigmentFacts {
  ci: string;
  name: string;
  era: string;
  status: string;
  source: string;
  lightfastness: string;
  onShow: string;
  hazard: string;
  swatch: string;
}

export interface LookChoice {
  id: string;
  name: string;
  of: string;
}

export interface Named {
  id: string;
  name: string;
}

export interface Message {
  id: number;
  kind: string;
  text: string;
  act?: Action;
}

export interface Job {
  token: number;
  kind: string;
  words: string;
  share: number;
}

export interface Saved {
  state: string;
  at: string;
  why: string;
}

export interface Options {
  layout?: string;
  order?: string;
}

export interface KeptSet {
  id: string;
  title: string;
  words: string;
  thumb: string;
  removed: boolean;
  open: boolean;
}

export interface LonePlate {
  name: string;
  thumb: string;
}

export type Station = "" | "plates" | "register" | "tissues" | "proof" | "review" | "sheets" | "points";

export interface Plate {
  filter: string;
  printer: string;
  source: number;
  file: string;
  w: number;
  h: number;
  bits: number;
  ppi: number;
  encoding: string;
  readAs: string;
  polarity: string;
  polarityWords: string;
  base: number;
  fromRebate: boolean;
  max: number;
  gamma: number;
  assumed: boolean;
  white: number;
  black: number;
  words: string;
  remarks: string[];
  thumb: number;
}

export interface RestsOn {
  by: string;
  light: string;
  steps: string;
  words: string;
}

export interface GreyPlace {
  n: number;
  x: number;
  y: number;
}

export interface Assumption {
  id: string;
  name: string;
  says: string;
}

export interface PaneGrey {
  n: number;
  x: number;
  y: number;
}

export interface Segment {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

export interface Register {
  sentence: string;
  sign: string;
  signWords: string;
  measured: boolean;
  stars: number;
  typicalPx: number;
  p95Px: number;
  largestPx: number;
  plateUm: number;
  coverage: number;
  missing: string[];
  parted: boolean;
  next: string;
  onBench: LaidOnBench;
  rows: Row[];
  guideline: string;
  eyeUm: number;
  pressUm: number;
  toleranceUm: number;
  printWidthMm: number;
  viewingMm: number;
  pxUm: number;
  proposal: Proposal | null;
  localUsed: boolean;
  grain: string;
  bench: string;
}

export type Look = "beside" | "divided" | "blink" | "difference" | "board" | "reach" | "losses" | "outside" | "palettes" | "exposed" | "sure" | "ways" | "dots" | "masks" | "rooms" | "faded" | "layer" | "plate" | "turns" | "edges" | "marks";

export type Tool = "pan" | "nudge" | "line" | "pin" | "grey" | "scale" | "note";

export interface Side {
  id: string;
  name: string;
  but: boolean;
}

export interface Held {
  n: number;
  name: string;
  says: string;
  now: boolean;
}

export interface Editing {
  printer: string;
  times: number;
}

export interface Frame {
  id: string;
  label: string;
  name: string;
  estimate: boolean;
  side: string;
  without: string;
  note: string;
  brief: string;
  least: string;
  legend: Marked[];
  x: number;
  y: number;
  w: number;
  h: number;
  wordsX: number;
  wordsW: number;
  part: boolean;
  reached: [number, number][];
}

export interface Divider {
  x: number;
  y: number;
  h: number;
  from: number;
  width: number;
}

export interface SectionLine {
  frames: Segment[];
  share: Line;
}

export interface Mark {
  n: number;
  weight: number;
  open: boolean;
  plates: Pin[];
}

export interface PanePin {
  n: number;
  x: number;
  y: number;
  proposed: boolean;
  chosen: boolean;
  filter: string;
}

export interface Left {
  have: boolean;
  shown: boolean;
  words: string;
  place: string;
  short: string;
  frames: Arrows[];
}

export interface LoupeBox {
  on: boolean;
  zoom: number;
  x: number;
  y: number;
  w: number;
  h: number;
  panes: Frame[];
}

export interface Sample {
  x: number;
  y: number;
  reference: [number, number, number];
  print: [number, number, number];
  dE: number;
  outside: number;
  hexReference: string;
  hexPrint: string;
  thickness: { [name: string]: number };
  um: { [name: string]: number };
  densities: [number, number, number];
  visual: number;
  statusA: [number, number, number];
}

export interface Point {
  n: number;
  colours: Colour[];
  x: number;
  y: number;
  prints: PrintRead[];
}

export interface Palette {
  id: string;
  name: string;
  era: string;
  note: string;
  own: boolean;
  measured: boolean;
  byEye: boolean;
  chosen: boolean;
  layers: Layer[];
  depth: Depth | null;
  deep: string;
  black: string;
}

export interface Paper {
  id: string;
  name: string;
  source: string;
  own: boolean;
}

export interface Turn {
  support: string;
  reads: string;
  layers: string[];
  words: string;
}

export interface Way {
  straight: boolean;
  range: number;
  atDepth: boolean;
  stops: [number, number, number];
  shape?: Shape;
}

export interface OwnPrint {
  printer: string;
  stops: number;
  light: string;
  lost: string;
  blocked: string;
  range: number;
}

export interface Drawn {
  lightness: number;
  density: [number, number, number];
}

export interface Plotted {
  density: [number[], number[], number[]];
  film: number;
}

export interface Exhibition {
  lux: number;
  hours: number;
  years: number;
}

export interface Fading {
  printer: string;
  words: string;
  measured: boolean;
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

export interface Compared {
  which: string;
  name: string;
  masked: boolean;
  key: string;
}

export interface Hue {
  degrees: number;
  read: boolean;
}

export interface Board {
  by: string;
  falling: boolean;
  orders: Order[];
  aspect: number;
  says: string;
  cards: Card[];
}

export interface Bench {
  setup: Setup;
  size: string;
  fits: boolean;
  lies: string[];
  sheets: Named[];
  mind: string[];
  toxic: string[];
  workshop: Workshop;
  layers: [BenchLayer, BenchLayer, BenchLayer];
}

export interface Note {
  n: number;
  title: string;
  text: string;
  by: string;
  at: string;
  state: string;
  seen: string;
  now: boolean;
  chosen: boolean;
}

export interface PaneNote {
  n: number;
  x: number;
  y: number;
  chosen: boolean;
}

export interface Decision {
  choice: string;
  reason: string;
  by: string;
  date: string;
  questions: string;
  seen: string;
  now: boolean;
}

export interface Identity {
  number: string;
  creator: string;
  created: string;
  place: string;
  collection: string;
  description: string;
  rights: string;
}

export interface PlateIs {
  filter: string;
  source: number;
  file: string;
  letter: string;
  condition: string;
}

export interface Action {
  words: string;
  do: string;
  id: string;
}

export interface LaidOnBench {
  sentence: string;
  sign: string;
  largestUm: number;
  thresholdUm: number;
}

export interface Row {
  filter: string;
  printer: string;
  source: number;
  key: boolean;
  way: string;
  polarity: string;
  found: Lies;
  notFound: boolean;
  pose: Pose;
  poseWhy: string;
  confidence: number;
  words: string;
  left: Leftover;
  local: Local;
  offset: Offset;
  locked: boolean;
  bench: boolean;
  against: Against;
}

export interface Proposal {
  key: string;
  why: string;
}

export interface Marked {
  hex: string;
  words: string;
  name: string;
  least: string;
  share: string;
}

export interface Line {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

export interface Pin {
  filter: string;
  set: boolean;
  proposed: boolean;
  words: string;
  residualPx: number | null;
  residualUm: number | null;
}

export interface Arrows {
  arrows: Arrow[];
  blank: [number, number, number, number][];
  ring: [number, number] | null;
  barPx: number;
  barCss: number;
}

export interface Colour {
  id: string;
  label: string;
  hex: string;
  lab: [number, number, number];
  dE: number;
}

export interface PrintRead {
  id: string;
  label: string;
  um: { [name: string]: number };
  visual: number;
  spectrum: number[];
  reach: string;
}

export interface Layer {
  printer: string;
  swatch: string;
  pigments: Pigment[];
  load: number;
  haze: number;
  coatMicron: number;
  hardening: Hardening;
  strength: number;
  holdOn: number;
  depthOfLight: number;
  hardeningRange: number;
}

export interface Depth {
  L: number;
  density: number;
  hex: string;
  even: boolean;
  greyest: number;
}

export interface Shape {
  contrast: number;
  highlight: number;
  shadow: number;
  balance: [number, number, number];
}

export interface Order {
  id: string;
  name: string;
}

export interface Card {
  id: string;
  name: string;
  era: string;
  own: boolean;
  chosen: boolean;
  group: string;
  key: string;
  printed: boolean;
  note: string;
  three: string;
  near: string;
  figures: CardFigure[];
  lasts: string;
}

export interface Setup {
  ppi: number;
  side: string;
  trim: string;
  allowanceMm: number;
  marks: boolean;
  safeEdgeMm: number;
  punchMm: number;
  sheet: string;
  offsets: boolean;
  screenUm: number;
  dotGain: number;
  dots: Dots;
  film: string;
  filmKind: string;
  filmMax: number;
  measured: boolean;
  whyUv: string;
}

export interface Workshop {
  unit: string;
  layers: [Sensitised, Sensitised, Sensitised];
  register: string;
  process: Process;
  grows: Expansion;
}

export interface BenchLayer {
  printer: string;
  exposure: string;
  needs: string;
  third: string;
  coat: string;
}

export interface Lies {
  dxPx: number;
  dyPx: number;
  turnDeg: number;
  stretchPct: number;
  acrossPct: number;
  downPct: number;
  shearDeg: number;
  mirrored: boolean;
  dxUm: number;
  dyUm: number;
}

export interface Pose {
  dxPx: number;
  dyPx: number;
  turnDeg: number;
  stretchPct: number;
  mirrored: boolean;
}

export interface Leftover {
  median: number;
  p95: number;
  max: number;
  known: boolean;
  marks: number;
  measured: boolean;
  local: boolean;
  outvoted: number;
}

export interface Local {
  have: boolean;
  used: boolean;
  worth: boolean;
  says: string;
  before: Quantiles;
  after: Quantiles;
}

export interface Offset {
  dxUm: number;
  dyUm: number;
  turnDeg: number;
  stretchPct: number;
  acrossPct: number;
  dxPx: number;
  dyPx: number;
}

export interface Against {
  dxUm: number;
  dyUm: number;
  worstUm: number;
  corner: string;
}

export interface Arrow {
  x: number;
  y: number;
  dx: number;
  dy: number;
  printer: string;
  outvoted: boolean;
  sure: boolean;
  cut: boolean;
}

export interface Pigment {
  ci: string;
  name: string;
  share: number;
}

export interface Hardening {
  depthMicron?: number;
  threshold?: number;
  holdOnMicron?: number;
  wedge?: Printed[];
}

export interface CardFigure {
  name: string;
  words: string;
  sorts: boolean;
}

export interface Dots {
  table?: Tint[];
  least?: number;
  most?: number;
  holds_um?: number;
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

export interface Quantiles {
  median: number;
  p95: number;
  max: number;
}

export interface Printed {
  logExposure: number;
  micron: number;
}

export interface Tint {
  film: number;
  print: number;
}

export interface Recipe {
  pigment_gl: number;
  gelatine_pct: number;
  sugar_pct: number;
  wet_mm: number;
}
