// What the page's program offers at window.threeply, what it calls at
// window.threeplyPage, and what the script of the Go distribution brings. Nothing tells
// these types to the program: they are kept by hand beside wasm/page/bridge, and a test
// of tools/types holds the names together.

interface Window {
  /** not in every browser */
  showDirectoryPicker?(options: { id: string; mode: "readwrite" }): Promise<FileSystemDirectoryHandle>;
  threeply: {
    do(command: string): string;
    view(): string;
    stage(width: number, height: number, ratio: number, right: number, bottom: number, caption: number): void;
    /** moves the pictures, or a layer by its number and in µm, in the gesture of a command before; false where a command has to do it */
    panBy(dx: number, dy: number): boolean;
    nudgeBy(printer: number, dxUm: number, dyUm: number, gesture: string): boolean;
    /** the hand rests for a moment that moved them */
    rest(): void;
    /** brings one thing onto the graphics card that the pictures lack, so that their frame need not bring all; true where there was something */
    bring(): boolean;
    draw(): void;
    /** has the next frame drawn, even if nothing changed */
    again(): void;
    frameTook(ms: number): void;
    /** the program itself draws on a canvas from now on */
    drawPlain(canvas: HTMLCanvasElement): void;
    peek(x: number, y: number): string;
    keyAt(x: number, y: number): [number, number];
    compare(): Promise<string>;

    desk(heard: string): string;
    /** works out a piece of what the prints and pictures will need; true where there may be more */
    ahead(): boolean;
    /** works out the prints of what the desk heard of last, as whatever looks at them does first; true where there was something */
    catchUp(): boolean;
    /** the jobs under way as they are then, Model["jobs"] as text */
    progress(token: number, share: number, words: string): string;
    orders(): string;
    arrive(token: number, source: number, level: number, w: number, h: number, at: number, bytes: Uint8Array): void;
    record(document: string, store: string, name: string, text: string): void;
    begin(kind: string, words: string): number;
    end(token: number): boolean;
    say(kind: "error" | "note", text: string): void;
    keep(): boolean;
    /** a piece of the small picture for the list of kept sets; true where it is to be called again; anew for the first piece of one */
    picture(anew: boolean): boolean;
    plane(token: number, source: number, level: number, from: number, to: number, into: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> | null;
    tiles(token: number, source: number, level: number, numbers: Uint8Array, into: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> | null;
    every(token: number, source: number, level: number, step: number, into: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> | null;

    fill(): boolean;
    /** what became of the small print that key stands for: its figures as text, or why there are none */
    tried(key: string, figures: string, why: string): string;
    section(points: number): SectionAlong;
    thumb(source: number): { w: number; h: number; rgba: Uint8ClampedArray<ArrayBuffer> } | null;
    small(): SmallPlates | null;
    seek(): { turn: number; n: number; tries: unknown[] } | null;
    found(turn: number, n: number, located: string): string;

    sessionText(): string;
    /** how the open set is looked at, for sight.json of a session's file */
    sight(): string;
    /** the session without its notes, for figures and pictures; as it would be with the print that stands at a side */
    printText(side?: "left" | "right"): string;
    /** keys of the open scans, as the desk was told them */
    scanKeys(): string[];
    /** the name of a file that leaves: what stands at its end */
    fileName(what: string): string;

    /** what of the open set is original and what is interpretation: Part[] of package origin, or null */
    origin(): string;

    pigments(): string;
    paletteSchema(): string;
    paletteText(id: string): string;
    paperText(id: string): string;
    readPalette(name: string, text: string): string;
    readPaper(name: string, text: string, title: string): string;
    paperOfLab(title: string, L: number, a: number, b: number): string;
  };
  threeplyPage: {
    /** there is the desk: it can be told what is kept */
    awake(): void;
    /** what is looked at can be asked for */
    started(): void;
    changed(): void;
    /** something is to be drawn */
    wanted(): void;
    drawn(): void;
    failed(why: unknown): void;
    lost(): void;
    plainCanvas(): HTMLCanvasElement | null;
  };

  /** What the worker's program and its script give each other, in the worker. */
  threeplyRead(file: File, from: number, to: number): Uint8Array;
  threeplyHash(file: File, heard: (sum: Uint8Array | null) => void): void;
  threeplyInflate(heard: (what: boolean | Uint8Array | null) => void): { give(bytes: Uint8Array<ArrayBuffer>): void; end(): void; ask(): void; leave(): void };
  threeplyWork(message: unknown): void;
}

/** The heights of the layers along the section's line, dry and in µm, by printer. */
interface SectionAlong {
  n: number;
  um: { [printer: string]: Float32Array };
  /** printers from the paper up, by their first letters */
  order: string;
  maxUm: number;
  /** colours by printer, and of the "paper" */
  swatch: { [name: string]: string };
  lengthMm: number;
}

/** The plates reduced for small prints and figures, by source. */
interface SmallPlates {
  level: number;
  frame: number[];
  planes: { w: number; h: number; bytes: Uint8Array }[];
}

declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}

/** What workers have and pages have not. */
declare function importScripts(...urls: string[]): void;
declare class FileReaderSync {
  readAsDataURL(blob: Blob): string;
  readAsArrayBuffer(blob: Blob): ArrayBuffer;
}
