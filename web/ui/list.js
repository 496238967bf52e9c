// Lists of what the page is told.

/**
 * pick is the item of a list that passes a test; it is an error where none does.
 * @template Item
 * @param {readonly Item[]} list
 * @param {(item: Item) => boolean} test
 */
export function pick(list, test) {
  const item = list.find(test);
  if (item === undefined) throw new Error("what was looked for is not in the list");
  return item;
}
