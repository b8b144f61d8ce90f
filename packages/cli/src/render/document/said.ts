/** Things that are told apart by their id, and words for each: where one lacks words, nothing compiles. */

interface WithId {
  readonly id: string;
}

/** Those of a union that may have an id. */
type OfId<All, Id> = All extends { readonly id: infer Own } ? (Id extends Own ? All : never) : never;

/** What is said of each by its id. */
export type WordsFor<All extends WithId, Words = string> = {
  readonly [Id in All['id']]: (it: OfId<All, Id>) => Words;
};

/** Says it. */
export const said = <All extends WithId, Words>(words: WordsFor<All, Words>, it: All): Words =>
  (words[it.id as All['id']] as (it: All) => Words)(it);
