/** The kinds of remedy that the library describes. */

export interface Kind {
  id: string;
  name: string;
  about?: string;
  stays_in?: string;
}

export type Kinds = Kind[];

export const aboutOf = (kinds: Kinds, id: string): string => kinds.find((kind) => kind.id === id)?.about ?? "";
export const staysInOf = (kinds: Kinds, id: string): string => kinds.find((kind) => kind.id === id)?.stays_in ?? "";
