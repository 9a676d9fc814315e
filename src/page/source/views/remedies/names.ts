/** Names of the case and the library for ids, in the words that people read. */

interface Named {
  id: string;
  name?: string;
}

/** "branch to coil 2 (to-coil-2)", or the id alone where it has no name. */
export function fullName(list: Named[], id: string): string {
  const name = list.find((one) => one.id === id)?.name;
  return name && name !== id ? `${name} (${id})` : id;
}

export function plainName(list: Named[], id: string): string {
  return list.find((one) => one.id === id)?.name || id;
}

export const asOptions = (list: Named[]): { id: string; name: string }[] =>
  list.map((one) => ({ id: one.id, name: one.name || one.id }));
