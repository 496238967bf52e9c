// What the parts of the page are, and what its start gives them.

import type { Audit } from "./audit.js";
import type { Command, Palette, Paper } from "./command.js";
import type { Heard } from "./desk.js";
import type { Shown } from "./fit.js";
import type { Figures, Sureness, MaskTrial, WayTrial } from "./figures.js";
import type { Picture, ScanPreview } from "./worker.js";
import type { Model } from "./model.js";

/** What is made once and told every view. */
export interface Part {
  update(view: Model): void;
}

/** A part that is one element. */
export interface Block extends Part {
  node: HTMLElement;
}

/** A part that is several elements, such as a station's panel. */
export interface Blocks extends Part {
  nodes: Node[];
}

/** What the second worker computes of the session as it stands. */
export interface Computed {
  figures: Figures;
  sureness: Sureness[];
  masks: MaskTrial;
  ways: WayTrial;
  audit: Audit;
}

/** A palette's small print. */
export interface SmallPrint {
  w: number;
  h: number;
  rgba: Uint8Array<ArrayBuffer>;
  /** what it comes to, for the program */
  figures: string;
}

/** What a file of the user's own held; nothing where it could not be read. */
export interface Taken {
  palette?: Palette;
  paper?: Paper;
}

/** The colour in the middle of a scanned paper, CIELAB under D50, and what the scan was read as. */
export interface ScannedPaper {
  lab: [number, number, number];
  read: string;
}

export interface Api {
  do(command: Command): { error?: string };
  desk(heard: Heard): { error?: string };
  view(): Model;
  openFiles(files: File[]): void;
  openSession(file: File, scans?: File[]): void;
  /** follow a hand, frame by frame; rest where it lets go */
  panBy(dx: number, dy: number): void;
  nudgeBy(printer: string, dxUm: number, dyUm: number, gesture: string): void;
  rest(): void;
  /** has the page drawn anew */
  refresh(): void;
  /** the language of the page, "en" or "de" */
  language(): string;
  speakAs(language: string): void;

  compute<Op extends keyof Computed>(op: Op, more?: object): Promise<Computed[Op]>;
  printSmall(palette: string): Promise<SmallPrint>;
  /** a layer exposed by a third of a stop less, as meant, and by a third more */
  printThirds(printer: string): Promise<Picture[]>;
  locate(tries: unknown): Promise<string>;

  readText<More extends string[]>(file: File, reader: (name: string, text: string, ...more: More) => string, ...more: More): Promise<Taken>;
  readFile(op: "paper", file: File, what: string): Promise<ScannedPaper | null>;
  download(name: string, bytes: BlobPart | BlobPart[], type: string): void;
  saveProof(picture: string, form: string, space: string, crop: boolean, margin: boolean): void;
  saveTIFF(picture: string): void;
  saveProfile(): void;
  saveNegative(printer: string): void;
  saveTestSheet(what: "yellow" | "magenta" | "cyan" | "page" | "plan" | "table"): void;
  /** the text of the first of the files that is the plan of a test sheet, null for none */
  planAmong(files: File[]): Promise<string | null>;
  /** has a worker fit the tissues to readings; null where that fails, which the page says, or is stopped */
  fitReadings(files: File[], status: string): Promise<Shown | null>;
  /** the same off a flatbed scan, or two, by the reference of the target on the first and three of its corners */
  fitScan(scans: File[], reference: File, corners: number[]): Promise<Shown | null>;
  /** has a worker make a scan small, to point at, and look for the target on it; null where that fails, which the page says */
  previewScan(scan: File, reference?: File): Promise<ScanPreview | null>;
  /** hears of readings that are dropped on the page */
  onReadings(take: (files: File[]) => void): void;
  saveFilmWedge(): void;
  saveProcess(): void;
  saveSession(withScans: boolean): void;
  /** takes what a table of sets says of the open one */
  identifyFrom(table: File): void;
  saveReview(): void;
  saveArchive(): void;
  saveEverything(): void;
  saveIntoFolder(): void;
  saveReport(): void;
  saveMatrices(): void;
  saveVerdict(): void;
  saveCurves(): void;
}
