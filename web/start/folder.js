// A file put into a folder that the user chose: never over what lies there, and whole or not
// there. Only where the browser or the machine dies between the first and the last byte an empty
// file of that name can stay, for no browser lets a page give a file its name last.

import { Stopped } from "./work.js";

/**
 * taken tells whether something in a folder has a name already.
 * @param {FileSystemDirectoryHandle} folder
 * @param {string} name
 */
export async function taken(folder, name) {
  try {
    await folder.getFileHandle(name);
    return true;
  } catch (error) {
    if (named(error, "TypeMismatchError")) return true; // a folder
    if (named(error, "NotFoundError")) return false;
    throw error;
  }
}

/**
 * put writes a file into a folder; false is that its name was taken meanwhile. What is written
 * lies beside the file until all of it is there. Where live says no it is not put there, and the
 * error is Stopped.
 * @param {FileSystemDirectoryHandle} folder
 * @param {string} name
 * @param {Blob} file
 * @param {() => boolean} live
 */
export async function put(folder, name, file, live) {
  if (await taken(folder, name)) return false;
  const handle = await folder.getFileHandle(name, { create: true });
  const empty = async () => (await handle.getFile()).size === 0;
  if (!await empty()) return false; // another program was quicker
  try {
    const out = await handle.createWritable();
    try {
      await out.write(file);
      if (!live()) throw new Stopped();
      if (!await empty()) throw new Error(`${name}: another program wrote to it meanwhile. Choose another folder.`);
      await out.close();
    } catch (error) {
      await out.abort().catch(() => {});
      throw error;
    }
  } catch (error) {
    if (await empty().catch(() => false)) await folder.removeEntry(name).catch(() => {});
    throw error;
  }
  return true;
}

/**
 * why says what keeps a page from writing into a folder.
 * @param {unknown} error
 * @param {string} folder its name
 */
export function why(error, folder) {
  if (named(error, "NotAllowedError") || named(error, "SecurityError")) return new Error(`${folder}: the browser does not let the page write there. Choose another folder and allow it.`);
  if (named(error, "QuotaExceededError")) return new Error(`${folder}: there is no room left. Make room or choose another folder.`);
  if (named(error, "NotFoundError")) return new Error(`${folder}: the folder is not there any more. Choose another one.`);
  return error;
}

/**
 * named tells whether an error of the browser has a name.
 * @param {unknown} error
 * @param {string} name
 */
export const named = (error, name) => error instanceof DOMException && error.name === name;
