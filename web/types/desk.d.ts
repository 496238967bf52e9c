// Written by go run ./tools/types from the program; do not edit.

/** What the desk is told. */
export type Heard =
  | { do: "alone"; token: number; plates: Lone[] }
  | { do: "anew" }
  | { do: "assume"; light: string }
  | { do: "bring"; files: File[] }
  | { do: "demo" }
  | { do: "demoFetched"; token: number; files: File[] }
  | { do: "died"; token: number; why: string }
  | { do: "dismiss"; message: number }
  | { do: "failed"; token: number; why: string }
  | { do: "flush" }
  | { do: "forget"; id: string }
  | { do: "keep" }
  | { do: "letGo"; place: number }
  | { do: "levels"; token: number; found: string }
  | { do: "loaded"; id: string; files: File[] }
  | { do: "locked"; id: string; ok: boolean }
  | { do: "looked"; token: number; found: string }
  | { do: "movePlate"; from: number; to: number }
  | { do: "openGathered" }
  | { do: "openPacked"; name: string; text: string; files: File[]; notes: string[]; sight: string }
  | { do: "openSession"; name: string; text: string }
  | { do: "opened"; token: number; session: string; asked: boolean }
  | { do: "readAs"; layout?: string; order?: string }
  | { do: "readGreys"; steps: string }
  | { do: "readPlate"; source: number; encoding: string }
  | { do: "refine"; source: number }
  | { do: "refresh"; cards: string[] }
  | { do: "register" }
  | { do: "registered"; token: number; found: string }
  | { do: "remove"; id: string }
  | { do: "restore"; id: string }
  | { do: "scansKept"; id: string; refused: string }
  | { do: "stop"; token: number }
  | { do: "stored"; id: string; revision: number; refused: string }
  | { do: "takeGreyAway"; n: number }
  | { do: "takeGreysAway" }
  | { do: "takeScale" }
  | { do: "wake"; cards: string[]; tab: string }
  | { do: "wakeOld"; session: string; files: File[]; options: Options };

/** What the desk wants done. */
export type Order =
  | { do: "work"; with: Work }
  | { do: "halt"; with: Halt }
  | { do: "store"; with: Store }
  | { do: "keepScans"; with: KeepScans }
  | { do: "load"; with: Load }
  | { do: "lock"; with: Lock }
  | { do: "unlock"; with: Unlock }
  | { do: "fetchDemo"; with: FetchDemo }
  | { do: "remember"; with: Remember };

export interface Lone {
  name: string;
  sha256: string;
  filter: number;
  thumb: string;
}

export interface File {
  key: string;
  name: string;
  size: number;
}

export interface Options {
  layout?: string;
  order?: string;
}

export interface Work {
  token: number;
  op: string;
  files?: string[];
  session?: string;
  more?: unknown;
}

export interface Halt {
  token: number;
}

export interface Store {
  id: string;
  revision: number;
  put: Record[];
  delete: Key[];
  allSteps?: boolean;
}

export interface KeepScans {
  id: string;
  files: KeptFile[];
}

export interface Load {
  id: string;
}

export interface Lock {
  id: string;
}

export interface Unlock {
  id: string;
}

export interface FetchDemo {
  token: number;
}

export interface Remember {
  id: string;
}

export interface Record {
  store: string;
  name: string;
  text: string;
}

export interface Key {
  store: string;
  name: string;
}

export interface KeptFile {
  key: string;
  sha256: string;
}
