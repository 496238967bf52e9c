// The page: it makes every part once and hands each new view to all of them.

/** @import { Api, Part, Blocks } from "../types/api.js" */
/** @import { Model } from "../types/model.js" */

import { byID } from "../ui/dom.js";
import { isSpoken, leave } from "../ui/language.js";
import * as head from "./head.js";
import * as rail from "./rail.js";
import * as board from "./board.js";
import * as captions from "./captions.js";
import * as drawer from "./drawer.js";
import * as room from "./room.js";
import * as notices from "./notices.js";
import * as under from "./under.js";
import * as visit from "./visit.js";
import * as plates from "../stations/plates/plates.js";
import * as register from "../stations/register/register.js";
import * as tissues from "../stations/tissues/tissues.js";
import * as proof from "../stations/proof/proof.js";
import * as points from "../stations/points/points.js";
import * as review from "../stations/review/review.js";
import * as sheets from "../stations/sheets/sheets.js";
import { giveUp } from "../ui/textfield.js";

/** @type {Record<string, { build: (api: Api) => Blocks }>} */
const stations = { plates, register, tissues, proof, review, sheets, points };

/** @type {Part[]} */
const parts = [];

/**
 * progress shows how far the work under way is, which changes nothing else.
 * @type {(jobs: Model["jobs"]) => void}
 */
export let progress = () => {};

/**
 * need makes what a station has, where nobody has opened it yet.
 * @type {(id: string) => void}
 */
export let need = () => {};

const AT_ONCE = 20; // ms from which on the rest is left to another task

/**
 * start fills the page, in several tasks, for all its parts together take a tenth of a second.
 * @param {Api} api
 * @param {() => Promise<unknown>} pause gives the browser back until the next task
 */
export async function start(api, pause) {
  let from = performance.now();
  const steps = visit.build(api);
  const drawers = drawer.build(api, stations);
  need = drawers.need;
  const told = notices.build(api, byID("messages"), byID("busy"));
  progress = told.progress;
  for (const build of [
    () => head.build(api, Object.keys(stations)),
    () => captions.build(api, byID("captions"), byID("opening")),
    () => board.build(api, byID("board")),
    () => under.build(api),
    () => rail.build(api, byID("rail")),
    () => drawers,
    () => room.build(api, steps.again),
    () => told,
    () => steps,
  ]) {
    if (performance.now() - from > AT_ONCE) {
      await pause();
      from = performance.now();
    }
    parts.push(build());
  }
}

let open = -1;

/**
 * render brings the page in step with a view.
 * @param {Model} view
 */
export function render(view) {
  const now = view.plates[0]?.thumb ?? -1; // another number for each set that is opened
  if (now !== open) giveUp();
  open = now;
  if (isSpoken()) leaveOwn(view);
  for (const part of parts) part.update(view);
}

/**
 * leaveOwn says which texts of a view are the user's own: another language leaves them within sentences.
 * @param {Model} view
 */
export function leaveOwn(view) {
  leave([
    view.title, view.namesLike, ...view.gathered.map(({ name }) => name), ...view.ownRoute,
    ...view.plates.map((plate) => plate.file), ...view.kept.map((set) => set.title), ...view.held.map((print) => print.name),
    ...[...view.palettes, ...view.papers].filter((one) => one.own).map((one) => one.name),
    ...view.notes.flatMap((note) => [note.title, note.text, note.by]),
    ...Object.values(view.identity), ...view.platesAre.flatMap((plate) => [plate.letter, plate.condition]), view.decision.choice, view.decision.by,
  ]);
}
