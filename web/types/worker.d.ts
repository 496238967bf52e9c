// What goes to a worker and what comes back; kept by hand beside wasm/worker.

/** What each operation gives in the end. Texts are JSON. */
export interface Results {
  /** alone is Lone[] of desk.d.ts: the files are plates without their set */
  open: { session: string; asked: boolean; alone?: undefined } | { alone: string };
  register: string;
  /** Seen of package registration */
  look: string;
  openOne: string;
  registerOne: string;
  levels: string;
  audit: string;
  locate: string;
  proof: Joined | null;
  tiff: Joined | null;
  icc: BlobPart;
  negative: Joined | null;
  /** a part of the test sheet */
  testsheet: BlobPart[];
  /** what the readings of a test sheet say: Shown of fit.d.ts */
  fit: string;
  flatbed: ScanPreview;
  /** the film's own wedge */
  film: BlobPart[];
  process: BlobPart[];
  /** a table, or the session, as it leaves */
  text: BlobPart[];
  review: BlobPart[];
  report: BlobPart[];
  /** bytes, or the number of a scan that stands there whole, from 0 */
  pack: (BlobPart | number)[];
  /** bytes, or the number of a file that stands there whole, from 0 */
  together: (BlobPart | number)[];
  bag: { parts: (BlobPart | number)[]; notes: string[] };
  /** commands, each as text */
  catalogue: string[];
  unpack: { session: string; sight: string; scans: PackedScan[]; notes: string[] };
  paper: string;
  figures: string;
  sureness: string;
  masks: string;
  ways: string;
  thirds: Picture[];
  board: { w: number; h: number; rgba: Uint8Array<ArrayBuffer>; figures: string };
}

/** What stands in a file before and after the strips that several workers drew. */
export interface Joined {
  before: Uint8Array<ArrayBuffer>;
  after: Uint8Array<ArrayBuffer>;
  note: string;
}

/** What a worker tells who draws a file with others: first how many bands it has and how many bytes of the plates the largest is drawn from; then a band that it drew, with two numbers of each of its strips. Or the source that one who opens or registers would have another open or register meanwhile. */
export type Told =
  | { bands: number; needs: number }
  | { band: number; bytes: Uint8Array<ArrayBuffer>; packed: number[] }
  | { open: number }
  | { register: number };

/** What it is to do next: a band, or to join the file from the numbers of all strips; or what was found of the plate. Else nothing more. */
export type Turn = { band?: number; join?: number[]; found?: string };

/** A small picture. */
export interface Picture {
  w: number;
  h: number;
  rgba: Uint8Array<ArrayBuffer>;
}

/** A scan made small; each of its pixels is so many of the scan wide. */
export interface ScanPreview extends Picture {
  each: number;
  /** x, y of three corners of the target, in pixels of the scan; empty where it was not looked for or has no room */
  corners: number[];
  /** the target is there without doubt */
  sure: boolean;
}

/** A scan in a session's file: from a byte on, or, where at is -1, its parts. */
export interface PackedScan {
  name: string;
  at: number;
  size: number;
  parts?: BlobPart[];
}

/** A part of a plate that is being opened: the bytes of a level of its pyramid from at on. */
export interface Part {
  source: number;
  level: number;
  w: number;
  h: number;
  at: number;
  bytes: Uint8Array<ArrayBuffer>;
}

/** A part of an open plate that a worker asks for. */
export interface Wanted {
  source: number;
  level: number;
  from: number;
  to: number;
  /** in place of the bytes from … to: tiles, by their numbers in 32 bits each */
  tiles?: Uint8Array;
  /** or each so many-th code */
  every?: number;
}

/** What is told and asked while an operation goes on. */
export interface Hooks {
  /** the job that it belongs to, for halt */
  token?: number;
  progress?: (share: number, words: string) => void;
  take?: (part: Part) => void;
  give?: (wanted: Wanted, into: Uint8Array<ArrayBuffer>) => Uint8Array<ArrayBuffer> | null;
  turn?: (told: Told, next: (turn: Turn) => void) => void;
}

/** What a worker sends. All but those without an id name the call that they belong to. */
export type FromWorker =
  | { ready: true }
  | { died: true; error?: string }
  | { id: number; share: number; what: string }
  | { id: number; take: Part }
  | { id: number; want: Wanted }
  | { spent: Uint8Array<ArrayBuffer> }
  | { id: number; turn: Told }
  | { id: number; error: string; memory: number }
  | { id: number; result: never; memory: number };
