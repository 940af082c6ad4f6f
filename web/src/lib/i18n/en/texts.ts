/** Texts has a text for every code of a list of the contract. */
export type Texts<Code extends string> = Record<Code, string>;
