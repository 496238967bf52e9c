// What is dropped on the page: files, and of a folder the scans that lie in it.

const SCAN = /\.(tiff?|png|jpe?g)$/i;

/**
 * dropped gives the files that were dropped. An error says of a folder why none come of it.
 * @param {DataTransfer | null} carried known to the browser only while it tells of the drop
 * @returns {Promise<File[]>}
 */
export async function dropped(carried) {
  const items = [...carried?.items ?? []].filter(({ kind }) => kind === "file");
  const all = await Promise.all(items.map((item) => {
    const entry = item.webkitGetAsEntry?.();
    return entry?.isDirectory ? within(/** @type {FileSystemDirectoryEntry} */ (entry)) : item.getAsFile() ?? [];
  }));
  return all.flat();
}

/**
 * within gives the scans that lie in a folder, not those in folders within.
 * @param {FileSystemDirectoryEntry} folder
 */
async function within(folder) {
  /** @type {File[]} */
  const scans = [];
  try {
    const reader = folder.createReader();
    for (;;) { // a browser gives some at a time
      const entries = await new Promise((/** @type {(some: FileSystemEntry[]) => void} */ some, no) => reader.readEntries(some, no));
      if (entries.length === 0) break;
      for (const entry of entries) {
        if (entry.isFile && SCAN.test(entry.name)) scans.push(await new Promise((got, no) => /** @type {FileSystemFileEntry} */ (entry).file(got, no)));
      }
    }
  } catch {
    throw new Error(`${folder.name} is a folder that this browser does not open here. Drop the files that lie in it.`);
  }
  if (scans.length === 0) throw new Error(`The folder ${folder.name} holds no scans. Drop three scans, or a folder that holds them.`);
  return scans;
}
